"""The last hours of the demo plant: work that is under way while somebody looks."""

from __future__ import annotations

from datetime import datetime, timedelta

from demo_plant.day import ASKED
from demo_plant.notebook import Notebook, minutes
from upkeep.book import BoardLine, Book
from upkeep.entries.entry import Entry
from upkeep.entries.jobs import Interrupt, Lock, Start
from upkeep.plant.model import Kind, Role

_MOST_ASKED = 300
_WAITS, _WORKS = "vesna", "uwe"
"""Who left a job for want of a part, who works on a press with a lock on it."""
_CLERK = "yara"


def write_last_hours(book: Book, end: datetime) -> None:
    """Writes what is under way at ``end``: a job that waits, and one on a locked press.

    The last hour may have its entries already: this is told after them.
    """
    notebook = Notebook(book, end, clerk=_CLERK)
    last = book.newest_written(1)[0].recorded_at

    def note(entry: Entry) -> None:
        notebook.note(entry, max(timedelta(), last - entry.at))

    lines = [line for line in book.board(end, limit=_MOST_ASKED).rows if _is_technicians(line)]
    on_tools = [line for line in lines if line.item_kind != Kind.PRESS]
    waiting = max(on_tools, key=lambda line: (line.minutes, line.line), default=None)
    working = next((line for line in lines if line.item_kind == Kind.PRESS), None)
    if waiting is not None:
        note(_started(waiting, end - minutes(70), _WAITS))
    if working is not None:
        note(Lock(at=end - minutes(36), by=_WORKS, item=working.item, point="main switch"))
        note(Lock(at=end - minutes(35), by=_WORKS, item=working.item, point="air valve"))
        note(_started(working, end - minutes(34), _WORKS))
    notebook.write(end)
    for job in book.jobs(end):
        if job.by == _WAITS:
            left, why = "bench 2, in the blue tray", "waits for a punch"
            note(Interrupt(at=end - minutes(15), by=_WAITS, job=job.number, step=1, left=left, because=why))
    notebook.write(end)


def _is_technicians(line: BoardLine) -> bool:
    return line.state in ASKED and Role.TECHNICIAN in line.roles and line.unverified is None


def _started(line: BoardLine, at: datetime, by: str) -> Start:
    return Start(at=at, by=by, item=line.item, task=line.task)
