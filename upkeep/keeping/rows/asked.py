"""What a line is judged from: rows of the projections, asked for in the file or in memory."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from upkeep.store.rows.counts import (
    LastRework,
    MadeWhileStillRow,
    MarkRow,
    QuantityRow,
    UncountedRow,
)
from upkeep.store.rows.definitions import Moment
from upkeep.store.rows.findings import DoubtedPressRow, MeasuredRow, OutOfToleranceRow
from upkeep.store.rows.places import Content, FittingRow, PutRow, StayRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, SignOffRow, StandingRow, StatedRow


class Rows(Protocol):
    """What a line is judged from: rows of the projections, in the file or in memory."""

    def mark_at(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press at or before a moment; None where it was not counted by then."""
        ...

    def mark_before(self, press: str, at: str) -> MarkRow | None:
        """The last mark of a press before a moment; None where it was not counted before."""
        ...

    def mark_after(self, press: str, at: str) -> MarkRow | None:
        """The first mark of a press after a moment; None where it was not counted since."""
        ...

    def last_mark(self, press: str) -> MarkRow | None:
        """The latest mark of a press; None where it was never counted."""
        ...

    def mark_reaching(self, press: str, total: int) -> MarkRow | None:
        """The first mark of a press at or over a running total of strokes; None where it has not come so far."""
        ...

    def stay_from(self, item: str, at: str) -> StayRow | None:
        """The last stay of an item that starts at or before a moment."""
        ...

    def last_stay(self, item: str) -> StayRow | None:
        """The latest stay of an item on a press, ended or not; None where it never was on one."""
        ...

    def stay_after(self, item: str, at: str) -> StayRow | None:
        """The first stay of an item on a press that starts after a moment; None where it went on none since."""
        ...

    def first_change_on(self, press: str, since: str, until: str) -> str | None:
        """The first moment over [since, until] at which something came onto a press or left it; None: nothing did."""
        ...

    def stay_with(self, item: str, strokes: int, rest: int = 0) -> StayRow | None:
        """The last stay of an item that began with fewer strokes than a number and a rest in billionths."""
        ...

    def shared_across(self, item: str, start: str, end: str) -> int:
        """The strokes that stays of an item which start over (start, end] share with stays from before ``start``."""
        ...

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        ...

    def last_graded(self, item: str, least: int = 0) -> SignOffRow | None:
        """The latest sign-off of an item with at least a grade (0 as new to 4 out); None where none was as bad."""
        ...

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided; those of past occurrences among them."""
        ...

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        ...

    def last_change_in(self, inside: str) -> Moment | None:
        """The latest moment at which something went into or out of an item, with the entry."""
        ...

    def inside_now(self, inside: str) -> list[Content]:
        """What sits in an item now, and since when."""
        ...

    def stays_of(self, item: str, from_end: str = "") -> list[StayRow]:
        """The stays of an item that have not ended before a moment, in order."""
        ...

    def quantities_over(self, press: str, start: str, end: str) -> list[QuantityRow]:
        """The quantities made on a press over a span that they share time with."""
        ...

    def quantities_after(self, press: str, at: str) -> list[QuantityRow]:
        """The quantities made on a press that were finished after a moment, in the order in which they were."""
        ...

    def made_while_still(self, after: str = "") -> list[MadeWhileStillRow]:
        """The pieces made while counters stood still and finished after a moment."""
        ...

    def marks_in_doubt(self, after: str) -> list[MarkRow]:
        """The marks of all presses after a moment that end a step whose strokes had to be guessed."""
        ...

    def uncounted_between(self, item: str, start: str, end: str) -> int:
        """Strokes of an item that no press counter shows, from ``start`` to before ``end`` (UTC texts), weighted."""
        ...

    def has_uncounted(self, item: str) -> bool:
        """Whether an item has any uncounted strokes."""
        ...

    def uncounted_from(self, item: str, start: str) -> list[UncountedRow]:
        """Uncounted strokes from a moment on, in order."""
        ...

    def last_rework(self, item: str) -> LastRework | None:
        """The latest rework of a part, with how many it has had; None where it was never reworked."""
        ...

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        ...

    def standings_of(self, item: str) -> list[StandingRow]:
        """The hold and pause in force on an item."""
        ...

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        ...

    def last_put(self, item: str) -> PutRow | None:
        """Where an item was put last while it sat in nothing; None where nobody said."""
        ...

    def fittings_of(self, item: str, ending_after: str = "") -> list[FittingRow]:
        """The fittings of an item that have not ended by a moment, in order."""
        ...

    def came_after_rest(self, item: str, since: str, days: int) -> str | None:
        """When an item last came onto a press after so many days or more on none since a moment; None: never."""
        ...

    def done_before(self, item: str, task: str, at: str, entry: int) -> Iterator[SignOffRow]:
        """The sign-offs of a line before one moment and entry, newest first, extras among them."""
        ...

    def all_out_of_tolerance(self) -> list[OutOfToleranceRow]:
        """When any gauge was found to read wrong, in order."""
        ...

    def points_measured(self, item: str, gauge: str, start: str, end: str) -> list[str]:
        """The characteristics of an item measured with a gauge over [start, end], by id."""
        ...

    def last_checked(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic in checks of an item; None where there are none."""
        ...

    def out_of_tolerance(self, gauge: str) -> list[OutOfToleranceRow]:
        """When a gauge was found to read wrong, in order."""
        ...

    def doubts_of(self, press: str) -> list[DoubtedPressRow]:
        """When measured points said that a press is at fault, in order."""
        ...

    def last_measured(self, item: str, point: str) -> MeasuredRow | None:
        """The latest readings of a characteristic on an item, asked for or not; None where there are none."""
        ...
