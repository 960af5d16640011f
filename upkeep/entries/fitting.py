"""Entries about what sits in what."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item
from upkeep.entries.reader import Reader
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said


@frozen(kw_only=True)
class Fit(Entry):
    """An item was put into another.  ``count`` is what the counter of ``press`` showed at that moment; None where no
    press is involved or nobody read it (then what each side did is an estimate, and stays marked).  ``press`` may be
    left to the book: it is the one the item then hangs on.  ``rolled_over`` and ``after_reset`` say how the
    counter came to its figure."""

    item: str
    inside: str
    count: int | None = None
    press: str | None = None
    rolled_over: bool = False
    after_reset: bool = False


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
    return f"{at}{' rolled-over' * e.rolled_over}{' after-reset' * e.after_reset}"


def _read_at(r: Reader) -> dict[str, Any]:
    if not r.keyword("at"):
        return {}
    read: dict[str, Any] = {}
    if not r.peek().isdigit() or r.peek_after().isdigit():
        read["press"] = r.id(said("a press"))
    read["count"] = r.figure(said("a count"))
    return {**read, "rolled_over": r.keyword("rolled-over"), "after_reset": r.keyword("after-reset")}


_AT = '"at" [press] figure ["rolled-over"] ["after-reset"]'

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
)
