"""How a task vouched for a gauge at a moment: its line, judged by what had been done by then."""

from __future__ import annotations

from upkeep.due.facts import How
from upkeep.due.lines import line_from
from upkeep.keeping.definitions import Known
from upkeep.keeping.judging import Judge
from upkeep.keeping.rows_then import RowsThen
from upkeep.plant.model import Item, Task
from upkeep.quality.gauges import Care
from upkeep.store.rows.signatures import SignOffRow, StandingRow


class Vouching(RowsThen):
    """What vouched for a gauge at a moment.

    A cancelled check was not done and vouches for nothing; storage moves no calibration.
    """

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs that answer an occurrence, newest first; no cancellations."""
        return [] if how == How.CANCELLED else super().last_sign_offs(item, task, how, limit)

    def standings_of(self, item: str) -> list[StandingRow]:
        """None: neither storage nor a hold moves a calibration."""
        return []


def care_of(rows: Vouching, known: Known, gauge: Item, task: Task, calibrates: bool, bad: bool) -> Care:
    """How a task vouched for a gauge; a calibration that was never done, nor stated to be, does not.

    ``bad``: it was done last with a reading out of its limits.
    """
    judge = Judge(rows, known)
    facts = judge.facts(gauge, task)
    line = line_from(facts, judge.setting)
    if calibrates and facts.worked is None:
        return Care(task.title, None)
    return Care(task.title, line.edges.overdue, bad)
