"""What there is to say of a kind of entry, once: its class, its words, how they are read, where it is filed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, NamedTuple, Protocol, TypeVar

from upkeep.entries.entry import Entry
from upkeep.entries.reader import Reader
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said

E = TypeVar("E", bound=Entry)
"""A class of entry."""


class Filed(NamedTuple):
    """What the file keeps of an entry beside its text: the item and task it is about, and the entry it refers to."""

    item: str | None
    task: str | None = None
    about: int | None = None


@frozen
class EntryKind(Generic[E]):
    """A kind of entry.

    Attributes:
        of: Its class.
        verb: The first of its words.
        grammar: The words after the verb, in the notation of :mod:`upkeep.entries.text`.
        write: Gives the words after the verb.
        read: Takes the words after the verb; gives the fields of the class by name.
        filed: Gives where it is filed.  Of one that refers to another entry, item and task are those of that entry,
            and the caller looks them up.
        standing: Whether it says that its item may run or must not, or what happened to it.
        act: What asks for a role in it; None: anybody who may sign writes it, or it depends on what it says.
    """

    of: type[E]
    verb: str
    grammar: str
    write: Callable[[E], str]
    read: Callable[[Reader], dict[str, Any]]
    filed: Callable[[E], Filed]
    standing: bool = False
    act: Act | None = None


class _OfItem(Protocol):
    @property
    def item(self) -> str: ...


class _OfPress(Protocol):
    @property
    def press(self) -> str: ...


class _OfLine(_OfItem, Protocol):
    @property
    def task(self) -> str | None: ...


def under_item(entry: _OfItem) -> Filed:
    """Filed under its item."""
    return Filed(entry.item)


def under_press(entry: _OfPress) -> Filed:
    """Filed under its press."""
    return Filed(entry.press)


def under_line(entry: _OfLine) -> Filed:
    """Filed under its item, and its task if it names one."""
    return Filed(entry.item, entry.task)


def under_nothing(entry: Entry) -> Filed:
    """Filed under nothing: it is about the book or the whole plant."""
    return Filed(None)


def under_that_of(field: str) -> Callable[[Entry], Filed]:
    """Filed where the entry is whose number stands in a field."""
    return lambda entry: Filed(None, about=getattr(entry, field))


def write_item(entry: _OfItem) -> str:
    """The words of a kind that only names an item."""
    return entry.item


def read_item(r: Reader) -> dict[str, Any]:
    """Takes the words of a kind that only names an item."""
    return {"item": r.id(said("an item"))}


def read_entry(r: Reader) -> dict[str, Any]:
    """Takes the words of a kind that only names another entry."""
    return {"entry": r.number()}
