"""The rows behind all lines of a file, read at once: what each of them asks for, and most have none of."""

from __future__ import annotations

from collections.abc import Collection

from upkeep.entries.standing import Closing
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.store.rows.places import FittingRow
from upkeep.store.rows.signatures import DeferralRow, SignOffRow, StandingRow, StatedRow
from upkeep.store.rows_of_many import LineKey, by_line

_LATEST = 8
"""So many sign-offs of each line are read; few lines ask for more, and those look them up."""


class RowsAtOnce(Projections):
    """Answers for some lines from what was read when it was made; for others, and for all else, as the file does.

    Made to judge lines one after another while nothing is written.
    """

    def __init__(self, file: BookFile, lines: Collection[LineKey]) -> None:
        super().__init__(file)
        file.standings_wanted()
        items = {item for item, _ in lines}
        self._answers = {how: by_line(self.sign_offs_of(lines, how, _LATEST), lines) for how in Closing}
        self._deferrals = by_line(self.deferrals_of_lines(lines), lines)
        self._stated_of = by_line(self.stated_of(lines), lines)
        self._last_fittings = dict.fromkeys(items) | {row.item: row for row in self.last_fittings_of(items)}
        self._standings: dict[str, list[StandingRow]] = {item: [] for item in items}
        for row in self.all_standings():
            self._standings.setdefault(row.item, []).append(row)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        rows = self._answers[Closing(how)].get((item, task))
        if rows is None or (limit > _LATEST <= len(rows)):
            return super().last_sign_offs(item, task, how, limit)
        return rows[:limit]

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided; those of past occurrences among them."""
        rows = self._deferrals.get((item, task))
        return super().deferrals_of(item, task) if rows is None else rows

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        rows = self._stated_of.get((item, task))
        return super().last_stated(item, task) if rows is None else next(iter(rows), None)

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        return self._last_fittings[item] if item in self._last_fittings else super().last_fitting(item)

    def standings_of(self, item: str) -> list[StandingRow]:
        """The holds and pauses in force on an item."""
        rows = self._standings.get(item)
        return super().standings_of(item) if rows is None else rows
