"""The tables of a book: that of the entries with the steps that brought it here, and all others as they are today.

The table of the entries goes forward step by step, oldest first; a step, once released, never changes.  All others are
made from the entries and are never brought forward: they are thrown away and made again.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from sqlite3 import complete_statement
from typing import TYPE_CHECKING

from upkeep.store import named
from upkeep.store.rows.lines import TALLIES
from upkeep.store.rows.projections import PROJECTIONS

if TYPE_CHECKING:
    from sqlite_utils import Database
    from sqlite_utils.migrations import Migrations

VERSION = 1
"""The number of steps; kept in the file as ``PRAGMA user_version`` so that an up-to-date book opens at once."""

TABLES = 35
"""The number of the tables made from the entries and of the rules that fill them, kept in the file beside them.

Whoever changes one of these tables, or a rule whose result stands in one, makes it one higher; then every book has its
tables made again when it is next opened.
"""

OLDEST_SQLITE = (3, 38, 0)
"""STRICT tables (3.37) and unixepoch (3.38)."""


def steps() -> Migrations:
    """All steps in order, to be applied forward only."""
    from sqlite_utils.migrations import Migrations

    ordered = Migrations("strokebook")

    @ordered(name="m001_book")
    def m001_book(db: Database) -> None:
        db.executescript(_ENTRIES)

    return ordered


@cache
def statements() -> tuple[str, ...]:
    """What makes all tables but that of the entries, and the views, empty: one statement after another."""
    return tuple(_statements())


def _statements() -> Iterator[str]:
    projections = "".join(table.create for table in PROJECTIONS)
    statement = ""
    for line in (
        _NUMBER + named.CREATE + projections + TALLIES.create + _TALLYING + named.KEPT_UP + _VIEWS
    ).splitlines():
        statement += f"{line}\n"
        if complete_statement(statement):
            yield statement.strip()
            statement = ""


_ENTRIES = """
CREATE TABLE entries (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    recorded_at TEXT NOT NULL,
    kind TEXT NOT NULL,
    item TEXT,
    task TEXT,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    shift_day TEXT NOT NULL,
    about INTEGER REFERENCES entries (id),
    corrects INTEGER REFERENCES entries (id),
    because TEXT NOT NULL,
    way_in TEXT,
    station TEXT,
    proof TEXT,
    entered_by TEXT,
    salt BLOB NOT NULL,
    hash BLOB NOT NULL
) STRICT;
CREATE INDEX entries_by_item ON entries (item, at, id);
CREATE INDEX entries_by_kind ON entries (item, kind, at, id);
CREATE INDEX entries_by_writing ON entries (recorded_at);
CREATE INDEX entries_by_moment ON entries (at);
CREATE INDEX entries_about ON entries (about) WHERE about IS NOT NULL;
CREATE INDEX entries_of_definitions ON entries (id) WHERE kind = 'define';
CREATE TRIGGER entries_only_follow BEFORE INSERT ON entries WHEN NEW.id <= (SELECT max(id) FROM entries)
BEGIN SELECT RAISE(ABORT, 'entries are never replaced; write a correction'); END;
CREATE TRIGGER entries_never_change BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are never changed; write a correction'); END;
CREATE TRIGGER entries_never_go BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are never deleted; strike them'); END;
"""

_NUMBER = """
CREATE TABLE tables_number (number INTEGER NOT NULL) STRICT;
"""

_TALLYING = """
CREATE TRIGGER lines_in AFTER INSERT ON lines BEGIN
    INSERT INTO tallies VALUES (NEW.standing, 1) ON CONFLICT (standing) DO UPDATE SET lines = lines + 1;
END;
CREATE TRIGGER lines_out AFTER DELETE ON lines BEGIN
    UPDATE tallies SET lines = lines - 1 WHERE standing = OLD.standing;
END;
CREATE TRIGGER lines_moved AFTER UPDATE OF standing ON lines WHEN OLD.standing <> NEW.standing BEGIN
    UPDATE tallies SET lines = lines - 1 WHERE standing = OLD.standing;
    INSERT INTO tallies VALUES (NEW.standing, 1) ON CONFLICT (standing) DO UPDATE SET lines = lines + 1;
