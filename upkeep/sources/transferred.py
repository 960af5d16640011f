"""Items that leave one book with their history and enter another's: the file that goes with them.

What the other plant says is stated, not verified: the book it enters says so with every number, and names the seal by
which the other plant's book can be compared with its papers.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from hashlib import sha256
from json import loads
from pathlib import Path
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from upkeep.book import Book
from upkeep.entries.counting import UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit
from upkeep.entries.lives import Remark
from upkeep.errors import Refused, Unreadable
from upkeep.plant.definition import Defined, Definition
from upkeep.plant.model import Kind
from upkeep.said import said
from upkeep.seals.line import read_seal
from upkeep.units.instants import utc_text
from upkeep.units.quantities import grouped

OTHER_PLANT = "other-plant"

_LONGEST = 50_000_000


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Travelling(_Strict):
    """One item as the other plant knew it: its definition, what it sat in, its strokes (low, best, high), its history
    as entry lines in that plant's time."""

    definition: dict[str, Any]
    inside: str | None
    since_new: tuple[int, int, int]
    reworks: int = Field(ge=0)
    life_left: int | None
    estimated: bool
    life_unknown: bool
    history: list[str]


class Transfer(_Strict):
    """The file: from which plant and book, when, its seal, and the items, the one asked for first."""

    strokebook_transfer: Literal[1]
    plant: str
    book: str
    at: str
    seal: str
    items: list[Travelling] = Field(min_length=1, max_length=1000)


def transfer_of(book: Book, item: str, at: datetime) -> Transfer:
    """An item with all that sits in it, as it leaves; raises :class:`Refused` where it still sits in something."""
    inside = book.sits_in(item)
    if inside is not None:
        raise Refused(said("{item} is in {inside}: take it out first ('unfit').", item=item, inside=inside))
    content = {row.key: loads(row.content) for row in book.known.rows if row.what == Defined.ITEM}
    items = [_travelling(book, content, key, within, at) for key, within in book.with_what_is_inside(item)]
    return Transfer(
        strokebook_transfer=1, plant=book.facts.name, book=book.id, at=utc_text(at), seal=book.seal(at).text,
        items=items,
    )  # fmt: skip


def _travelling(
    book: Book, content: Mapping[str, dict[str, Any]], item: str, inside: str | None, at: datetime
) -> Travelling:
    life = book.life(item, at)
    return Travelling(
        definition=content[item],
        inside=inside,
        since_new=life.since_new,
        reworks=life.reworks,
        life_left=life.life_left,
        estimated=life.estimated,
        life_unknown=life.life_unknown,
        history=[book.withheld.text(line.text) for line in reversed(book.history(item, 10**9, at))],
    )


def read_transfer(file: Path) -> tuple[Transfer, str]:
    """The transfer in a file, and the checksum of the file (SHA-256); raises :class:`Unreadable` where it is none."""
    try:
        with file.open("rb") as opened:
            content = opened.read(_LONGEST)
        transfer = Transfer.model_validate_json(content)
        read_seal(transfer.seal)
    except OSError as error:
        raise Unreadable(said("{file} cannot be read: {why}.", file=file, why=str(error.strerror))) from None
    except (ValidationError, Refused):
        raise Unreadable(
            said("{file} is no transfer of items: 'strokebook transfer-out' in the other plant makes one.", file=file)
        ) from None
    return transfer, sha256(content).hexdigest()


def entering(
    book: Book, transfer: Transfer, checksum: str, at: datetime, by: str, place: str, because: str,
    renamed: Mapping[str, str],
) -> Iterator[Entry]:  # fmt: skip
    """The entries with which the items enter this book, under their ids or those they are given here.

    Raises :class:`Refused` where an id is taken, or the book is the one they come from.
    """
    if transfer.book == book.id:
        raise Refused(said("These items come from this very book."))
    names = {one.definition["id"]: renamed.get(one.definition["id"], one.definition["id"]) for one in transfer.items}
    _refuse_taken(book, names)
    yield from book.defining([_definition(one, names, place) for one in transfer.items], at, by, because)
    for one in transfer.items:
        item, source = names[one.definition["id"]], _source(transfer, one, checksum)
        if one.since_new[2] > 0:
            yield UncountedStrokes(
                at=at,
                by=by,
                item=item,
                way=OTHER_PLANT,
                strokes=one.since_new[2],
                because=f"stated, not verified: {source}",
            )
        yield Remark(at=at, by=by, item=item, text=f"stated, not verified: {source}")
    for one in transfer.items[1:]:
        if one.inside in names:
            yield Fit(at=at, by=by, item=names[one.definition["id"]], inside=names[one.inside])


def _refuse_taken(book: Book, names: Mapping[str, str]) -> None:
    taken = [name for name in names.values() if name in book.known.items]
    if taken:
        raise Refused(
            said(
                "{item} is another item's id in this book, and an id is never used again. Give it one of its own here: "
                "--rename {item}=NEW-ID.",
                item=taken[0],
            )
        )


def _definition(one: Travelling, names: Mapping[str, str], place: str) -> Definition:
    """As it is defined here: at a place of this plant, its life such that as much is left of it as there."""
    item = names[one.definition["id"]]
    kept = {name: value for name, value in one.definition.items() if name not in ("scrapped", "place")}
    content = kept | {"id": item, "place": place}
    if one.life_left is not None and one.reworks:
        content["life"] = max(1, one.since_new[2] + one.life_left)
    return Definition(Defined.ITEM, item, content)


def _source(transfer: Transfer, one: Travelling, checksum: str) -> str:
    """Where it comes from and what it did there, as it is written into an entry."""
    low, best, high = one.since_new
    strokes = grouped(best) if low == high else f"{grouped(best)} ({grouped(low)} to {grouped(high)})"
    known = "strokes there not known" if one.life_unknown else f"{strokes} strokes there"
    seal = read_seal(transfer.seal)
    return (
        f"from {transfer.plant}, {one.definition['id']}, {known}, reworked {one.reworks} times, "
        f"seal {seal.entry} {seal.letters} of book {transfer.book}, file sha256 {checksum}"
    )


def is_press(transfer: Transfer) -> bool:
    """Whether a press travels: its counter is to be read where it comes to stand."""
    return Kind(transfer.items[0].definition["kind"]) is Kind.PRESS


def renamed_by(words: Sequence[str]) -> dict[str, str]:
    """New ids by old ones, from ``OLD=NEW``; raises :class:`Unreadable` for other words."""
    pairs = [word.partition("=") for word in words]
    if not all(old and new for old, _, new in pairs):
        raise Unreadable(said("Write a new id like CP-031=CP-231: the id there, then the one here."))
    return {old: new for old, _, new in pairs}
