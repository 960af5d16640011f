"""Frozen views of the year ahead: what it may bring under a policy, and how level its weeks begin."""

from __future__ import annotations

from datetime import date

from upkeep.frozen import frozen


@frozen
class Range:
    """What many runs brought: their mean, and the values below which one in twenty lies and nineteen in twenty."""

    mean: float
    low: float
    high: float


@frozen
class PolicyYear:
    """A year under a policy.

    ``late`` are lines done late, or late at the end; ``failed`` parts that failed in use; ``waited`` working days on
    which a part waited for its spare; ``hours`` those of work in the year, and ``weeks`` of each week.  ``money`` is
    told in the currency of the plant; None: the plant gives no costs.
    """

    late: Range
    failed: Range
    waited: Range
    hours: Range
    weeks: tuple[Range, ...]
    money: Range | None = None


@frozen
class PolicyChange:
    """What a policy changes: "every" or "strokes" of a task, "hours" of a role, "stock" of a spare (``what``), to or by
    a text or number as it was given."""

    what: str
    name: str
    value: str


@frozen
class YearAhead:
    """The year from a day on, played ``runs`` times with a ``seed``.

    ``now`` goes on as the plant does; ``changed`` as it would with ``changes``, and ``differences`` are the changed
    year less the one of now, run by run (lines late, parts failed, days waited, hours); None where nothing was changed.
    ``lines`` are played, ``unpaced`` those of them without a forecast of strokes, ``shift_care`` those left out as
    work of every shift; ``parts`` are played with the life of their family, ``unknown_lives`` are not: nobody knows it.
    ``stated_shape`` is the shape of all lives, where the plant states one.  ``role_hours`` are the hours a week that
    each role has.
    """

    plant: str
    first_day: date
    days: int
    runs: int
    seed: int
    now: PolicyYear
    changed: PolicyYear | None
    differences: tuple[Range, Range, Range, Range] | None
    changes: tuple[PolicyChange, ...]
    lines: int
    unpaced: int
    shift_care: int
    parts: int
    unknown_lives: int
    role_hours: tuple[tuple[str, float], ...]
    reserve_percent: int
    currency: str = ""
    stated_shape: float | None = None


@frozen
class FamilyRisk:
    """The chance that a part fails within one interval, by the lives of its family: now and with the change; from
    ``failures`` lives that ended worn."""

    family: str
    kind: str
    now: float
    then: float
    failures: int


@frozen
class WhatIf:
    """An interval before it is changed: hours of work a week now and then, over ``lines`` of a task (``unpaced`` of
    them without a forecast of strokes), and the risk by family; ``unknown`` are families of which too few lives are
    known.  Intervals are texts as tasks have them ("14 days", "60000")."""

    task: str
    title: str
    interval_now: str
    interval_then: str
    by_strokes: bool
    hours_now: float
    hours_then: float
    lines: int
    unpaced: int
    risks: tuple[FamilyRisk, ...]
    unknown: tuple[tuple[str, str], ...]


@frozen
class Start:
    """The first day of a line that was never done."""

    line: str
    item: str
    task: str
    day: date


@frozen
class Starts:
    """First days of all that was never done, so that weeks are level: hours of each week with them and as they are due
    now, and the least the busiest week can have."""

    plant: str
    first_day: date
    starts: tuple[Start, ...]
    kept: int
    hours: tuple[float, ...]
    hours_now: tuple[float, ...]
    bound: float


@frozen
class PastWeek:
    """A past week: its plan as it would have been made at its first moment, with what was known then, against what was
    done.  ``jobs`` stood on its list; ``planned`` the plan had room for, ``planned_late`` of them behind their due
    shift; ``done`` were done in the week, ``done_late`` of them late.  ``planned_peak`` and ``done_peak`` are the
    minutes of the busiest day, ``planned_days`` and ``done_days`` on how many days there was work."""

    week: str
    jobs: int
    planned: int
    planned_late: int
    done: int
    done_late: int
    planned_peak: int
    done_peak: int
    planned_days: int
    done_days: int


@frozen
class BackTest:
    """Past weeks, the oldest first."""

    plant: str
    weeks: tuple[PastWeek, ...]
