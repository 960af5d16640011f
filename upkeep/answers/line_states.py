"""What is read off the row of a line: its state at an instant, and the instants at which that changes."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache

from upkeep.due.states import State, state_at
from upkeep.entries.standing import LineStanding
from upkeep.store.rows.lines import LineRow
from upkeep.units.instants import NEVER, from_utc_text


def state_of(row: LineRow, at: datetime) -> State:
    """The state of a line at an instant."""
    if row.standing != LineStanding.ACTIVE:
        return State(row.standing)
    opens, due, overdue, stop = map(moment, (row.opens_at, row.due_at, row.overdue_at, row.stop_at))
    return state_at(at, opens or NEVER, due or NEVER, overdue or NEVER, stop or NEVER)


@lru_cache(maxsize=4096)
def moment(text: str | None) -> datetime | None:
    """The instant of a stored text; None for none and for "never".  A window of the board asks 250 times."""
    return None if text is None or text.startswith("9999") else from_utc_text(text)
