"""What was written, newest first, with what became of it; and who answered an occurrence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.entries.bookkeeping import Strike
from upkeep.entries.clock import clock_went_back
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.kinds import kind_of
from upkeep.entries.signing import LookedAgain
from upkeep.entries.text import line_without_origin
from upkeep.keeping.context import Context
from upkeep.views.items import HistoryLine


def history(context: Context, item: str | None, task: str | None, limit: int) -> tuple[HistoryLine, ...]:
    """The newest entries of an item (None: of all), or of a task on it.

    Raises :class:`NotFound` for an item that is not in the book.
    """
    if item is not None:
        context.known.item(item)
    return tuple(_lines_of(context, context.entries.newest(item, limit, task)))


def newest_written(context: Context, limit: int) -> tuple[HistoryLine, ...]:
    """The entries written last, newest first, whenever they happened."""
    return tuple(_lines_of(context, context.entries.last_written(limit)))


def history_of(context: Context, entries: Iterable[Recorded]) -> tuple[HistoryLine, ...]:
    """Entries in effect, as the history tells them."""
    return tuple(_lines_of(context, ((recorded, None) for recorded in entries)))


def answer_to(context: Context, item: str, task: str, occurrence: str) -> HistoryLine | None:
    """The sign-off or cancellation in effect that answers an occurrence; None: nothing does."""
    row = context.rows.sign_off_for(item, task, occurrence)
    recorded = context.entries.by_number(row.entry) if row else None
    return history_of(context, [recorded])[0] if recorded else None


def _lines_of(context: Context, entries: Iterable[tuple[Recorded, int | None]]) -> Iterator[HistoryLine]:
    zone, names = context.known.zone, context.names
    for recorded, through in entries:
        entry = recorded.entry
        struck = corrected = None
        if through is not None:
            later = context.entries.by_number(through)
            strikes = later is not None and isinstance(later.entry, Strike)
            struck, corrected = (through, None) if strikes else (None, through)
        text, origin = _told_to_all(entry, line_without_origin(entry, zone)), entry.origin
        yield HistoryLine(
            recorded.id, entry.at, entry.recorded_at or entry.at, recorded.shift_day, entry.by,
            names.of(entry.by, recorded.id), kind_of(type(entry)).verb, text, struck, corrected,
            origin.way_in, origin.station, origin.proof, origin.entered_by,
            _clock_went_back(context, recorded),
        )  # fmt: skip


def _told_to_all(entry: Entry, line: str) -> str:
    """The line of an entry as everybody may read it: what was seen at another look is for the lead alone."""
    if not isinstance(entry, LookedAgain):
        return line
    before, number, _ = line.partition(f"#{entry.entry}")
    return f"{before}{number} ... by {entry.by}"


def _clock_went_back(context: Context, recorded: Recorded) -> bool:
    before = context.entries.by_number(recorded.id - 1)
    return before is not None and clock_went_back(before.entry, recorded.entry)
