"""Frozen view of the dossier of an item: all the book holds of it, for whoever has to be shown."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.due.holds import HoldReason
from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.views.checks import CheckRow, GaugeReport
from upkeep.views.evidence.permits import PermitLine
from upkeep.views.faults import FaultCase
from upkeep.views.items import LifeNumbers
from upkeep.views.overview.shelf import PiecesOf
from upkeep.views.suspect import HoldList
from upkeep.views.wear import PictureState


@frozen
class About:
    """What an item is and whose: ``owner`` None is the plant's own; ``since`` the day it came into use, where that was
    said; ``known_since`` when it came into this book; ``gone`` how it left for ever (None: it has not)."""

    item: str
    title: str
    kind: str
    owner: str | None
    family: str | None
    place: str
    inside: str | None
    held: HoldReason | None
    since: date | None
    known_since: datetime
    life: int | None
    gone: str | None


@frozen
class Sat:
    """An item sat in another one over [since, until) (None: it still does); ``entry`` put it in, ``ended_by`` took it
    out, ``left_to`` is where it was put then.  ``batch`` is that of the item, where it is known."""

    item: str
    inside: str
    since: datetime
    until: datetime | None
    entry: int
    ended_by: int | None
    left_to: str | None
    batch: str | None = None


@frozen
class Ran:
    """Strokes of an item on a press over [since, until): at least, best estimate, at most."""

    press: str
    since: datetime
    until: datetime | None
    low: int
    best: int
    high: int


@frozen
class Authority:
    """Whether somebody was allowed to sign when they did: the roles they had, those the work asks for, whether one of
    them was there; ``trained`` are what asks for training, each with its last day (None: without end) and whether it
    held that day."""

    roles: tuple[str, ...]
    asked: tuple[str, ...]
    given: bool
    trained: tuple[tuple[str, date | None, bool], ...] = ()


@frozen
class SignedValue:
    """A measured point of a sign-off: its readings, unit, limits valid then, and the gauge with its state then (None:
    by no gauge)."""

    point: str
    title: str
    values: tuple[float, ...]
    unit: str
    lower: float | None
    upper: float | None
    good: bool
    gauge: str | None
    gauge_note: Said | None
    gauge_counts: bool
    from_check: int | None


@frozen
class Signed:
    """A sign-off as it was given.

    ``occurrence`` is what it answers; ``instruction`` the entry that defined the task as it was then (None: nobody
    knows), ``instruction_at`` since when; ``proof`` how the name was proven, ``authority`` whether it was allowed.
    ``second_by`` gave the second signature (None: nobody), ``second_asked`` the role the task asks it of.  ``because``
    is the reason its writer gave.
    """

    entry: int
    item: str
    task: str
    title: str
    at: datetime
    written_at: datetime
    by: str
    proof: Proof
    authority: Authority
    occurrence: str
    instruction: int | None
    instruction_at: datetime | None
    grade: int | None
    values: tuple[SignedValue, ...]
    out: tuple[str, ...]
    second_by: str | None
    second_at: datetime | None
    second_proof: Proof | None
    second_asked: str | None
    remark: str
    because: str
    certificate: str | None


@frozen
class HeldSpan:
    """A hold over [since, until) (None: it is in force): why, the entry that began it, what ended it, on which press
    alone (None: on any)."""

    since: datetime
    until: datetime | None
    reason: HoldReason
    entry: int
    ended: Said
    press: str | None


@frozen
class Correction:
    """An entry that was corrected or struck: its text, the text that took its place (None: it was struck), who did,
    when, and why."""

    entry: int
    old: str
    old_by: str
    through: int
    new: str | None
    at: datetime
    by: str
    because: str


@frozen
class Note:
    """Something told of an item in words: a rework, a journey outside, a remark, a picture, an event."""

    entry: int
    at: datetime
    by: str
    kind: str
    text: str


@frozen
class Dossier:
    """All the book holds of an item at a moment; what happened before ``since`` is left out where that was asked.

    ``checks`` of a part are those of the set it sat in, while it sat there, of a press those of what hung there;
    ``signed`` of a part likewise, where something was measured.  ``ran`` are its stays on presses, ``contents`` is what
    sat in it.  ``not_known`` says what an auditor would look for in vain.
    """

    at: datetime
    since: datetime | None
    about: About
    sat: tuple[Sat, ...]
    contents: tuple[Sat, ...]
    life: LifeNumbers
    ran: tuple[Ran, ...]
    readings: int
    checks: tuple[CheckRow, ...]
    signed: tuple[Signed, ...]
    faults: tuple[FaultCase, ...]
    holds: tuple[HeldSpan, ...]
    permits: tuple[PermitLine, ...]
    suspect: tuple[HoldList, ...]
    corrections: tuple[Correction, ...]
    batch: PiecesOf
    notes: tuple[Note, ...]
    pictures: tuple[PictureState, ...]
    gauge: GaugeReport | None
    not_known: tuple[Said, ...]
