"""Entries in the file: appended in order, chained, read back as they were written."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from sqlite3 import DatabaseError, OperationalError
from typing import Any, NamedTuple

from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.kind import Filed
from upkeep.entries.kinds import filed, kind_of
from upkeep.entries.row import SALT_BYTES, START, EntryRow
from upkeep.entries.text import words_of
from upkeep.errors import BookDamaged, Unreadable
from upkeep.progress import MANY, Watch, nobody, watched
from upkeep.said import Numeral, said
from upkeep.seals.judging import Restored
from upkeep.store.disk.connecting import spoken_of
from upkeep.store.entry_rows import COLUMNS, INSERT, recorded_from, row_of
from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT
from upkeep.units.instants import from_utc_text

_WITH_EFFECT = (
    f"{COLUMNS.replace('id,', 'entries.id AS id,', 1)}, w.through FROM entries "
    "LEFT JOIN without_effect w ON w.entry = entries.id"
)

_KIND = EntryRow._fields.index("kind")

LAST = "~"
"""Stands behind every moment as the file writes them."""


class Span(NamedTuple):
    """From the first entry of a book to the last: the moment of the first, number and moment of writing of the last."""

    began: str
    last: int
    written: str


class EntryStore:
    """Appends to and reads from the table of entries."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def last(self) -> tuple[int, bytes]:
        """Number and link of the last entry; (-1, start of the chain) in an empty book."""
        row = self._file.row("SELECT id, hash FROM entries ORDER BY id DESC LIMIT 1")
        return (row[0], row[1]) if row else (-1, START)

    def span(self) -> Span | None:
        """When the book began, and its last entry; None while it is empty."""
        return self._file.first(
            Span,
            "SELECT (SELECT at FROM entries WHERE id = 0), id, recorded_at FROM entries ORDER BY id DESC LIMIT 1",
        )

    def append(self, entries: Sequence[tuple[Entry, str, Filed]]) -> list[int]:
        """Appends entries (with shift day and filing) inside the running transaction; gives their numbers.

        Each gets a salt of its own, except where it brings one from an export.
        """
        from upkeep.entries.chain import digest, link  # with what hashes, which no answer waits for

        number, before = self.last()
        salts = self._file.random(SALT_BYTES * len(entries))
        rows: list[tuple[Any, ...]] = []
        waiting = watched(entries, "adding", len(entries), self._file.watch) if len(entries) >= MANY else entries
        for place, (entry, shift_day, filing) in enumerate(waiting):
            number += 1
            salt = entry.salt or salts[SALT_BYTES * place : SALT_BYTES * (place + 1)]
            row = row_of(number, entry, shift_day, filing, salt)
            before = link(before, digest(row))
            rows.append((*row[:-1], before))
        self._file.connection.executemany(INSERT, rows)
        return [row[0] for row in rows]

    def salted(self, salts: Sequence[bytes], after: int) -> list[int]:
        """The numbers of the entries after a number that have one of some salts, in order."""
        marks = ", ".join("?" * len(salts))
        found = self._file.values(
            f"SELECT id FROM entries WHERE id > ? AND salt IN ({marks}) ORDER BY id", (after, *salts)
        )
        return [int(number) for number in found]

    def link_of(self, number: int) -> str | None:
        """The link of an entry (hexadecimal) by its number; None where there is no such entry."""
        row = self._file.row("SELECT hash FROM main.entries WHERE id = ?", (number,))
        return row[0].hex() if row else None

    def written_between(self, start: str, end: str) -> range:
        """The numbers from the first entry written over [start, end) to the last, UTC texts."""
        row = self._file.row(
            "SELECT min(id), max(id) FROM entries WHERE recorded_at >= ? AND recorded_at < ?", (start, end)
        )
        return range(0) if row is None or row[0] is None else range(row[0], row[1] + 1)

    def restorations(self) -> list[Restored]:
        """The notes that the book was restored from a backup, in the order written."""
        rows = self._file.rows(
            "SELECT id, recorded_at FROM main.entries WHERE kind = 'note' AND words LIKE '% restored' ORDER BY id"
        )
        return [Restored(number, from_utc_text(written)) for number, written in rows]

    def links(self, first: int) -> list[str]:
        """The links of the chain from an entry on, in hexadecimal, in order."""
        return [
            link.hex() for link in self._file.values("SELECT hash FROM entries WHERE id >= ? ORDER BY id", (first,))
        ]

    def all(self) -> Iterator[Recorded]:
        """Every entry by number, those corrected and struck among them; one row at a time."""
        for row in self._file.connection.execute(f"SELECT {COLUMNS} FROM entries ORDER BY id"):
            yield recorded_from(row)

    def definitions(self) -> list[Recorded]:
        """Every definition ever written, in order of its number."""
        rows = self._file.rows(
            f"SELECT {COLUMNS} FROM entries INDEXED BY entries_of_definitions WHERE kind = 'define' ORDER BY id"
        )
        return [recorded_from(row) for row in rows]

    def defined_from(self, at: str, items: Iterable[str]) -> bool:
        """Whether some items, or anything that is no item (plant, task, person), were defined at a moment or after."""
        asked = "SELECT 1 FROM entries WHERE item IS ? AND kind = 'define' AND at >= ? LIMIT 1"
        return any(self._file.row(asked, (item, at)) is not None for item in (None, *items))

    def of_moment(self, at: str) -> list[Recorded]:
        """Every entry that happened at a moment, in effect or not, in order of its number."""
        return [
            recorded_from(row)
            for row in self._file.rows(f"SELECT {COLUMNS} FROM entries WHERE at = ? ORDER BY id", (at,))
        ]

    def of_kind(self, kind: type[Entry], start: str, end: str) -> list[Recorded]:
        """The entries of a kind, in effect, that happened over [start, end), in order of their moments."""
        rows = self._file.rows(
            f"SELECT {COLUMNS} FROM entries WHERE kind = ? AND at >= ? AND at < ? AND {IN_EFFECT} ORDER BY at, id",
            (kind_of(kind).verb, start, end),
        )
        return [recorded_from(row) for row in rows]

    def number_of(self, kind: str, start: str, end: str) -> int:
        """How many entries of a kind, in effect, happened over [start, end)."""
        row = self._file.row(
            f"SELECT count(*) FROM entries WHERE kind = ? AND at >= ? AND at < ? AND {IN_EFFECT}", (kind, start, end)
        )
        return int(row[0]) if row else 0

    def after(self, number: int, before: bytes) -> Iterator[Recorded]:
        """The entries after a number, in order; ``before`` is the link of the chain at that number.

        Raises :class:`BookDamaged` at the first entry that does not follow from the one before, or cannot be read.
        """
        for row, follows in self._followed(number, before):
            number += 1
            if not follows:
                raise self._leaves_the_chain(number)
            yield recorded_from(row)

    def all_followed(self) -> Iterator[Recorded]:
        """Every entry by number, one at a time.

        Raises :class:`BookDamaged` where one cannot be read, and at the end where one does not follow from the entry
        before it: with the number of the first.
        """
        broken: int | None = None
        expected = 0
        for row, follows in self._followed(-1, START):
            if not follows and broken is None:
                broken = expected
            try:
                yield recorded_from(row)
            except Unreadable:
                raise self._leaves_the_chain(row.id) from None
            expected = row.id + 1
        if broken is not None:
            raise self._leaves_the_chain(broken)

    def chained(self, first: int) -> Iterator[EntryRow]:
        """The rows of the entries from a number on, each proven to follow from the one before.

        Raises :class:`BookDamaged` at the first that does not.
        """
        known = self.link_of(first - 1) if first else None
        before = START if known is None else bytes.fromhex(known)
        for row, follows in self._followed(first - 1, before):
            if not follows:
                raise self._leaves_the_chain(row.id)
            yield row

    def _followed(self, number: int, before: bytes) -> Iterator[tuple[EntryRow, bool]]:
        """The rows after a number, each with whether it follows from the row before."""
        from upkeep.entries.chain import is_chained

        try:
            for row in self._file.connection.execute(
                f"SELECT {COLUMNS} FROM entries WHERE id > ? ORDER BY id", (number,)
            ):
                kept = EntryRow._make(row)
                yield kept, kept.id == number + 1 and is_chained(kept, before)
                number, before = kept.id, kept.hash
        except DatabaseError as error:
            if "decode" in str(error):  # bytes that are no text: nothing written by us
                raise self._leaves_the_chain(number + 1) from error
            raise spoken_of(self._file.path, error) from error

    def _leaves_the_chain(self, number: int) -> BookDamaged:
        return BookDamaged(
            said(
                "Entry #{number} of {path} does not follow from the entries before it.",
                number=Numeral(number),
                path=self._file.path,
            )
        )

    def later_than(self, number: int, written: str, at: str) -> Iterator[Recorded]:
        """The entries with a higher number, or written later, that tell of a moment or what came before it: what had
        happened by then, and what takes the effect of other entries."""
        rows = self._file.rows(
            f"SELECT {COLUMNS} FROM main.entries WHERE (id > ? OR recorded_at > ?) "
            "AND (at <= ? OR corrects IS NOT NULL OR kind = 'strike') ORDER BY id",
            (number, written, at),
        )
        return map(recorded_from, rows)

    def by_number(self, number: int) -> Recorded | None:
        """The entry with a number; None where the book has not come so far."""
        row = self._file.row(f"SELECT {COLUMNS} FROM main.entries WHERE id = ?", (number,))
        return recorded_from(row) if row else None

    def filing(self, number: int) -> Filed | None:
        """The item, task and entry an entry is filed under; None where there is no such entry."""
        row = self._file.row("SELECT item, task, about FROM entries WHERE id = ?", (number,))
        return Filed(*row) if row else None

    def of_item(
        self, item: str, kinds: Iterable[str], *, from_at: str = "", to_at: str = LAST, in_effect: bool = True
    ) -> list[Recorded]:
        """The entries of some kinds filed under an item, by moment; only those in effect unless told otherwise."""
        effect = f"AND {IN_EFFECT}" if in_effect else ""
        each = (  # one search a kind: an item has thousands of counts and a handful of holds
            f"SELECT {COLUMNS} FROM entries WHERE item = :item AND kind = '{kind}' AND at BETWEEN :at AND :to {effect}"
            for kind in kinds
        )
        rows = self._file.rows(
            f"{' UNION ALL '.join(each)} ORDER BY at, id", {"item": item, "at": from_at, "to": to_at}
        )
        return [recorded_from(row) for row in rows]

    def told_of(self, items: Sequence[str], kinds: Sequence[str]) -> dict[str, list[str]]:
        """Which of some kinds of entries are filed under each of some items, be they in effect or not; no item that has
        none."""
        told: dict[str, list[str]] = {}
        for item, kind in self._file.rows(
            "SELECT i.value, k.value FROM json_each(:items) i CROSS JOIN json_each(:kinds) k WHERE EXISTS "
            "(SELECT 1 FROM entries WHERE item = i.value AND kind = k.value)",
            {"items": json.dumps(items), "kinds": json.dumps(kinds)},
        ):
            told.setdefault(item, []).append(kind)
        return told

    def last_of_each(self, item: str, kinds: Sequence[str], over: str | None = None) -> list[Recorded]:
        """The last entry in effect of each of some kinds filed under an item, by moment; where one of them is of the
        kind ``over``, only from that one on."""
        if not kinds:
            return []
        each = (
            f"SELECT * FROM (SELECT {COLUMNS} FROM entries WHERE item = :item AND kind = '{kind}' AND {IN_EFFECT} "
            "ORDER BY at DESC, id DESC LIMIT 1)"
            for kind in kinds
        )
        rows = self._file.rows(f"{' UNION ALL '.join(each)} ORDER BY at, id", {"item": item})
        first = next((place for place, row in enumerate(rows) if row[_KIND] == over), 0)
        return [recorded_from(row) for row in rows[first:]]

    def newest(self, item: str | None, limit: int, task: str | None = None) -> Iterator[tuple[Recorded, int | None]]:
        """The newest entries with the entry that took their effect, if any; the watch of the file is told how many.

        Of an item (with what was put into it and taken out of it), of a task on it, or of the whole book.
        """
        parts = [f"SELECT {_WITH_EFFECT} WHERE item = :item ORDER BY at DESC, entries.id DESC LIMIT :limit"]
        if item is None:
            parts = [f"SELECT {_WITH_EFFECT} ORDER BY at DESC, entries.id DESC LIMIT :limit"]
        elif task is not None:
            parts[0] = parts[0].replace("ORDER", "AND task = :task ORDER")
        else:
            moved = "SELECT {} FROM fittings WHERE inside = :item"
            inside = f"{moved.format('started_by')} UNION {moved.format('ended_by')}"
            parts.append(f"SELECT {_WITH_EFFECT} WHERE entries.id IN ({inside})")
        union = " UNION ".join(f"SELECT * FROM ({part})" for part in parts)
        rows = self._file.rows(
            f"{union} ORDER BY at DESC, id DESC LIMIT :limit", {"item": item, "task": task, "limit": limit}
        )
        entries = ((recorded_from(row[:-1]), row[-1]) for row in rows)
        return watched(entries, "entries-worded", len(rows), self._file.watch)

    def last_written(self, limit: int) -> list[tuple[Recorded, int | None]]:
        """The entries with the highest numbers, newest first, with the entry that took their effect, if any."""
        rows = self._file.rows(f"SELECT {_WITH_EFFECT} ORDER BY entries.id DESC LIMIT ?", (limit,))
        return [(recorded_from(row[:-1]), row[-1]) for row in rows]

    def referring_to(self, number: int) -> list[Recorded]:
        """Later entries that correct, strike or verify one, newest first."""
        rows = self._file.rows(f"SELECT {COLUMNS} FROM entries WHERE about = ? ORDER BY id DESC", (number,))
        return [recorded_from(row) for row in rows]


