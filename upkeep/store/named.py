"""What definitions name - items, places, people, roles - as tables whose links other tools follow, and the wall clock.

The book itself reads none of them.  Triggers keep them up with the definitions; the clock comes from the zone database.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

_ITEM = (
    "{0}.key, json_extract({0}.content, '$.kind'), json_extract({0}.content, '$.title'), "
    "json_extract({0}.content, '$.place'), json_extract({0}.content, '$.family')"
)
_PLACE = "{0}.key, json_extract({0}.content, '$.title'), json_extract({0}.content, '$.area')"
_PERSON = "{0}.key, json_extract({0}.content, '$.name')"

_COPIED = {
    "item": ("items", ("id", "kind", "title", "home", "family"), _ITEM),
    "place": ("places", ("id", "title", "area"), _PLACE),
    "person": ("people", ("id", "name"), _PERSON),
}
"""Each table with its columns and what of a definition stands in them, by what is defined."""

_TABLES = """
CREATE TABLE items (id TEXT PRIMARY KEY, kind TEXT NOT NULL, title TEXT, home TEXT, family TEXT) STRICT;
CREATE TABLE places (id TEXT PRIMARY KEY, title TEXT, area TEXT) STRICT;
CREATE TABLE people (id TEXT PRIMARY KEY, name TEXT NOT NULL) STRICT;
CREATE TABLE roles (
    person TEXT NOT NULL REFERENCES people (id) DEFERRABLE INITIALLY DEFERRED,
    role TEXT NOT NULL,
    PRIMARY KEY (person, role)
) STRICT, WITHOUT ROWID;
CREATE TABLE wall_clock (since_utc TEXT PRIMARY KEY, seconds INTEGER NOT NULL) STRICT, WITHOUT ROWID;
"""


def _kept_up(what: str) -> Iterator[str]:
    table, columns, values = _COPIED[what]
    renewed = ", ".join(f"{column} = excluded.{column}" for column in columns[1:])
    for event in ("INSERT", "UPDATE"):
        roles = ""
        if what == "person":
            roles = (
                "    DELETE FROM roles WHERE person = NEW.key;\n"
                "    INSERT OR IGNORE INTO roles SELECT NEW.key, value FROM json_each(NEW.content, '$.roles');\n"
            )
        yield (
            f"CREATE TRIGGER {table}_after_{event.lower()} AFTER {event} ON definitions "
            f"WHEN NEW.what = '{what}' BEGIN\n"
            f"    INSERT INTO {table} VALUES ({values.format('NEW')}) ON CONFLICT (id) DO UPDATE SET {renewed};\n"
            f"{roles}END;\n"
        )


CREATE = _TABLES
"""What makes the tables, empty."""

KEPT_UP = "".join(statement for what in _COPIED for statement in _kept_up(what))
"""What keeps them up with the definitions."""


_ROLES = "SELECT d.key, r.value FROM definitions d, json_each(d.content, '$.roles') r WHERE d.what = 'person'"


def astray(connection: sqlite3.Connection) -> Iterator[str]:
    """The tables that do not say what the definitions do."""
    told = {
        table: (
            f"SELECT {', '.join(columns)} FROM {table}",
            f"SELECT {values.format('d')} FROM definitions d WHERE d.what = '{what}'",
        )
        for what, (table, columns, values) in _COPIED.items()
    }
    told["roles"] = "SELECT person, role FROM roles", _ROLES
    for table, (kept, defined) in told.items():
        differences = f"SELECT * FROM ({kept} EXCEPT {defined}) UNION ALL SELECT * FROM ({defined} EXCEPT {kept})"
        if connection.execute(differences).fetchone() is not None:
            yield table


_FROM, _TO = 1990, 2071
"""The years for which the clock on the wall is told to other tools."""


def set_wall_clock(connection: sqlite3.Connection, zone: str) -> None:
    """Tells how far the plant's clock is ahead of UTC, in seconds, from each change on."""
    connection.execute("DELETE FROM wall_clock")
    connection.executemany("INSERT INTO wall_clock VALUES (?, ?)", _changes(zone))


@cache
def _changes(zone: str) -> tuple[tuple[str, int], ...]:
    return tuple(_changes_in(ZoneInfo(zone)))


def _changes_in(zone: ZoneInfo) -> Iterator[tuple[str, int]]:
    def ahead(moment: datetime) -> int:
        offset = moment.astimezone(zone).utcoffset()
        assert offset is not None
        return int(offset.total_seconds())

    moment = datetime(_FROM, 1, 1, tzinfo=UTC)
    yield "0001-01-01T00:00:00Z", ahead(moment)
    while moment.year < _TO:
        later = moment + timedelta(days=14)
        if ahead(later) != ahead(moment):
            before, after = moment, later
            while after - before > timedelta(seconds=1):
                middle = before + (after - before) // 2
                middle = middle.replace(microsecond=0)
                before, after = (middle, after) if ahead(middle) == ahead(moment) else (before, middle)
            yield f"{after:%Y-%m-%dT%H:%M:%SZ}", ahead(after)
        moment = later
