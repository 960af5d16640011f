"""A book's file as it would stand had it ended at a moment: made by a full replay, for whatever reads a past."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from upkeep.entries.entry import Recorded
from upkeep.keeping.context import Context
from upkeep.keeping.replay import Replay
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.store.rows.projections import PROJECTIONS


def ended(book: Path, entries: Iterable[Recorded], moment: datetime) -> Context:
    """A copy of a book with some of its entries, those that had happened by a moment; its tables are a replay's."""
    copy = book.with_name("ended.book")
    for rest in copy.parent.glob("ended.book*"):
        rest.unlink()
    known = [recorded for recorded in entries if recorded.entry.at <= moment]
    replay = Replay(entries, until=moment)
    with sqlite3.connect(book) as source, sqlite3.connect(copy) as target:
        source.backup(target)
        target.execute("DROP TRIGGER entries_never_go")
        kept = {recorded.id for recorded in known}
        gone = [(number,) for (number,) in target.execute("SELECT id FROM entries") if number not in kept]
        target.executemany("DELETE FROM entries WHERE id = ?", gone)
        for table in PROJECTIONS:
            target.execute(f"DELETE FROM {table.name}")
    source.close()
    target.close()
    file = BookFile.open(copy)
    file.connection.execute("PRAGMA foreign_keys = OFF")
    Projections(file).fill(replay.tables)
    return Context(file, replay.known, moment)
