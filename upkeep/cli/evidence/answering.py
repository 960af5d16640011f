"""The answers of this program's own commands, as text and as JSON, for whoever puts them into a folder."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from datetime import datetime
from typing import Any

import click

from upkeep.book import Book
from upkeep.cli.commands import COMMANDS
from upkeep.cli.evidence.questions import GAUGE, HOLD_LIST, ITEM
from upkeep.cli.run import strokebook
from upkeep.errors import StrokebookError
from upkeep.frozen import frozen
from upkeep.plant.model import Kind
from upkeep.said import Said


@frozen
class Answer:
    """What a command answered: its words, the page people read, and the values programs read."""

    words: tuple[str, ...]
    page: str
    value: Any

    @property
    def stem(self) -> str:
        """The name of its files, without their ending."""
        return "-".join(word.strip("-").replace("#", "") for word in self.words if word != "--all")


@frozen
class NotAnswered:
    """A command that gave no answer, and why."""

    words: tuple[str, ...]
    why: Said


class Answering:
    """Asks the commands about one book at one moment."""

    def __init__(self, book: Book, at: datetime, at_text: str | None, items: Sequence[str]) -> None:
        self._book, self._at, self._at_text = book, at, at_text
        self._each = {ITEM: tuple(items)}

    def answers(self, command: Sequence[str]) -> Iterator[Answer | NotAnswered]:
        """The answer of a command, once for each thing that a place in it stands for; none where there is no such
        command in this program."""
        if command[0] not in COMMANDS:
            return
        place = next((one for one in (ITEM, GAUGE, HOLD_LIST) if one in command), None)
        for thing in ("",) if place is None else self._things(place):
            yield self._answer(tuple(thing if word == place else word for word in command))

    def _things(self, place: str) -> tuple[str, ...]:
        if place not in self._each:
            if place == GAUGE:
                known = self._book.known.items.values()
                found = [item.id for item in known if item.kind is Kind.GAUGE and not item.scrapped]
            else:
                found = [str(one.number) for one in self._book.suspects(self._at).lists(None, closed=True)]
            self._each[place] = tuple(sorted(found))
        return self._each[place]

    def _answer(self, words: tuple[str, ...]) -> Answer | NotAnswered:
        try:
            return Answer(words, self._printed(words), json.loads(self._printed((*words, "--json"))))
        except StrokebookError as error:
            return NotAnswered(words, error.said)

    def _printed(self, words: tuple[str, ...]) -> str:
        found = strokebook.get_command(click.Context(strokebook), words[0])
        takes_moment = found is not None and any("--at" in one.opts for one in found.params)
        moment = ("--at", self._at_text) if takes_moment and self._at_text else ()
        output = io.StringIO()
        with redirect_stdout(output), redirect_stderr(io.StringIO()):
            strokebook.main([*words, *moment, "--book", str(self._book.path)], "strokebook", standalone_mode=False)
        return output.getvalue()
