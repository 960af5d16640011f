"""What the admissions of all subjects share: the book they judge against, and how a kind of entry finds its judge."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from upkeep.entries.entry import Entry, Recorded
from upkeep.errors import NotFound, Refused
from upkeep.keeping.context import Context, Stores
from upkeep.keeping.projecting import Projector
from upkeep.said import Numeral, Said, said

Judges = Mapping[type[Entry], Callable[[Any, Any], Entry | None]]
"""Methods of an admission by the kind of entry that each judges.  One that gives an entry back has put in what the
book knows; None: it goes in as it came."""


class SubjectAdmission:
    """Judges the entries of one subject against the book, inside the running transaction.

    ``replaced`` is the entry that a correction takes the place of.  ``notes`` are told to the writer.
    """

    JUDGES: ClassVar[Judges] = {}

    def __init__(self, context: Context, projector: Projector, replaced: Recorded | None) -> None:
        self._context, self._rows, self._known = context, context.rows, context.known
        self._projector, self._counter, self._replaced = projector, projector.counter, replaced
        self.notes: list[Said] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        return self.JUDGES[type(entry)](self, entry) or entry


def entry_in_effect(stores: Stores, number: int) -> Recorded:
    """An entry that others refer to; raises where there is none, or where another one took its effect."""
    entry = stores.entries.by_number(number)
    if entry is None:
        raise NotFound(said("entry"), f"#{number}")
    through = stores.rows.effect_lost_through(number)
    if through is not None:
        raise Refused(
            said(
                "Entry #{entry} is no longer in effect: see #{through}.",
                entry=Numeral(number),
                through=Numeral(through),
            )
        )
    return entry
