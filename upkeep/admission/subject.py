"""What the admissions of all subjects share: the book they judge against, and how a kind of entry finds its judge."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from upkeep.entries.entry import Entry, Recorded
from upkeep.errors import NotFound, Refused
from upkeep.keeping.definitions import Known
from upkeep.keeping.projecting import Projector
from upkeep.said import Numeral, Said, said
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections

Judges = Mapping[type[Entry], Callable[[Any, Any], Entry | None]]
"""Methods of an admission by the kind of entry that each judges.  One that gives an entry back has put in what the
book knows; None: it goes in as it came."""


class SubjectAdmission:
    """Judges the entries of one subject against the book, inside the running transaction.

    ``replaced`` is the entry that a correction takes the place of.  ``notes`` are told to the writer.
    """

    JUDGES: ClassVar[Judges] = {}

    def __init__(
        self, entries: EntryStore, rows: Projections, known: Known, projector: Projector, replaced: Recorded | None
    ) -> None:
        self._entries, self._rows, self._known, self._projector = entries, rows, known, projector
        self._counter, self._replaced = projector.counter, replaced
        self.notes: list[Said] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        return self.JUDGES[type(entry)](self, entry) or entry


def entry_in_effect(entries: EntryStore, rows: Projections, number: int) -> Recorded:
    """An entry that others refer to; raises where there is none, or where another one took its effect."""
    entry = entries.one(number)
    if entry is None:
        raise NotFound(said("entry"), f"#{number}")
    through = rows.effect_lost_through(number)
    if through is not None:
        raise Refused(
            said(
                "Entry #{entry} is no longer in effect: see #{through}.",
                entry=Numeral(number),
                through=Numeral(through),
            )
        )
    return entry
