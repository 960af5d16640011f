"""What is overdue at the moment, and since when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.due.states import State
from upkeep.keeping.context import Context
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.overview.indicators import Age, LineOver, Overdue

LATE = frozenset({State.STOP, State.OVERDUE})
"""What is past its window, a hard stop behind it or not."""

_ASKING = frozenset(set(State) - {State.PAUSED, State.NOT_REQUIRED})
_PAGE, _NAMED = 500, 5
_WEEK, _MONTH = 7, 30


def overdue(context: Context, area: str | None = None, item: str | None = None) -> Overdue:
    """What is overdue in the plant, an area or on an item at the moment of the context."""
    boards = Boards(context)
    lines = list(lines_in(boards, BoardQuery(states=LATE, area=area, item=item)))
    by_age = dict.fromkeys(Age, 0)
    for line in lines:
        by_age[age_of(line, context.moment)] += 1
    asking = boards.window(BoardQuery(states=_ASKING, area=area, item=item), 0, 1).total
    over = [line_over(line) for line in lines]
    over.sort(key=lambda one: (not one.statutory, one.since or context.moment, one.line))
    return Overdue(asking, by_age, sum(one.strokes_over for one in over), tuple(over[:_NAMED]))


def lines_in(boards: Boards, query: BoardQuery) -> Iterator[BoardLine]:
    """Every line that a query matches."""
    offset, total = 0, 1
    while offset < total:
        page = boards.window(query, offset, _PAGE)
        yield from page.rows
        offset, total = offset + _PAGE, page.total


def age_of(line: BoardLine, at: datetime) -> Age:
    """How long a late line has been late; one that is so by strokes alone counts from when the count said so."""
    days = 0 if line.overdue_at is None else (at - line.overdue_at).days
    if days <= _WEEK:
        return Age.WEEK
    return Age.MONTH if days <= _MONTH else Age.OLDER


def line_over(line: BoardLine) -> LineOver:
    """A late line as figures name it."""
    over = max(0, -(line.remaining or 0))
    return LineOver(line.line, line.title, line.place, line.statutory, line.overdue_at, over)
