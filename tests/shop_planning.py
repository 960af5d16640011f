"""Acts of the invented shop floor about the plan of its weeks: absent, proposed, changed, agreed, frozen, decided."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from upkeep.entries.entry import Entry
from upkeep.entries.plans.weeks import (
    Absent,
    AgreeWeek,
    Carried,
    Decision,
    FreezeWeek,
    PlanJob,
    Planned,
    Propose,
    rows_text,
)
from upkeep.units.weeks import iso_week

if TYPE_CHECKING:
    from tests.shop_floor import Floor


def absent(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody will not be there for some days."""
    first = moment.date() + timedelta(days=other % 9)
    last = first + timedelta(days=one % 4)
    person = ("ana", "tom", "ben")[one % 3]
    yield Absent(at=moment, by="lea", person=person, first=first.isoformat(), last=last.isoformat())


def week(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The plan of a week goes one step on; the rows are some lines of the board, not levelled."""
    name = iso_week(moment.date() + timedelta(days=7 * (one % 2)))
    lines = floor.book.board(floor.now, limit=12).rows
    if not lines:
        return
    line = lines[one % len(lines)]
    shift = f"{moment.date().isoformat()}/early"
    rows = [Planned(row.line, row.occurrence, shift, "tom", 5, one % 2) for row in lines[: 1 + other % 5]]
    step = other % 5
    if step == 0:
        yield Propose(at=moment, by="lea", week=name, made="greedy", gap=one % 300, rows=rows_text(rows))
    elif step == 1:
        yield PlanJob(at=moment, by="lea", week=name, line=line.line, shift=shift, person="tom")
    elif step == 2:
        yield AgreeWeek(at=moment, by="lea", week=name)
    elif step == 3:
        yield FreezeWeek(at=moment, by="lea", week=name, rows=rows_text(rows))
    else:
        decision = tuple(Decision)[one % 4]
        yield Carried(at=moment, by="lea", week=name, line=line.line, decision=decision, because="no grease")


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {"absent": absent, "week": week}
