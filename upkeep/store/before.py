"""Projections as they stood before an entry of the past, with all counts known now: lines are judged by them as they
stood then."""

from __future__ import annotations

from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.store.rows.counts import LastRework, ReworkRow
from upkeep.store.rows.definitions import IN_EFFECT, Moment
from upkeep.store.rows.places import Content, FittingRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, Rest, SignOffRow, StandingRow


class Rests:
    """When the items of one file were in storage or out of use, or gone for ever; what was looked up of an item is
    kept."""

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._found: dict[str, list[Rest]] = {}

    def of(self, item: str) -> list[Rest]:
        """Each time, in order."""
        if item not in self._found:
            self._found[item] = self._of(item)
        return self._found[item]

    def _of(self, item: str) -> list[Rest]:
        each = (  # one search a kind, since an item has thousands of other entries
            f"SELECT kind, at, because, id FROM entries WHERE item = :item AND kind = '{kind}' AND {IN_EFFECT}"
            for kind in ("pause", "resume", "retire")
        )
        rows = self._file.rows(f"{' UNION ALL '.join(each)} ORDER BY at, id", {"item": item})
        rests: list[Rest] = []
        gone = False
        for kind, at, because, entry in rows:
            resting = bool(rests) and rests[-1].until is None
            gone = gone or kind == "retire"
            if kind != "resume" and not resting:
                rests.append(Rest(at, None, because, entry))
            elif kind == "resume" and resting and not gone:
                rests[-1] = rests[-1]._replace(until=at)
        return rests


class Before(Projections):
    """Leaves out what happened after a moment, and at that moment from a number of entry on.

    Deferrals are left out altogether: what was planned is asked for.  ``rests`` may be shared by many of these.
    """

    def __init__(self, file: BookFile, moment: str, entry: int, rests: Rests | None = None) -> None:
        super().__init__(file)
        self._moment, self._entry, self._rests = moment, entry, rests or Rests(file)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        return self._file.all(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND occurrence <> 'extra' AND how = ? "
            "AND (at, entry) < (?, ?) ORDER BY at DESC, entry DESC LIMIT ?",
            (item, task, how, self._moment, self._entry, limit),
        )

    def last_graded(self, item: str, least: int = 0) -> SignOffRow | None:
        """The latest sign-off of an item with at least a grade (0 as new to 4 out); None where none was as bad."""
        return self._file.first(
            SignOffRow,
            "SELECT * FROM sign_offs WHERE item = ? AND grade >= ? AND (at, entry) < (?, ?) "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, least, self._moment, self._entry),
        )

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """None."""
        return []

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        return self._file.first(
            HappeningRow,
            "SELECT * FROM happenings WHERE item = ? AND what = ? AND at < ? AND at <= ? "
            "ORDER BY at DESC, entry DESC LIMIT 1",
            (item, what, before, self._moment),
        )

    def last_rework(self, item: str) -> LastRework | None:
        """The latest rework of a part, with how many it has had; None where it was never reworked."""
        rows = self._file.all(
            ReworkRow, "SELECT * FROM reworks WHERE item = ? AND at <= ? ORDER BY at, entry", (item, self._moment)
        )
        return LastRework(*rows[-1], times=len(rows)) if rows else None

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, not ended where it had not."""
        row = self._file.first(
            FittingRow,
            "SELECT * FROM fittings WHERE item = ? AND start <= ? ORDER BY start DESC, started_by DESC LIMIT 1",
            (item, self._moment),
        )
        if row is None or row.until is None or row.until <= self._moment:
            return row
        return row._replace(until=None, ended_by=None, left_to=None)

    def inside_now(self, inside: str) -> list[Content]:
        """What sat in an item, and since when."""
        return self._file.all(
            Content,
            "SELECT item, start FROM fittings WHERE inside = :inside AND start <= :moment "
            "AND ifnull(until, '~') > :moment",
            {"inside": inside, "moment": self._moment},
        )

    def last_change_in(self, inside: str) -> Moment | None:
        """The latest moment at which something was put into or taken out of an item, with the entry."""
        at, entry = self._file.row(
            "SELECT max(at), entry FROM ("
            "SELECT start AS at, started_by AS entry FROM fittings WHERE inside = :inside AND start <= :moment UNION "
            "SELECT until, ended_by FROM fittings WHERE inside = :inside AND until <= :moment ORDER BY 1, 2)",
            {"inside": inside, "moment": self._moment},
        ) or (None, None)
        return None if at is None else Moment(at, entry)

    def standings_of(self, item: str) -> list[StandingRow]:
        """The pause in force; holds are left out, since they move no window."""
        for rest in self._rests.of(item):
            if rest.since <= self._moment and (rest.until is None or rest.until > self._moment):
                return [StandingRow(item, "pause", rest.since, rest.because, rest.entry)]
        return []

    def events_of(self, item: str, start: str) -> list[str]:
        """The moments after one at which something happened to an item, or went into or out of it, or it was fitted."""
        return self._file.values(
            "SELECT at FROM happenings WHERE item = :item AND at > :start AND at <= :moment UNION "
            "SELECT start FROM fittings WHERE item = :item AND start > :start AND start <= :moment UNION "
            "SELECT start FROM fittings WHERE inside = :item AND start > :start AND start <= :moment UNION "
            "SELECT until FROM fittings WHERE inside = :item AND until > :start AND until <= :moment ORDER BY 1",
            {"item": item, "start": start, "moment": self._moment},
        )
