"""A change of tools on one press, as frozen views: what is done, what comes next, what to know before."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.said import Said

if TYPE_CHECKING:
    from upkeep.due.holds import HoldReason
    from upkeep.views.items import Hanging


class Step(StrEnum):
    """A step of a change of tools, in order."""

    OUT = "out"
    IN = "in"
    TOOL = "tool"
    SLUG = "slug"
    FIRST_OFF = "first-off"
    GUARD = "guard"
    RELEASE = "release"


@frozen
class ChangeStep:
    """A step: ``about`` is the item or line it is about, ``title`` the work of a line ("" of other steps); done by whom
    and when, with which entry (None: it is not done).  ``again``: what was found was bad, and what was left after
    adjusting is measured next.  ``energy`` is the control of energy it asks for."""

    step: Step
    about: str
    title: str
    done_by: str | None
    done_at: datetime | None
    entry: int | None
    again: bool
    energy: str

    @property
    def is_done(self) -> bool:
        """Whether it is done."""
        return self.entry is not None

    @property
    def is_anybodys(self) -> bool:
        """Whether it is done by whoever may, and not only by who has the change in hand: signatures, the release."""
        return self.step in (Step.TOOL, Step.GUARD, Step.RELEASE)


@frozen
class Waits:
    """A change that was paused: by whom, since when, why, and the strokes its press has done since then."""

    by: str
    since: datetime
    why: str
    strokes: int


@frozen
class SettingThen:
    """A setting as it was last time: its name, its value and unit, and when and on which press."""

    point: str
    title: str
    value: float
    unit: str
    at: datetime
    press: str | None


@frozen
class Change:
    """A change of tools that is open on a press.

    ``item`` goes in, into ``inside``; ``out`` comes out (None: nothing was there); ``die_set`` makes the pieces (None:
    there is none in it).  ``begun_by`` began it, ``in_hand_of`` has it now, ids with their names.  ``voided`` tells
    when what had been measured was void because the press had run meanwhile, and by how many strokes (None: never).
    """

    press: str
    entry: int
    item: str
    inside: str
    out: str | None
    die_set: str | None
    begun_by: tuple[str, str]
    begun_at: datetime
    in_hand_of: tuple[str, str]
    waits: Waits | None
    voided: tuple[datetime, int] | None
    steps: tuple[ChangeStep, ...]
    last_settings: tuple[SettingThen, ...]
    last_count: int | None

    @property
    def next(self) -> ChangeStep:
        """The step that comes next: the first that is not done."""
        return next(step for step in self.steps if not step.is_done)


class Kept(StrEnum):
    """What goes into a field of a step."""

    COUNT = "count"
    VALUE = "value"
    PICK = "pick"


@frozen
class StepOption:
    """Something to pick in a step: its key, its words, and whether it may be picked."""

    key: str
    says: Said
    valid: bool = True


@frozen
class StepAsk:
    """A field of a step: the key of its value, its label, what goes in, what may be picked, what stands in it from the
    start, and what stands beside it (None: nothing).  Not ``needed``: it may stay empty."""

    key: str
    label: Said
    kept: Kept
    options: tuple[StepOption, ...] = ()
    preset: str = ""
    beside: Said | None = None
    needed: bool = True


@frozen
class StepForm:
    """What the next step of a change asks for, its caution first.  ``line`` is the line that is signed in it (""
    where the step has fields of its own, and signs what they say)."""

    step: ChangeStep
    caution: Said
    asks: tuple[StepAsk, ...]
    line: str


@frozen
class Candidate:
    """Something that may go in: what it is, where it is, why it is held (None: it is not), and what to know before."""

    item: str
    kind: str
    title: str
    place: str
    hold: HoldReason | None
    bars: tuple[Said, ...]
    notes: tuple[Said, ...]
    orders: tuple[str, ...]


@frozen
class BeforeChange:
    """What may be changed on a press: what hangs there, and the sets that orders wait for, the next first."""

    press: str
    hanging: tuple[Hanging, ...]
    ordered: tuple[Candidate, ...]
