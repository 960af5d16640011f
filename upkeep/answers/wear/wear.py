"""Wear as a person asks for it: one item, the intervals, the lives of a family, the slug."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.answers.wear.advice import Advising
from upkeep.answers.wear.hints import SLUG, Hints
from upkeep.answers.wear.lives import LivesOfParts
from upkeep.answers.wear.trends import HEIGHT, Trends
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.crimps import Crimp
from upkeep.plant.model import Item, Kind, Point
from upkeep.said import Moment, said
from upkeep.units.instants import from_utc_text
from upkeep.views.wear import Advice, FamilyLives, ItemWear, PictureState, ShutHeight, SlugHelp
from upkeep.wear.separation import Hint
from upkeep.wear.slug import CAUTIONS, in_mm, result, slug_for


class WearViews:
    """The wear of one book as it stands (or stood) at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._wear_history = context.wear_history

    def item(self, key: str) -> ItemWear:
        """The measured points of an item with their trends, its settings, alarms, the hint and its pictures."""
        item = self._known.item(key)
        points, settings = Trends(self._context).of(item)
        jumps = [
            said("{point}: {jump}", point=point.title, jump=point.trend.jump) for point in points if point.trend.jump
        ]
        gone = self._wear_history.retired(key)
        return ItemWear(
            item=key,
            kind=item.kind.value,
            gone=said("{how}, {moment}", how=gone.end, moment=Moment(from_utc_text(gone.at), self._known.zone))
            if gone
            else None,
            points=points,
            settings=settings,
            alarms=(*(setting.drift.alarm for setting in settings if setting.drift.alarm), *jumps),
            hint=self.hint(key),
            pictures=self.pictures(key),
        )

    def hint(self, key: str) -> Hint | None:
        """Where to look first when a height of an item's die set has moved; None: nothing has."""
        return Hints(self._context).of(self._known.item(key))

    def advice(self, key: str | None = None) -> tuple[Advice, ...]:
        """What findings and wear say about the intervals of the inspections of an item, or of all items by id."""
        advising = Advising(self._context)
        items = [self._known.item(key)] if key else [self._known.items[each] for each in sorted(self._known.items)]
        return tuple(advice for item in items for advice in advising.of(item))

    def lives(
        self, family: str, kind: Kind = Kind.CONDUCTOR_PUNCH, *, by_terminal: bool = False, shape: float | None = None,
        cost_ratio: float | None = None,
    ) -> FamilyLives:  # fmt: skip
        """The lives of the parts of a kind in a family of die sets; raises :class:`NotFound` for an unknown family."""
        return LivesOfParts(self._context).report(family, kind, by_terminal, shape, cost_ratio)

    def pictures(self, key: str | None = None) -> tuple[PictureState, ...]:
        """The pictures of an item, or of all; nobody has looked at their files yet."""
        if key is not None:
            self._known.item(key)
        return tuple(
            PictureState(row.item, from_utc_text(row.at), row.file, row.sha256, bool(row.as_new), row.entry)
            for row in self._wear_history.pictures_of(key)
        )

    # The slug

    def slug(
        self, key: str, height: float | None = None, readings: Sequence[float] = (), crimp: str | None = None
    ) -> SlugHelp:
        """The slug to crush for an item, and what found heights say; all in mm.

        Raises :class:`Refused` where nobody says what the closed height should be.
        """
        item = self._known.item(key)
        named = self._crimp(item, crimp)
        limits = self._point(item, named, SLUG)
        wanted, source = (height, "as given") if height is not None else self._height(item, named, limits)
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

    def _height(self, item: Item, crimp: Crimp | None, limits: Point | None) -> tuple[float, str]:
        """The closed height to come to, and where it is from: the slug's own before that of the crimp."""
        nominals = {point.id: _mm(point, point.nominal) for point in (crimp.points if crimp else ())}
        named = f", {crimp.id}" if crimp else ""
        if (nominal := nominals.get(SLUG)) is not None:
            return nominal, f"nominal of {SLUG}{named}"
        if limits is not None and limits.lower is not None and limits.upper is not None:
            return in_mm((limits.lower + limits.upper) / 2, limits.unit), f"middle of the limits of {SLUG}"
        if (nominal := nominals.get(HEIGHT)) is not None:
            return nominal, f"nominal of {HEIGHT}{named}"
        raise Refused(
            said(
                "The closed height of {item} is not known: give it (--height), or name the crimp (--crimp).",
                item=item.id,
            )
        )

    def _shut_height(self, key: str) -> ShutHeight | None:
        press = self._context.judge.press_of(key)
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
