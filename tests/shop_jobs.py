"""Acts of the invented shop floor about what is under way: jobs, locks, shifts handed over."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from tests.shop_plant import PRESSES
from upkeep.entries.entry import Entry
from upkeep.entries.jobs import HANDED, GiveUp, GoOn, Handover, Interrupt, Lock, Start, Unlock

if TYPE_CHECKING:
    from tests.shop_floor import Floor

HANDS = ("ana", "tom", "lea")


def start(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody begins a job on some line."""
    lines = floor.book.board(floor.now, limit=400).rows
    if lines:
        line = lines[one % len(lines)]
        yield Start(at=moment, by=HANDS[other % 3], item=line.item, task=line.task)


def job(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A job is interrupted, gone on with by anybody, or given up."""
    jobs = floor.book.jobs(floor.now)
    if not jobs:
        return
    found = jobs[one % len(jobs)]
    if other % 5 == 0:
        yield GiveUp(at=moment, by=found.by, job=found.number, because="no grease")
    elif other % 2 and found.interrupted_at is None:
        step, left = (None, "") if other % 3 else (0, 'bench 2, "in pieces"')
        yield Interrupt(at=moment, by=found.by, job=found.number, step=step, left=left, because="shift ends")
    else:
        yield GoOn(at=moment, by=HANDS[other % 3], job=found.number)


def lock(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A lock is hung, or comes off again."""
    locks = floor.book.locks(floor.now)
    if locks and other % 2:
        found = locks[one % len(locks)]
        yield Unlock(at=moment, by=found.by, lock=found.number)
        return
    yield Lock(at=moment, by=HANDS[other % 3], item=PRESSES[one % 4], point=("main switch", "air")[one // 4 % 2])


def handover(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The shift before is given, or accepted."""
    ended = floor.book.calendar.before(moment)
    if ended is not None:
        text = "" if other % 3 else 'the wheel of P-03 hums, "look"'
        yield Handover(at=moment, by=HANDS[other % 3], shift=ended.key, side=HANDED[one % 2], text=text)


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "start": start, "job": job, "lock": lock, "handover": handover,
}  # fmt: skip
