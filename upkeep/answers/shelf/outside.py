"""What is out for rework: sent, expected, back, and inspected on its return."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from upkeep.entries.shelf.outside import ComeBack, SendOut
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.store.rows.shelf import OutsideRow
from upkeep.units.instants import from_utc_text
from upkeep.views.overview.shelf import Away, Outside


@frozen
class StillOut:
    """An item that is still out: the day it is expected on, and the entry that sent it."""

    item: str
    expected: date
    entry: int


def state_of(row: OutsideRow) -> Away:
    """How far an item is, by the last of what was told of it."""
    if row.way == "come-back":
        return Away.BACK if row.bears is None else Away.EXCHANGED
    return {"send-out": Away.OUT, "good": Away.TAKEN_IN, "bad": Away.BAD}[row.way]


def state_at(context: Context, item: str) -> Away | None:
    """How far an item is that was sent out; None: it never was."""
    rows = context.shelf_history.outside_of(item)
    return state_of(rows[-1]) if rows else None


def away(context: Context) -> Iterator[StillOut]:
    """The items that are out and not back."""
    for row in context.shelf_history.last_outside():
        if row.way == "send-out" and row.expected is not None:
            yield StillOut(row.item, date.fromisoformat(row.expected), row.entry)


def outside(context: Context, *, all_of_them: bool = False) -> tuple[Outside, ...]:
    """What is out, waits for its inspection or was refused at it, the first expected first; with ``all_of_them`` also
    what was taken in."""
    found = [_outside(context, row) for row in context.shelf_history.last_outside()]
    open_ones = [one for one in found if all_of_them or one.state not in (Away.TAKEN_IN, Away.EXCHANGED)]
    return tuple(sorted(open_ones, key=lambda one: (one.expected, one.item)))


def _outside(context: Context, last: OutsideRow) -> Outside:
    rows = context.shelf_history.outside_of(last.item)
    sent = [row for row in rows if row.way == "send-out"][-1]
    back = next((row for row in reversed(rows) if row.way == "come-back" and row.at >= sent.at), None)
    told = context.entries.by_number(sent.entry)
    brought = context.entries.by_number(back.entry) if back else None
    item, state = context.known.item(last.item), state_of(last)
    expected = date.fromisoformat(sent.expected or "")
    return Outside(
        item=item.id,
        title=item.title,
        kind=item.kind,
        state=state,
        to=sent.sent_to or "",
        text=told.entry.text if told is not None and isinstance(told.entry, SendOut) else "",
        since=from_utc_text(sent.at),
        expected=expected,
        late=state is Away.OUT and expected < context.known.zone.day(context.moment),
        back_at=from_utc_text(back.at) if back else None,
        record=brought.entry.text if brought is not None and isinstance(brought.entry, ComeBack) else "",
        bears=back.bears if back else None,
    )