def broken_link(file: BookFile, watch: Watch = nobody) -> int | None:
    """The number of the first entry whose hash does not follow from it and the one before; None: the chain is whole."""
    before, expected = START, 0
    last, _ = EntryStore(file).last()
    try:
        rows = file.connection.execute(f"SELECT {COLUMNS} FROM entries ORDER BY id")
        for row in watched(map(EntryRow._make, rows), "following", last, watch):
            if row.id != expected or not _is_whole(row, before):
                return row.id
            before, expected = row.hash, expected + 1
    except OperationalError as error:
        if "decode" in str(error):  # bytes that are no text: nothing written by us
            return expected
        raise
    return None


def _is_whole(row: EntryRow, before: bytes) -> bool:
    """Whether an entry follows from the link before it; what is not even of the kind each column holds does not."""
    from upkeep.entries.chain import is_chained

    try:
        return is_chained(row, before)
    except (TypeError, ValueError, AttributeError):
        return False


def misfiled(file: BookFile, entries: Sequence[Recorded]) -> Iterator[int]:
    """The numbers of entries kept under another kind, item, task or entry than their words say (no hash covers that).

    ``entries`` are all of the book, in order.
    """
    rows = file.connection.execute("SELECT kind, item, task, about FROM entries ORDER BY id")
    places: list[Filed] = []
    for recorded, row in zip(entries, rows, strict=True):
        place, about = filed(recorded.entry), recorded.entry.corrects
        if place.about is not None:
            target, about = places[place.about], place.about
            place = Filed(target.item, target.task, about)
        places.append(place)
        if row != (words_of(recorded.entry).partition(" ")[0], place.item, place.task, about):
            yield recorded.id
