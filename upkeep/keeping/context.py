"""What a question or an entry is judged by: a file, its stores, the definitions of then, the moment asked about."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from upkeep.keeping.definitions import Known
from upkeep.keeping.tallies import Tallies
from upkeep.plant.names import Names
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections

if TYPE_CHECKING:
    from upkeep.keeping.judging import Judge
    from upkeep.keeping.limits_in_force import DefinitionsThen, LimitsThen
    from upkeep.keeping.whereabouts import Whereabouts
    from upkeep.store.entries import EntryStore
    from upkeep.store.faults import FaultHistory
    from upkeep.store.figures.tallied import Tallied
    from upkeep.store.findings import Findings
    from upkeep.store.measurements import Measurements
    from upkeep.store.planned.weeks import PlanStore
    from upkeep.store.shelf import ShelfHistory
    from upkeep.store.wear import WearHistory


@dataclass(frozen=True, eq=False)
class Stores:
    """What reads (and writes) one file by subject, each made when somebody first asks for it.

    What few questions ask for is imported then, too: a command asks one, and waits for its imports.

    ``file`` is the book's own, or one that reads like the book of then.
    """

    file: BookFile

    @cached_property
    def entries(self) -> EntryStore:
        """The entries as they were written, those corrected and struck among them."""
        from upkeep.store.entries import EntryStore  # with every kind of entry

        return EntryStore(self.file)

    @cached_property
    def rows(self) -> Projections:
        """Counts, fittings, holds and what else the tables keep of items."""
        return Projections(self.file)

    @cached_property
    def lines(self) -> LineStore:
        """The rows of the board; their states follow from a comparison with the moment."""
        return LineStore(self.file)

    @cached_property
    def findings(self) -> Findings:
        """What checks and inspections found, and what became of it."""
        from upkeep.store.findings import Findings

        return Findings(self.file)

    @cached_property
    def measurements(self) -> Measurements:
        """What vouches for gauges, and the results they gave."""
        from upkeep.store.measurements import Measurements

        return Measurements(self.file)

    @cached_property
    def fault_history(self) -> FaultHistory:
        """The rows of faults and of the steps on them, without those struck."""
        from upkeep.store.faults import FaultHistory

        return FaultHistory(self.file)

    @cached_property
    def shelf_history(self) -> ShelfHistory:
        """The rows of the shelf: moves, orders, what is out for rework."""
        from upkeep.store.shelf import ShelfHistory

        return ShelfHistory(self.file)

    @cached_property
    def plans(self) -> PlanStore:
        """Who is absent, and the steps of planned weeks."""
        from upkeep.store.planned.weeks import PlanStore

        return PlanStore(self.file)

    @cached_property
    def tallied(self) -> Tallied:
        """Sums over sign-offs, for figures."""
        from upkeep.store.figures.tallied import Tallied

        return Tallied(self.file)

    @cached_property
    def wear_history(self) -> WearHistory:
        """The rows wear is made of: measured points, reworks, ends of parts, pictures."""
        from upkeep.store.wear import WearHistory

        return WearHistory(self.file)


@dataclass(frozen=True, eq=False)
class Context(Stores):
    """A book as it stands, or stood at a moment.  Made once for a question or an entry, and handed on.

    Attributes:
        known: the definitions in force then.
        moment: the aware UTC moment that is asked about; for an entry that of its writing.
        kept: tallies kept from question to question; None: this one makes its own.

    The judge and what else looks into the book are made when somebody first asks for them.  What they have looked up
    they keep: after a write the next entry gets a context of its own.
    """

    known: Known
    moment: datetime
    kept: Tallies | None = None

    def at(self, moment: datetime) -> Context:
        """The same file and knowledge, asked about another moment."""
        return replace(self, moment=moment)

    @cached_property
    def tallies(self) -> Tallies:
        """How many lines are in each state, and the last counts; kept from question to question where ``kept`` is."""
        return self.kept or Tallies(self.file)

    @cached_property
    def names(self) -> Names:
        """What people are called, and were called when they signed."""
        return Names(self.rows.names_given())

    @cached_property
    def whereabouts(self) -> Whereabouts:
        """Where items sit, and their counts: for what needs no line judged, and none of the rules."""
        from upkeep.keeping.whereabouts import Whereabouts

        return Whereabouts(self.rows, self.known)

    @cached_property
    def judge(self) -> Judge:
        """What works out a line from its rows, under the definitions in force."""
        from upkeep.keeping.judging import Judge

        return Judge(self.rows, self.known)

    @cached_property
    def limits(self) -> LimitsThen:
        """The limits of measured points when they were measured."""
        from upkeep.keeping.limits_in_force import LimitsThen

        return LimitsThen(self.findings, self.known)

    @cached_property
    def defined(self) -> DefinitionsThen:
        """Crimps and pull tables as they were defined at a moment."""
        from upkeep.keeping.limits_in_force import DefinitionsThen

        return DefinitionsThen(self.file, self.known)
