"""What changed on the board by itself, as sentences for the log."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from upkeep.book import BoardQuery, Book
from upkeep.due.states import CALLING, State
from upkeep.service.failures import READER
from upkeep.wording.reasons import sentence

_SECOND = timedelta(seconds=1)


def board_sentence(book: Book, at: datetime) -> str:
    """How the board stands."""
    by_state = book.board(at, BoardQuery(), limit=1).by_state
    calling = ", ".join(f"{by_state[state]} {state}" for state in CALLING if by_state[state])
    return f"{book.facts.name}: {calling or 'nothing is due'}."


def shift_sentences(book: Book, after: datetime, until: datetime) -> list[str]:
    """The shifts that ended or began within (after, until], in order of time."""
    spans = list(book.calendar.between(after, until + _SECOND))
    sentences = [(span.end, 0, f"Shift {span.key} has ended.") for span in spans]
    sentences += [(span.start, 1, f"Shift {span.key} has begun.") for span in spans]
    return [sentence for moment, _, sentence in sorted(sentences) if after < moment <= until]


def line_sentences(book: Book, after: datetime, until: datetime) -> Iterator[tuple[State, str]]:
    """The lines whose state changed by itself within (after, until], each with its state and why."""
    for name in book.changed_lines(after, until):
        line = book.line(name, until)
        why = sentence(line.reasons, book.zone, book.names, READER)
        yield line.state, f"{name} is {line.state}: {why}"


def next_moment(book: Book, after: datetime, until: datetime) -> datetime:
    """The first moment after one, and not after ``until``, at which a shift or a line changes; else ``until``."""
    spans = list(book.calendar.between(after, until))
    edges = [edge for span in spans for edge in (span.start, span.end) if edge > after]
    change = book.next_change(after)
    return min([until, *edges, *([change] if change else [])])
