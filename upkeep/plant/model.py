"""The plant as the rules see it: plain frozen values, read from the definitions that are entries in the book."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from datetime import date
from enum import StrEnum
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.values.texts import TaskTexts, texts_from
from upkeep.units import shifts as shift_times

ShiftRule = shift_times.ShiftRule
"""A shift as the plant defines it; read with the plant, worked with on the floor of time."""


class Kind(StrEnum):
    """The kinds of item (EN 13306 "item") in a crimp shop."""

    PRESS = "press"
    MODULE = "module"
    DIE_SET = "die set"
    CONDUCTOR_PUNCH = "conductor punch"
    INSULATION_PUNCH = "insulation punch"
    CONDUCTOR_ANVIL = "conductor anvil"
    INSULATION_ANVIL = "insulation anvil"
    CUT_OFF_BLADE = "cut-off blade"
    GAUGE = "gauge"


PARTS = (
    Kind.CONDUCTOR_PUNCH,
    Kind.INSULATION_PUNCH,
    Kind.CONDUCTOR_ANVIL,
    Kind.INSULATION_ANVIL,
    Kind.CUT_OFF_BLADE,
)
"""Parts that wear and move on their own between die sets; the cut-off blade sits in the module."""

FITS_IN: Mapping[Kind, Kind] = {
    Kind.MODULE: Kind.PRESS,
    Kind.DIE_SET: Kind.MODULE,
    Kind.CONDUCTOR_PUNCH: Kind.DIE_SET,
    Kind.INSULATION_PUNCH: Kind.DIE_SET,
    Kind.CONDUCTOR_ANVIL: Kind.DIE_SET,
    Kind.INSULATION_ANVIL: Kind.DIE_SET,
    Kind.CUT_OFF_BLADE: Kind.MODULE,
}
"""What sits in what.  A slot holds one item of a kind at a time."""


class Role(StrEnum):
    """Who does what in the plant; one person may have several."""

    OPERATOR = "operator"
    SETUP = "set-up technician"
    TECHNICIAN = "maintenance technician"
    LEAD = "maintenance lead"
    QUALITY = "quality technician"
    STORES = "stores"
    MANAGER = "plant manager"
    APPOINTED = "appointed person"
    SAFETY = "safety officer"


ENGLISH = "en"
"""The language in which the program's own catalogue of tasks is written."""

ABOVE_THE_ROLES = (Role.LEAD.value,)
"""May sign any task beside those it names."""


class Energy(StrEnum):
    """How energy is controlled before hands go in.  Local law and the plant's own procedure decide."""

    UNPLUG = "unplug"
    LOCK = "lock"
    LOOK = "look"


class Event(StrEnum):
    """What may happen to an item so that a task has to be done before it runs again.

    A shutdown is not told by anybody: the plant's calendar has it.  Those in :data:`TOLD` somebody tells as such; the
    others follow from what is entered anyway.
    """

    FITTING = "fitting"
    TOOL_SETTING = "tool setting"
    FAULT = "fault"
    CRASH = "crash"
    REWORK = "rework"
    STORAGE = "storage"
    SHUTDOWN = "shutdown"
    PRESS_MOVED = "press moved"
    GUARD_REMOVED = "guard removed"
    BACK = "back from outside"
    GAUGE_OUT = "gauge found out"


TOLD = (Event.PRESS_MOVED, Event.GUARD_REMOVED, Event.BACK)
"""Events that somebody has to tell of, for no other entry does."""


@frozen
class Place:
    """Where things stand: a press place, a rack, the toolroom.  ``route`` is the walking order."""

    id: str
    title: str
    area: str
    route: int = 0


@frozen
class Item:
    """A press, module, die set, part or gauge.

    ``place`` is where it stands or belongs (its rack); ``digits`` is how many figures the press counter shows;
    ``max_rate`` is the most strokes an hour this press can do; ``family`` groups die sets by terminal;
    ``life`` is how many strokes a new part is good for, ``max_reworks`` how often it may be reworked;
    ``since`` is the day it came into use; ``scrapped`` the day it left for ever (its id is never used again).
    """

    id: str
    kind: Kind
    title: str
    place: str | None = None
    family: str | None = None
    digits: int | None = None
    max_rate: int | None = None
    life: int | None = None
    max_reworks: int | None = None
    gauge_class: str | None = None
    owner: str | None = None
    since: date | None = None
    scrapped: date | None = None


@frozen
class Point:
    """A measured point: ``readings`` values in ``unit`` with its limits.  ``None`` is "no limit on that side".

    ``part`` is the kind of part whose wear it shows (None: of the item measured), ``nominal`` what it should be,
    ``steps`` all values it can be set to; ``gauge_class`` measures it (None: none, or in a task what the task names).
    """

    id: str
    title: str
    unit: str
    lower: float | None = None
    upper: float | None = None
    warn_lower: float | None = None
    warn_upper: float | None = None
    readings: int = 1
    part: Kind | None = None
    nominal: float | None = None
    steps: tuple[float, ...] = ()
    gauge_class: str | None = None

    def is_beyond_warning(self, value: float) -> bool:
        """Whether a value lies beyond a warning limit (or, where none is set, beyond a limit)."""
        lower = self.lower if self.warn_lower is None else self.warn_lower
        upper = self.upper if self.warn_upper is None else self.warn_upper
        return (lower is not None and value < lower) or (upper is not None and value > upper)


