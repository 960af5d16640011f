"""Projections as they stood before an entry of the past, with all counts known now: lines are judged by them as they
stood then."""

from __future__ import annotations

from upkeep.store.file import BookFile
from upkeep.store.projections import Projections, Row

_IN_EFFECT = "NOT EXISTS (SELECT 1 FROM without_effect w WHERE w.entry = entries.id)"


class Rests:
    """When the items of one file were in storage or out of use, or gone for ever; what was looked up of an item is
    kept."""

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._found: dict[str, list[Row]] = {}

    def of(self, item: str) -> list[Row]:
        """Each time, in order: (since, until, because, entry it began with); ``until`` None where it still is."""
        if item not in self._found:
            self._found[item] = self._of(item)
        return self._found[item]

    def _of(self, item: str) -> list[Row]:
        rows = self._file.rows(
            f"SELECT kind, at, because, id FROM entries WHERE item = ? AND kind IN ('pause', 'resume', 'retire') "
            f"AND {_IN_EFFECT} ORDER BY at, id",
            (item,),
        )
        rests: list[Row] = []
        gone = False
        for kind, at, because, entry in rows:
            resting = bool(rests) and rests[-1][1] is None
            gone = gone or kind == "retire"
            if kind != "resume" and not resting:
                rests.append((at, None, because, entry))
            elif kind == "resume" and resting and not gone:
                rests[-1] = (rests[-1][0], at, *rests[-1][2:])
        return rests


class Before(Projections):
    """Leaves out what happened after a moment, and at that moment from a number of entry on.

    Deferrals are left out altogether: what was planned is asked for.  ``rests`` may be shared by many of these.
    """

    def __init__(self, file: BookFile, moment: str, entry: int, rests: Rests | None = None) -> None:
        super().__init__(file)
        self._moment, self._entry, self._rests = moment, entry, rests or Rests(file)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[Row]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        return self._file.rows(
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND how = ? "
            "AND (at, entry) < (?, ?) ORDER BY at DESC, entry DESC LIMIT ?",
            (item, task, how, self._moment, self._entry, limit),
        )

    def last_graded(self, item: str, least: int = 0) -> Row | None:
        """The latest graded sign-off of an item with at least a grade."""
        return self._file.row(
            "SELECT * FROM sign_offs WHERE item = ? AND grade >= ? AND (at, entry) < (?, ?) "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, least, self._moment, self._entry),
        )

    def deferrals_of(self, item: str, task: str) -> list[Row]:
        """None."""
        return []

    def last_happening(self, item: str, what: str, before: str) -> Row | None:
        """The latest event of a kind on an item."""
        return self._file.row(
            "SELECT * FROM happenings WHERE item = ? AND what = ? AND at < ? AND at <= ? "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, what, before, self._moment),
        )

    def last_rework(self, item: str) -> Row | None:
        """The latest rework of a part with its number: (item, at, granted, entry, times)."""
        rows = self._file.rows(
            "SELECT * FROM reworks WHERE item = ? AND at <= ? ORDER BY at, entry", (item, self._moment)
        )
        return (*rows[-1], len(rows)) if rows else None

    def last_fitting(self, item: str) -> Row | None:
        """The latest fitting of an item, not ended where it had not."""
        row = self._file.row(
            "SELECT * FROM fittings WHERE item = ? AND start <= ? ORDER BY start DESC, started_by DESC LIMIT 1",
            (item, self._moment),
        )
        if row is None or row[4] is None or row[4] <= self._moment:
            return row
        return (*row[:4], None, None, None)

    def inside_now(self, inside: str) -> list[tuple[str, str]]:
        """What sat in an item, and since when."""
        rows = self._file.rows(
            "SELECT item, start FROM fittings WHERE inside = :inside AND start <= :moment "
            "AND ifnull(until, '~') > :moment",
            {"inside": inside, "moment": self._moment},
        )
        return [(row[0], row[1]) for row in rows]

    def last_change_in(self, inside: str) -> tuple[str, int] | None:
        """The latest moment at which something was put into or taken out of an item, with the entry."""
        row = self._file.row(
            "SELECT max(at), entry FROM ("
            "SELECT start AS at, started_by AS entry FROM fittings WHERE inside = :inside AND start <= :moment UNION "
            "SELECT until, ended_by FROM fittings WHERE inside = :inside AND until <= :moment ORDER BY 1, 2)",
            {"inside": inside, "moment": self._moment},
        )
        return (row[0], row[1]) if row and row[0] is not None else None

    def standings_of(self, item: str) -> list[Row]:
        """The pause in force; holds are left out, since they move no window."""
        for since, until, because, entry in self._rests.of(item):
            if since <= self._moment and (until is None or until > self._moment):
                return [(item, "pause", since, because, entry)]
        return []

    def events_of(self, item: str, start: str) -> list[str]:
        """The moments after one at which something happened to an item, or went into or out of it, or it was fitted."""
        rows = self._file.rows(
            "SELECT at FROM happenings WHERE item = :item AND at > :start AND at <= :moment UNION "
            "SELECT start FROM fittings WHERE item = :item AND start > :start AND start <= :moment UNION "
            "SELECT start FROM fittings WHERE inside = :item AND start > :start AND start <= :moment UNION "
            "SELECT until FROM fittings WHERE inside = :item AND until > :start AND until <= :moment ORDER BY 1",
            {"item": item, "start": start, "moment": self._moment},
        )
        return [row[0] for row in rows]
