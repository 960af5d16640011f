"""The plan of a week as the lead reads it on the screen: what waits for a decision first, then shift by shift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tui.present.sections import Shown
from upkeep.said import Said, in_turn, listed, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.planned.week_plan import PlanRow, WeekPlan
from upkeep.wording.planned.weeks import hours, made_said, notes_said, over_said, role_said, shift_heading, stage_said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit, padded

_NUMBER, _LINE, _NAME, _MINUTES = 4, 24, 12, 8


def name_of(row: PlanRow) -> object:
    """What a row is known by."""
    return row.line


def stage_rows(plan: WeekPlan) -> Said:
    """How far the week has come, and how good its proposal is."""
    return in_turn(stage_said(plan, Zone(plan.zone)), made_said(plan))


def hours_rows(plan: WeekPlan) -> Said:
    """The hours of each role that has too few, or that all have enough."""
    over = [row for row in plan.capacity.roles if row.over]
    if not over:
        return said("Every role has the hours that are due.")
    roles = [said("{role} {over}", role=role_said(row), over=over_said(row)) for row in over]
    return said("Hours: {roles}.", roles=listed(roles))


def plan_rows(plan: WeekPlan, reader: Reader, width: int) -> tuple[Shown[PlanRow], ...]:
    """The rows under their headings; a row stands once."""
    return tuple(_sections(plan, reader, width))


def _sections(plan: WeekPlan, reader: Reader, width: int) -> Iterator[Shown[PlanRow]]:
    asking = [row for row in plan.rows if row.asks]
    if asking:
        yield from _section(said("Waiting for the lead, carried over too often: d"), asking, reader, width)
    for shift in plan.shifts:
        rows = [row for row in plan.rows if row.shift == shift and not row.asks]
        if rows:
            worked = hours(sum(row.minutes for row in rows))
            heading = said("{shift}: {hours} h of work", shift=shift_heading(shift), hours=worked)
            yield from _section(heading, rows, reader, width)
    out = [row for row in plan.rows if row.shift is None and not row.asks]
    if out:
        heading = said_many("{n} job on no shift", "{n} jobs on no shift", n=len(out))
        yield from _section(heading, out, reader, width)


def _section(heading: Said, rows: Sequence[PlanRow], reader: Reader, width: int) -> Iterator[Shown[PlanRow]]:
    yield Shown(text(heading, reader), None)
    for row in rows:
        yield Shown(_row(row, reader, width), row)


def _row(row: PlanRow, reader: Reader, width: int) -> str:
    line = row.line if row.place == row.item else f"{row.place} {row.line}"
    minutes = text(said("{minutes} min", minutes=row.minutes), reader)
    notes = list(notes_said(row))
    told = text(said("{notes}", notes=listed(notes)), reader) if notes else ""
    start = f"{row.row:>{_NUMBER}} {padded(line, _LINE)} {padded(row.name or '-', _NAME)} {minutes:>{_MINUTES}}  "
    return fit(start + told, width)
