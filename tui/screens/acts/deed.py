"""A deed: something a person writes into the book, described as data - its fields, what it writes, about what.

One form asks for the fields of any of them, and one palette lists them; nothing here knows a screen.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from enum import Enum, auto

from tui.screens.frame.book_door import BookDoor
from upkeep.entries.entry import Entry
from upkeep.frozen import frozen
from upkeep.plant.model import Kind
from upkeep.said import Said
from upkeep.views.board import BoardLine

Typed = str | int | float | datetime
"""What a field gives once it is read."""


class Asks(Enum):
    """What goes into a field."""

    WORDS = auto()
    """A text."""
    NUMBER = auto()
    """A whole number, its thousands grouped or not."""
    VALUE = auto()
    """A measured value, with a decimal point or comma."""
    MOMENT = auto()
    """A time, or a day with a time."""
    DAY = auto()
    """A day."""
    PICK = auto()
    """One of a few things, each on its own row."""
    NAMED = auto()
    """One of many things, by its id or a part of its title."""


@frozen
class Ask:
    """A field: the key of its value, its label, what goes in, and what stands in it from the start.

    ``options`` are what may be picked, each a key and its words.  Not ``needed``: it may stay empty.  ``unit`` stands
    behind a number, ``beside`` beside the field, like its value of last time.
    """

    key: str
    label: Said
    asks: Asks = Asks.WORDS
    options: tuple[tuple[str, Said], ...] = ()
    preset: str = ""
    needed: bool = True
    unit: Said | None = None
    beside: Said | None = None


@frozen
class Subject:
    """What a deed is about: an item and its kind, and lines of the board (one selected, or several marked)."""

    item: str | None = None
    kind: str | None = None
    lines: tuple[BoardLine, ...] = ()

    @property
    def line(self) -> BoardLine:
        """The one line; asked for only where a deed is on lines."""
        return self.lines[0]

    @property
    def named(self) -> str:
        """The item; asked for only where a deed is on items."""
        return self.item or ""


@frozen
class Filled:
    """A form that was filled in: what it is about, when it happened, who signs, and the values by key."""

    subject: Subject
    at: datetime
    by: str
    values: Mapping[str, Typed]

    def text(self, key: str) -> str:
        """The text, or the key of what was picked; "" where nothing was typed."""
        return str(self.values.get(key, ""))

    def picked(self, key: str) -> str | None:
        """The key of what was picked; None: nothing."""
        return self.text(key) or None

    def number(self, key: str) -> int:
        """The whole number of a field that has to be filled in."""
        value = self.values[key]
        assert isinstance(value, int)
        return value

    def number_or_none(self, key: str) -> int | None:
        """The whole number; None where nothing was typed."""
        return self.number(key) if key in self.values else None

    def value(self, key: str) -> float:
        """The measured value of a field that has to be filled in."""
        value = self.values[key]
        assert isinstance(value, int | float)
        return float(value)

    def moment(self, key: str) -> datetime:
        """The moment of a field that has to be filled in."""
        value = self.values[key]
        assert isinstance(value, datetime)
        return value


class On(Enum):
    """What has to be selected for a deed."""

    PLANT = auto()
    """Nothing."""
    ITEM = auto()
    LINE = auto()


@frozen
class Deed:
    """Something to write.

    Attributes:
        key: Its short name in the program and in tests.
        verb: The first word of the entries it writes, by which the book says who may write them ("correct" where they
            take the place of another).
        name: What it is called on the palette and at the head of its form.
        on: What has to be selected; ``kinds`` narrows items to some kinds (none named: all).
        fields: What is asked, from the book as it stands; asked for when the form opens.  Raises a refusal where there
            is nothing to do it on.
        entries: What is written.
        each: Whether it is done on several marked lines at once.
        when: Whether it is asked when it happened; else it happens now.
        minds: What to mind before it is done, at the head of the form.
        at_once: Whether it is written without showing first what it moves: a step at the press.
        told: What was done, for the sentence after it and for undo.
    """

    key: str
    verb: str
    name: Said
    on: On
    fields: Callable[[BookDoor, Subject, datetime], Sequence[Ask]]
    entries: Callable[[BookDoor, Filled], Sequence[Entry]]
    told: Callable[[Filled], Said]
    minds: Callable[[BookDoor, Subject, datetime], Sequence[Said]] = lambda book, subject, at: ()
    kinds: frozenset[Kind] = frozenset()
    each: bool = False
    when: bool = True
    at_once: bool = False

    def fits(self, subject: Subject) -> bool:
        """Whether it can be done on what is selected."""
        if self.on is On.LINE:
            return bool(subject.lines) and (self.each or len(subject.lines) == 1)
        if self.on is On.ITEM:
            return subject.item is not None and (not self.kinds or subject.kind in self.kinds)
        return True
