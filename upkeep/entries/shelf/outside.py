"""Entries about items that are out for rework: sent, come back, inspected on their return."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item
from upkeep.entries.reader import Reader, quoted
from upkeep.entries.shelf.moves import read_text, written_text
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said

Measured = tuple[tuple[str, tuple[float, ...]], ...]
"""Values by measured point."""


@frozen(kw_only=True)
class SendOut(Entry):
    """An item left for rework outside the plant: ``to`` whom, what for (``text``), and the day it is ``expected``."""

    item: str
    to: str
    expected: str
    text: str


@frozen(kw_only=True)
class ComeBack(Entry):
    """An item came back from outside; ``bears`` is the id on what came, where that is another piece; ``text`` the
    supplier's own record of what was done."""

    item: str
    bears: str | None = None
    text: str = ""


@frozen(kw_only=True)
class TakeIn(Entry):
    """The receiving inspection of what came back from outside: whether it is ``good``, what was measured, and with
    which gauge.  Before it nothing is fitted."""

    item: str
    good: bool
    points: Measured = ()
    gauge: str | None = None
    text: str = ""


_FOUND = ("good", "bad")


def _read_send_out(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("to")
    to = r.json(str, said("a quoted name"))
    r.expect("expected")
    expected = r.day()
    return {"item": item, "to": to, "expected": expected, "text": r.json(str, said("what it is sent for, quoted"))}


def _read_come_back(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item")), "bears": None, **r.ids_after(bears="bears"), "text": read_text(r)}


def _take_in(e: TakeIn) -> str:
    return f"{e.item} {_FOUND[not e.good]}{written_points(e.points)}{_with(e.gauge)}{written_text(e.text)}"


def _read_take_in(r: Reader) -> dict[str, Any]:
    item, good = r.id(said("an item")), r.one_of(_FOUND) == _FOUND[0]
    points = tuple(iter(r.point, None))
    gauge = r.ids_after(gauge="with")
    return {"item": item, "good": good, "points": points, **gauge, "text": read_text(r)}


def _with(gauge: str | None) -> str:
    return "" if gauge is None else f" with {gauge}"


def written_points(points: Measured) -> str:
    """Measured values as the words of an entry have them, each behind a blank."""
    return "".join(f" {point}={','.join(map(repr, values))}" for point, values in points)


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        SendOut, "send-out", 'item "to" text "expected" day text',
        lambda e: f"{e.item} to {quoted(e.to)} expected {e.expected} {quoted(e.text)}", _read_send_out, under_item,
        act=Act.OUTSIDE,
    ),
    EntryKind(
        ComeBack, "come-back", 'item ["bears" item] ["text" text]',
        lambda e: f"{e.item}{'' if e.bears is None else f' bears {e.bears}'}{written_text(e.text)}", _read_come_back,
        under_item, standing=True, act=Act.OUTSIDE,
    ),
    EntryKind(
        TakeIn, "take-in", 'item ("good" | "bad") {point "=" value{","value}} ["with" gauge] ["text" text]',
        _take_in, _read_take_in, under_item, act=Act.REWORK,
    ),
)  # fmt: skip
