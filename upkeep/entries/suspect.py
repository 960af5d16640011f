"""Entries about suspect product, and deviation permits."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item, under_that_of
from upkeep.entries.reader import Reader
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import listed, said

DISPOSITIONS = ("sorted", "scrapped", "released", "reworked")
"""What becomes of suspect pieces: sorted piece by piece, scrapped, released with a reason, or reworked."""


@frozen(kw_only=True)
class Disposition(Entry):
    """What is decided about one line of a hold list: ``list`` is the entry that opened the list, ``press`` and
    ``since`` name the line, ``strokes`` how many it had when it was judged (put in by the book), ``how`` one of
    :data:`DISPOSITIONS`; ``pieces`` how many of them became what (none: it is not told piece by piece)."""

    list: int
    press: str
    since: str
    how: str
    strokes: int | None = None
    pieces: tuple[tuple[str, int], ...] = ()


@frozen(kw_only=True)
class Restriction(Entry):
    """A suspect window begins later than the last good check: from so many strokes of the item on.  The calculation is
    in ``because``; quality signs."""

    list: int
    strokes: int


@frozen(kw_only=True)
class Permit(Entry):
    """A held or stopped item may run for so many strokes more; the reason is in ``because``."""

    item: str
    strokes: int


def _disposition(e: Disposition) -> str:
    strokes = "" if e.strokes is None else f" strokes {e.strokes}"
    pieces = "".join(f" {how}={n}" for how, n in e.pieces)
    return f"#{e.list} {e.press} since {e.since} {e.how}{strokes}{pieces}"


def _read_disposition(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"list": r.number(), "press": r.id(said("a press"))}
    r.expect("since")
    read |= {
        "since": r.word(said("the moment at which that line of the list begins")),
        "how": r.word(said("one of {words}", words=listed(DISPOSITIONS))),
    }
    read["strokes"] = r.figure(said("strokes")) if r.keyword("strokes") else None
    return {**read, "pieces": tuple(iter(lambda: _read_pieces(r), None))}


def _read_pieces(r: Reader) -> tuple[str, int] | None:
    how, equals, pieces = r.peek().partition("=")
    if not equals:
        return None
    if how not in DISPOSITIONS or not pieces.isdecimal() or not pieces.isascii():
        raise r.fail(said("what became of how many, like scrapped=12"))
    r.word(said("pieces"))
    return how, int(pieces)


def _read_restriction(r: Reader) -> dict[str, Any]:
    number = r.number()
    r.expect("from")
    return {"list": number, "strokes": r.figure(said("strokes of the item"))}


def _read_permit(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("strokes")
    return {"item": item, "strokes": r.figure(said("strokes"))}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Disposition,
        "disposition",
        '"#"number press "since" moment how ["strokes" figure] {how "=" figure}',
        _disposition,
        _read_disposition,
        under_that_of("list"),
        act=Act.DISPOSE,
    ),
    EntryKind(
        Restriction,
        "restrict",
        '"#"number "from" figure',
        lambda e: f"#{e.list} from {e.strokes}",
        _read_restriction,
        under_that_of("list"),
        act=Act.RESTRICT,
    ),
    EntryKind(
        Permit,
        "permit",
        'item "strokes" figure',
        lambda e: f"{e.item} strokes {e.strokes}",
        _read_permit,
        under_item,
        act=Act.PERMIT,
    ),
)
