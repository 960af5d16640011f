"""The slug to crush for an item, from its crimp or its limits, and what crushed ones say."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.answers.wear.hints import Hints
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.crimps import Crimp
from upkeep.plant.model import Item, Point
from upkeep.said import Said, said
from upkeep.views.wear import ShutHeight, SlugHelp
from upkeep.wear.shown import HEIGHT, SLUG
from upkeep.wear.slug import CAUTIONS, in_mm, result, slug_for


class Slugs:
    """Works out slug and setting in mm, under the definitions at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known

    def of(
        self, key: str, height: float | None = None, readings: Sequence[float] = (), crimp: str | None = None
    ) -> SlugHelp:
        """The slug to crush for an item, and what found heights say; all in mm.

        Raises :class:`Refused` where nobody says what the closed height should be.
        """
        item = self._known.item(key)
        named = self._crimp(item, crimp)
        limits = self._point(item, named, SLUG)
        wanted, source = (height, said("as given")) if height is not None else self._height(item, named, limits)
        lower, upper = (_mm(limits, limits.lower), _mm(limits, limits.upper)) if limits else (None, None)
        return SlugHelp(
            item=key,
            cautions=CAUTIONS,
            slug=slug_for(wanted),
            height_from=source,
            lower=lower,
            upper=upper,
            result=result(wanted, readings, lower, upper) if readings else None,
            shut_height=self._shut_height(key),
        )

    def _crimp(self, item: Item, crimp: str | None) -> Crimp | None:
        if crimp is not None:
            return self._known.crimp(crimp)
        made = [crimp for crimp in self._known.crimps.values() if item.family and crimp.family == item.family]
        return made[0] if len(made) == 1 else None

    def _point(self, item: Item, crimp: Crimp | None, key: str) -> Point | None:
        tasks = self._known.tasks_of_kind.get(item.kind, [])
        points = [point for task in tasks for point in task.points] + list(crimp.points if crimp else ())
        with_limits = [point for point in points if point.id == key and (point.lower, point.upper) != (None, None)]
        return with_limits[-1] if with_limits else None

    def _height(self, item: Item, crimp: Crimp | None, limits: Point | None) -> tuple[float, Said]:
        """The closed height to come to, and where it is from: the slug's own before that of the crimp."""
        nominals = {point.id: _mm(point, point.nominal) for point in (crimp.points if crimp else ())}

        def nominal_of(point: str) -> Said:
            named = said("nominal of {point}", point=point)
            return said("{nominal}, {crimp}", nominal=named, crimp=crimp.id) if crimp else named

        if (nominal := nominals.get(SLUG)) is not None:
            return nominal, nominal_of(SLUG)
        if limits is not None and limits.lower is not None and limits.upper is not None:
            return in_mm((limits.lower + limits.upper) / 2, limits.unit), said(
                "middle of the limits of {point}", point=SLUG
            )
        if (nominal := nominals.get(HEIGHT)) is not None:
            return nominal, nominal_of(HEIGHT)
        raise Refused(
            said(
                "The closed height of {item} is not known: give it (--height), or name the crimp (--crimp).",
                item=item.id,
            )
        )

    def _shut_height(self, key: str) -> ShutHeight | None:
        press = self._context.whereabouts.press_of(key)
        if press is None:
            return None
        point, value, moment = Hints(self._context).last_shut_height(press)
        if point is None:
            return ShutHeight(press, value, moment, None, None, None, None)
        lower, upper, value = _mm(point, point.lower), _mm(point, point.upper), _mm(point, value)
        limited = value is not None and (lower, upper) != (None, None)
        good = None
        if limited and value is not None:
            good = (lower is None or value >= lower) and (upper is None or value <= upper)
        return ShutHeight(press, value, moment, _mm(point, point.nominal), lower, upper, good)


def _mm(point: Point, value: float | None) -> float | None:
    return None if value is None else in_mm(value, point.unit)
