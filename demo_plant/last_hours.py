"""The last hours of the demo plant: work that is under way while somebody looks, and the shift before, accepted."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from demo_plant.day import ASKED
from demo_plant.notebook import Notebook, minutes
from upkeep.book import BoardLine, Book
from upkeep.entries.entry import Entry
from upkeep.entries.jobs import Handover, Interrupt, Lock, Start
from upkeep.plant.model import Kind, Role

_MOST_ASKED = 300
_WAITS, _WORKS, _COMES = "vesna", "uwe", "sven"
"""Who left a job for want of a part, who works on a press with a lock on it, who came after the last shift."""
_CLERK = "yara"


def write_last_hours(book: Book, end: datetime) -> None:
    """Writes what is under way at ``end``: a job that waits, one on a locked press, and the last shift accepted."""
    notebook = Notebook(book, end, clerk=_CLERK)
    for handed in _accepted(book, end):
        notebook.note(handed)
    lines = [line for line in book.board(end, limit=_MOST_ASKED).rows if _is_technicians(line)]
    on_tools = [line for line in lines if line.item_kind != Kind.PRESS]
    waiting = max(on_tools, key=lambda line: (line.minutes, line.line), default=None)
    working = next((line for line in lines if line.item_kind == Kind.PRESS), None)
    if working is not None:
        notebook.note(Lock(at=end - minutes(36), by=_WORKS, item=working.item, point="main switch"))
        notebook.note(Lock(at=end - minutes(35), by=_WORKS, item=working.item, point="air valve"))
        notebook.note(_started(working, end - minutes(34), _WORKS))
    if waiting is not None:
        notebook.note(_started(waiting, end - minutes(70), _WAITS))
    notebook.write(end)
    for job in book.jobs(end):
        if job.by == _WAITS:
            at, left = end - minutes(15), "bench 2, in the blue tray"
            why = "waits for a punch"
            notebook.note(Interrupt(at=at, by=_WAITS, job=job.number, step=1, left=left, because=why))
    notebook.write(end)


def _accepted(book: Book, end: datetime) -> Iterator[Entry]:
    ended = book.calendar.before(end)
    if ended is not None and ended.start >= book.entry(0).at:
        at = min(end, ended.end + minutes(8))
        yield Handover(at=at, by=_COMES, shift=ended.key, side="accepted", text="walked through together")


def _is_technicians(line: BoardLine) -> bool:
    return line.state in ASKED and Role.TECHNICIAN in line.roles and line.unverified is None


def _started(line: BoardLine, at: datetime, by: str) -> Start:
    return Start(at=at, by=by, item=line.item, task=line.task)
