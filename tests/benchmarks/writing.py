"""Writing into a book against writing the very same rows with plain SQL, on the same disk and equally durable."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from tests.benchmarks.measuring import Measured, best, middle, timed
from tests.plants import at, book_of, item, task
from upkeep.book import Book
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit
from upkeep.entries.row import EntryRow
from upkeep.entries.signing import Sign

PRESSES = [f"P-{number:02d}" for number in range(20, 32)]
PARTS = {"CP": "conductor punch", "IP": "insulation punch", "CA": "conductor anvil", "IA": "insulation anvil"}
READINGS = 20_000
SIGN_OFFS = 100
FIRST = at("2026-03-02 06:00")
"""When everything hangs where it belongs and every counter has been read."""

TASKS = (
    task("clean", "module", each_shift=True),
    task("inspect", "die set", strokes=400_000, graded=True),
    task("look", "conductor punch", strokes=200_000),
    task("grease", "press", every="90 days"),
)

MEMORY = Path("/dev/shm")
"""Files there no disk waits for, where a system has it."""

Rows = list[tuple[Any, ...]]


def measured(folder: Path, readings: int = READINGS, sign_offs: int = SIGN_OFFS) -> Iterator[Measured]:
    """A great many readings in one write, and one sign-off after another: durable on the disk, and in memory."""
    yield _readings(shop(folder / "readings", 0), readings)
    path = shop(folder / "signs", sign_offs)
    yield _sign_offs(path, sign_offs)
    yield _same_rows(path, folder, sign_offs, "one sign-off, on the disk", None)
    if MEMORY.is_dir():
        with TemporaryDirectory(dir=MEMORY) as memory:
            yield _same_rows(path, Path(memory), sign_offs, "one sign-off, in a file in memory", 6.0)


def shop(folder: Path, signed_items: int) -> Path:
    """A book of twelve presses, each with a module, a die set and four parts on it, and modules that wait in a rack."""
    folder.mkdir(parents=True)
    more = [item(key, kind="press", digits=9, max_rate=100_000, place="hall") for key in PRESSES]
    for key in PRESSES:
        number = key[2:]
        more += [item(f"M-{number}", kind="module"), item(f"DS-{number}", kind="die set")]
        more += [item(f"{short}-{number}", kind=kind) for short, kind in PARTS.items()]
    more += [item(f"W-{number:03d}", kind="module", place="rack") for number in range(signed_items)]
    weekly = task("oil", "module", every="7 days", early_days=7)
    with book_of(folder, tasks=[*TASKS, weekly], more=more) as book:
        book.write([entry for key in PRESSES for entry in _hung(key)], FIRST)
        return book.path


def _hung(press: str) -> Iterator[Entry]:
    number = press[2:]
    yield Count(at=FIRST, by="ana", press=press, value=0)
    inside = press
    for key in (f"M-{number}", f"DS-{number}"):
        yield Fit(at=FIRST, by="ana", item=key, inside=inside)
        inside = key
    for short in PARTS:
        yield Fit(at=FIRST, by="ana", item=f"{short}-{number}", inside=inside)


# Readings -----------------------------------------------------------------------------------------------------------


def _readings(path: Path, number: int) -> Measured:
    """Aim 4: each reading is one entry and one mark on both sides; ours is checked, chained and judged as well."""
    minutes = (number + len(PRESSES) - 1) // len(PRESSES)
    moments = [FIRST + timedelta(minutes=minute) for minute in range(1, minutes + 1)]
    entries = [
        Count(at=moment, by="ana", press=press, value=20 * minute)
        for minute, moment in enumerate(moments, start=1)
        for press in PRESSES
    ][:number]
    written = path.with_name("written.book")
    copied(path, written)
    with Book.open(written) as book:
        book.write(entries, moments[-1])
    rows = rows_since(path, written)
    assert len(rows["entries"]) == len(rows["marks"]) == number
    ours, baseline = best(
        lambda: _ours(path, entries, moments[-1]),
        lambda: _plain(path, rows),
        5,
    )
    return Measured(f"{number:,} readings written in one go", ours, baseline, "executemany", 4.0)


def _ours(path: Path, entries: Sequence[Entry], recorded_at: datetime) -> float:
    copy = path.with_name("ours.book")
    copied(path, copy)
    with Book.open(copy) as book:
        book.known  # noqa: B018 - a program that takes readings in has long read its plant
        return timed(lambda: book.write(entries, recorded_at))


def _plain(path: Path, rows: dict[str, Rows]) -> float:
    copy = path.with_name("plain.book")
    copied(path, copy)
    with closing(connected(copy)) as connection:
        return timed(lambda: insert(connection, rows))


def rows_since(before: Path, after: Path) -> dict[str, Rows]:
    """The entries and marks that one file has beyond another."""
    with closing(connected(before)) as old, closing(connected(after)) as new:
        last = old.execute("SELECT max(id) FROM entries").fetchone()
        return {
            "entries": new.execute("SELECT * FROM entries WHERE id > ? ORDER BY id", last).fetchall(),
            "marks": new.execute("SELECT * FROM marks WHERE entry > ? ORDER BY entry", last).fetchall(),
        }


# Sign-offs ----------------------------------------------------------------------------------------------------------


def _sign_offs(path: Path, number: int) -> Measured:
    """Aim 2: what one durable sign-off costs beside one durable insert of its entry row."""
    at_work, plain = path.with_name("ours.book"), path.with_name("plain.book")
    copied(path, at_work)
    copied(path, plain)
    moment = FIRST + timedelta(days=3)
    with Book.open(at_work) as book, closing(connected(plain)) as connection:
        lines = [book.line(f"W-{turn:03d}/oil", moment) for turn in range(number)]
        turns = count()

        def ours() -> float:
            line = lines[next(turns)]
            signed = Sign(at=moment, by="ana", task=line.task, item=line.item, occurrence=line.occurrence)
            return timed(lambda: book.write([signed], moment))

        def baseline() -> float:
            (last,) = connection.execute("SELECT max(id) FROM entries").fetchone()
            words = f"sign W-{last:03d}/oil for 2026-03-08"
            text = "2026-03-05T06:00:00Z"
            head = (last + 1, text, text, "sign", "M-20", "oil", words, "ana", text[:10], None, None, "")
            row = EntryRow(*head, "screen", None, "none", None, bytes(16), bytes(32))
            return timed(lambda: insert(connection, {"entries": [row]}))

        mine, theirs = middle(ours, baseline, number)
    return Measured("one durable sign-off", mine, theirs, "durable insert", 2.0)


def _same_rows(path: Path, folder: Path, number: int, what: str, aim: float | None) -> Measured:
    """What one sign-off costs beside the very rows it writes, in one transaction of parametrized statements."""
    at_work, plain = folder / "signed.book", folder / "same-rows.book"
    copied(path, at_work)
    copied(path, plain)
    moment = FIRST + timedelta(days=3)
    with Book.open(at_work) as book, closing(connected(plain)) as connection, closing(connected(at_work)) as seen:
        lines = [book.line(f"W-{turn:03d}/oil", moment) for turn in range(number)]
        waiting, written = iter(lines), iter(lines)
        before = {row[1]: row for row in seen.execute("SELECT * FROM lines")}

        def ours() -> float:
            line = next(waiting)
            signed = Sign(at=moment, by="ana", task=line.task, item=line.item, occurrence=line.occurrence)
            return timed(lambda: book.write([signed], moment))

        def baseline() -> float:
            changes = _changes(seen, next(written).line, before)
            return timed(lambda: _change(connection, changes))

        mine, theirs = [], []
        for _ in range(number):  # ours first: what it has written the other one writes
            mine.append(ours())
            theirs.append(baseline())
    return Measured(what, median(mine), median(theirs), "its very rows", aim)


Change = tuple[str, tuple[Any, ...]]
"""A statement and its parameters."""


def _changes(seen: sqlite3.Connection, line: str, before: dict[str, tuple[Any, ...]]) -> list[Change]:
    """The statements that do to the tables what the last entry, the sign-off of a line, has done."""
    entry = seen.execute("SELECT * FROM entries ORDER BY id DESC LIMIT 1").fetchone()
    sign_off = seen.execute("SELECT * FROM sign_offs WHERE entry = ?", entry[:1]).fetchone()
    found = seen.execute("SELECT * FROM lines WHERE line = ?", (line,))
    columns = [column[0] for column in found.description]
    changed = [
        (name, new) for name, old, new in zip(columns, before[line], found.fetchone(), strict=True) if old != new
    ]
    setting = ", ".join(f"{name} = ?" for name, _ in changed)
    return [
        *((f"INSERT INTO {table} VALUES ({', '.join('?' * len(row))})", row)
          for table, row in (("entries", entry), ("sign_offs", sign_off))),
        (f"UPDATE lines SET {setting} WHERE line = ?", (*(new for _, new in changed), line)),
    ]  # fmt: skip


def _change(connection: sqlite3.Connection, changes: list[Change]) -> None:
    connection.execute("BEGIN IMMEDIATE")
    for sql, values in changes:
        connection.execute(sql, values)
    connection.execute("COMMIT")


# Plain SQL ----------------------------------------------------------------------------------------------------------


def connected(path: Path) -> sqlite3.Connection:
    """A plain connection with the pragmas of a book's."""
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "recursive_triggers = ON"):
        connection.execute(f"PRAGMA {pragma}")
    return connection


def insert(connection: sqlite3.Connection, rows: dict[str, Rows]) -> None:
    """All rows in one durable transaction."""
    connection.execute("BEGIN IMMEDIATE")
    for table, found in rows.items():
        marks = ", ".join("?" * len(found[0]))
        connection.executemany(f"INSERT INTO {table} VALUES ({marks})", found)
    connection.execute("COMMIT")


def copied(path: Path, copy: Path) -> None:
    """A fresh copy of a closed book."""
    for rest in copy.parent.glob(f"{copy.name}*"):
        rest.unlink()
    shutil.copyfile(path, copy)
