"""Entries about what sits in what."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from upkeep.entries.counting import CAME_TO_IT, came_to_it, read_came_to_it
from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item, under_press
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said


@frozen(kw_only=True)
class Fit(Entry):
    """An item was put into another.  ``count`` is what the counter of ``press`` showed at that moment; None where no
    press is involved or nobody read it (then what each side did is an estimate, and stays marked).  ``press`` may be
    left to the book: it is the one the item then hangs on.  ``rolled_over``, ``after_reset`` and ``fastest`` say how
    the counter came to its figure, as in a count."""

    item: str
    inside: str
    count: int | None = None
    press: str | None = None
    rolled_over: bool = False
    after_reset: bool = False
    fastest: int | None = None


@frozen(kw_only=True)
class Unfit(Entry):
    """An item was taken out of what it sat in; its count as in :class:`Fit`; ``to`` is the place it went to (None: its
    home place)."""

    item: str
    count: int | None = None
    press: str | None = None
    to: str | None = None
    rolled_over: bool = False
    after_reset: bool = False
    fastest: int | None = None


class ChangeStage(StrEnum):
    """How far a change of tools on a press has come; what was done in it, other entries say."""

    BEGUN = "begun"
    PAUSED = "paused"
    RESUMED = "resumed"
    RELEASED = "released"
    GIVEN_UP = "given-up"


@frozen(kw_only=True)
class Changeover(Entry):
    """A change of tools on a press begins, waits, is taken up again by whoever writes this, ends with the release of
    the press, or is given up.  ``item`` is what is to go in (None after the beginning), ``text`` why it waits or was
    given up."""

    press: str
    stage: ChangeStage
    item: str | None = None
    text: str = ""


def _changeover(e: Changeover) -> str:
    words = f"{e.press} {e.stage}" + (f" to {e.item}" if e.item is not None else "")
    return words + (f" text {quoted(e.text)}" if e.text else "")


def _read_changeover(r: Reader) -> dict[str, Any]:
    press, stage = r.id(said("a press")), ChangeStage(r.one_of(tuple(ChangeStage)))
    item = r.id(said("what goes in")) if r.keyword("to") else None
    text = r.json(str, said("a quoted text")) if r.keyword("text") else ""
    return {"press": press, "stage": stage, "item": item, "text": text}


@frozen(kw_only=True)
class Put(Entry):
    """An item was put somewhere without coming out of anything: into a rack, onto a bench (``in_pieces``: taken apart),
    to somebody outside the plant.  ``to`` is the place."""

    item: str
    to: str
    in_pieces: bool = False


def _read_put(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("to")
    return {"item": item, "to": r.id(said("a place")), "in_pieces": r.keyword("in-pieces")}


def _fit(e: Fit) -> str:
    return f"{e.item} in {e.inside}{_at(e)}"


def _read_fit(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("in")
    return {"item": item, "inside": r.id(said("an item")), **_read_at(r)}


def _unfit(e: Unfit) -> str:
    return f"{e.item}{_at(e)}" + (f" to {e.to}" if e.to else "")


def _read_unfit(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item")), **_read_at(r), "to": r.id(said("a place")) if r.keyword("to") else None}


def _at(e: Fit | Unfit) -> str:
    if e.count is None:
        return ""
    at = f" at {e.count}" if e.press is None else f" at {e.press} {e.count}"
    return f"{at}{came_to_it(e)}"


def _read_at(r: Reader) -> dict[str, Any]:
    if not r.keyword("at"):
        return {}
    read: dict[str, Any] = {}
    if not r.peek().isdigit() or r.peek_after().isdigit():
        read["press"] = r.id(said("a press"))
    read["count"] = r.figure(said("a count"))
    return {**read, **read_came_to_it(r)}


_AT = f'"at" [press] figure {CAME_TO_IT}'

KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Fit,
        "fit",
        f'item "in" item [{_AT}]',
        _fit,
        _read_fit,
        under_item,
        act=Act.FIT,
    ),
    EntryKind(
        Unfit,
        "unfit",
        f'item [{_AT}] ["to" place]',
        _unfit,
        _read_unfit,
        under_item,
        act=Act.FIT,
    ),
    EntryKind(
        Changeover,
        "changeover",
        'press ("begun" | "paused" | "resumed" | "released" | "given-up") ["to" item] ["text" text]',
        _changeover,
        _read_changeover,
        under_press,
        act=Act.FIT,
    ),
    EntryKind(
        Put,
        "put",
        'item "to" place ["in-pieces"]',
        lambda e: f"{e.item} to {e.to}{' in-pieces' * e.in_pieces}",
        _read_put,
        under_item,
    ),
)
