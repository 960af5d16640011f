"""Projections with one row for each entry in effect: how counters count, quantities, uncounted strokes, reworks,
orders, stated history, measured points, gauges out of tolerance, suspect product, faults and repairs.  A row comes with
its entry and goes when the entry loses its effect; nothing else moves it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from upkeep.store.file import BookFile
from upkeep.store.rows.counts import (
    LONGEST_RUN_MINUTES,
    MADE_WHILE_STILL,
    CounterConfigurationRow,
    DisputedRow,
    LastRework,
    MadeWhileStillRow,
    OrderRow,
    QuantityRow,
    UncountedRow,
)
from upkeep.store.rows.findings import DoubtedPressRow, MeasuredRow, OutOfToleranceRow
from upkeep.store.rows.places import PutRow
from upkeep.store.rows.projections import ENTRY_TABLES, EntryRow, table_of
from upkeep.store.rows.signatures import SignOffRow, StatedRow
from upkeep.store.rows_of_many import RowsOfMany
from upkeep.units.instants import NEVER, from_utc_text, utc_text

_LONGEST_RUN = timedelta(minutes=LONGEST_RUN_MINUTES)


class RowsOfEntries(RowsOfMany):
    """Reads and writes these rows; an entry that loses its effect loses its row."""

    @property
    def file(self) -> BookFile:
        """The file whose tables these are."""
        return self._file

    def add_rows(self, rows: Iterable[EntryRow]) -> None:
        """Adds rows, each to the table it belongs to."""
        for row in rows:
            self._file.connection.execute(table_of(type(row)).insert, row)

    def remove_rows_of(self, entry: int) -> None:
        """Removes the rows of an entry from every table that keeps one row for each."""
        for table in ENTRY_TABLES:
            self._file.connection.execute(f"DELETE FROM {table.name} WHERE entry = ?", (entry,))

    def configurations_of(self, press: str) -> list[CounterConfigurationRow]:
        """How a counter counts from each moment on, in order."""
        return self._file.all(
            CounterConfigurationRow,
            "SELECT * FROM counter_configurations WHERE press = ? ORDER BY since, entry",
            (press,),
        )

    def quantities_over(self, press: str, start: str, end: str) -> list[QuantityRow]:
        """The quantities made on a press over a span that they share time with; none can end later than the longest run
        after it, and of an old press all that followed would be read."""
        latest = utc_text(min(from_utc_text(end), NEVER - _LONGEST_RUN) + _LONGEST_RUN)
        return self._file.all(
            QuantityRow,
            "SELECT * FROM quantities WHERE press = ? AND until > ? AND until <= ? AND since < ? ORDER BY since, entry",
            (press, start, latest, end),
        )

    def quantities_running(self, press: str, at: str, latest: str) -> list[QuantityRow]:
        """The quantities under way on a press at a moment; none of them ends after ``latest``, the later ones are not
        looked at."""
        return self._file.all(
            QuantityRow,
            "SELECT * FROM quantities WHERE press = ? AND until > ? AND until <= ? AND since < ?",
            (press, at, latest, at),
        )

    def quantities_after(self, press: str, at: str) -> list[QuantityRow]:
        """The quantities made on a press that were finished after a moment, in the order in which they were."""
        return self._file.all(
            QuantityRow, "SELECT * FROM quantities WHERE press = ? AND until > ? ORDER BY until, entry", (press, at)
        )

    def made_while_still(self, after: str = "") -> list[MadeWhileStillRow]:
        """The pieces made while counters stood still and finished after a moment."""
        return self._file.all(
            MadeWhileStillRow, "SELECT * FROM made_while_still WHERE until > ? ORDER BY until, entry", (after,)
        )

    def stood_still_at(self, press: str, by: str, total: int) -> bool:
        """Whether pieces finished by a moment were made on a press while its counter stood still at a running total."""
        return bool(
            self._file.rows(
                "SELECT 1 FROM made_while_still WHERE press = ? AND total = ? AND until <= ? LIMIT 1",
                (press, total, by),
            )
        )

    def presses_that_stood_still(self) -> list[str]:
        """The presses on which any pieces were made while their counter stood still."""
        return self._file.values("SELECT DISTINCT press FROM made_while_still")

    def replace_made_while_still(self, press: str, after: str, rows: Sequence[MadeWhileStillRow]) -> None:
        """Replaces what was made on a press while its counter stood still and finished after a moment."""
        self._file.connection.execute("DELETE FROM made_while_still WHERE press = ? AND until > ?", (press, after))
        self._file.connection.executemany(MADE_WHILE_STILL.insert, rows)

    def uncounted_between(self, item: str, start: str, end: str) -> int:
        """Strokes of an item that no press counter shows, from ``start`` to before ``end`` (UTC texts), weighted."""
        strokes: int = self._file.value(
            "SELECT coalesce(sum(strokes), 0) FROM uncounted_strokes WHERE item = ? AND at >= ? AND at < ?",
            (item, start, end),
        )
        return strokes

    def disputed(self) -> list[DisputedRow]:
        """The counts that wait for the lead, in order of moment."""
        return self._file.all(DisputedRow, "SELECT * FROM disputed_counts ORDER BY at, entry")

    def worn_less(self) -> list[UncountedRow]:
        """Strokes that were counted and wear less than one each, in order of moment."""
        return self._file.all(UncountedRow, "SELECT * FROM uncounted_strokes WHERE strokes < 0 ORDER BY at, entry")

    def has_uncounted(self, item: str) -> bool:
        """Whether an item has any uncounted strokes."""
        return bool(self._file.rows("SELECT 1 FROM uncounted_strokes WHERE item = ? LIMIT 1", (item,)))

    def uncounted_from(self, item: str, start: str) -> list[UncountedRow]:
        """Uncounted strokes from a moment on, in order."""
        return self._file.all(
            UncountedRow, "SELECT * FROM uncounted_strokes WHERE item = ? AND at >= ? ORDER BY at, entry", (item, start)
        )

    def last_rework(self, item: str) -> LastRework | None:
        """The latest rework of a part, with how many it has had; None where it was never reworked."""
        return self._file.first(
            LastRework,
            "SELECT *, (SELECT count(*) FROM reworks r WHERE r.item = reworks.item) FROM reworks WHERE item = ? "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item,),
        )

    def last_put(self, item: str) -> PutRow | None:
        """Where an item was put last while it sat in nothing; None where nobody said."""
        return self._file.first(
            PutRow, "SELECT * FROM puts WHERE item = ? ORDER BY at DESC, entry DESC LIMIT 1", (item,)
        )

    def orders(self) -> list[OrderRow]:
        """The planned orders by day, finished ones among them."""
        return self._file.all(OrderRow, "SELECT * FROM orders ORDER BY day, ordered, entry")

    def pieces_of(self, ordered: str) -> int:
        """The pieces made for an order so far."""
        pieces: int = self._file.value("SELECT coalesce(sum(pieces), 0) FROM quantities WHERE ordered = ?", (ordered,))
        return pieces

    def all_stated(self) -> list[StatedRow]:
        """All that was stated, in order; of several about one line the last one holds."""
        return self._file.all(StatedRow, "SELECT * FROM stated ORDER BY at, entry")

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        return self._file.first(
            StatedRow,
            "SELECT * FROM stated WHERE item = ? AND task = ? ORDER BY at DESC, entry DESC LIMIT 1",
            (item, task),
        )

    def last_stopped(self, item: str) -> int | None:
        """The number of the last fault for which an item stopped; None: it never did."""
        number: int | None = self._file.value(
            "SELECT entry FROM faults WHERE item = ? AND stopped = 1 ORDER BY at DESC, entry DESC LIMIT 1", (item,)
        )
        return number

    def failed(self, item: str) -> list[MeasuredRow]:
        """The values of an item found bad, in order."""
        return self._file.all(
            MeasuredRow, "SELECT * FROM measured WHERE item = ? AND good = 0 ORDER BY at, entry", (item,)
        )

    def found_before(self, item: str, point: str, at: str, entry: int) -> MeasuredRow | None:
        """The last value of a characteristic found before adjusting, before a moment and entry."""
        return self._file.first(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND (at, entry) < (?, ?) AND occasion = 'as-found' "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point, at, entry),
        )

    def good_after(self, item: str, point: str, at: str) -> MeasuredRow | None:
        """The last good value of a characteristic at or after a moment."""
        return self._file.first(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND at >= ? AND good = 1 "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point, at),
        )

    def last_measured(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic on an item, asked for or not; None where there are none."""
        return self._file.first(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND readings IS NOT NULL "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point),
        )

    def items_measured_with(self, gauge: str) -> list[str]:
        """The items that were ever measured with a gauge, by id."""
        return self._file.values("SELECT DISTINCT item FROM measured WHERE gauge = ? ORDER BY 1", (gauge,))

    def out_of_tolerance(self, gauge: str) -> list[OutOfToleranceRow]:
        """When a gauge was found to read wrong, in order."""
        return self._file.all(
            OutOfToleranceRow, "SELECT * FROM out_of_tolerance WHERE gauge = ? ORDER BY at, entry", (gauge,)
        )

    def all_out_of_tolerance(self) -> list[OutOfToleranceRow]:
        """When any gauge was found to read wrong, in order."""
        return self._file.all(OutOfToleranceRow, "SELECT * FROM out_of_tolerance ORDER BY at, entry")

    def doubts_of(self, press: str) -> list[DoubtedPressRow]:
        """When measured points said that a press is at fault, in order."""
        return self._file.all(
            DoubtedPressRow, "SELECT * FROM doubted_presses WHERE press = ? ORDER BY at, entry", (press,)
        )

    def points_measured(self, item: str, gauge: str, start: str, end: str) -> list[str]:
        """The characteristics of an item measured with a gauge over [start, end], by id."""
        return self._file.values(
            "SELECT DISTINCT point FROM measured WHERE gauge = ? AND at >= ? AND at <= ? AND item = ? ORDER BY 1",
            (gauge, start, end, item),
        )

    def last_checked(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic in checks of an item; None where there are none."""
        return self._file.first(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND occasion IS NOT NULL AND readings IS NOT NULL "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, point),
        )

    def done_before(self, item: str, task: str, at: str, entry: int) -> Iterator[SignOffRow]:
        """The sign-offs of a line before one moment and entry, newest first, extras among them."""
        return self._file.each(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND how = 'done' AND (at, entry) < (?, ?) "
            "ORDER BY at DESC, entry DESC",
            (item, task, at, entry),
        )
