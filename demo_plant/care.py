"""The work that comes round by itself in the demo plant: read off the board at the start of a shift day, and signed."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta

from demo_plant.day import Day
from demo_plant.floor import Floor, ShiftPlan
from demo_plant.notebook import minutes
from upkeep.book import BoardLine
from upkeep.entries.lives import Rework
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Sign
from upkeep.plant.model import Kind

_TAKEN_UP = {"stop": 1.0, "overdue": 0.95, "due": 0.85, "open": 0.35}
"""Share of the lines in a state that somebody takes up on a day."""

_ALWAYS_TAKEN_UP = ("die-inspection", "blade-inspection", "gauge-zero", "die-rework")

_WORTH_POLISHING_MM = 0.027
_WORTH_GRINDING_MM = 0.07
_GRANTED = 300_000
"""Strokes granted to a polished punch.  Invented for the demo."""


def do_rounds(floor: Floor, asked: Iterable[BoardLine], day: Day, postponed: Collection[str]) -> None:
    """Signs most of what the board asks for, on one of the day's shifts; ``postponed`` lines are left.

    A missed daily line is not signed late where bigger work that covers it is asked for the same day.
    """
    asked = list(asked)
    covered = {(line.item, task) for line in asked for task in floor.tasks[line.task].covers}
    for line in asked:
        done_with_more = line.each_shift and (line.item, line.task) in covered
        if line.line not in postponed and not done_with_more and _is_taken_up(floor, line):
            if line.each_shift:
                _sign_missed(floor, line, day)
            else:
                _sign(floor, line, day)


def waiting_sets(asked: Iterable[BoardLine]) -> set[str]:
    """The die sets that wait for their inspection and are not fitted meanwhile."""
    return {line.item for line in asked if line.task == "die-inspection" and line.state != "open"}


def _is_taken_up(floor: Floor, line: BoardLine) -> bool:
    if line.each_shift:
        left = line.state == "overdue" and not _runs_today(floor, line) and floor.rng.random() < 0.7
        return left and not floor.notebook.waits(line.item, line.task, line.occurrence)
    if line.task == "hand-cycle" and floor.shop.press_of(line.item) is None:
        return False  # it is turned by hand where it is put on a press
    if line.task in _ALWAYS_TAKEN_UP and line.state != "open":
        return floor.rng.random() < 0.98
    return floor.rng.random() < _TAKEN_UP[line.state]


def _runs_today(floor: Floor, line: BoardLine) -> bool:
    """A missed daily line of a press that runs is answered by the next daily round, not by a late signature."""
    return floor.shop.press_of(line.item) is not None


def _sign_missed(floor: Floor, line: BoardLine, day: Day) -> None:
    """What a shift before has missed is signed first thing, before the item may be fitted and cleaned again."""
    shift = day.shifts[0]
    by, at = floor.crew.one(shift, line.roles[0]), shift.start + minutes(5)
    floor.notebook.note(floor.sign(floor.tasks[line.task], line.item, line.occurrence, at, by))


def _sign(floor: Floor, line: BoardLine, day: Day) -> None:
    order = range(len(day.shifts))
    for place in order if line.task == "gauge-zero" else floor.rng.sample(order, len(order)):
        span = floor.crew.time_for(day.shifts[place], line.roles, line.minutes, floor.rng)
        if span is not None:
            by, at = span
            sign = floor.sign(floor.tasks[line.task], line.item, line.occurrence, at, by)
            floor.notebook.note(sign, answer=floor.verification if line.second_signature else None)
            _read_counter(floor, line, day.plans[place], at, by)
            _act_on_finding(floor, sign)
            return


def _read_counter(floor: Floor, line: BoardLine, plan: ShiftPlan, at: datetime, by: str) -> None:
    """Work that is due by strokes is signed with the count of its press, so that the next interval is exact."""
    press = floor.shop.press_of(line.item)
    if line.due_strokes is not None and press is not None:
        plan.reads(press, at, by)


def _act_on_finding(floor: Floor, sign: Sign) -> None:
    kind = floor.shop.items[sign.item].kind
    if sign.task == "die-inspection" and floor.worn_punches.is_worn(floor.shop, sign.item):
        floor.worn_punches.replace_punch(floor.shop, floor.notebook, sign)
        floor.wear.make_as_new(sign.item)
    elif sign.task == "die-inspection" and floor.wear.drift_mm(sign.item) > _WORTH_POLISHING_MM:
        _polish(floor, sign.item, sign.at + timedelta(minutes=45), sign.by)
    elif kind is Kind.CUT_OFF_BLADE and max(dict(sign.points)["tab-burr"]) > _WORTH_GRINDING_MM:
        floor.wear.make_as_new(sign.item)


def _polish(floor: Floor, die_set: str, at: datetime, by: str) -> None:
    remark = "conductor punch polished; slug height as new"
    rework = floor.sign(floor.tasks["die-rework"], die_set, EXTRA, at, by, remark)
    floor.notebook.note(rework, answer=floor.verification)
    punch = floor.shop.held_by(die_set, Kind.CONDUCTOR_PUNCH)
    if punch is not None:
        because = "polished, form and height measured before and after"
        floor.notebook.note(Rework(at=at, by=by, item=punch, granted=_GRANTED, because=because))
    floor.wear.make_as_new(die_set)