END;
"""

SEARCH = ("lines", "searched")
"""The table and the column that words are looked for in."""

SEARCH_BY = "trigram case_sensitive 1"
"""Finds parts of words in any language; the column holds them folded, so letters are taken as they stand."""

SEARCH_KEPT_UP = (
    """
    CREATE TRIGGER lines_to_find AFTER INSERT ON lines BEGIN
        INSERT INTO lines_fts (rowid, searched) VALUES (NEW.id, NEW.searched);
    END
    """,
    """
    CREATE TRIGGER lines_gone AFTER DELETE ON lines BEGIN
        INSERT INTO lines_fts (lines_fts, rowid, searched) VALUES ('delete', OLD.id, OLD.searched);
    END
    """,
    """
    CREATE TRIGGER lines_found_otherwise AFTER UPDATE OF searched ON lines BEGIN
        INSERT INTO lines_fts (lines_fts, rowid, searched) VALUES ('delete', OLD.id, OLD.searched);
        INSERT INTO lines_fts (rowid, searched) VALUES (NEW.id, NEW.searched);
    END
    """,
)
"""What keeps the search up with the lines; a sign-off, which moves no word, costs nothing here."""

_NAME_THEN = (
    "(SELECT json_extract(d.content, '$.name') FROM defined d WHERE d.what = 'person' AND d.key = {} "
    "AND d.entry <= e.id ORDER BY d.entry DESC LIMIT 1)"
)
"""The name somebody had when an entry ``e`` was written."""

NEVER = "9999-12-31T00:00:00Z"
"""What never comes, as the lines keep it."""

_LOCAL = (
    "strftime('%Y-%m-%d %H:%M:%S', {0}, (SELECT seconds FROM wall_clock WHERE since_utc <= {0} "
    "ORDER BY since_utc DESC LIMIT 1) || ' seconds')"
)
"""A moment as the plant's clock on the wall shows it."""

_VIEWS = f"""
CREATE VIEW history_in_words AS
SELECT e.id AS entry, e.at AS happened_utc, {_LOCAL.format("e.at")} AS happened_local, e.recorded_at AS written_utc,
       {_LOCAL.format("e.recorded_at")} AS written_local, e.shift_day, e.item, e.task, e.words,
       coalesce({_NAME_THEN.format("e.by")}, e.by) AS signed_by, e.because,
       CASE WHEN w.entry IS NULL THEN '' ELSE 'no effect since #' || w.through END AS note,
       coalesce(e.way_in, 'not known') AS way_in, e.station, coalesce(e.proof, 'not known') AS proof,
       coalesce({_NAME_THEN.format("e.entered_by")}, e.entered_by) AS entered_by
FROM entries e LEFT JOIN without_effect w ON w.entry = e.id
ORDER BY e.id;
CREATE VIEW what_is_due AS
SELECT line, item, item_title, task, title, place, area, state_now,
       nullif(due_at, '{NEVER}') AS due_utc,
       CASE WHEN due_at < '{NEVER}' THEN {_LOCAL.format("due_at")} END AS due_local, strokes, due_strokes, reasons
FROM (
    SELECT *, CASE WHEN standing <> 'active' THEN standing
                   WHEN stop_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'stop'
                   WHEN overdue_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'overdue'
                   WHEN due_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'due'
                   WHEN opens_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'open'
                   ELSE 'later' END AS state_now
    FROM lines
)
ORDER BY instr('stop held overdue due open later paused not required', state_now), due_at, line;
CREATE VIEW where_things_hang AS
SELECT f.item, i.kind, i.title, f.inside, o.title AS inside_title, f.start AS since_utc,
       {_LOCAL.format("f.start")} AS since_local
FROM fittings f LEFT JOIN items i ON i.id = f.item LEFT JOIN items o ON o.id = f.inside
WHERE f.until IS NULL ORDER BY f.inside, f.item;
CREATE VIEW press_counts AS
SELECT press, at AS read_utc, {_LOCAL.format("at")} AS read_local, value AS counter, total AS strokes_in_this_book
FROM marks ORDER BY press, at;
CREATE VIEW measurements AS
SELECT m.item, i.title AS item_title, m.point, m.at AS measured_utc, {_LOCAL.format("m.at")} AS measured_local,
       r.key + 1 AS reading, r.value AS value, m.good, m.gauge, m.occasion, m.task, m.crimp, m.entry
FROM measured m JOIN json_each(m.readings) r LEFT JOIN items i ON i.id = m.item
WHERE m.readings IS NOT NULL ORDER BY m.item, m.point, m.at, m.entry, r.key;
"""
