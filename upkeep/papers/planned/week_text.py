"""The plan of a week as text: shift by shift who does what, what could not be placed, and the hours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.said import Said, Value, Weekday, in_turn, listed, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.planned.week_plan import Capacity, PlanRow, RoleHours, WeekPlan
from upkeep.wording.planned.weeks import (
    assumptions_said,
    hours,
    made_said,
    notes_said,
    over_said,
    role_said,
    shift_heading,
    stage_said,
)
from upkeep.wording.sentences import Reader, lines, text
from upkeep.wording.text import padded, width_of


def plan_text(plan: WeekPlan, reader: Reader) -> str:
    """The plan shift by shift; then what stands on none, with the reason; then the hours."""
    zone = Zone(plan.zone)
    capacity = plan.capacity
    page = lines(
        said(
            "Plan of {week}: {first} to {last}",
            week=plan.week, first=Weekday(capacity.first_day), last=Weekday(capacity.last_day),
        ),
        reader,
    )  # fmt: skip
    page += lines(stage_said(plan, zone), reader)
    made = made_said(plan)
    page += lines(made, reader) if made is not None else []
    if not plan.orders_known:
        page += lines(
            said("No order is planned that far: nobody knows which press stands when, so jobs are joined by press."),
            reader,
        )
    for shift in plan.shifts:
        rows = [row for row in plan.rows if row.shift == shift]
        page += _part(_heading(shift, rows), rows, reader) if rows else []
    out = [row for row in plan.rows if row.shift is None]
    if out:
        page += _part(said_many("{n} job on no shift", "{n} jobs on no shift", n=len(out)), out, reader)
    return "\n".join([*page, "", *_capacity(capacity, reader)]) + "\n"


def _heading(shift: str, rows: Iterable[PlanRow]) -> Said:
    minutes = sum(row.minutes for row in rows)
    return said("{shift}: {hours} h of work", shift=shift_heading(shift), hours=hours(minutes))


def _part(heading: Said, rows: Iterable[PlanRow], reader: Reader) -> list[str]:
    page = ["", *lines(heading, reader)]
    for row in rows:
        page += lines(_row_said(row), reader, 2, 7)
        notes = list(notes_said(row))
        page += lines(in_turn(said("{notes}", notes=listed(notes))), reader, 7, 9) if notes else []
    return page


def _row_said(row: PlanRow) -> Said:
    where: Value = row.line if row.place == row.item else said("{place} {line}", place=row.place, line=row.line)
    what = said(
        "{row}. {where}: {title}, {minutes} min", row=row.row, where=where, title=row.title, minutes=row.minutes
    )
    return what if row.person is None else said("{what} - {name}", what=what, name=row.name)


def capacity_text(capacity: Capacity, reader: Reader) -> str:
    """The hours due beside the hours there are, by role and by area, and how they were counted."""
    head = said(
        "Hours of {week}: {first} to {last}",
        week=capacity.week, first=Weekday(capacity.first_day), last=Weekday(capacity.last_day),
    )  # fmt: skip
    return "\n".join([*lines(head, reader), "", *_capacity(capacity, reader)]) + "\n"


_COLUMNS = (said("hours"), said("due"), said("of it every shift"), said("there"), said("reserve"))
_NAME = 30


def _capacity(capacity: Capacity, reader: Reader) -> Iterator[str]:
    head = [text(column, reader) for column in _COLUMNS]
    yield f"{padded(head[0], _NAME)}{head[1]:>8} {head[2]:>18}{head[3]:>9}{head[4]:>9}"
    for row in (*capacity.roles, *(row for row in capacity.areas if len(_areas_of(capacity, row)) > 1)):
        yield from _hours_row(row, reader)
    yield ""
    for sentence in assumptions_said(capacity):
        yield from lines(sentence, reader)


def _areas_of(capacity: Capacity, row: RoleHours) -> set[str | None]:
    return {other.area for other in capacity.areas if other.role == row.role}


def _hours_row(row: RoleHours, reader: Reader) -> Iterator[str]:
    name = f"{'  ' if row.area is not None else ''}{text(role_said(row), reader)}"
    due, care, there, reserve = (_figure(minutes) for minutes in (row.due, row.care, row.there, row.reserve))
    if width_of(name) > _NAME:
        yield name
        name = ""
    yield f"{padded(name, _NAME)}{due:>8} {care:>18}{there:>9}{reserve:>9}"
    yield f"{'':{_NAME}}  {text(over_said(row), reader)}"


def _figure(minutes: int) -> str:
    return f"{minutes / 60:,.1f} h"
