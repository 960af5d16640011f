"""Admission of parts that left for ever, and of pictures."""

from __future__ import annotations

from upkeep.book.known import Known
from upkeep.book.recounting import Recounter
from upkeep.entries.found import ENDS, Picture, Retire
from upkeep.entries.kinds import Entry
from upkeep.errors import Refused
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections


class CareAdmission:
    """Judges such entries against the book; ``notes`` are told to the writer."""

    def __init__(self, entries: EntryStore, rows: Projections, known: Known, counter: Recounter) -> None:
        self._entries, self._rows, self._known, self._counter = entries, rows, known, counter
        self.notes: list[str] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        match entry:
            case Retire():
                self._check_retire(entry)
            case Picture():
                self._known.item(entry.item)
            case _:
                raise TypeError(type(entry).__name__)
        return entry

    def _check_retire(self, entry: Retire) -> None:
        self._known.item(entry.item)
        if entry.end not in ENDS:
            raise Refused(f"{entry.end!r} is no end of a part; {', '.join(ENDS)} are.")
