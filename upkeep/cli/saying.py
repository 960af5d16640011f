"""How commands speak: sentences to the one at the terminal, and wrong usage as click tells it."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from upkeep.cli.reader.language import language_of
from upkeep.said import Said
from upkeep.wording.sentences import Reader, text

if TYPE_CHECKING:
    from upkeep.book import Book

READER = Reader(language_of(os.environ))
"""Who reads at this terminal: in the language its settings name, each moment in the zone of the plant it belongs to."""


def reader_of(book: Book, language: str | None = None) -> Reader:
    """Who reads about the plant of a book; ``language`` is that of a paper, None: that of the terminal."""
    return book.reader(language or READER.language)


def words(sentence: Said) -> str:
    """A sentence in the words of the one at the terminal."""
    return text(sentence, READER)


def say(sentence: Said, *, err: bool = False) -> None:
    """Says a sentence on stdout, or on stderr where something else stands on stdout."""
    click.echo(words(sentence), err=err)


class WrongUsage(click.UsageError):
    """A command whose words do not go together."""

    def __init__(self, sentence: Said) -> None:
        super().__init__(words(sentence))


class WrongValue(click.BadParameter):
    """A word of a command that cannot be read."""

    def __init__(self, sentence: Said) -> None:
        super().__init__(words(sentence))
