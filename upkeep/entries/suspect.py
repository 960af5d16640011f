"""Entries about suspect product, and about leave to run all the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item, under_that_of
from upkeep.entries.reader import Reader
from upkeep.said import listed, said

DISPOSALS = ("sorted", "scrapped", "released")
"""What becomes of suspect pieces: sorted piece by piece, scrapped, or released with a reason."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dispose(Entry):
    """What became of one line of a hold list: ``list`` is the entry that opened the list, ``press`` and ``since`` name
    the line, ``strokes`` how many it had when it was judged (put in by the book), ``how`` one of :data:`DISPOSALS`."""

    list: int
    press: str
    since: str
    how: str
    strokes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrow(Entry):
    """A suspect window begins later than the last good check: from so many strokes of the item on.  The calculation is
    in ``because``; quality signs."""

    list: int
    strokes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Override(Entry):
    """A held or stopped item may run for so many strokes more; the reason is in ``because``."""

    item: str
    strokes: int


def _dispose(e: Dispose) -> str:
    strokes = "" if e.strokes is None else f" strokes {e.strokes}"
    return f"#{e.list} {e.press} since {e.since} {e.how}{strokes}"


def _read_dispose(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"list": r.number(), "press": r.id(said("a press"))}
    r.expect("since")
    read |= {
        "since": r.word(said("the moment the line begins")),
        "how": r.word(said("one of {words}", words=listed(DISPOSALS))),
    }
    return {**read, "strokes": r.figure(said("strokes")) if r.keyword("strokes") else None}


def _read_narrow(r: Reader) -> dict[str, Any]:
    number = r.number()
    r.expect("from")
    return {"list": number, "strokes": r.figure(said("strokes of the item"))}


def _read_override(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("strokes")
    return {"item": item, "strokes": r.figure(said("strokes"))}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Dispose,
        "dispose",
        '"#"number press "since" moment how ["strokes" figure]',
        _dispose,
        _read_dispose,
        under_that_of("list"),
    ),
    EntryKind(
        Narrow,
        "narrow",
        '"#"number "from" figure',
        lambda e: f"#{e.list} from {e.strokes}",
        _read_narrow,
        under_that_of("list"),
    ),
    EntryKind(
        Override,
        "override",
        'item "strokes" figure',
        lambda e: f"{e.item} strokes {e.strokes}",
        _read_override,
        under_item,
    ),
)
