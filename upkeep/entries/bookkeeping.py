"""Entries about the book itself: its beginning, what is struck, notes."""

from __future__ import annotations

import re
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, read_entry, under_item, under_nothing, under_that_of
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said


@frozen(kw_only=True)
class Begin(Entry):
    """The first entry of every book, with number 0; the book writes it itself, and there is never a second one.

    ``book`` is the book's own id (a random UUID, RFC 9562), ``zone`` the plant's time zone, which stays what it is, and
    ``form`` the number of the form in which the book's entries are chained (:data:`upkeep.entries.chain.FORM`).
    """

    book: str
    zone: str
    form: int


@frozen(kw_only=True)
class Strike(Entry):
    """An entry that was never true (an undo, a wrong item): it stays visible and no longer counts."""

    entry: int


@frozen(kw_only=True)
class Note(Entry):
    """Something worth knowing about the book itself; it moves nothing.  ``restored`` says that the book was just made
    again from a backup."""

    text: str
    restored: bool = False


@frozen(kw_only=True)
class Seen(Entry):
    """Somebody has seen an alarm or question about an item (or a task), by the moment (``since``, UTC text) from which
    it stands; it is asked no more."""

    item: str
    since: str


_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")


def _read_begin(r: Reader) -> dict[str, Any]:
    book = r.word(said("the id of a book"))
    if not _UUID.match(book):
        raise r.fail(said("the id of a book like 6f9619ff-8b86-4d01-b42d-00cf4fc964ff"))
    r.expect("zone")
    zone = r.word(said("a time zone like Europe/Berlin"))
    r.expect("chain")
    return {"book": book, "zone": zone, "form": r.figure(said("the number of the chain's form"))}


def _read_seen(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("since")
    return {"item": item, "since": r.word(said("the moment from which it stands"))}


def _read_note(r: Reader) -> dict[str, Any]:
    return {"text": r.json(str, said("a quoted text")), "restored": r.keyword("restored")}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Strike,
        "strike",
        '"#"number',
        lambda e: f"#{e.entry}",
        read_entry,
        under_that_of("entry"),
    ),
    EntryKind(
        Seen,
        "seen",
        'item "since" moment',
        lambda e: f"{e.item} since {e.since}",
        _read_seen,
        under_item,
        act=Act.SEEN,
    ),
    EntryKind(
        Note,
        "note",
        'text ["restored"]',
        lambda e: f"{quoted(e.text)}{' restored' * e.restored}",
        _read_note,
        under_nothing,
    ),
    EntryKind(
        Begin,
        "begin",
        'uuid "zone" zone "chain" figure',
        lambda e: f"{e.book} zone {e.zone} chain {e.form}",
        _read_begin,
        under_nothing,
    ),
)
