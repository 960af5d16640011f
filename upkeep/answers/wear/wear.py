"""Wear as a person asks for it: one item, the intervals, the lives of a family, the slug."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.said import Moment, said
from upkeep.units.instants import from_utc_text
from upkeep.views.wear import Advice, FamilyLives, ItemWear, PictureState, SlugHelp

if TYPE_CHECKING:
    from upkeep.wear.separation import Hint


class WearViews:
    """The wear of one book as it stands (or stood) at a moment.

    Each answer's room is imported when it is asked: a command asks one, and waits for its imports.
    """

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._wear_history = context.wear_history

    def item(self, key: str) -> ItemWear:
        """The measured points of an item with their trends, its settings, alarms, the hint and its pictures."""
        from upkeep.answers.wear.trends import Trends

        item = self._known.item(key)
        trends = Trends(self._context)
        points, settings = trends.of(item)
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
            hint=trends.hints.of(item),
            pictures=self.pictures(key),
        )

    def hint(self, key: str) -> Hint | None:
        """Where to look first when a height of an item's die set has moved; None: nothing has."""
        from upkeep.answers.wear.hints import Hints

        return Hints(self._context).of(self._known.item(key))

    def advice(self, key: str | None = None) -> tuple[Advice, ...]:
        """What findings and wear say about the intervals of the inspections of an item, or of all items by id."""
        from upkeep.answers.wear.advice import Advising

        advising = Advising(self._context)
        items = [self._known.item(key)] if key else [self._known.items[each] for each in sorted(self._known.items)]
        return tuple(advice for item in items for advice in advising.of(item))

    def lives(
        self, family: str, kind: Kind = Kind.CONDUCTOR_PUNCH, *, by_terminal: bool = False, shape: float | None = None,
        cost_ratio: float | None = None,
    ) -> FamilyLives:  # fmt: skip
        """The lives of the parts of a kind in a family of die sets; raises :class:`NotFound` for an unknown family."""
        from upkeep.answers.wear.lives import LivesOfParts

        return LivesOfParts(self._context).report(family, kind, by_terminal, shape, cost_ratio)

    def pictures(self, key: str | None = None) -> tuple[PictureState, ...]:
        """The pictures of an item, or of all; nobody has looked at their files yet."""
        if key is not None:
            self._known.item(key)
        return tuple(
            PictureState(
                item=row.item,
                at=from_utc_text(row.at),
                file=row.file,
                sha256=row.sha256,
                as_new=bool(row.as_new),
                entry=row.entry,
                belongs_to=row.belongs_to,
                scale=row.scale,
            )
            for row in self._wear_history.pictures_of(key)
        )

    def slug(
        self, key: str, height: float | None = None, readings: Sequence[float] = (), crimp: str | None = None
    ) -> SlugHelp:
        """The slug to crush for an item, and what found heights say; all in mm.

        Raises :class:`Refused` where nobody says what the closed height should be.
        """
        from upkeep.answers.wear.slugs import Slugs

        return Slugs(self._context).of(key, height, readings, crimp)
