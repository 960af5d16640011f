"""Rows of many presses or items read at once, for a view that would ask for each of them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping
from typing import TypeVar

from upkeep.store.file import BookFile
from upkeep.store.rows.counts import QuantityRow, TotalRow, UncountedRow
from upkeep.store.rows.places import STAYS, FittingRow, PutRow, StayRow
from upkeep.store.rows.signatures import DeferralRow, Grounds, SignOffRow, StatedRow

LineKey = tuple[str, str]
"""Item and task of a line."""

L = TypeVar("L", SignOffRow, DeferralRow, StatedRow)

_LINES = "WITH line (item, task) AS (SELECT value ->> 0, value ->> 1 FROM json_each(:lines))"
"""Lines asked for, as SQL joins them; one parameter, however many they are."""

_MARKS = (
    "SELECT at, pieces, total, less, more FROM marks WHERE press = ?1 AND at >= ifnull("
    "(SELECT max(at) FROM marks WHERE press = ?1 AND at < ?2), ?2) ORDER BY at, entry"
)
"""The marks of a press from the last before a moment on."""


class RowsOfMany:
    """Reads such rows."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def marks_of(self, since: Mapping[str, str]) -> dict[str, list[TotalRow]]:
        """The totals of presses at their marks, each press from the last before a moment of its own on, in order."""
        # Press by press they come in the order of the table; all at once they would have to be sorted.
        return {press: self._file.all(TotalRow, _MARKS, (press, at)) for press, at in since.items()}

    def stays_of_all(self, items: Collection[str]) -> list[StayRow]:
        """The stays of items, in order of item and beginning."""
        marks = ", ".join("?" * len(items))
        return self._file.all(StayRow, f"SELECT * FROM stays WHERE item IN ({marks}) ORDER BY item, start", (*items,))

    def quantities_of(self, since: Mapping[str, str]) -> list[QuantityRow]:
        """The quantities made on presses, each after a moment of its own, in order of their beginning."""
        return self._file.all(
            QuantityRow,
            f"{_asked(since)} SELECT q.* FROM asked JOIN quantities q ON q.press = asked.name "
            "AND q.until > asked.since ORDER BY q.since, q.entry",
            _flat(since),
        )

    def uncounted_of(self, since: Mapping[str, str]) -> list[UncountedRow]:
        """Uncounted strokes of items, each from a moment of its own on, in order of item and moment."""
        return self._file.all(
            UncountedRow,
            f"{_asked(since)} SELECT u.* FROM asked JOIN uncounted_strokes u ON u.item = asked.name "
            "AND u.at >= asked.since ORDER BY u.item, u.at, u.entry",
            _flat(since),
        )

    # Of lines

    def sign_offs_of(self, lines: Collection[LineKey], how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs or cancellations of lines that answer an occurrence, newest first; of each line so many,
        and more where several were given at the same moment."""
        return self._file.all(
            SignOffRow,
            f"{_LINES} SELECT s.* FROM line CROSS JOIN sign_offs s ON s.item = line.item AND s.task = line.task "
            "AND s.occurrence <> 'extra' AND s.how = :how AND s.at >= ifnull((SELECT x.at FROM sign_offs x "
            "WHERE x.item = line.item AND x.task = line.task AND x.occurrence <> 'extra' AND x.how = :how "
            "ORDER BY x.at DESC, x.entry DESC LIMIT 1 OFFSET :before), '') ORDER BY s.at DESC, s.entry DESC",
            {"lines": json.dumps([*lines]), "how": how, "before": limit - 1},
        )

    def deferrals_of_lines(self, lines: Collection[LineKey]) -> list[DeferralRow]:
        """The deferrals of lines in effect, by when they were decided."""
        return self._file.all(
            DeferralRow,
            f"{_LINES} SELECT d.* FROM line CROSS JOIN deferrals d ON d.item = line.item AND d.task = line.task "
            "ORDER BY d.at, d.entry",
            {"lines": json.dumps([*lines])},
        )

    def stated_of(self, lines: Collection[LineKey]) -> list[StatedRow]:
        """What was stated about lines, the last first."""
        return self._file.all(
            StatedRow,
            f"{_LINES} SELECT s.* FROM line CROSS JOIN stated s ON s.item = line.item AND s.task = line.task "
            "ORDER BY s.at DESC, s.entry DESC",
            {"lines": json.dumps([*lines])},
        )

    def last_fittings_of(self, items: Collection[str]) -> list[FittingRow]:
        """The latest fitting of each of some items, ended or not."""
        return self._file.all(
            FittingRow,
            "SELECT f.* FROM json_each(:items) CROSS JOIN fittings f ON (f.item, f.start, f.started_by) = "
            "(SELECT x.item, x.start, x.started_by FROM fittings x WHERE x.item = value "
            "ORDER BY x.start DESC, x.started_by DESC LIMIT 1)",
            {"items": json.dumps([*items])},
        )

    def last_puts_of(self, items: Collection[str]) -> list[PutRow]:
        """Where each of some items was put last while it sat in nothing."""
        return self._file.all(
            PutRow,
            "SELECT p.* FROM json_each(:items) CROSS JOIN puts p ON (p.item, p.at, p.entry) = "
            "(SELECT x.item, x.at, x.entry FROM puts x WHERE x.item = value ORDER BY x.at DESC, x.entry DESC LIMIT 1)",
            {"items": json.dumps([*items])},
        )

    def last_stays_of(self, items: Collection[str]) -> dict[str, StayRow]:
        """The latest stay of each of some items on a press, ended or not, by the item."""
        last: dict[str, StayRow] = {}
        for part in self._file.parts_of(STAYS):
            for row in self._file.all(
                StayRow,
                f"SELECT s.* FROM json_each(:items) CROSS JOIN {part} s ON (s.item, s.start) = "
                f"(SELECT x.item, x.start FROM {part} x WHERE x.item = value ORDER BY x.start DESC LIMIT 1)",
                {"items": json.dumps([*items])},
            ):
                if row.item not in last or last[row.item].start < row.start:
                    last[row.item] = row
        return last

    def with_uncounted(self, items: Collection[str]) -> list[str]:
        """Those of some items that have uncounted strokes."""
        return self._having("uncounted_strokes", items)

    def with_happenings(self, items: Collection[str]) -> list[str]:
        """Those of some items to which anything happened."""
        return self._having("happenings", items)

    def _having(self, table: str, items: Collection[str]) -> list[str]:
        return self._file.values(
            f"SELECT value FROM json_each(:items) WHERE EXISTS (SELECT 1 FROM {table} WHERE item = value)",
            {"items": json.dumps([*items])},
        )

    def grounds_of(self, items: Collection[str]) -> list[Grounds]:
        """Which rows there are that can hold each of some items: most have hardly any."""
        return self._file.all(
            Grounds,
            "SELECT value, EXISTS (SELECT 1 FROM faults WHERE item = value AND stopped = 1), "
            "EXISTS (SELECT 1 FROM measured WHERE item = value AND good = 0), "
            "EXISTS (SELECT 1 FROM sign_offs WHERE item = value AND grade >= 0), "
            "EXISTS (SELECT 1 FROM sign_offs WHERE item = value AND grade >= 4), "
            "EXISTS (SELECT 1 FROM sign_offs WHERE item = value AND holds = 1) FROM json_each(:items)",
            {"items": json.dumps([*items])},
        )

    def came_after_rest(self, item: str, since: str, days: int) -> str | None:
        """When an item last came onto a press after so many days or more on none since a moment; None: never."""
        moment: str | None = self._file.value(
            "SELECT start FROM (SELECT start, lag(until) OVER (ORDER BY start) AS left_at FROM stays "
            "WHERE item = :item AND ifnull(until, '~') > :since) "
            "WHERE julianday(start) - julianday(ifnull(left_at, :since)) >= :days ORDER BY start DESC LIMIT 1",
            {"item": item, "since": since, "days": days},
        )
        return moment


def by_line(rows: Iterable[L], lines: Iterable[LineKey]) -> dict[LineKey, list[L]]:
    """Rows of lines by the line, in the order they came in; an empty list for a line that has none."""
    rows_by_line: dict[LineKey, list[L]] = {line: [] for line in lines}
    for row in rows:
        rows_by_line[row.item, row.task].append(row)
    return rows_by_line


def _asked(since: Mapping[str, str]) -> str:
    """The names asked for as SQL joins them, each ``since`` a moment of its own."""
    return f"WITH asked (name, since) AS (VALUES {', '.join(['(?, ?)'] * len(since)) or '(NULL, NULL)'})"


def _flat(since: Mapping[str, str]) -> tuple[str, ...]:
    """The parameters of :func:`_asked`."""
    return tuple(part for pair in since.items() for part in pair)