@frozen
class Task:
    """A standing instruction for a kind of item.

    Triggers: ``each_shift`` (once a shift the item is used), ``every`` ("7 days", "1 month": floating, counted from
    the day done), ``rule`` (RFC 5545 RRULE from ``start``: fixed, no drift; ``also_on`` and ``not_on`` add and take
    away days, its RDATE and EXDATE), ``strokes`` (usage, from the strokes at which it was last done; ``strokes_for``
    overrides it by item id or family), ``after_grade`` (an inspection of the same item graded this or worse),
    ``after_warning`` (a point measured on the same item beyond its warning limit), ``after`` (events of
    :class:`Event`: to be done before the item runs again). ``life``: due when the life of the part is used up
    (``Item.life``, or what its last rework granted). ``combine`` is "first" or "last".
    Edges: ``early_days``/``late_days``/``stop_days`` around the due day (``stop_days`` None: no hard stop),
    ``early_percent``/``late_percent`` of the interval beside them (the wider counts; in days they are cut off at
    ``window_cap_days``), and ``plan_from``/``stop_at`` in percent of the stroke interval (``stop_at`` None: no hard
    stop).  ``by_hour``: overdue so many hours into the shift, instead of at its end.
    ``used_from``: strokes in a shift below which an item was not used.  ``deduct_overrun``: strokes done too many count
    into the next interval.  ``own_usage_clock``: only work done for the strokes restarts them.  ``spread``: lines made
    together come due one after another over the working days of their first interval.  ``while_resting``: asked for
    at rest, in storage or off every press, and only there.  ``at_next_stop``: due as soon as tools are changed on the
    press while its window is open, at the latest when it falls due anyway.  ``covers``: tasks on the same item that
    are done with
    this one, where they fall due within ``cover_days``.
    ``gauge_class`` measures its points that name nothing of their own; ``photo``: what is photographed with it.
    ``kit`` lists what to bring, ``parts`` the spares it uses up.  ``hold_when_out``: a value out of its limits holds
    the item, until the work is signed with good ones and the item released; without it the work is asked for again.
    ``on_day_off`` says where a due day moves that falls on a day off: to the last working day "before", the first
    "after", or nowhere ("keep"); None: see :attr:`day_off_move`.
    ``texts`` are its title, caution, steps and points in other languages.
    """

    id: str
    title: str
    applies_to: Kind
    by: tuple[str, ...]
    each_shift: bool = False
    every: str | None = None
    rule: str | None = None
    start: date | None = None
    also_on: tuple[date, ...] = ()
    not_on: tuple[date, ...] = ()
    strokes: int | None = None
    strokes_for: Mapping[str, int] = field(default_factory=dict)
    after_grade: int | None = None
    after_warning: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    life: bool = False
    combine: str = "first"
    early_days: int = 0
    late_days: int = 0
    stop_days: int | None = None
    plan_from: int = 80
    late_strokes: int = 0
    stop_at: int | None = None
    early_percent: int = 0
    late_percent: int = 0
    window_cap_days: int | None = None
    by_hour: int | None = None
    used_from: int = 1
    deduct_overrun: bool = False
    own_usage_clock: bool = False
    spread: bool = False
    while_resting: bool = False
    at_next_stop: bool = False
    covers: tuple[str, ...] = ()
    cover_days: int = 0
    max_deferrals: int = 2
    minutes: float = 0
    energy: Energy = Energy.LOOK
    caution: str = ""
    steps: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    parts: Mapping[str, int] = field(default_factory=dict)
    points: tuple[Point, ...] = ()
    graded: bool = False
    hold_when_out: bool = False
    gauge_class: str | None = None
    photo: str = ""
    second_signature: str | None = None
    statutory: bool = False
    on_day_off: str | None = None
    source: str = "plant default, no source"
    texts: Mapping[str, TaskTexts] = field(default_factory=dict)

    @property
    def day_off_move(self) -> str:
        """Where a due day on a day off moves: as the plant says, else "before" where law sets it and "after" elsewhere.

        A common rule of shops (plant default, no source).
        """
        return self.on_day_off or ("before" if self.statutory else "after")


def day_from(value: Any) -> date | None:
    """A day as definitions write it; None where none is given."""
    return date.fromisoformat(value) if value else None


def _days(values: Iterable[Any]) -> tuple[date, ...]:
    return tuple(date.fromisoformat(value) for value in values)


def given(content: Mapping[str, Any], **read: Any) -> dict[str, Any]:
    """The fields of a definition, each read as its reader says."""
    return {key: read[key](value) if key in read else value for key, value in content.items()}


def place_from(content: Mapping[str, Any]) -> Place:
    """A place from its definition (the JSON object of its ``define`` entry)."""
    return Place(**content)


def item_from(content: Mapping[str, Any]) -> Item:
    """An item from its definition."""
    return Item(**given(content, kind=Kind, since=day_from, scrapped=day_from))


def task_from(content: Mapping[str, Any]) -> Task:
    """A task from its definition."""
    return Task(
        **given(
            content,
            applies_to=Kind,
            by=tuple,
            after=tuple,
            after_warning=tuple,
            covers=tuple,
            start=day_from,
            also_on=_days,
            not_on=_days,
            energy=Energy,
            steps=tuple,
            kit=tuple,
            points=points_from,
            texts=texts_from,
        )
    )


def points_from(points: Iterable[Mapping[str, Any]]) -> tuple[Point, ...]:
    """Measured points from their definitions."""
    return tuple(Point(**given(point, part=Kind, steps=tuple)) for point in points)
