"""What the figures say of each piece of work, against the board of the moment before it was signed.

The board of a past moment is played again from the entries of that time, which shares nothing with the figures' way.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from demo_plant.build import build
from upkeep.answers.figures.occurrences import Days, JudgedOccurrence, Occurrences
from upkeep.book import Book
from upkeep.due.compliance import Verdict
from upkeep.due.facts import How
from upkeep.due.states import State
from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile

END = datetime(2026, 3, 6, 8, 0, tzinfo=UTC)
DAYS = 12
EVERY = 25
"""Every how many pieces of work are looked up: each costs a replay."""


def told(book: Book) -> list[JudgedOccurrence]:
    """All that was planned in the second half of the book's days, by the line."""
    zone, start = book.zone, END - timedelta(days=DAYS // 2)
    first, last = zone.day(start), zone.day(END)
    file = BookFile.open(book.path)
    try:
        then = DefinedThen(EntryStore(file).definitions())
        context = Context(file, book.known, END)
        occurrences = Occurrences(context, then, Days(first, last, zone.start_of(first), END, END))
        lines = [(item.id, task.id) for item in book.items() for task in book.known.tasks_on(item)]
        return [one for line in lines for one in occurrences.of(*line)]
    finally:
        file.close()


def test_work_was_late_where_the_board_before_it_said_overdue(tmp_path: Path) -> None:
    """And on time where it did not.  Where a shift was missed the board asks for that one first; those say nothing."""
    with build(tmp_path / "demo.db", end=END, days=DAYS) as book:
        found = [one for one in told(book) if one.answer is not None and one.answer.how is How.SIGNED]
        works = [one for one in found if one.verdict in (Verdict.LATE, Verdict.ON_TIME)]
        late = [one for one in works if one.verdict is Verdict.LATE]
        assert len(works) > 100
        assert late
        same = 0
        for one in [*late, *works[::EVERY]]:
            assert one.answer is not None
            line = book.line(f"{one.item}/{one.task.id}", one.answer.at - timedelta(seconds=1))
            if line.occurrence == one.occurrence:
                same += 1
                overdue = line.state in (State.OVERDUE, State.STOP)
                assert (one, overdue) == (one, one.verdict is Verdict.LATE)
        assert same > 20
