"""The pages a lead reads at the terminal: the same texts that the command line prints."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from upkeep.book import Book
from upkeep.papers import board_text, suspect_text


@dataclass(frozen=True, slots=True)
class Paper:
    """A page: its title, and the text of it for a moment."""

    title: str
    text: Callable[[Book, datetime], str]


def _suspect(book: Book, at: datetime) -> str:
    lists = book.suspects(at).lists()
    pages = [suspect_text.hold_list_text(one, book.zone) for one in lists]
    return "\n".join([suspect_text.lists_text(lists, book.zone), *pages])


def _questions(book: Book, at: datetime) -> str:
    return board_text.questions_text(book.questions(at))


PAPERS: dict[str, Paper] = {
    "suspect": Paper("Suspect product", _suspect),
    "questions": Paper("What the counts leave open", _questions),
}
"""Every page by a short name, in the order in which they are offered."""
