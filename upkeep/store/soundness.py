"""Whether the file itself is sound: what SQLite finds in it, its schema, the tally of lines and the words to find them.

A comparison of tables with the entries does not look into indexes, and a board is read through them.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager

from upkeep.said import Said, said
from upkeep.store import named, schema, tables
from upkeep.store.disk.heeding import Heeding
from upkeep.store.file import BookFile

_MOST = 20
"""So many findings of one kind are told; more help nobody."""

_OBJECTS = (
    "SELECT type, name, sql FROM main.sqlite_master WHERE name NOT LIKE 'sqlite^_%' ESCAPE '^' ORDER BY type, name"
)

_TALLIES = (
    "SELECT standing, sum(kept), sum(there) FROM (SELECT standing, lines AS kept, 0 AS there FROM tallies NOT INDEXED "
    "UNION ALL SELECT standing, 0, count(*) FROM lines NOT INDEXED GROUP BY 1) GROUP BY 1 "
    "HAVING sum(kept) <> sum(there)"
)


def unsound(file: BookFile, heeding: Heeding) -> Iterator[Said]:
    """What is wrong with a file whose tables are of today, as sentences; nothing in it is changed.

    ``heeding`` listens to connections of its own too.
    Raises what SQLite reports where it cannot even be read.
    """
    yield from _reported(file)
    yield from _otherwise_made(file)
    yield from not_to_find(file, heeding)


def unlike_their_lines(file: BookFile) -> Iterator[Said]:
    """Which tables that are made beside the lines and definitions do not say what those do."""
    for standing, kept, there in file.rows(_TALLIES):
        yield said(
            "The tally says {kept} lines are {standing}; there are {there}.",
            kept=str(kept),  # in a damaged file these may be anything
            standing=str(standing),
            there=str(there),
        )
    for table in named.astray(file.connection):
        yield said("The table {table} does not say what the definitions do.", table=table)


def _reported(file: BookFile) -> Iterator[Said]:
    for (finding,) in file.rows(f"PRAGMA main.integrity_check({_MOST})"):
        if finding != "ok":
            yield said("The file is damaged: {finding}.", finding=str(finding))
    for table, row, parent, _ in file.rows("PRAGMA main.foreign_key_check")[:_MOST]:
        yield said(
            "{table} has a row ({row}) that refers to something missing in {parent}.",
            table=str(table),
            row=str(row),
            parent=str(parent),
        )


def _otherwise_made(file: BookFile) -> Iterator[Said]:
    """Tables, indexes, views and triggers that are missing or not as this program makes them; triggers it never made.

    A table, index or view that somebody has added for themselves changes no answer.
    """
    expected, kept = _as_made(), _objects(file.connection)
    for (kind, name), sql in expected.items():
        if (kind, name) not in kept:
            yield said("The file lacks the {kind} {name}.", kind=kind, name=name)
        elif kept[kind, name] != sql:
            yield said("The {kind} {name} is not as this program makes it.", kind=kind, name=name)
    for kind, name in kept:
        if kind == "trigger" and (kind, name) not in expected:
            yield said("The trigger {name} does not belong to this program.", name=name)


def _as_made() -> dict[tuple[str, str], str]:
    from sqlite_utils import Database  # loaded here alone: 0.2 s, for a proof

    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        schema.steps().apply(Database(connection, execute_plugins=False))
        tables.make_again(connection)
        tables.make_indexes(connection)
        return _objects(connection)


def _objects(connection: sqlite3.Connection) -> dict[tuple[str, str], str]:
    """The SQL of everything by kind and name, however it is spaced; of what libraries make within, the name alone."""
    table, _ = schema.SEARCH
    inner = (f"{table}_fts_", "_")
    return {
        (kind, name): "" if name.startswith(inner) else " ".join(sql.split())
        for kind, name, sql in connection.execute(_OBJECTS)
    }


def not_to_find(file: BookFile, heeding: Heeding) -> Iterator[Said]:
    """Parts of words by which lines are not found, or are found wrongly.

    A copy of the search is asked whether it is that of the lines: the file is only read, and ``integrity_check`` does
    not look into it.  That asks from first to last; each part of a word is looked up besides.  Where something is wrong
    the search is made anew and compared, place by place, which takes much longer.
    """
    table, column = schema.SEARCH
    why, wrong = "", list[str]()
    try:
        # Of its own: after a search that is damaged a connection does not even end its reading.
        with closing(file.another_connection()) as kept, heeding.over(kept):
            kept.execute("BEGIN")
            lines = kept.execute(f"SELECT id, {column} FROM main.{table} NOT INDEXED").fetchall()
            why = _search_unlike(kept, lines, heeding)
            if why or not _all_looked_up(kept, lines):
                with closing(_search_of(lines)) as anew, heeding.over(anew):
                    wrong = list(_terms_otherwise(kept, anew))
    except sqlite3.DatabaseError as error:
        why = str(error)
    if why and not wrong:
        yield said("The search for lines is damaged: {why}.", why=why)
    elif wrong:
        yield said(
            "The search does not find the lines it should: {n} parts of words are wrong, the first is {term}.",
            n=len(wrong),
            term=repr(wrong[0]),
        )


_WITHIN = ("data", "idx", "docsize", "config")
"""The tables in which SQLite's full-text search keeps itself, by the ends of their names (FTS5's shadow tables; their
names and the check of them are those of SQLite's page "SQLite FTS5 Extension", from memory)."""


