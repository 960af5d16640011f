"""The tables of a book: that of the entries with the steps that brought it here, and all others as they are today.

The table of the entries goes forward step by step, oldest first; a step, once released, never changes.  All others are
made from the entries and are never brought forward: they are thrown away and made again.
"""

from __future__ import annotations

from collections.abc import Iterator
from sqlite3 import complete_statement
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database
    from sqlite_utils.migrations import Migrations

VERSION = 1
"""The number of steps; kept in the file as ``PRAGMA user_version`` so that an up-to-date book opens at once."""

TABLES = 1
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


def statements() -> Iterator[str]:
    """What makes all tables but that of the entries, and the views, empty: one statement after another."""
    statement = ""
    for line in (_NUMBER + _PROJECTIONS + _VIEWS).splitlines():
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
    hash TEXT NOT NULL
) STRICT;
CREATE INDEX entries_by_item ON entries (item, at, id);
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

_PROJECTIONS = """
CREATE TABLE definitions (
    what TEXT NOT NULL,
    key TEXT NOT NULL,
    content TEXT NOT NULL,
    since TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (what, key)
) STRICT;
CREATE TABLE without_effect (
    entry INTEGER PRIMARY KEY REFERENCES entries (id),
    through INTEGER NOT NULL REFERENCES entries (id)
) STRICT;
CREATE TABLE marks (
    press TEXT NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    value INTEGER NOT NULL,
    rolled_over INTEGER NOT NULL,
    after_reset INTEGER NOT NULL,
    restart INTEGER,
    pieces INTEGER,
    total INTEGER NOT NULL,
    PRIMARY KEY (press, at, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX marks_by_total ON marks (press, total, at);
CREATE TABLE terms (
    press TEXT NOT NULL,
    since TEXT NOT NULL,
    way TEXT NOT NULL,
    digits INTEGER NOT NULL,
    times REAL NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (press, since, entry)
) STRICT;
CREATE TABLE made (
    press TEXT NOT NULL,
    since TEXT NOT NULL,
    until TEXT NOT NULL,
    pieces INTEGER NOT NULL,
    item TEXT,
    ordered TEXT,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE INDEX made_on_press ON made (press, until);
CREATE TABLE besides (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    strokes INTEGER NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (item, at, entry)
) STRICT, WITHOUT ROWID;
CREATE TABLE reworks (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    granted INTEGER NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (item, at, entry)
) STRICT, WITHOUT ROWID;
CREATE TABLE orders (
    ordered TEXT NOT NULL,
    at TEXT NOT NULL,
    pieces INTEGER NOT NULL,
    item TEXT NOT NULL,
    press TEXT NOT NULL,
    day TEXT NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE stated (
    item TEXT NOT NULL,
    task TEXT NOT NULL,
    at TEXT NOT NULL,
    done TEXT NOT NULL,
    by TEXT NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE INDEX stated_of_line ON stated (item, task, at);
CREATE TABLE measured (
    item TEXT NOT NULL,
    point TEXT NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    gauge TEXT,
    good INTEGER,
    occasion TEXT,
    PRIMARY KEY (item, point, at, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX measured_bad ON measured (item, at, entry) WHERE good = 0;
CREATE INDEX measured_by_gauge ON measured (gauge, at) WHERE gauge IS NOT NULL;
CREATE INDEX measured_by_entry ON measured (entry);
CREATE TABLE misreads (
    gauge TEXT NOT NULL,
    at TEXT NOT NULL,
    off REAL NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE disposals (
    list INTEGER NOT NULL,
    press TEXT NOT NULL,
    since TEXT NOT NULL,
    at TEXT NOT NULL,
    how TEXT NOT NULL,
    strokes INTEGER,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE narrowings (
    list INTEGER NOT NULL,
    at TEXT NOT NULL,
    strokes INTEGER NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE overrides (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    strokes INTEGER NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE faults (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    listed TEXT,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE INDEX faults_of_item ON faults (item, listed, at);
CREATE INDEX faults_by_symptom ON faults (listed, at);
CREATE TABLE repairs (
    fault INTEGER NOT NULL,
    at TEXT NOT NULL,
    stage TEXT NOT NULL,
    cause TEXT,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE INDEX repairs_of_fault ON repairs (fault, at);
CREATE TABLE retired (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    end TEXT NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE pictures (
    item TEXT NOT NULL,
    at TEXT NOT NULL,
    file TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    as_new INTEGER NOT NULL,
    entry INTEGER PRIMARY KEY REFERENCES entries (id)
) STRICT;
CREATE TABLE fittings (
    item TEXT NOT NULL,
    start TEXT NOT NULL,
    started_by INTEGER NOT NULL REFERENCES entries (id),
    inside TEXT NOT NULL,
    until TEXT,
    ended_by INTEGER REFERENCES entries (id),
    left_to TEXT,
    PRIMARY KEY (item, start, started_by)
) STRICT;
CREATE INDEX fittings_inside ON fittings (inside, until);
CREATE INDEX fittings_ending ON fittings (item, ifnull(until, '~'));
CREATE INDEX contents_ending ON fittings (inside, ifnull(until, '~'));
CREATE INDEX fittings_begun ON fittings (inside, start);
CREATE TABLE stays (
    item TEXT NOT NULL,
    start TEXT NOT NULL,
    press TEXT NOT NULL,
    until TEXT,
    start_low INTEGER NOT NULL,
    start_best INTEGER NOT NULL,
    start_high INTEGER NOT NULL,
    end_low INTEGER,
    end_best INTEGER,
    end_high INTEGER,
    before_low INTEGER NOT NULL,
    before_best INTEGER NOT NULL,
    before_high INTEGER NOT NULL,
    PRIMARY KEY (item, start)
) STRICT;
CREATE INDEX stays_of_press ON stays (press, until);
CREATE INDEX stays_ending ON stays (item, ifnull(until, '~'));
CREATE INDEX stays_ending_on ON stays (press, ifnull(until, '~'));
CREATE INDEX stays_started ON stays (press, start);
CREATE INDEX stays_by_strokes ON stays (item, before_best);
CREATE TABLE sign_offs (
    item TEXT NOT NULL,
    task TEXT NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    by TEXT NOT NULL,
    occurrence TEXT NOT NULL,
    grade INTEGER,
    how TEXT NOT NULL CHECK (how IN ('done', 'cancelled')),
    verified_by TEXT,
    verified_through INTEGER REFERENCES entries (id),
    points TEXT NOT NULL,
    PRIMARY KEY (item, task, at, entry)
) STRICT;
CREATE INDEX answers ON sign_offs (item, task, how, at, entry) WHERE occurrence <> 'extra';
CREATE INDEX answers_by_occurrence ON sign_offs (item, task, occurrence, at);
CREATE INDEX grades ON sign_offs (item, at, entry) WHERE grade IS NOT NULL;
CREATE TABLE deferrals (
    item TEXT NOT NULL,
    task TEXT NOT NULL,
    occurrence TEXT NOT NULL,
    later TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (item, task, occurrence, entry)
) STRICT;
CREATE TABLE happenings (
    item TEXT NOT NULL,
    what TEXT NOT NULL,
    at TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (item, what, at, entry)
) STRICT, WITHOUT ROWID;
CREATE TABLE standings (
    item TEXT NOT NULL,
    what TEXT NOT NULL CHECK (what IN ('hold', 'pause')),
    since TEXT NOT NULL,
    reason TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entries (id),
    PRIMARY KEY (item, what)
) STRICT;
CREATE TABLE lines (
    id INTEGER PRIMARY KEY,
    line TEXT NOT NULL UNIQUE,
    item TEXT NOT NULL,
    item_kind TEXT NOT NULL,
    item_title TEXT NOT NULL,
    task TEXT NOT NULL,
    title TEXT NOT NULL,
    place TEXT NOT NULL,
    area TEXT NOT NULL,
    route INTEGER NOT NULL,
    inside TEXT,
    standing TEXT NOT NULL,
    opens_at TEXT NOT NULL,
    due_at TEXT NOT NULL,
    overdue_at TEXT NOT NULL,
    stop_at TEXT NOT NULL,
    due_day TEXT,
    strokes INTEGER,
    strokes_low INTEGER,
    strokes_high INTEGER,
    due_strokes INTEGER,
    occurrence TEXT NOT NULL,
    deferred_to TEXT,
    why TEXT NOT NULL,
    last_done_at TEXT,
    last_done_by TEXT,
    last_entry INTEGER REFERENCES entries (id),
    unverified INTEGER REFERENCES entries (id),
    minutes REAL NOT NULL,
    energy TEXT NOT NULL,
    roles TEXT NOT NULL,
    second_signature TEXT,
    statutory INTEGER NOT NULL,
    each_shift INTEGER NOT NULL,
    fixed INTEGER NOT NULL,
    source TEXT NOT NULL
) STRICT;
CREATE INDEX lines_by_stop ON lines (standing, stop_at, line);
CREATE INDEX lines_by_overdue ON lines (standing, overdue_at, line, stop_at);
CREATE INDEX lines_by_due ON lines (standing, due_at, line, overdue_at);
CREATE INDEX lines_by_opening ON lines (standing, opens_at, due_at, line);
CREATE INDEX lines_of_item ON lines (item, task);
CREATE INDEX lines_of_place ON lines (place, standing);
CREATE TABLE tallies (standing TEXT PRIMARY KEY, lines INTEGER NOT NULL) STRICT;
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

_VIEWS = """
CREATE VIEW people AS
SELECT key AS id, json_extract(content, '$.name') AS name, json_extract(content, '$.roles') AS roles
FROM definitions WHERE what = 'person';
CREATE VIEW items AS
SELECT key AS id, json_extract(content, '$.kind') AS kind, json_extract(content, '$.title') AS title,
       json_extract(content, '$.place') AS home, json_extract(content, '$.family') AS family
