"""A book's tables as they stood at a moment: views of the same names over the same file.

A *past file* is a second connection to a book.  Each table is hidden behind a temporary view of the same name that
leaves out what happened after the moment, so that whatever reads a book reads its past by the same SQL and the same
indexes, at the cost of what is asked for.  Where a view cannot tell it by itself, rows are taken out and put in over
it; they stand in temporary tables beside it, and the book is never touched.  Holds and lines are worked out when
somebody asks for them.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from upkeep.store.disk.connecting import spoken
from upkeep.store.file import BookFile
from upkeep.store.queries import Parameters
from upkeep.store.rows.counts import MADE_WHILE_STILL
from upkeep.store.rows.definitions import DEFINITIONS, WITHOUT_EFFECT, DefinitionRow
from upkeep.store.rows.lines import LINES, LineRow
from upkeep.store.rows.places import STAYS
from upkeep.store.rows.signatures import STANDINGS, StandingRow
from upkeep.store.rows.table import Table
from upkeep.store.schema import SEARCH_BY
from upkeep.store.shown import SHOWN, Dial, entries, select

_DIAL = Dial("(SELECT at FROM temp.moment)", "(SELECT item FROM temp.unknown)")

_ALWAYS_OVER = frozenset({STAYS.name, MADE_WHILE_STILL.name})
"""Written over at every moment: the strokes at the edges of stays, and whether a counter stood still, are told by
counts of later."""

_TALLIED = (
    "DELETE FROM temp.tallies",
    "INSERT INTO temp.tallies SELECT standing, count(*) FROM temp.lines GROUP BY 1",
)
_TO_BE_FOUND = (
    "DELETE FROM temp.lines_fts",
    "INSERT INTO temp.lines_fts (rowid, searched) SELECT id, searched FROM temp.lines",
)

_INDEXED = re.compile(r" INDEXED BY \w+")


class PastFile(BookFile):
    """A second connection to a book's file that shows its tables as they stood at one moment.

    ``at`` leaves out what happened later; ``through`` and ``written`` leave out entries with a higher number, or
    written later.  Where these take the effect of anything, whoever made this says so with ``rewrite`` and writes into
    the tables what they would hold without; it goes over the views, not into the book.  ``spare`` is a past of the same
    state of the book that was left: its connection is taken over, with the views and the queries it knows.
    """

    schema = "temp"

    def __init__(
        self, file: BookFile, at: str, through: int, written: str, *, rewrite: bool, spare: PastFile | None = None
    ) -> None:
        taken = spare.connection if spare is not None and spare.rewrite == rewrite else None
        super().__init__(file.path, taken or file.another_connection(), in_file=False)
        self.rewrite: bool = rewrite
        self._standing: Callable[[Sequence[str]], Iterable[StandingRow]] = lambda items: ()
        self._lines: Callable[[str | None], Iterable[LineRow]] = lambda item: ()
        self._lined: set[str | None] = set()
        self._searched = False
        self._held: set[str] = set()
        with spoken(self.path):
            if taken is None:
                self.connection.executescript(_made_of(rewrite))
            self.connection.execute("BEGIN")  # all that is asked of it sees one state of the book
            self.connection.execute("INSERT INTO temp.moment VALUES (?, ?, ?)", (at, through, written))

    def parts_of(self, table: Table[NamedTuple]) -> tuple[str, ...]:
        """What was left of a table that was written over, and what was put in: of both together SQLite would read all
        where it looks for the rows of many."""
        over = self.rewrite or table.name in _ALWAYS_OVER
        return (f"{table.name}_left", f"{table.name}_added") if over else (table.name,)

    def left(self) -> PastFile:
        """This past when nobody reads it any more: emptied, and without a hold on any state of the book."""
        self.connection.execute("ROLLBACK")
        return self

    def define(self, rows: Iterable[DefinitionRow], unknown: Iterable[str]) -> None:
        """Puts in the definitions in force then, and the items that nobody had defined yet."""
        self.connection.executemany(DEFINITIONS.insert, rows)
        self.connection.executemany("INSERT INTO temp.unknown VALUES (?)", ((item,) for item in unknown))

    def worked_out_by(
        self,
        standing: Callable[[Sequence[str]], Iterable[StandingRow]],
        lines: Callable[[str | None], Iterable[LineRow]],
    ) -> None:
        """Takes what gives the holds and pauses of items, and the lines of one item or of all (None)."""
        self.connection.execute("DELETE FROM temp.standings")
        self._held.clear()
        self._standing, self._lines = standing, lines

    def standings_wanted(self, item: str | None = None) -> None:
        """Works out the hold and pause of an item, or of all, unless that was done before."""
        wanted = [item] if item is not None else self.values("SELECT key FROM temp.definitions WHERE what = 'item'")
        wanted = [key for key in wanted if key not in self._held]
        if wanted:
            self._held.update(wanted)
            self.connection.executemany(STANDINGS.insert, list(self._standing(wanted)))

    def lines_wanted(self, item: str | None = None) -> None:
        """Works out the lines of an item, or all, unless that was done before."""
        if None in self._lined or item in self._lined:
            return
        if item is None:
            self.connection.execute("DELETE FROM temp.lines")
        self.connection.executemany(LINES.insert, list(self._lines(item)))
        self._lined.add(item)
        self._searched = False
        for statement in _TALLIED:
            self.connection.execute(statement)

    def search_wanted(self) -> None:
        """Lets the lines worked out be found by words, unless that was done before."""
        if not self._searched:
            self._searched = True
            for statement in _TO_BE_FOUND:
                self.connection.execute(statement)

    def _run(self, sql: str, parameters: Parameters) -> sqlite3.Cursor:
        return self.connection.execute(_unhinted(sql), parameters)


@lru_cache(maxsize=256)
def _unhinted(sql: str) -> str:
    """A query of a view, which takes no hint by which index to look."""
    return _INDEXED.sub("", sql)


def _made_of(rewrite: bool) -> str:
    temporary = [
        "CREATE TEMP TABLE moment (at TEXT NOT NULL, number INTEGER NOT NULL, written TEXT NOT NULL)",
        "CREATE TEMP TABLE unknown (item TEXT PRIMARY KEY) WITHOUT ROWID",
        f"CREATE TEMP TABLE definitions ({DEFINITIONS.typed}, PRIMARY KEY (what, key)) WITHOUT ROWID",
        f"CREATE TEMP TABLE standings ({STANDINGS.typed}, PRIMARY KEY (item, what)) WITHOUT ROWID",
        f"CREATE TEMP TABLE lines (id INTEGER PRIMARY KEY, {LINES.typed})",
        f"CREATE VIRTUAL TABLE temp.lines_fts USING fts5(searched, tokenize = '{SEARCH_BY}')",
        "CREATE TEMP TABLE tallies (standing TEXT PRIMARY KEY, lines INTEGER NOT NULL)",
        f"CREATE TEMP VIEW entries AS {entries('main', _DIAL)}"
        " AND id <= (SELECT number FROM temp.moment) AND recorded_at <= (SELECT written FROM temp.moment)",
        "CREATE TEMP VIEW where_things_hang AS "
        "SELECT item, inside, start AS since_utc FROM temp.fittings WHERE until IS NULL",
    ]
    if rewrite:
        temporary += _over(WITHOUT_EFFECT, f"SELECT {WITHOUT_EFFECT.named} FROM main.{WITHOUT_EFFECT.name} b WHERE 1")
    for shown in SHOWN:
        stood = select(shown, "main", _DIAL, confirmed=True)
        if rewrite or shown.table.name in _ALWAYS_OVER:
            temporary += _over(shown.table, stood)
        else:
            temporary.append(f"CREATE TEMP VIEW {shown.table.name} AS {stood}")
    return ";\n".join(temporary) + ";"


def _over(table: Table[NamedTuple], select: str) -> Sequence[str]:
    """A view that rows can be taken out of and put into; both is kept in temporary tables beside it."""
    name, key = table.name, ", ".join(table.key)
    same = " AND ".join(f"g.{column} = b.{column}" for column in table.key)
    old = " AND ".join(f"{column} = OLD.{column}" for column in table.key)
    return (
        f"CREATE TEMP TABLE {name}_gone ({key}, PRIMARY KEY ({key})) WITHOUT ROWID",
        f"CREATE TEMP TABLE {name}_added ({table.typed}, PRIMARY KEY ({key})) WITHOUT ROWID",
        f"CREATE TEMP VIEW {name}_left AS {select} AND NOT EXISTS (SELECT 1 FROM temp.{name}_gone g WHERE {same})",
        f"CREATE TEMP VIEW {name} AS SELECT * FROM temp.{name}_left "
        f"UNION ALL SELECT {table.named} FROM temp.{name}_added",
        f"CREATE TEMP TRIGGER {name}_in INSTEAD OF INSERT ON {name} BEGIN "
        f"INSERT OR REPLACE INTO {name}_added VALUES ({', '.join(f'NEW.{column}' for column in table.columns)}); END",
        f"CREATE TEMP TRIGGER {name}_out INSTEAD OF DELETE ON {name} BEGIN "
        f"DELETE FROM {name}_added WHERE {old}; "
        f"INSERT OR IGNORE INTO {name}_gone VALUES ({', '.join(f'OLD.{column}' for column in table.key)}); END",
    )