def _search_unlike(kept: sqlite3.Connection, lines: Sequence[tuple[int, str]], heeding: Heeding) -> str:
    """What SQLite finds wrong with a copy of the search beside the lines; empty where it is what they make it."""
    table, column = schema.SEARCH
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as copy, heeding.over(copy):
        copy.execute("BEGIN")
        copy.execute(f"CREATE TABLE {table} (id INTEGER PRIMARY KEY, {column} TEXT)")
        copy.executemany(f"INSERT INTO {table} VALUES (?, ?)", lines)
        copy.execute(
            f"CREATE VIRTUAL TABLE {table}_fts USING "
            f"fts5({column}, content = '{table}', content_rowid = 'id', tokenize = '{schema.SEARCH_BY}')"
        )
        for name in _WITHIN:
            rows = kept.execute(f"SELECT * FROM main.{table}_fts_{name}")
            copy.execute(f"DELETE FROM {table}_fts_{name}")
            copy.executemany(f"INSERT INTO {table}_fts_{name} VALUES ({', '.join('?' * len(rows.description))})", rows)
        copy.execute("COMMIT")
        try:
            copy.execute(f"INSERT INTO {table}_fts ({table}_fts, rank) VALUES ('integrity-check', 1)")
        except sqlite3.DatabaseError as error:
            return str(error)
    return ""


def _all_looked_up(kept: sqlite3.Connection, lines: Sequence[tuple[int, str]]) -> bool:
    """Whether each part of a word is found by looking it up, as often as it stands somewhere: the way to it is no part
    of what SQLite compares."""
    found = "SELECT doc, cnt FROM temp.terms WHERE term = ?"
    with _terms_shown(kept):
        terms = kept.execute("SELECT term, doc, cnt FROM temp.terms").fetchall()
        if sum(often for _, _, often in terms) != sum(max(0, len(searched) - 2) for _, searched in lines):
            return False
        return all(kept.execute(found, (term,)).fetchone() == (docs, often) for term, docs, often in terms)


def _search_of(lines: Sequence[tuple[int, str]]) -> sqlite3.Connection:
    table, column = schema.SEARCH
    anew = sqlite3.connect(":memory:", isolation_level=None)
    anew.execute(f"CREATE VIRTUAL TABLE {table}_fts USING fts5({column}, tokenize = '{schema.SEARCH_BY}')")
    anew.executemany(f"INSERT INTO {table}_fts (rowid, {column}) VALUES (?, ?)", lines)
    return anew


def _terms_otherwise(kept: sqlite3.Connection, anew: sqlite3.Connection) -> Iterator[str]:
    with _terms_shown(kept), _terms_shown(anew):
        found = [{term for (term,) in each.execute("SELECT term FROM temp.terms")} for each in (kept, anew)]
        yield from sorted(found[0] ^ found[1])
        for term in sorted(found[0] & found[1]):
            places = (each.execute(_PLACES, (term,)).fetchone() for each in (kept, anew))
            if next(places) != next(places):
                yield term


_PLACES = "SELECT group_concat(doc || ' ' || offset) FROM temp.instances WHERE term = ?"
"""Where a part of a word stands, looked up as a search looks it up."""


@contextmanager
def _terms_shown(connection: sqlite3.Connection) -> Iterator[None]:
    """For a while, the parts of words a search knows and where each stands, as temporary tables of a connection."""
    source = f"main, {schema.SEARCH[0]}_fts"
    try:
        connection.execute(f"CREATE VIRTUAL TABLE temp.terms USING fts5vocab({source}, 'row')")
        connection.execute(f"CREATE VIRTUAL TABLE temp.instances USING fts5vocab({source}, 'instance')")
        yield
    finally:
        for name in ("terms", "instances"):
            connection.execute(f"DROP TABLE IF EXISTS temp.{name}")