FROM definitions WHERE what = 'item';
CREATE VIEW history_in_words AS
SELECT e.id AS entry, e.at AS happened_utc, e.recorded_at AS written_utc, e.shift_day, e.words,
       coalesce(p.name, e.by) AS signed_by, e.because,
       CASE WHEN w.entry IS NULL THEN '' ELSE 'no effect since #' || w.through END AS note
FROM entries e LEFT JOIN people p ON p.id = e.by LEFT JOIN without_effect w ON w.entry = e.id;
CREATE VIEW what_is_due AS
SELECT line, place, title,
       CASE WHEN standing <> 'active' THEN standing
            WHEN stop_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'stop'
            WHEN overdue_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'overdue'
            WHEN due_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'due'
            WHEN opens_at <= strftime('%Y-%m-%dT%H:%M:%SZ', 'now') THEN 'open'
            ELSE 'later' END AS state_now,
       nullif(due_at, '9999-12-31T00:00:00Z') AS due_utc, strokes, due_strokes, why
FROM lines;
CREATE VIEW where_things_hang AS
SELECT item, inside, start AS since_utc FROM fittings WHERE until IS NULL;
CREATE VIEW press_counts AS
SELECT press, at AS read_utc, value AS counter, total AS strokes_in_this_book FROM marks;
"""
