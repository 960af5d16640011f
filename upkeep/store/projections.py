"""The projections: marks, fittings, stays, sign-offs, holds, definitions - all made from entries, none typed in.

What has not ended has no ``until``; it is looked up as ``ifnull(until, '~')``, later than every moment, so that an
index finds the few rows that last without a walk through all that ended.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from operator import itemgetter
from typing import Any, NamedTuple

from upkeep.store.told import Told

Row = tuple[Any, ...]

TABLES = (
    "definitions", "without_effect", "terms", "marks", "made", "besides", "reworks", "orders", "stated", "measured",
    "misreads", "disposals", "narrowings", "overrides", "faults", "repairs", "retired", "pictures", "fittings",
    "stays", "sign_offs", "deferrals", "happenings", "standings", "lines",
)  # fmt: skip
"""Every projection, in an order in which they can be compared."""


class Column(NamedTuple):
    """A column of a projection, and whether it belongs to the key of a row."""

    name: str
    is_key: bool


class Projections(Told):
    """Reads and replaces rows of projections by what they belong to.  Rows are tuples in the order of the columns."""

    # Definitions

    def define(self, rows: Iterable[Row]) -> None:
        """Puts definitions (what, key, content, since, entry) in force."""
        self._many(
            "INSERT INTO definitions VALUES (?, ?, ?, ?, ?) ON CONFLICT (what, key) DO UPDATE SET "
            "content = excluded.content, entry = excluded.entry",
            rows,
        )

    def definitions(self) -> list[Row]:
        """All definitions in force in order: (what, key, content, since, entry)."""
        rows = self._file.rows("SELECT * FROM definitions")  # in order of the file: a walk in order jumps about in it
        return sorted(rows, key=itemgetter(0, 1))

    # Entries without effect

    def set_effect(self, lost: Iterable[tuple[int, int]], regained: Iterable[int]) -> None:
        """Marks entries as without effect (entry, through) or back in effect."""
        self._many("DELETE FROM without_effect WHERE entry = ?", ((entry,) for entry in regained))
        self._many("INSERT OR REPLACE INTO without_effect VALUES (?, ?)", lost)

    def effect_lost_through(self, entry: int) -> int | None:
        """The entry that took the effect of another one; None: it is in effect."""
        row = self._file.row("SELECT through FROM without_effect WHERE entry = ?", (entry,))
        return row[0] if row else None

    # Marks: press, at, entry, value, rolled_over, after_reset, restart, pieces, total

    def add_marks(self, rows: Sequence[Row]) -> None:
        """Adds marks (press, at, entry, value, rolled_over, after_reset, restart, pieces, total)."""
        self._many("INSERT INTO marks VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)

    def drop_marks(self, press: str, from_at: str) -> None:
        """Removes the marks of a press from a moment on, to be made again."""
        self._one("DELETE FROM marks WHERE press = ? AND at >= ?", (press, from_at))

    def mark_at(self, press: str, at: str) -> Row | None:
        """The last mark at or before a moment."""
        return self._file.row(
            "SELECT * FROM marks WHERE press = ? AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1", (press, at)
        )

    def mark_before(self, press: str, at: str) -> Row | None:
        """The last mark before a moment."""
        return self._file.row(
            "SELECT * FROM marks WHERE press = ? AND at < ? ORDER BY at DESC, entry DESC LIMIT 1", (press, at)
        )

    def mark_after(self, press: str, at: str) -> Row | None:
        """The first mark after a moment."""
        return self._file.row("SELECT * FROM marks WHERE press = ? AND at > ? ORDER BY at, entry LIMIT 1", (press, at))

    def last_mark(self, press: str) -> Row | None:
        """The latest mark of a press."""
        return self._file.row("SELECT * FROM marks WHERE press = ? ORDER BY at DESC, entry DESC LIMIT 1", (press,))

    def mark_reaching(self, press: str, total: int) -> Row | None:
        """The first mark of a press at or over a running total."""
        return self._file.row(
            "SELECT * FROM marks INDEXED BY marks_by_total WHERE press = ? AND total >= ? ORDER BY total, at LIMIT 1",
            (press, total),
        )

    def marks_since(self, press: str, at: str) -> list[Row]:
        """The marks of a press from a moment on, in order."""
        return self._file.rows("SELECT * FROM marks WHERE press = ? AND at >= ? ORDER BY at, entry", (press, at))

    def newest_marks(self, press: str, limit: int) -> list[Row]:
        """The latest marks of a press, newest first."""
        return self._file.rows(
            "SELECT * FROM marks WHERE press = ? ORDER BY at DESC, entry DESC LIMIT ?", (press, limit)
        )

    def first_mark(self, press: str) -> Row | None:
        """The first mark of a press."""
        return self._file.row("SELECT * FROM marks WHERE press = ? ORDER BY at, entry LIMIT 1", (press,))

    def last_marks(self) -> list[Row]:
        """The latest mark of every press that was ever read."""
        return self._file.rows(
            "WITH RECURSIVE p (press) AS (SELECT min(press) FROM marks UNION ALL "
            "SELECT (SELECT min(press) FROM marks WHERE press > p.press) FROM p WHERE p.press IS NOT NULL) "
            "SELECT m.* FROM p JOIN marks m ON (m.press, m.at, m.entry) = (SELECT x.press, x.at, x.entry FROM marks x "
            "WHERE x.press = p.press ORDER BY x.at DESC, x.entry DESC LIMIT 1) WHERE p.press IS NOT NULL"
        )

    # Fittings: item, start, started_by, inside, until, ended_by, left_to

    def replace_fittings(self, item: str, from_start: str, rows: Sequence[Row]) -> None:
        """Replaces the fittings of an item that start at a moment or later."""
        self._one("DELETE FROM fittings WHERE item = ? AND start >= ?", (item, from_start))
        self._many("INSERT INTO fittings VALUES (?, ?, ?, ?, ?, ?, ?)", rows)

    def fittings_of(self, item: str, ending_after: str = "") -> list[Row]:
        """The fittings of an item that have not ended by a moment, in order."""
        return self._file.rows(
            "SELECT * FROM fittings WHERE item = ? AND ifnull(until, '~') > ? ORDER BY start, started_by",
            (item, ending_after),
        )

    def fittings_in(self, inside: str, ending_after: str = "") -> list[Row]:
        """The fittings of whatever sat in an item and has not left it by a moment, in order."""
        return self._file.rows(
            "SELECT * FROM fittings WHERE inside = ? AND ifnull(until, '~') > ? ORDER BY start, started_by",
            (inside, ending_after),
        )

    def last_fitting(self, item: str) -> Row | None:
        """The latest fitting of an item, ended or not."""
        return self._file.row(
            "SELECT * FROM fittings WHERE item = ? ORDER BY start DESC, started_by DESC LIMIT 1", (item,)
        )

    def hanging(self) -> list[Row]:
        """What sits in what now: (item, inside)."""
        return self._file.rows("SELECT item, inside FROM fittings WHERE until IS NULL ORDER BY item")

    def inside_now(self, inside: str) -> list[tuple[str, str]]:
        """What sits in an item now, and since when."""
        rows = self._file.rows(
            "SELECT item, start FROM fittings WHERE inside = ? AND until IS NULL ORDER BY start, item", (inside,)
        )
        return [(row[0], row[1]) for row in rows]

    # Stays: item, start, press, until, start_low/best/high, end_low/best/high, before_low/best/high

    def replace_stays(self, item: str, from_end: str, rows: Sequence[Row]) -> None:
        """Replaces the stays of an item that have not ended before a moment."""
        self._one("DELETE FROM stays WHERE item = ? AND ifnull(until, '~') >= ?", (item, from_end))
        self._many("INSERT INTO stays VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)

    def stay_ended_before(self, item: str, at: str) -> Row | None:
        """The last stay of an item that ended before a moment."""
        return self._file.row(
            "SELECT * FROM stays WHERE item = ? AND until < ? ORDER BY start DESC LIMIT 1", (item, at)
        )

    def stay_from(self, item: str, at: str) -> Row | None:
        """The last stay of an item that starts at or before a moment."""
        return self._file.row(
            "SELECT * FROM stays WHERE item = ? AND start <= ? ORDER BY start DESC LIMIT 1", (item, at)
        )

    def stay_after(self, item: str, at: str) -> Row | None:
        """The first stay of an item that starts after a moment."""
        return self._file.row("SELECT * FROM stays WHERE item = ? AND start > ? ORDER BY start LIMIT 1", (item, at))

    def stay_with(self, item: str, strokes: int) -> Row | None:
        """The last stay of an item that began with fewer strokes than a number."""
        return self._file.row(
            "SELECT * FROM stays INDEXED BY stays_by_strokes WHERE item = ? AND before_best < ? "
            "ORDER BY before_best DESC, start DESC LIMIT 1",
            (item, strokes),
        )

    def stays_of(self, item: str, from_end: str = "") -> list[Row]:
        """The stays of an item that have not ended before a moment, in order."""
        return self._file.rows(
            "SELECT * FROM stays WHERE item = ? AND ifnull(until, '~') >= ? ORDER BY start", (item, from_end)
        )

    def items_staying(self, press: str, from_at: str) -> list[str]:
        """The items with a stay on a press that has not ended before a moment."""
        rows = self._file.rows(
            "SELECT DISTINCT item FROM stays WHERE press = ? AND ifnull(until, '~') >= ? ORDER BY item",
            (press, from_at),
        )
        return [row[0] for row in rows]

    def items_with_edge_from(self, press: str, moment: str) -> list[str]:
        """The items whose stay on a press begins or ends at a moment or later."""
        rows = self._file.rows(
            "SELECT item FROM stays WHERE press = :press AND until >= :moment UNION "
            "SELECT item FROM stays WHERE press = :press AND start >= :moment ORDER BY 1",
            {"press": press, "moment": moment},
        )
        return [row[0] for row in rows]

    def items_with_guesses(self) -> list[str]:
        """The items with a stay of which an edge had to be guessed."""
        rows = self._file.rows(
            "SELECT DISTINCT item FROM stays WHERE start_low <> start_high OR end_low <> end_high ORDER BY item"
        )
        return [row[0] for row in rows]

    def guessed_edges(self) -> list[Row]:
        """The moments at which something moved on a press and its count was not read: (press, moment, items)."""
        return self._file.rows(
            "SELECT press, moment, group_concat(item, ', ') FROM ("
            "SELECT press, start AS moment, item FROM stays WHERE start_low <> start_high UNION "
            "SELECT press, until, item FROM stays WHERE end_low <> end_high ORDER BY 3) "
            "GROUP BY press, moment ORDER BY moment"
        )

    def strokes_on(self, press: str, items: Sequence[str]) -> list[Row]:
        """The stays of some items on a press."""
        marks = ", ".join("?" * len(items))
        return self._file.rows(f"SELECT * FROM stays WHERE press = ? AND item IN ({marks})", (press, *items))

    # Sign-offs: item, task, at, entry, by, occurrence, grade, how, verified_by, verified_through, points

    def replace_sign_offs(self, item: str, task: str, from_at: str, rows: Sequence[Row]) -> None:
        """Replaces the sign-offs of a line from a moment on."""
        self._one("DELETE FROM sign_offs WHERE item = ? AND task = ? AND at >= ?", (item, task, from_at))
        self._many("INSERT INTO sign_offs VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[Row]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        return self._file.rows(
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND how = ? "
            "ORDER BY at DESC, entry DESC LIMIT ?",
            (item, task, how, limit),
        )

    def sign_offs_from(self, item: str, task: str, from_at: str) -> list[Row]:
        """The sign-offs and cancellations of a line that answer an occurrence, from a moment on, in order."""
        return self._file.rows(
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND at >= ? "
            "ORDER BY at, entry",
            (item, task, from_at),
        )

    def sign_off_for(self, item: str, task: str, occurrence: str) -> Row | None:
        """The sign-off in effect that answers an occurrence of a line."""
        return self._file.row(
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence = ? ORDER BY at DESC LIMIT 1",
            (item, task, occurrence),
        )

    def last_graded(self, item: str, least: int = 0) -> Row | None:
        """The latest graded sign-off of an item with at least a grade."""
        return self._file.row(
            "SELECT * FROM sign_offs WHERE item = ? AND grade >= ? ORDER BY at DESC, entry DESC LIMIT 1", (item, least)
        )

    def replace_deferrals(self, item: str, task: str, rows: Sequence[Row]) -> None:
        """Replaces the deferrals of a line (item, task, occurrence, later, by, at, entry)."""
        self._one("DELETE FROM deferrals WHERE item = ? AND task = ?", (item, task))
        self._many("INSERT INTO deferrals VALUES (?, ?, ?, ?, ?, ?, ?)", rows)

    def deferrals_of(self, item: str, task: str) -> list[Row]:
        """The deferrals of a line, in order."""
        return self._file.rows("SELECT * FROM deferrals WHERE item = ? AND task = ? ORDER BY at, entry", (item, task))

    # Happenings: item, what, at, entry

    def replace_happenings(self, item: str, rows: Sequence[Row]) -> None:
        """Replaces what happened to an item."""
        self._one("DELETE FROM happenings WHERE item = ?", (item,))
        self._many("INSERT INTO happenings VALUES (?, ?, ?, ?)", rows)

    def last_happening(self, item: str, what: str, before: str) -> Row | None:
        """The latest event of a kind on an item before a moment."""
        return self._file.row(
            "SELECT * FROM happenings WHERE item = ? AND what = ? AND at < ? ORDER BY at DESC, entry DESC LIMIT 1",
            (item, what, before),
        )

    def last_change_in(self, inside: str) -> tuple[str, int] | None:
        """The latest moment at which something was put into or taken out of an item, with the entry."""
        row = self._file.row(
            "SELECT at, entry FROM ("
            "SELECT * FROM (SELECT start AS at, started_by AS entry FROM fittings WHERE inside = :inside "
            "ORDER BY start DESC, started_by DESC LIMIT 1) UNION ALL "
            "SELECT * FROM (SELECT until AS at, ended_by AS entry FROM fittings WHERE inside = :inside "
            "AND until IS NOT NULL ORDER BY until DESC, ended_by DESC LIMIT 1)) ORDER BY at DESC, entry DESC LIMIT 1",
            {"inside": inside},
        )
        return (row[0], row[1]) if row else None

    # Standings: item, what, since, reason, entry

    def replace_standings(self, item: str, rows: Sequence[Row]) -> None:
        """Replaces the holds and pauses in force on an item."""
        self._one("DELETE FROM standings WHERE item = ?", (item,))
        self._many("INSERT INTO standings VALUES (?, ?, ?, ?, ?)", rows)

    def standings_of(self, item: str) -> list[Row]:
        """The holds and pauses in force on an item."""
        return self._file.rows("SELECT * FROM standings WHERE item = ?", (item,))

    def holds(self) -> list[Row]:
        """Every hold in force."""
        return self._file.rows("SELECT * FROM standings WHERE what = 'hold' ORDER BY since")

    def fill(self, tables: dict[str, list[Row]]) -> None:
        """Writes whole projections (all but the lines) into an empty book."""
        for name in TABLES:
            if name != "lines" and tables[name]:
                marks = ", ".join("?" * len(tables[name][0]))
                self._many(f"INSERT INTO {name} VALUES ({marks})", tables[name])

    def table(self, name: str) -> list[Row]:
        """A whole projection in a fixed order, to be compared with a replay."""
        names = ", ".join(column.name for column in self.columns(name))
        return self._file.rows(f"SELECT {names} FROM {name} ORDER BY 1, 2")

    def columns(self, name: str) -> list[Column]:
        """The columns of a projection in order, but for a number that only the file gives to its rows."""
        info = self._file.rows(f"PRAGMA table_info({name})")
        if name == "lines":
            return [Column(row[1], row[1] == "line") for row in info if row[1] != "id"]
        return [Column(row[1], row[5] > 0) for row in info]

    def _one(self, sql: str, parameters: Row) -> None:
        self._file.connection.execute(sql, parameters)

    def _many(self, sql: str, rows: Iterable[Row]) -> None:
        self._file.connection.executemany(sql, rows)
