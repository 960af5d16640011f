"""What to know before an item runs: limits that planned pieces run past, work that is overdue, orders that wait."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from upkeep.answers.line_states import state_of
from upkeep.due.reason_json import reasons_from
from upkeep.due.reasons import After, Asked
from upkeep.due.states import State
from upkeep.keeping.context import Context
from upkeep.keeping.judging import Judge
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Event, Kind
from upkeep.said import Said, said
from upkeep.store.rows.lines import LineRow
from upkeep.units.quantities import in_strokes

_FIRST_USE = (Event.STORAGE, Event.BACK)


def before_fitting(context: Context, item: str, at: datetime) -> Iterator[Said]:
    """What to know before an item is fitted: what of it and of all in it is overdue, waits for a first use, or will not
    last for the orders that wait."""
    items = list(_with_contents(context, item))
    for row in context.lines.of_items(items):
        state = state_of(row, at)
        if state in (State.OVERDUE, State.STOP):
            yield said("{line} is overdue: {title}. Do it before it runs.", line=row.line, title=row.title)
        elif state is State.DUE and _is_first_use(row):
            yield said("{line} is due before its first use: {title}.", line=row.line, title=row.title)
    for key in items:
        if context.known.item(key).kind is Kind.DIE_SET:
            waiting = orders_waiting(context, key)
            pieces = sum(waiting.values())
            what = said("what is ordered of {item} ({pieces} pieces)", item=key, pieces=pieces)
            yield from beyond(context.judge, list(_with_contents(context, key)), pieces, what)


def orders_waiting(context: Context, die_set: str) -> dict[str, int]:
    """The pieces still to be made with a die set, by order; orders that are made are left out."""
    left = {
        order.ordered: order.pieces - context.rows.pieces_of(order.ordered)
        for order in context.rows.orders()
        if order.item == die_set
    }
    return {order: pieces for order, pieces in left.items() if pieces > 0}


def beyond(judge: Judge, items: Sequence[str], pieces: int, what: Said) -> Iterator[Said]:
    """What so many pieces more would run over: each stroke limit of a die set and its parts that they pass.

    The strokes done so far count with their upper bound.
    """
    for key in items:
        item = judge.known.item(key)
        for task in judge.known.tasks_on(item):
            line = judge.line(item, task)
            if line.strokes is None or line.due_strokes is None:
                continue
            left = max(0, line.due_strokes - line.strokes.high)
            if pieces > left:
                yield said(
                    "{what} goes {strokes} past the limit of {line}: {left} left. Change the set, plan a stop "
                    "at {left}, or do the task first.",
                    what=what,
                    strokes=in_strokes(pieces - left),
                    line=str(LineName(key, task.id)),
                    left=left,
                )


def _with_contents(context: Context, item: str) -> Iterator[str]:
    yield item
    for content in context.rows.inside_now(item):
        yield from _with_contents(context, content.item)


def _is_first_use(row: LineRow) -> bool:
    asked = (reason for reason in reasons_from(row.reasons).all if isinstance(reason, Asked))
    return any(isinstance(one, After) and one.event in _FIRST_USE for reason in asked for one in reason.by)
