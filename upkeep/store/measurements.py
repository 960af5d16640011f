"""What vouches for a gauge, and what was measured, read by what it belongs to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT, Moment
from upkeep.store.rows.findings import GaugeUser, MeasuredRow
from upkeep.store.rows.signatures import Answer, SignOffRow


class Measurements:
    """Reads values checked on items, and the sign-offs and findings that vouch for gauges."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def gauges_out_of_tolerance(self) -> list[str]:
        """The gauges that were ever found to read wrong, by id."""
        return self._file.values("SELECT DISTINCT gauge FROM out_of_tolerance ORDER BY 1")

    def done_after(self, item: str, task: str, at: str, entry: int) -> Iterator[SignOffRow]:
        """The sign-offs of a task on an item after an entry, oldest first, extras among them."""
        return self._file.each(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND how = 'done' AND (at, entry) > (?, ?) "
            "ORDER BY at, entry",
            (item, task, at, entry),
        )

    def last_done(self, item: str, tasks: Sequence[str], until: str) -> tuple[Answer, ...]:
        """The latest sign-off of each of some lines by a moment."""
        rows = (
            self._file.first(
                Answer,
                "SELECT task, at, entry FROM sign_offs WHERE item = ? AND task = ? AND at <= ? AND how = 'done' "
                "ORDER BY at DESC, entry DESC LIMIT 1",
                (item, task, until),
            )
            for task in tasks
        )
        return tuple(row for row in rows if row is not None)

    def released_after(self, item: str, at: str, entry: int) -> Moment | None:
        """The first release of an item after a moment and entry; None where it is held still."""
        return self._file.first(
            Moment,
            f"SELECT at, id FROM entries WHERE item = ? AND kind = 'release' AND (at, id) > (?, ?) AND {IN_EFFECT} "
            "ORDER BY at, id LIMIT 1",
            (item, at, entry),
        )

    def earlier_definition(self, what: str, key: str, at: str) -> str | None:
        """The definition that held at a moment, as JSON; None where it is the one in force now, or there was none."""
        newer = self._file.value(
            "SELECT 1 FROM definitions d JOIN entries e ON e.id = d.entry WHERE d.what = ? AND d.key = ? AND e.at > ?",
            (what, key, at),
        )
        content: str | None = newer and self._file.value(
            "SELECT content FROM defined WHERE what = ? AND key = ? AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1",
            (what, key, at),
        )
        return content

    def users(self, gauge: str, after: str) -> list[GaugeUser]:
        """Who measured with a gauge after a moment, the busiest first."""
        return self._file.all(
            GaugeUser,
            "SELECT e.by, count(DISTINCT m.entry), max(m.at), max(e.id) FROM measured m INDEXED BY measured_by_gauge "
            "JOIN entries e ON e.id = m.entry WHERE m.gauge = ? AND m.at > ? GROUP BY e.by ORDER BY 2 DESC, 1",
            (gauge, after),
        )

    def measured_after(self, gauge: str, after: str, until: str) -> list[MeasuredRow]:
        """The values measured with a gauge over (after, until), in order of their entries."""
        return self._file.all(
            MeasuredRow,
            "SELECT * FROM measured INDEXED BY measured_by_gauge WHERE gauge = ? AND at > ? AND at < ? "
            "ORDER BY at, entry",
            (gauge, after, until),
        )

    def signed_by(self, gauge: str, after: str, until: str) -> list[int]:
        """The numbers of the sign-offs over (after, until) that rest on what a gauge measured, for them or in a check,
        in their order."""
        return self._file.values(
            "SELECT entry FROM sign_offs INDEXED BY sign_offs_measured WHERE gauges <> '' AND at > ? AND at < ? "
            "AND instr(',' || gauges || ',', ',' || ? || ',') ORDER BY at, entry",
            (after, until, gauge),
        )

    def series(self, item: str, point: str, until: str) -> Iterator[MeasuredRow]:
        """The values of a characteristic in checks by a moment, newest first; read only as far as they are taken."""
        return self._file.each(
            MeasuredRow,
            "SELECT * FROM measured WHERE item = ? AND point = ? AND at <= ? AND occasion IS NOT NULL "
            "ORDER BY at DESC, entry DESC",
            (item, point, until),
        )

    def points_checked(self, item: str) -> list[str]:
        """The characteristics that checks of an item measured or looked at, in alphabetical order."""
        return self._file.values(
            "SELECT DISTINCT point FROM measured WHERE item = ? AND occasion IS NOT NULL ORDER BY 1", (item,)
        )
