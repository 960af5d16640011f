"""Fittings: what sat in what, from when to when.  An item is in one place; a slot holds one item of a kind."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, said


@frozen
class Move:
    """An item went into another (``inside``), or out of what it sat in (``inside`` None) to a place."""

    at: datetime
    entry: int
    item: str
    inside: str | None
    to: str | None = None

    @property
    def order(self) -> tuple[datetime, bool, int]:
        """By moment; at one moment an item is taken out before it is put in; then by entry."""
        return self.at, self.inside is not None, self.entry


@frozen
class Fitting:
    """``item`` sat in ``inside`` over [start, end); ``end`` None: it still does.  ``left_to`` is where it went."""

    item: str
    inside: str
    start: datetime
    started_by: int
    end: datetime | None = None
    ended_by: int | None = None
    left_to: str | None = None


def fittings_from(moves: Iterable[Move]) -> list[Fitting]:
    """The fittings of one item from its moves in order.

    Raises :class:`Refused` where it would be put in while it is in, or taken out while it is out.
    """
    done: list[Fitting] = []
    for move in moves:
        current = done[-1] if done and done[-1].end is None else None
        if move.inside is None:
            if current is None:
                raise Refused(
                    said(
                        "{item} is not in anything at that moment, so it cannot be taken out (entry #{entry}).",
                        item=move.item,
                        entry=Numeral(move.entry),
                    )
                )
            done[-1] = Fitting(
                current.item, current.inside, current.start, current.started_by, move.at, move.entry, move.to
            )
            continue
        if current is not None:
            raise Refused(_still_in(current, move))
        done.append(Fitting(move.item, move.inside, move.at, move.entry))
    return done


def _still_in(current: Fitting, move: Move) -> Said:
    return said(
        "{item} is still in {inside} (entry #{entry}); it cannot go into {wanted}. Take it out first, or use "
        "--swap to end that fitting at the same moment. If two items carry that id, which one is in your "
        "hand? Give it an id of its own.",
        item=move.item,
        inside=current.inside,
        entry=Numeral(current.started_by),
        wanted=str(move.inside),
    )


def overlapping(wanted: Fitting, others: Iterable[Fitting]) -> Fitting | None:
    """The first of the other fittings of a slot that shares time with the wanted one."""
    for other in others:
        starts_before = wanted.end is None or other.start < wanted.end
        ends_after = other.end is None or other.end > wanted.start
        if other.item != wanted.item and starts_before and ends_after and other.start != other.end:
            return other
    return None
