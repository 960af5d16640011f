"""The shift day that is kept with each entry."""

from __future__ import annotations

from upkeep.entries.entry import Entry
from upkeep.keeping.definitions import Known


def shift_day_of(known: Known, entry: Entry, defines: bool) -> str:
    """The shift day kept with an entry: of its shift, or of its wall day; a definition belongs to its UTC day."""
    if defines:
        return entry.at.date().isoformat()
    return known.calendar.shift_day(entry.at).isoformat()
