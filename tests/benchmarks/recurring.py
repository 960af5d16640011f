"""The next occurrence of a rule that began ten years ago, against dateutil, which walks there from the start."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from timeit import repeat

from dateutil.rrule import rrulestr

from tests.benchmarks.measuring import Measured, best
from upkeep.units.recurrence import Recurrence

STARTED = datetime.fromisoformat("2016-03-01T06:00")
NOW = datetime.fromisoformat("2026-03-02T07:30")

RULES = {
    "daily": ("FREQ=DAILY", 0.01),
    "every third day": ("FREQ=DAILY;INTERVAL=3", 0.01),
    "weekly on weekdays": ("FREQ=WEEKLY;BYDAY=MO,WE,FR", 1.0),
    "monthly on the 15th": ("FREQ=MONTHLY;BYMONTHDAY=15", 1.0),
    "monthly on the last working day": ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1", 1.0),
    "yearly": ("FREQ=YEARLY", 1.0),
    "weekly, 1,000 times": ("FREQ=WEEKLY;BYDAY=MO,TH;COUNT=1000", 0.5),
    "monthly on the 15th, 150 times": ("FREQ=MONTHLY;BYMONTHDAY=15;COUNT=150", 0.5),
    "monthly on the last working day, 150 times": ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1;COUNT=150", 0.5),
}
"""Rules by name, with the most of dateutil's time that ours may take."""

_CALLS = 20


def measured() -> Iterator[Measured]:
    """For each rule: the first question to a new rule, and the next one to a rule that has been asked before."""
    for name, (rule, aim) in RULES.items():
        yield _first(name, rule, aim)
        yield _again(name, rule, aim)


def _first(name: str, rule: str, aim: float) -> Measured:
    """Rule and question together on both sides: what a program pays that keeps nothing between two questions."""
    ours, baseline = best(
        lambda: min(repeat(lambda: Recurrence(rule, STARTED).next_after(NOW), number=1, repeat=_CALLS)),
        lambda: min(repeat(lambda: rrulestr(rule, dtstart=STARTED).after(NOW), number=1, repeat=3)),
        5,
    )
    return Measured(f"next occurrence, rule read anew: {name}", ours, baseline, "dateutil", aim)


def _again(name: str, rule: str, aim: float) -> Measured:
    asked, theirs = Recurrence(rule, STARTED), rrulestr(rule, dtstart=STARTED)
    ours, baseline = best(
        lambda: min(repeat(lambda: asked.next_after(NOW), number=_CALLS, repeat=5)) / _CALLS,
        lambda: min(repeat(lambda: theirs.after(NOW), number=1, repeat=3)),
        5,
    )
    return Measured(f"next occurrence, rule kept: {name}", ours, baseline, "dateutil", aim)
