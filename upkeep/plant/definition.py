"""What reading the definition files gives: definitions ready for the book, or problems a person can mend."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from enum import StrEnum
from typing import Any

from upkeep.frozen import frozen
from upkeep.said import Numeral, Quoted, Said, Value, said

_SHOWN = 60
"""Longest piece of a file quoted in a problem."""


class Defined(StrEnum):
    """What a definition is of, by the word an entry has for it.

    An entry keeps the word as it was written: a book of a later program may define what this one does not know.
    """

    PLANT = "plant"
    PLACE = "place"
    PERSON = "person"
    ITEM = "item"
    TASK = "task"
    CRIMP = "crimp"
    PULL_TABLE = "pull-table"
    SPARE = "spare"


@frozen
class Definition:
    """One thing the plant's files define.

    ``what`` is the word of a :class:`Defined`; ``key`` its id ("plant" for the plant itself);
    ``content`` what was given, normalised and without defaults, as :mod:`upkeep.plant.model` reads it.
    """

    what: str
    key: str
    content: dict[str, Any]

    @property
    def text(self) -> str:
        """The content as canonical JSON on one line that prints: the same definition always gives the same text."""
        text = json.dumps(self.content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        return text if text.isprintable() else "".join(map(_printable, text))


def _printable(char: str) -> str:
    return char if char.isprintable() else json.dumps(char)[1:-1]


@frozen
class Problem:
    """One thing wrong in one file.  ``line`` and ``field`` are None where the whole file or row is meant.

    ``about`` is the unknown word it is about and what that should name; None: it is about nothing that others share.
    """

    file: str
    line: int | None
    field: str | None
    found: Value
    allowed: Value
    about: tuple[str, str] | None = None

    @property
    def said(self) -> Said:
        """One sentence: where, what stands there, what may stand there."""
        where = said("{file}", file=self.file)
        if self.line is not None:
            where = said("{file} line {line}", file=self.file, line=Numeral(self.line))
        if self.field is not None:
            where = said("{where}, field {field}", where=where, field=self.field)
        return said("{where}: found {found}; allowed: {allowed}.", where=where, found=self.found, allowed=self.allowed)

    def __str__(self) -> str:
        return str(self.said)


@frozen
class Given:
    """One row or table as somebody wrote it.  ``lines`` holds the line of each field that has one of its own."""

    file: str
    line: int | None
    values: Mapping[str, Any]
    lines: Mapping[str, int]

    def problem(self, field: str | None, value: Value, allowed: Value) -> Problem:
        """A problem with a field of this row, at the line where the field stands."""
        return Problem(self.file, self.line_of(field), field, value, allowed)

    def line_of(self, field: str | None) -> int | None:
        """The line of a field, of the field it lies in (``strokes_for.DS-001``), or else of the row."""
        name = field or ""
        return self.lines.get(name, self.lines.get(name.partition(".")[0], self.line))


def quoted(value: object) -> Value:
    """A value from a file, short and on one printable line."""
    if isinstance(value, int) and value.bit_length() > 200:
        return said("a number of more than 60 digits")
    if isinstance(value, dict | list):
        return said("a table") if isinstance(value, dict) else said("a list")
    if isinstance(value, str):
        return quoted_text(value)
    text = repr(value) if isinstance(value, int | float) else str(value)
    return text if text.isprintable() else ascii(text)


def quoted_text(text: str) -> str:
    """A text from a file, short, in quotes and on one printable line."""
    quoted = repr(text if len(text) <= _SHOWN else f"{text[:_SHOWN]}...")
    return quoted if quoted.isprintable() else ascii(quoted)


def unknown_key(name: str, known: list[str]) -> Said:
    """What is found where a table of a file has a key of that name, and none of the known ones."""
    return said("an unknown key {name}{near}", name=quoted(name), near=near(name, known))


def near(word: object, known: list[str]) -> Value:
    """`` (did you mean 'P-07'?)`` where one of the known words is close to the one found, else nothing."""
    folded = {candidate.casefold(): candidate for candidate in reversed(known)}
    close = get_close_matches(str(word).casefold()[:_SHOWN], folded, n=1)
    return said(" (did you mean {known}?)", known=Quoted(folded[close[0]])) if close else ""
