"""What settles a count that contradicts an earlier one: the entries, made in one step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.origin import NOT_KNOWN
from upkeep.entries.text import line_without_origin
from upkeep.errors import NotFound, Refused
from upkeep.keeping.context import Context
from upkeep.said import Numeral, said
from upkeep.views.questions import Disputed


def disputed(context: Context) -> list[Disputed]:
    """The readings that wait for the lead to settle whether they are wrong, the oldest count against them first."""
    kept: dict[int, list[int]] = {}
    for row in context.rows.disputed():
        kept.setdefault(row.disputes, []).append(row.entry)
    zone = context.known.zone

    def line(number: int) -> str:
        return line_without_origin(_entry(context, number), zone)

    return [Disputed(number, line(number), tuple(map(line, against))) for number, against in kept.items()]


def settled(
    context: Context, number: int, figure: int | None, *, earlier_stands: bool, at: datetime, by: str, because: str
) -> Iterator[Entry]:
    """The entries that settle whether the reading of an entry was wrong.

    Where it was, it is corrected to ``figure`` (None: nobody knows, it is taken out) and the counts kept against it
    count; where it stands, those are struck.  Raises :class:`Refused` where none are kept against it.
    """
    waiting = [row.entry for row in context.rows.disputed() if row.disputes == number]
    if not waiting:
        raise Refused(said("No count is kept against #{entry}, so there is nothing to settle.", entry=Numeral(number)))
    if earlier_stands:
        yield from (Strike(at=at, by=by, entry=entry, because=because) for entry in waiting)
        return
    yield _mended(context, number, figure, at, by, because)
    for entry in waiting:
        count = _entry(context, entry)
        assert isinstance(count, Count)
        yield _corrected(replace(count, disputes=None), entry, by, because)


def _mended(context: Context, number: int, figure: int | None, at: datetime, by: str, because: str) -> Entry:
    """The wrong reading with its figure put right or left out."""
    wrong = _entry(context, number)
    match wrong:
        case Fit() | Unfit():
            return _corrected(replace(wrong, count=figure), number, by, because)
        case Count() if figure is not None:
            return _corrected(replace(wrong, value=figure), number, by, because)
        case _ if figure is None:
            return Strike(at=at, by=by, entry=number, because=because)
    raise Refused(
        said("#{entry} is no plain count; correct it first ('correct'), then settle it.", entry=Numeral(number))
    )


def _corrected(entry: Entry, number: int, by: str, because: str) -> Entry:
    return replace(entry, by=by, corrects=number, because=because, recorded_at=None, salt=None, origin=NOT_KNOWN)


def _entry(context: Context, number: int) -> Entry:
    recorded = context.entries.by_number(number)
    if recorded is None:
        raise NotFound(said("entry"), f"#{number}")
    return recorded.entry
