"""The projections: marks, fittings, stays, sign-offs, holds, definitions - all made from entries, none typed in.

What has not ended has no ``until``; it is looked up as ``ifnull(until, '~')``, later than every moment, so that an
index finds the few rows that last without a walk through all that ended.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from upkeep.entries.standing import Standing
from upkeep.store.rows.counts import MARKS, MarkRow
from upkeep.store.rows.definitions import DEFINITIONS, IN_EFFECT, DefinitionRow, Moment
from upkeep.store.rows.places import FITTINGS, Content, FittingRow, Hanging, PutRow
from upkeep.store.rows.projections import PROJECTIONS
from upkeep.store.rows.signatures import (
    DEFERRALS,
    HAPPENINGS,
    SIGN_OFFS,
    STANDINGS,
    DeferralRow,
    HappeningRow,
    SignOffRow,
    StandingRow,
)
from upkeep.store.rows.table import R, Table
from upkeep.store.under_way import WhatIsUnderWay

_THIS_SIGN_OFF = " AND ".join(f"{column} = ?" for column in SIGN_OFFS.key)


class Projections(WhatIsUnderWay):
    """Reads and replaces rows of projections by what they belong to."""

    # Definitions

    def define(self, rows: Iterable[DefinitionRow]) -> None:
        """Puts definitions in force; ``since`` of one that was there stays."""
        self._many(
            f"{DEFINITIONS.insert} ON CONFLICT (what, key) DO UPDATE SET "
            "content = excluded.content, entry = excluded.entry",
            rows,
        )

    def definitions(self) -> list[DefinitionRow]:
        """All definitions in force, by what and key."""
        # Read in order of the file: a walk in order of the key jumps about in it.
        return sorted(self._file.all(DefinitionRow, "SELECT * FROM definitions"))

    def names_given(self) -> list[tuple[str, int, str]]:
        """Every name that somebody was ever given: their id, the entry that says so, the name."""
        return self._file.rows("SELECT key, entry, json_extract(content, '$.name') FROM defined WHERE what = 'person'")

    # Entries without effect

    def set_effect(self, lost: Iterable[tuple[int, int]], regained: Iterable[int]) -> None:
        """Marks entries as without effect, each with the entry through which it lost it, or back in effect."""
        self._many("DELETE FROM without_effect WHERE entry = ?", ((entry,) for entry in regained))
        self._many("INSERT OR REPLACE INTO without_effect VALUES (?, ?)", lost)

    def effect_lost_through(self, entry: int) -> int | None:
        """The entry that took the effect of another one; None: it is in effect."""
        through: int | None = self._file.value("SELECT through FROM without_effect WHERE entry = ?", (entry,))
        return through

    def last_moment(self) -> str | None:
        """The latest ``at`` of any entry in effect, as the file writes moments; None in an empty book."""
        row = self._file.row(f"SELECT at FROM entries WHERE {IN_EFFECT} ORDER BY at DESC LIMIT 1")
        last: str | None = row[0] if row else None
        return last

    # Marks

    def add_marks(self, rows: Sequence[MarkRow]) -> None:
        """Adds marks; one for each count of a press, ``total`` in strokes since its first."""
        self._many(MARKS.insert, rows)

    def drop_marks(self, press: str, from_at: str) -> None:
        """Removes the marks of a press from a moment on, to be made again."""
        self._one("DELETE FROM marks WHERE press = ? AND at >= ?", (press, from_at))

    def mark_at(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press at or before a moment; None where it was not counted by then."""
        return self._file.first(
            MarkRow, "SELECT * FROM marks WHERE press = ? AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1", (press, at)
        )

    def mark_before(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press before a moment; None where it was not counted before."""
        return self._file.first(
            MarkRow, "SELECT * FROM marks WHERE press = ? AND at < ? ORDER BY at DESC, entry DESC LIMIT 1", (press, at)
        )

    def mark_after(self, press: str, at: str) -> MarkRow | None:
        """The first mark of a press after a moment; None where it was not counted since."""
        return self._file.first(
            MarkRow, "SELECT * FROM marks WHERE press = ? AND at > ? ORDER BY at, entry LIMIT 1", (press, at)
        )

    def last_mark(self, press: str) -> MarkRow | None:
        """The latest mark of a press; None where it was never counted."""
        return self._file.first(
            MarkRow, "SELECT * FROM marks WHERE press = ? ORDER BY at DESC, entry DESC LIMIT 1", (press,)
        )

    def marks_in_doubt(self, after: str) -> list[MarkRow]:
        """The marks of all presses after a moment that end a step whose strokes had to be guessed."""
        return self._file.all(
            MarkRow, "SELECT * FROM marks WHERE doubt IS NOT NULL AND at > ? ORDER BY at, press, entry", (after,)
        )

    def mark_reaching(self, press: str, total: int) -> MarkRow | None:
        """The first mark of a press at or over a running total of strokes; None where it has not come so far."""
        return self._file.first(
            MarkRow,
            # The last total bounds the search where a past leaves out all that would reach it.
            "SELECT * FROM marks INDEXED BY marks_by_total WHERE press = ? AND total BETWEEN ? AND (SELECT l.total "
            "FROM marks l WHERE l.press = ? ORDER BY l.at DESC, l.entry DESC LIMIT 1) ORDER BY total, at LIMIT 1",
            (press, total, press),
        )

    def marks_since(self, press: str, at: str) -> list[MarkRow]:
        """The marks of a press from a moment on, in order."""
        return self._file.all(
            MarkRow, "SELECT * FROM marks WHERE press = ? AND at >= ? ORDER BY at, entry", (press, at)
        )

    def newest_marks(self, press: str, limit: int) -> list[MarkRow]:
        """The latest marks of a press, newest first."""
        return self._file.all(
            MarkRow, "SELECT * FROM marks WHERE press = ? ORDER BY at DESC, entry DESC LIMIT ?", (press, limit)
        )

    def first_mark(self, press: str) -> MarkRow | None:
        """The first mark of a press, at which its total is 0; None where it was never counted."""
        return self._file.first(MarkRow, "SELECT * FROM marks WHERE press = ? ORDER BY at, entry LIMIT 1", (press,))

    def last_marks(self) -> list[MarkRow]:
        """The latest mark of every press that was ever read."""
        return self._file.all(
            MarkRow,
            "WITH RECURSIVE p (press) AS (SELECT min(press) FROM marks UNION ALL "
            "SELECT (SELECT min(press) FROM marks WHERE press > p.press) FROM p WHERE p.press IS NOT NULL) "
            "SELECT m.* FROM p JOIN marks m ON (m.press, m.at, m.entry) = (SELECT x.press, x.at, x.entry FROM marks x "
            "WHERE x.press = p.press ORDER BY x.at DESC, x.entry DESC LIMIT 1) WHERE p.press IS NOT NULL",
        )

    # Fittings

    def replace_fittings(self, item: str, from_start: str, rows: Sequence[FittingRow]) -> None:
        """Replaces the fittings of an item that start at a moment or later."""
        self._one("DELETE FROM fittings WHERE item = ? AND start >= ?", (item, from_start))
        self._many(FITTINGS.insert, rows)

    def fittings_of(self, item: str, ending_after: str = "") -> list[FittingRow]:
        """The fittings of an item that have not ended by a moment, in order."""
        return self._file.all(
            FittingRow,
            "SELECT * FROM fittings WHERE item = :item AND ifnull(until, '~') > :moment AND start >= ifnull("
            "(SELECT start FROM fittings WHERE item = :item AND start < :moment ORDER BY start DESC LIMIT 1), '') "
            "ORDER BY start, started_by",
            {"item": item, "moment": ending_after},
        )

    def fittings_in(self, inside: str, ending_after: str = "") -> list[FittingRow]:
        """The fittings of whatever sat in an item and has not left it by a moment, in order."""
        return self._file.all(
            FittingRow,
            "SELECT * FROM fittings WHERE inside = ? AND ifnull(until, '~') > ? ORDER BY start, started_by",
            (inside, ending_after),
        )

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        return self._file.first(
            FittingRow, "SELECT * FROM fittings WHERE item = ? ORDER BY start DESC, started_by DESC LIMIT 1", (item,)
        )

    def hanging(self) -> list[Hanging]:
        """Every fitting that lasts: item and what it sits in, by item."""
        return self._file.all(Hanging, "SELECT item, inside FROM fittings WHERE until IS NULL ORDER BY item")

    def left_at(self) -> list[PutRow]:
        """Where each item that ever came out of anything was put then, "" where nobody said, by item."""
        return self._file.all(
            PutRow,
            "SELECT item, max(until), ended_by, ifnull(left_to, ''), 0 FROM fittings WHERE until IS NOT NULL "
            "GROUP BY item ORDER BY item",
        )

    def put_at(self) -> list[PutRow]:
        """Where each item was put last while it sat in nothing, by item."""
        return self._file.all(
            PutRow,
            "SELECT * FROM puts WHERE NOT EXISTS (SELECT 1 FROM puts later WHERE later.item = puts.item "
            "AND (later.at, later.entry) > (puts.at, puts.entry)) ORDER BY item",
        )

    def inside_now(self, inside: str) -> list[Content]:
        """What sits in an item now, and since when."""
        return self._file.all(
            Content,
            "SELECT item, start FROM fittings WHERE inside = ? AND until IS NULL ORDER BY start, item",
            (inside,),
        )

    # Sign-offs

    def add_sign_off(self, row: SignOffRow) -> None:
        """Adds the row of a sign-off or cancellation."""
        self._one(SIGN_OFFS.insert, row)

    def drop_sign_off(self, row: SignOffRow) -> None:
        """Removes the row of a sign-off or cancellation, told by its line, moment and entry."""
        self._one(f"DELETE FROM sign_offs WHERE {_THIS_SIGN_OFF}", SIGN_OFFS.key_of(row))

    def has_sign_off(self, row: SignOffRow) -> bool:
        """Whether there is a row of that line, moment and entry."""
        return bool(self._file.rows(f"SELECT 1 FROM sign_offs WHERE {_THIS_SIGN_OFF}", SIGN_OFFS.key_of(row)))

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        return self._file.all(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND how = ? "
            "ORDER BY at DESC, entry DESC LIMIT ?",
            (item, task, how, limit),
        )

    def sign_offs_from(self, item: str, task: str, from_at: str) -> list[SignOffRow]:
        """The sign-offs and cancellations of a line that answer an occurrence, from a moment on, in order."""
        return self._file.all(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND at >= ? "
            "ORDER BY at, entry",
            (item, task, from_at),
        )

    def sign_off_for(self, item: str, task: str, occurrence: str) -> SignOffRow | None:
        """The sign-off in effect for an occurrence of a line; None where nobody signed it."""
        return self._file.first(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence = ? ORDER BY at DESC LIMIT 1",
            (item, task, occurrence),
        )

    def last_graded(self, item: str, least: int = 0) -> SignOffRow | None:
        """The latest sign-off of an item with at least a grade (0 as new to 4 out); None where none was as bad."""
        return self._file.first(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND grade >= ? ORDER BY at DESC, entry DESC LIMIT 1",
            (item, least),
        )

    def last_held_out(self, item: str) -> SignOffRow | None:
        """The latest sign-off of an item whose values out of limits hold it; None where none did."""
        return self._file.first(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND holds = 1 ORDER BY at DESC, entry DESC LIMIT 1",
            (item,),
        )

    def replace_deferrals(self, item: str, task: str, rows: Sequence[DeferralRow]) -> None:
        """Replaces the deferrals of a line, all its occurrences together."""
        self._one("DELETE FROM deferrals WHERE item = ? AND task = ?", (item, task))
        self._many(DEFERRALS.insert, rows)

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided; those of past occurrences among them."""
        return self._file.all(
            DeferralRow, "SELECT * FROM deferrals WHERE item = ? AND task = ? ORDER BY at, entry", (item, task)
        )

    # Happenings

    def replace_happenings(self, item: str, rows: Sequence[HappeningRow]) -> None:
        """Puts the events of an item (fitted, crashed, reworked ...) in the place of all it had."""
        self._one("DELETE FROM happenings WHERE item = ?", (item,))
        self._many(HAPPENINGS.insert, rows)

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        return self._file.first(
            HappeningRow,
            "SELECT * FROM happenings WHERE item = ? AND what = ? AND at < ? ORDER BY at DESC, entry DESC LIMIT 1",
            (item, what, before),
        )

    def events_of(self, item: str, after: str, until: str) -> list[str]:
        """The moments over (after, until] at which something happened to an item, or went into or out of it, or it was
        fitted."""
        return self._file.values(
            "SELECT at FROM happenings WHERE item = :item AND at > :after AND at <= :until UNION "
            "SELECT start FROM fittings WHERE item = :item AND start > :after AND start <= :until UNION "
            "SELECT start FROM fittings WHERE inside = :item AND start > :after AND start <= :until UNION "
            "SELECT until FROM fittings WHERE inside = :item AND until > :after AND until <= :until ORDER BY 1",
            {"item": item, "after": after, "until": until},
        )

    def last_change_in(self, inside: str) -> Moment | None:
        """The latest moment at which something was put into or taken out of an item, with the entry."""
        return self._file.first(
            Moment,
            "SELECT at, entry FROM ("
            "SELECT * FROM (SELECT start AS at, started_by AS entry FROM fittings WHERE inside = :inside "
            "ORDER BY start DESC, started_by DESC LIMIT 1) UNION ALL "
            "SELECT * FROM (SELECT until AS at, ended_by AS entry FROM fittings WHERE inside = :inside "
            "AND until IS NOT NULL ORDER BY until DESC, ended_by DESC LIMIT 1)) ORDER BY at DESC, entry DESC LIMIT 1",
            {"inside": inside},
        )

    # Standings

    def replace_standings(self, item: str, rows: Sequence[StandingRow]) -> None:
        """Replaces the holds and pauses in force on an item."""
        self._one("DELETE FROM standings WHERE item = ?", (item,))
        self._many(STANDINGS.insert, rows)

    def standings_of(self, item: str) -> list[StandingRow]:
        """The holds and pauses in force on an item."""
        self._file.standings_wanted(item)
        return self._file.all(StandingRow, "SELECT * FROM standings WHERE item = ?", (item,))

    def all_standings(self) -> list[StandingRow]:
        """The holds and pauses in force on any item."""
        self._file.standings_wanted()
        return self._file.all(StandingRow, "SELECT * FROM standings")

    def hold_on(self, item: str) -> StandingRow | None:
        """The hold in force on an item; None: it is not held."""
        return next((row for row in self.standings_of(item) if row.what == Standing.HOLD), None)

    def standings(self, what: Standing) -> list[StandingRow]:
        """Every hold or every pause in force, the oldest first."""
        self._file.standings_wanted()
        return self._file.all(StandingRow, "SELECT * FROM standings WHERE what = ? ORDER BY since", (what,))

    def set_wall_clock(self, zone: str) -> None:
        """Tells other tools how far the plant's clock on the wall is ahead of UTC, and from when on."""
        from upkeep.store.named import set_wall_clock

        set_wall_clock(self._file.connection, zone)

    # Whole tables

    def fill(self, tables: Mapping[str, Sequence[NamedTuple]]) -> None:
        """Writes all rows of every table, by its name, into a book that has none."""
        for table in PROJECTIONS:
            self._many(table.insert, tables[table.name])

    def table(self, table: Table[R]) -> list[R]:
        """All rows of a table in order of its key, to be compared with a replay."""
        return self._file.all(table.row, table.whole)
