"""Frozen views: what a screen or a paper gets when it asks the book once.  Meaning only; looks are made elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import NamedTuple

from upkeep.due.holds import FailedCheck, HoldReason, ToAdjust
from upkeep.due.reasons import Reasons
from upkeep.due.states import State
from upkeep.entries.origin import Proof, WayIn
from upkeep.plant.model import Point
from upkeep.said import Said


@dataclass(frozen=True, slots=True)
class BoardLine:
    """One task on one item at an instant.

    ``line`` names it ("M-12/clean-module").  The four edges are the instants at which its state changes; None is
    never.  ``strokes`` counts since it was last done (best estimate, ``strokes_high`` the upper bound) towards
    ``due_strokes``; ``remaining`` is the difference; all None where the task has no stroke trigger.
    ``occurrence`` names what a sign-off now would answer, ``deferred_to`` the later point it was moved to.
    ``unverified`` is the sign-off waiting for the second signature.  ``place`` is where the item hangs or stands,
    ``inside`` what it sits in.
    """

    line: str
    item: str
    item_kind: str
    item_title: str
    task: str
    title: str
    state: State
    place: str
    area: str
    inside: str | None
    opens_at: datetime | None
    due_at: datetime | None
    overdue_at: datetime | None
    stop_at: datetime | None
    due_day: date | None
    strokes: int | None
    strokes_high: int | None
    due_strokes: int | None
    remaining: int | None
    estimated: bool
    missed: int
    occurrence: str
    deferred_to: str | None
    reasons: Reasons
    last_done_at: datetime | None
    last_done_by: str | None
    unverified: int | None
    minutes: float
    energy: str
    roles: tuple[str, ...]
    second_signature: str | None
    statutory: bool
    each_shift: bool
    source: str


@dataclass(frozen=True, slots=True)
class BoardQuery:
    """Which lines to show; empty means all.  ``search`` matches item, task, title or place, ignoring case."""

    states: frozenset[State] = frozenset()
    place: str | None = None
    area: str | None = None
    item: str | None = None
    task: str | None = None
    role: str | None = None
    search: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """A window of lines at an instant, most urgent first: rows ``offset`` and on out of ``total`` that match.

    ``by_state`` counts all matching lines.  ``counts_as_of`` is the oldest latest reading of any press and
    ``oldest_count_press`` that press; None while no press has been read.
    """

    at: datetime
    plant: str
    zone: str
    offset: int
    total: int
    rows: tuple[BoardLine, ...]
    by_state: Mapping[State, int]
    counts_as_of: datetime | None
    oldest_count_press: str | None


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One entry about an item or line, as the book holds it.  ``text`` is its one-line text in plant time, without how
    it came in: ``way_in``, ``station``, ``proof`` and ``entered_by`` (see :class:`upkeep.entries.origin.Origin`).

    ``struck_by``/``corrected_by`` name the later entry that took its effect; the entry itself stays visible.
    """

    entry: int
    at: datetime
    recorded_at: datetime
    shift_day: str
    by: str
    by_name: str
    kind: str
    text: str
    struck_by: int | None = None
    corrected_by: int | None = None
    way_in: WayIn = WayIn.NOT_KNOWN
    station: str | None = None
    proof: Proof = Proof.NOT_KNOWN
    entered_by: str | None = None


@dataclass(frozen=True, slots=True)
class LifeNumbers:
    """Strokes of an item, each low/best/high: since new, since its last rework, since its last graded inspection.

    ``reworks`` counts the reworks; ``life_left`` is what is left of its life, with the strokes done at their high;
    None where its life is not known.
    """

    item: str
    since_new: tuple[int, int, int]
    since_rework: tuple[int, int, int] | None
    since_inspection: tuple[int, int, int] | None
    reworks: int
    life_left: int | None
    estimated: bool
    inspected_at: datetime | None
    counted_until: datetime | None
    unattributed: int | None = None


@dataclass(frozen=True, slots=True)
class LineDetail:
    """Everything about one line: the line itself, the life of its item and its history, newest first."""

    line: BoardLine
    life: LifeNumbers
    history: tuple[HistoryLine, ...]


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs on a place: an item, what it sits in, and why it is held (None: it may run)."""

    item: str
    kind: str
    title: str
    inside: str | None
    depth: int
    hold: HoldReason | None


@dataclass(frozen=True, slots=True)
class Round:
    """The lines of one place for one shift, as an operator walks them.

    ``expected`` is the range in which the press count should lie now, from the last count and the fastest rate.
    ``lines`` are those an operator may sign, not yet done first; ``done`` the sign-offs of this shift.
    """

    at: datetime
    place: str
    press: str | None
    shift: str | None
    shift_ends: datetime | None
    last_count: int | None
    last_count_at: datetime | None
    expected: tuple[int, int] | None
    hanging: tuple[Hanging, ...]
    lines: tuple[BoardLine, ...]
    done: tuple[HistoryLine, ...]


class HeldItem(NamedTuple):
    """An item that must not run, since when and why."""

    item: str
    since: datetime
    reason: HoldReason

    @property
    def points(self) -> tuple[str, ...]:
        """The characteristics that were measured bad; none where something else holds it."""
        return self.reason.points if isinstance(self.reason, FailedCheck | ToAdjust) else ()


@dataclass(frozen=True, slots=True)
class GaugeChoice:
    """A gauge that may measure the points of a task; ``valid`` False names its reason in ``note``."""

    id: str
    title: str
    valid: bool
    note: str


@dataclass(frozen=True, slots=True)
class SignForm:
    """All a sign-off asks for, cautions first.  ``signers`` are the people who may sign it."""

    line: BoardLine
    caution: str
    steps: tuple[str, ...]
    points: tuple[Point, ...]
    graded: bool
    gauges: tuple[GaugeChoice, ...]
    meaning: str
    signers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One row of the weekly due list; ``due`` is why in a few words ("192,400 of 200,000 strokes" or a date).

    ``last_done`` is a day, "stated" and a day, or "never"; ``occurrence`` is what a sign-off of the row answers.
    """

    row: int
    line: str
    place: str
    item: str
    task: str
    title: str
    state: State
    due: str
    window: str
    minutes: float
    kit: bool
    energy: str
    statutory: bool
    estimated: bool
    last_done: str
    occurrence: str = ""


@dataclass(frozen=True, slots=True)
class WeekList:
    """The weekly due list of one ISO 8601 week.  ``revision`` is the last entry the list knows, so a sheet can be
    told from its successor; ``stale`` names presses with an older count than the shift before."""

    plant: str
    area: str | None
    week: str
    first_day: date
    last_day: date
    printed_at: str
    printed_by: str
    counts_as_of: str
    revision: int
    rows: tuple[WeekRow, ...]
    not_listed: str


@dataclass(frozen=True, slots=True)
class StateChange:
    """A line whose state an entry changed."""

    line: str
    before: State
    after: State
    reasons: Reasons


@dataclass(frozen=True, slots=True)
class Written:
    """What the book answers to a write: the numbers of the new entries and the lines they moved."""

    entries: tuple[int, ...]
    changes: tuple[StateChange, ...] = ()
    notes: tuple[Said, ...] = field(default=())
