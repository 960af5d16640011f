"""What the moments of writing tell of the clock they came from."""

from __future__ import annotations

from datetime import datetime, timedelta

from upkeep.entries.bookkeeping import Note
from upkeep.entries.entry import Entry

LONGEST_WAIT = timedelta(seconds=20)
"""How long an entry may have waited for others to write between its moment and its place in the book."""

LONGEST_SILENCE = timedelta(days=300)
"""How long after the last entry the next one comes without a question about the clock: months of rest do not raise it,
a clock that has the next year does.  Plant default, no source."""


def written_at(entry: Entry) -> datetime:
    """When an entry was written."""
    return entry.recorded_at or entry.at


def clock_went_back(before: Entry, entry: Entry) -> bool:
    """Whether an entry says it was written before the one in front of it, by more than anybody waits.

    What follows the note of a restored book was written before it, and the note says so.
    """
    restored = isinstance(before, Note) and before.restored
    return not restored and written_at(entry) < written_at(before) - LONGEST_WAIT
