"""One shift on the floor of the demo plant: counters read, presses cared for and run, tools changed, faults found.

What people write goes into the notebook; what really happens goes into the shop.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from demo_plant.floor import Floor, ShiftPlan
from demo_plant.mended_faults import SYMPTOMS
from demo_plant.notebook import correction, minutes
from demo_plant.tool_changes import change_on_the_bench
from upkeep.plant.model import Kind, Role, Task
from upkeep.units.shifts import ShiftSpan

_DAYS_A_WEEK = 5
"""Each press has its day of the week on which quality pulls and looks through five pieces."""

_MISSED = 0.03
"""Share of daily work that nobody signs."""


def work(floor: Floor, shift: ShiftSpan, plan: ShiftPlan) -> None:
    """One shift on all presses."""
    floor.shop.just_out.clear()
    if plan.on_the_bench:
        change_on_the_bench(floor, shift)
    for number, press in enumerate(floor.shop.of_kind(Kind.PRESS)):
        operator = floor.crew.one(shift, Role.OPERATOR, number)
        _read_at_start(floor, shift, plan, press, operator)
        if press not in plan.idle:
            _care(floor, shift, [press, *_module(floor, press)], number, plan.on_paper.get(press))
            _run(floor, shift, plan, press, number)
        if plan.is_last:
            floor.notebook.note(floor.read(press, shift.end, operator))
    _report_faults(floor, shift)


def _module(floor: Floor, press: str) -> list[str]:
    module = floor.shop.module_on(press)
    return [module] if module else []


def _read_at_start(floor: Floor, shift: ShiftSpan, plan: ShiftPlan, press: str, operator: str) -> None:
    if press in plan.unread:
        return
    typed_in_after = minutes(floor.rng.randint(1, 9))
    if press in plan.misread:
        wrong = floor.read(press, shift.start, operator, too_much=300)
        right = replace(wrong, value=wrong.value - 300, because="two figures swapped")
        floor.notebook.note(wrong, typed_in_after, correction(right))
    else:
        floor.notebook.note(floor.read(press, shift.start, operator), typed_in_after)


def _care(floor: Floor, shift: ShiftSpan, items: Iterable[str], number: int, typed_at: datetime | None) -> None:
    """The daily work on a press and its module, signed by whom it belongs to; some of it is missed."""
    for item in items:
        kind = floor.shop.items[item].kind
        for task in [task for task in floor.tasks.values() if task.each_shift and task.applies_to is kind]:
            if floor.rng.random() > _MISSED:
                by = floor.crew.one(shift, task.by[0], number)
                at = shift.start + _moment_of_care(floor, task, number)
                sign = floor.sign(task, item, shift.key, at, by)
                if typed_at is None:
                    floor.notebook.note(sign)
                else:
                    floor.notebook.note_on_paper(sign, typed_at)


def _moment_of_care(floor: Floor, task: Task, number: int) -> timedelta:
    if Role.OPERATOR not in task.by:
        return minutes(8 + 5 * number + floor.rng.randint(0, 3))
    if floor.rng.random() < 0.7:
        return minutes(floor.rng.randint(10, 40))
    return minutes(480 - floor.rng.randint(10, 50))


def _run(floor: Floor, shift: ShiftSpan, plan: ShiftPlan, press: str, number: int) -> None:
    """The press runs; it stands while its tools are changed, and its counter is read now and then meanwhile."""
    clock, stop = shift.start + minutes(floor.rng.randint(20, 40)), shift.end - minutes(floor.rng.randint(10, 25))
    rate = floor.rates[press] * floor.rng.uniform(0.85, 1.1)
    change_at = clock + minutes(floor.rng.randint(60, 260))
    operator, begun, before = floor.crew.one(shift, Role.OPERATOR, number), clock, floor.shop.totals[press]
    floor.checks.first_off(press, clock, operator)
    events: list[tuple[datetime, str | None]] = [*plan.readings.get(press, [])]
    if press in plan.changes:
        events.append((change_at, None))
    for at, by in sorted(events, key=_moment):
        floor.shop.run(press, _strokes(rate, clock, min(at, stop)))
        clock = max(clock, at)
        if by is not None:
            floor.notebook.note(floor.read(press, at, by))
        else:
            floor.checks.made(press, begun, at, floor.shop.totals[press] - before, operator)
            clock += _change(floor, shift, plan, press, at, number)
            begun, before = clock, floor.shop.totals[press]
    floor.shop.run(press, _strokes(rate, clock, stop))
    floor.checks.made(press, begun, max(stop, begun), floor.shop.totals[press] - before, operator)
    if not plan.is_last and number % _DAYS_A_WEEK == shift.day.weekday():
        floor.checks.pulled(press, max(stop, clock) + minutes(1), floor.crew.one(shift, Role.QUALITY))
    if plan.is_last:
        floor.checks.last_off(press, max(stop, clock), operator)


def _moment(event: tuple[datetime, str | None]) -> datetime:
    return event[0]


def _change(floor: Floor, shift: ShiftSpan, plan: ShiftPlan, press: str, at: datetime, number: int) -> timedelta:
    before = floor.shop.module_on(press)
    stands = plan.changes[press](floor, shift, press, at)
    after = floor.shop.module_on(press)
    if after is not None and after != before:
        _care_after_change(floor, shift, after, at + stands, number)
    return stands


def _care_after_change(floor: Floor, shift: ShiftSpan, module: str, begin: datetime, number: int) -> None:
    operator = floor.crew.one(shift, Role.OPERATOR, number)
    for task in [task for task in floor.tasks.values() if task.each_shift and task.applies_to is Kind.MODULE]:
        floor.notebook.note(floor.sign(task, module, shift.key, begin + minutes(60), operator))


def _strokes(rate: float, begin: datetime, end: datetime) -> int:
    return max(0, int(rate * (end - begin).total_seconds() / 3600))


def _report_faults(floor: Floor, shift: ShiftSpan) -> None:
    if floor.rng.random() < 0.2:
        press = floor.rng.choice(floor.shop.of_kind(Kind.PRESS))
        item = floor.shop.module_on(press) or press
        at = shift.start + minutes(floor.rng.randint(60, 400))
        by = floor.crew.one(shift, Role.OPERATOR, floor.rng.randint(0, 7))
        floor.faults.report(item, floor.rng.choice(SYMPTOMS), at, by)
