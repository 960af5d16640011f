"""The weekly list as it was frozen: the rows of then, in the order and with the numbers of then, and what was added to
and taken off it since.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta

from upkeep.answers.board import Boards
from upkeep.answers.planned.steps import WeekSteps
from upkeep.answers.week import row_of, stands_of
from upkeep.entries.plans.weeks import Planned
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.units.weeks import week_days
from upkeep.views.planned.week_plan import Mark
from upkeep.views.week import FrozenList, WeekList, WeekRow


@frozen
class SettledRows:
    """The rows of a frozen week as they stand: ``number``, ``at`` and ``by`` are those of the entry that froze it,
    ``issue`` how often it was frozen.  ``names`` are those of the people on it, ``added`` the rows that were no rows
    of it then, from the board of now."""

    number: int
    at: datetime
    by: str
    issue: int
    rows: tuple[tuple[Planned, Mark], ...]
    names: Mapping[str, str]
    added: Mapping[str, tuple[WeekRow, str]]


def settled_rows(context: Context, week: str) -> SettledRows | None:
    """The rows of a week as they stand at the moment of a context; None: it was not frozen by then."""
    steps = WeekSteps(context, week)
    if steps.frozen is None:
        return None
    number, entry = steps.frozen
    rows = tuple(steps.rows())
    known = {row.line for row in steps.base}
    return SettledRows(
        number=number,
        at=entry.at,
        by=context.names.of(entry.by, number),
        issue=steps.issue,
        rows=rows,
        names={row.person: context.names.now(row.person) for row, _ in rows if row.person},
        added=_rows_of(context, [row.line for row, _ in rows if row.line not in known], week),
    )


def rows_then(then: Context, settled: SettledRows, week: str) -> Mapping[str, tuple[WeekRow, str]]:
    """The rows that were frozen, each with its area, as the book stood then."""
    return _rows_of(then, [row.line for row, _ in settled.rows if row.line not in settled.added], week)


def _rows_of(context: Context, lines: list[str], week: str) -> dict[str, tuple[WeekRow, str]]:
    board, (_, last) = Boards(context), week_days(week)
    ends = context.known.zone.start_of(last + timedelta(days=1))
    found = ((name, board.line_if_any(name)) for name in lines)
    return {
        name: (row_of(0, line, stands_of(line, ends), context), line.area) for name, line in found if line is not None
    }


def frozen_list(
    printed: WeekList, settled: SettledRows, then: Mapping[str, tuple[WeekRow, str]], area: str | None
) -> WeekList:
    """A list that is printed now with the rows that were frozen; those of one area keep the numbers of the whole."""
    known = {**then, **settled.added}
    rows = tuple(
        _with_plan(replace(known[planned.line][0], row=number), planned, mark, settled.names)
        for number, (planned, mark) in enumerate(settled.rows, 1)
        if planned.line in known and area in (None, known[planned.line][1])
    )
    marks = [row.mark for row in rows]
    frozen = FrozenList(
        revision=settled.number,
        at=settled.at,
        by=settled.by,
        issue=settled.issue,
        added=marks.count(Mark.ADDED),
        removed=marks.count(Mark.REMOVED),
    )
    return replace(printed, rows=rows, frozen=frozen)


def _with_plan(row: WeekRow, planned: Planned, mark: Mark, names: Mapping[str, str]) -> WeekRow:
    return replace(
        row,
        occurrence=planned.occurrence or row.occurrence,
        shift=planned.shift,
        person=names.get(planned.person) if planned.person else None,
        carried=planned.carried,
        mark=mark.value,
        not_placed=planned.why,
    )
