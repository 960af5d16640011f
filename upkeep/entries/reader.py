"""Takes the words of a line one after another; every refusal names the line and what belongs there."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Sequence
from datetime import date
from typing import Any

from upkeep.errors import Unreadable
from upkeep.plant.line_names import LineName
from upkeep.said import Quoted, Said, listed, said
from upkeep.units.instants import Zone

ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}\Z")
_MOMENT = re.compile(r"(\S+ \S+) ")
_WORD = re.compile(r" *([^\s\"{]+)")
VALUE = re.compile(r"-?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\Z")
_LONGEST_SHOWN = 200
_DECODER = json.JSONDecoder()


def quoted(text: str) -> str:
    """A text from a person as a JSON string on one line, with every character that does not print escaped."""
    written = json.dumps(text, ensure_ascii=False)
    return written if written.isprintable() else "".join(map(_printable, written))


def _printable(char: str) -> str:
    return char if char.isprintable() else json.dumps(char)[1:-1]


class Reader:
    """Stands at a place in a line.  What is taken and is not there raises :class:`Unreadable`."""

    def __init__(self, line: str, start: int = 0) -> None:
        self.line, self.position = line, start

    def fail(self, wanted: Said) -> Unreadable:
        """The refusal at the present place: what belongs there, and what stands there."""
        rest = self.line[self.position :].strip()
        return Unreadable(
            said(
                "{line}: {wanted} belongs where it says {rest}.",
                line=Quoted(_shortened(self.line)),
                wanted=wanted,
                rest=Quoted(rest[:40]),
            )
        )

    def peek(self) -> str:
        """The next word, not taken."""
        match = _WORD.match(self.line, self.position)
        return match[1] if match else ""

    def peek_after(self) -> str:
        """The word after the next one, not taken."""
        match = _WORD.match(self.line, self.position)
        following = _WORD.match(self.line, match.end()) if match else None
        return following[1] if following else ""

    def word(self, wanted: Said) -> str:
        """Takes the next word."""
        match = _WORD.match(self.line, self.position)
        if not match:
            raise self.fail(wanted)
        self.position = match.end()
        return match[1]

    def next_place(self) -> int:
        """The place where the next word begins; what is taken next is taken from there."""
        while self.position < len(self.line) and self.line[self.position] == " ":
            self.position += 1
        return self.position

    def id(self, wanted: Said) -> str:
        """Takes an id."""
        before = self.position
        word = self.word(wanted)
        if not ID.match(word):
            self.position = before
            raise self.fail(wanted)
        return word

    def figure(self, wanted: Said) -> int:
        """Takes a whole number without sign."""
        before = self.position
        word = self.word(wanted)
        if not (word.isascii() and word.isdigit() and len(word) <= 18):
            self.position = before
            raise self.fail(wanted)
        return int(word)

    def value(self, wanted: Said) -> float:
        """Takes a number with a decimal point."""
        before = self.position
        word = self.word(wanted)
        value = float(word) if VALUE.match(word) else math.nan
        if not math.isfinite(value):
            self.position = before
            raise self.fail(wanted)
        return value

    def number(self) -> int:
        """Takes the number of an entry, like #12."""
        before = self.position
        word = self.word(said("an entry number like #12"))
        if not re.fullmatch(r"#[0-9]{1,18}", word):
            self.position = before
            raise self.fail(said("an entry number like #12"))
        return int(word[1:])

    def one_of(self, words: Sequence[str]) -> str:
        """Takes one of some words."""
        before, word = self.position, self.word(said("one of {words}", words=listed(words)))
        if word not in words:
            self.position = before
            raise self.fail(said("one of {words}", words=listed(words)))
        return word

    def hexadecimal(self, length: int) -> bytes:
        """Takes so many bytes, written as hexadecimal figures."""
        wanted = said("{n} hexadecimal digits", n=2 * length)
        before, word = self.position, self.word(wanted)
        if not re.fullmatch(f"[0-9a-f]{{{2 * length}}}", word):
            self.position = before
            raise self.fail(wanted)
        return bytes.fromhex(word)

    def keyword(self, word: str) -> bool:
        """Takes a certain word if it is the next one, and says whether it was."""
        match = _WORD.match(self.line, self.position)
        if not match or match[1] != word:
            return False
        self.position = match.end()
        return True

    def expect(self, word: str) -> None:
        """Takes a certain word."""
        if not self.keyword(word):
            raise self.fail(said("the word {word}", word=Quoted(word)))

    def day(self) -> str:
        """Takes a day as ISO text."""
        wanted, before = said("a day like 2027-03-09"), self.position
        word = self.word(wanted)
        try:
            if date.fromisoformat(word).isoformat() == word:
                return word
        except ValueError:
            pass
        self.position = before
        raise self.fail(wanted)

    def json(self, kind: type, wanted: Said) -> Any:
        """Takes a JSON value of a kind."""
        start = self.next_place()
        try:
            value, end = _DECODER.raw_decode(self.line, start)
        except (ValueError, RecursionError):  # no JSON, a number of thousands of figures, or nested beyond reading
            raise self.fail(wanted) from None
        if not isinstance(value, kind):
            raise self.fail(wanted)
        self.position = end
        return value

    def moment(self, zone: Zone, wanted: Said) -> Any:
        """Takes a moment, date and time."""
        match = _MOMENT.match(self.line + " ", self.next_place())
        if not match:
            raise self.fail(wanted)
        self.position = min(match.end(), len(self.line))
        return zone.read(match[1])

    def point(self) -> tuple[str, tuple[float, ...]] | None:
        """Takes a point with its readings, ``slug-height=1.203,1.204``; None where the next word is none."""
        if "=" not in self.peek():
            return None
        point, _, values = self.word(said("point=value")).partition("=")
        if not all(map(VALUE.match, values.split(","))):
            raise self.fail(said("numbers with a decimal point, separated by commas,"))
        numbers = tuple(map(float, values.split(",")))
        if not ID.match(point) or not all(map(math.isfinite, numbers)):
            raise self.fail(said("point=value"))
        return point, numbers

    def line_name(self) -> dict[str, str]:
        """Takes the name of a line; gives its item and task by field."""
        name = LineName.read(self.word(said("item/task")))
        if not (ID.match(name.item) and ID.match(name.task)):
            raise self.fail(said("item/task"))
        return name._asdict()

    def ids_after(self, **keywords: str) -> dict[str, str]:
        """Takes the ids that stand after certain words, in this order; gives those that are there by field."""
        return {
            field: self.id(said("an id after {keyword}", keyword=Quoted(keyword)))
            for field, keyword in keywords.items()
            if self.keyword(keyword)
        }

    def ids(self, wanted: Said) -> tuple[str, ...]:
        """Takes ids joined by commas."""
        words = tuple(self.word(wanted).split(","))
        if not all(map(ID.match, words)):
            raise self.fail(wanted)
        return words


def _shortened(line: str) -> str:
    return line if len(line) <= _LONGEST_SHOWN else f"{line[:_LONGEST_SHOWN]}..."
