"""All tables of a file but that of the entries: which number they carry, thrown away, and made empty again.

Everything here runs inside a transaction of the caller.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from upkeep.errors import BookDamaged
from upkeep.said import Numeral, said
from upkeep.store import schema

_KEPT = ("entries", "_sqlite_migrations")
"""What is no cache: the entries, and which steps their table has taken."""

_NUMBERS = "SELECT user_version, (SELECT number FROM tables_number) FROM pragma_user_version"


def numbers(connection: sqlite3.Connection) -> tuple[int, int]:
    """The number of the entries' schema and that of the tables; 0 for tables of before they carried a number."""
    try:
        version, number = connection.execute(_NUMBERS).fetchone()
    except sqlite3.OperationalError as error:
        if "no such table" not in str(error):
            raise
        (version,), number = connection.execute("PRAGMA user_version").fetchone(), None
    return version, number or 0


def readable_version(connection: sqlite3.Connection, path: Path) -> int:
    """The number of the entries' schema; raises :class:`BookDamaged` for a book this program cannot read.

    Either it is a newer program's, or it is of before the chain: such books carry the same number, since no program
    that made them was released.
    """
    version, number = numbers(connection)
    for what, written, known in (("schema", version, schema.VERSION), ("tables", number, schema.TABLES)):
        if written > known:
            raise BookDamaged(
                said(
                    "{path} was written by a newer Strokebook ({what} {written}, this one knows {known}). "
                    "Update the program; the book was not touched.",
                    path=path,
                    what=what,
                    written=Numeral(written),
                    known=Numeral(known),
                )
            )
    columns = [name for (name,) in connection.execute("SELECT name FROM pragma_table_info('entries')")]
    if columns and "salt" not in columns:
        raise BookDamaged(
            said(
                "{path} was made by a development version that did not chain its entries yet; this program cannot "
                "read it. Open it with the program that made it; the book was not touched.",
                path=path,
            )
        )
    return version


def are_newer(connection: sqlite3.Connection) -> bool:
    """Whether a newer program than this one keeps the entries or the tables."""
    version, number = numbers(connection)
    return version > schema.VERSION or number > schema.TABLES


def are_older(connection: sqlite3.Connection) -> bool:
    """Whether the tables are of an older program, or none are there."""
    return numbers(connection)[1] < schema.TABLES


def make_again(connection: sqlite3.Connection) -> None:
    """Throws all tables away, whatever program made them, and makes today's, empty, under today's number."""
    _drop(connection)
    for statement in schema.statements():
        if not statement.startswith("CREATE INDEX"):
            connection.execute(statement)
    connection.execute("INSERT INTO tables_number VALUES (?)", (schema.TABLES,))


def make_indexes(connection: sqlite3.Connection) -> None:
    """Makes the indexes of tables made again, and the search; once they are filled, that is quicker than row by row."""
    for statement in schema.statements():
        if statement.startswith("CREATE INDEX"):
            connection.execute(statement)
    _make_search(connection)


def _make_search(connection: sqlite3.Connection) -> None:
    from sqlite_utils import Database  # where tables are made, and nowhere else: it costs a start 0.2 s

    table, column = schema.SEARCH
    Database(connection, execute_plugins=False).table(table).enable_fts([column], tokenize=schema.SEARCH_BY)
    for statement in schema.SEARCH_KEPT_UP:
        connection.execute(statement)


def _drop(connection: sqlite3.Connection) -> None:
    tables = connection.execute(
        "SELECT type, name FROM pragma_table_list WHERE schema = 'main' AND type IN ('view', 'virtual', 'table') "
        "AND name NOT LIKE 'sqlite^_%' ESCAPE '^' "
    ).fetchall()
    for kind, name in sorted(tables, key=lambda row: ("view", "virtual", "table").index(row[0])):
        if name not in _KEPT:
            connection.execute(f'DROP {"VIEW" if kind == "view" else "TABLE"} "{name}"')
