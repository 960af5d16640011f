"""Frozen views of a week."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from upkeep.due.states import State
from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.plant.values.facts import SignedWith
from upkeep.scan_codes import letters_of
from upkeep.views.overview.shelf import KitPart
from upkeep.views.printed import Printed, Seal
from upkeep.views.questions import Question
from upkeep.views.training import TrainingEnd


class Stands(StrEnum):
    """Where a row stands on the list: among what can be done in one walk through the hall, or in the box at its end."""

    WALK = "walk"
    HELD = "held"
    """Its item must not run until it is released."""
    WAITS = "waits"
    """Somebody has begun it, and it waits for something."""
    FAR = "far"
    """Its window is open, but it is not due within the week."""


@frozen
class Deferred:
    """How a row was put off: by whom last (the name of then), to which later point, how often in all."""

    by: str
    to: str
    times: int


@frozen
class Permit:
    """The deviation permit that runs for the item of a row: its entry, and how many strokes are left of it."""

    entry: int
    left: int


@frozen
class WeekRow:
    """One row of the weekly due list.

    Attributes:
        row: its number on the list, from 1.
        occurrence: what a sign-off of the row answers.
        due_day: the day it is due by the calendar; None: it goes by a moment or by strokes.
        due_at: the moment it is due; None: by strokes alone, or now.
        strokes: best estimate of the strokes done; None where it does not go by strokes.
        due_strokes: the strokes at which it is due.
        estimated: whether the strokes are partly guessed.
        overdue_at: from when it is late; None: by count.
        stop_at: from when the item must not run; None: never.
        at_next_stop: whether it is to be done at a change of tools, at the latest when due.
        owner: whose the item is, where it belongs to a customer.
        stopped_at: when tools were changed since its window opened; None: they were not.
        minutes: how long it takes; 0: nobody said.
        kit: whether it takes the parts kit.
        last_done_at: when it was last done; None: never in this book.
        last_stated: the day it is stated to have been done last, before the book; None: nobody said.
        area: the area of its place.
        stands: where it stands on the list.
        waits_for: what a job that was begun waits for.
        deferred: how it was put off; None: it was not.
        permit: the deviation permit under which its item runs; None: none does.
        shift: the shift it is planned for; None: it stands on none.
        person: who is to do it, by name.
        carried: in how many frozen weeks in a row before it stood undone.
        mark: what became of it after the list was frozen: "added", "removed", "moved" or "".
        not_placed: why it stands on no shift ("held", "nobody", "window", "hours", "out"); None: it does, or the week
            is not planned.
        short: the parts it waits for; none: all are there, or it takes none.
    """

    row: int
    line: str
    place: str
    item: str
    task: str
    title: str
    state: State
    occurrence: str
    due_day: date | None
    due_at: datetime | None
    strokes: int | None
    due_strokes: int | None
    estimated: bool
    overdue_at: datetime | None
    stop_at: datetime | None
    minutes: float
    kit: bool
    energy: str
    statutory: bool
    last_done_at: datetime | None
    last_stated: date | None
    at_next_stop: bool = False
    stopped_at: datetime | None = None
    owner: str | None = None
    area: str = "-"
    stands: Stands = Stands.WALK
    waits_for: str = ""
    deferred: Deferred | None = None
    permit: Permit | None = None
    shift: str | None = None
    person: str | None = None
    carried: int = 0
    mark: str = ""
    not_placed: str | None = None
    short: tuple[KitPart, ...] = ()


@frozen
class FrozenList:
    """By which a list is settled: the number of the entry that froze it stands for it on paper, as its revision; when,
    and by whom.  ``issue`` counts how often the week was frozen, from 1; ``added`` and ``removed`` are the rows that
    came and went since."""

    revision: int
    at: datetime
    by: str
    issue: int = 1
    added: int = 0
    removed: int = 0


@frozen
class WeekList:
    """The weekly due list of one ISO 8601 week.

    ``zone`` is the name of the plant's time zone.  ``revision`` is the last entry the list knows, so a sheet can be
    told from its successor.  ``counts_as_of`` is the oldest latest reading of any press and ``oldest_count_press`` that
    press; both None while none was read.  ``left_to_rounds`` counts the open lines of every shift that are not listed.
    ``waiting`` is what waits to be seen by the lead, ``training`` whose training ends.
    ``signed_with``: whether names are given or proven.
    ``known_at``: what was written after that moment is left out; None: nothing is.
    ``link`` is that of the entry ``revision``, in hexadecimal figures.  ``proof``: how the name of whoever prints it
    was proven (None: it is no person's).  ``never_read``: the presses in use that were never read.
    ``frozen`` is by which the list is settled; None: it is the board's, and changes with it.
    """

    plant: str
    zone: str
    area: str | None
    week: str
    first_day: date
    last_day: date
    printed_at: datetime
    printed_by: str
    counts_as_of: datetime | None
    oldest_count_press: str | None
    revision: int
    link: str
    rows: tuple[WeekRow, ...]
    left_to_rounds: int
    known_at: datetime | None = None
    waiting: tuple[Question, ...] = ()
    training: tuple[TrainingEnd, ...] = ()
    signed_with: str = SignedWith.NAMES_ONLY
    proof: Proof | None = None
    never_read: tuple[str, ...] = ()
    frozen: FrozenList | None = None

    @property
    def letters(self) -> str:
        """The letters that stand for its rows and their numbers, as they are printed at its head."""
        return letters_of(f"{row.row} {row.line}" for row in self.rows)

    @property
    def printed(self) -> Printed:
        """What the paper says of itself."""
        return Printed(
            plant=self.plant,
            zone=self.zone,
            at=self.printed_at,
            known_at=self.known_at,
            by=self.printed_by,
            proof=self.proof,
            counts_as_of=self.counts_as_of,
            oldest_press=self.oldest_count_press,
            never_read=self.never_read,
            seal=Seal(self.revision, self.link),
        )
