"""Whether a gauge counted at a moment, looked up in the book."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.keeping.limits_in_force import is_within
from upkeep.plant.model import Item, Kind, Task
from upkeep.quality.gauges import Care, Doubt, GaugeState, Mark, doubt_of, valid_at
from upkeep.said import said, term
from upkeep.store.rows.findings import OutOfToleranceRow
from upkeep.store.rows.signatures import Answer, SignOffRow
from upkeep.units.instants import from_utc_text, utc_text

LATEST = 2**62
"""Greater than the number of any entry: what was written for the same minute counts."""


class GaugeStates:
    """Answers many moments for few gauges: what it has looked up it keeps.

    The tasks on gauges that come by ``every`` or ``rule`` vouch for them.  The one with the longest interval is the
    calibration, those with shorter ones are block checks: only the calibration ends the doubt about a gauge found to
    read wrong (where the plant has none, the release of the gauge does).
    """

    def __init__(self, context: Context) -> None:
        self._file, self._known, self._entries = context.file, context.known, context.entries
        self._rows, self._measurements, self._limits = context.rows, context.measurements, context.limits
        self.tasks = self._known.vouching
        """What vouches for a gauge in this plant."""
        self.calibration = self._known.calibration
        """The one that ends a doubt; None where nothing is asked of gauges."""
        self._cares: dict[tuple[object, ...], Care] = {}
        self._doubts: dict[str, tuple[Doubt, ...]] = {}
        self._out: dict[int, bool] = {}

    def at(self, gauge: str, moment: datetime) -> GaugeState:
        """The state of a gauge at a moment."""
        item = self._known.item(gauge)
        cares = [self._care(item, task, moment) for task in self.tasks]
        return valid_at(moment, cares, self.doubts(gauge), self._known.zone)

    def read_wrong(self, gauge: str, moment: datetime) -> bool:
        """Whether a gauge is known to have read wrong at a moment; one that is only overdue has not.

        Most never did, and for those no line has to be judged.
        """
        if any(doubt.takes_in(moment) for doubt in self.doubts(gauge)):
            return True
        return any(self._last_is_out(gauge, task, moment) for task in self.tasks) and self.at(gauge, moment).wrong

    def doubts(self, gauge: str) -> tuple[Doubt, ...]:
        """When a gauge does not count because it was found to read wrong, in order of finding."""
        if gauge not in self._doubts:
            self._doubts[gauge] = tuple(self._doubt(row) for row in self._rows.out_of_tolerance(gauge))
        return self._doubts[gauge]

    def last_vouched(self, gauge: str, before: Mark) -> Mark | None:
        """The last good calibration or block check of a gauge before a moment and entry."""
        before_at, entry = before
        at = utc_text(before_at)
        marks = (self._good(self._rows.done_before(gauge, task.id, at, entry)) for task in self.tasks)
        return max((mark for mark in marks if mark is not None), default=None)

    def _doubt(self, row: OutOfToleranceRow) -> Doubt:
        out_of_tolerance = from_utc_text(row.at), row.entry
        before, after = (
            self.last_vouched(row.gauge, out_of_tolerance),
            self._vouched_again(row.gauge, row.at, row.entry),
        )
        unit = self._known.unit_of_gauge(row.gauge)
        return doubt_of(out_of_tolerance, row.off, unit, [before] if before else [], [after] if after else [])

    def _vouched_again(self, gauge: str, at: str, entry: int) -> Mark | None:
        calibration = self.calibration
        if calibration is not None:
            return self._good(self._measurements.done_after(gauge, calibration.id, at, entry))
        row = self._measurements.released_after(gauge, at, entry)
        return (from_utc_text(row.at), row.entry) if row else None

    def _good(self, rows: Iterable[SignOffRow]) -> Mark | None:
        vouch = (row for row in rows if not self._is_out(row) and not self._is_a_tick(row))
        return next(((from_utc_text(row.at), row.entry) for row in vouch), None)

    def _is_a_tick(self, row: SignOffRow) -> bool:
        """Whether a sign-off carries no reading although its task asked for some then: it says nothing of the gauge."""
        return row.points == "{}" and bool(self._limits.points_of(row.task, row.entry))

    def _is_out(self, row: SignOffRow) -> bool:
        """Whether a sign-off carries a reading out of its limits."""
        if row.entry not in self._out:
            points = json.loads(row.points)
            limits = self._limits.points_of(row.task, row.entry) if points else {}
            self._out[row.entry] = any(not is_within(limits[key], points[key]) for key in points if key in limits)
        return self._out[row.entry]

    def _care(self, gauge: Item, task: Task, moment: datetime) -> Care:
        from upkeep.answers.checks.vouching import Vouching, care_of  # with the rules that judge a line

        asked = [task.id, *self._known.covering(task)]
        answers = self._measurements.last_done(gauge.id, asked, utc_text(moment))
        rows = Vouching(self._file, moment)
        key = gauge.id, task.id, answers, tuple(rows.deferrals_of(gauge.id, task.id))
        if key not in self._cares:
            bad = self._last_is_out(gauge.id, task, moment)
            care = care_of(rows, self._known, gauge, task, task is self.calibration, bad)
            self._cares[key] = self._as_certified(care, answers)
        return self._cares[key]

    def _as_certified(self, care: Care, answers: Sequence[Answer]) -> Care:
        """A calibration counts no longer than its certificate says."""
        last = max(answers, key=lambda answer: (answer.at, answer.entry), default=None)
        recorded = self._entries.by_number(last.entry) if last is not None else None
        found = recorded.entry.calibration if recorded is not None and isinstance(recorded.entry, Sign) else None
        if found is None or care.until is None:
            return care
        ends = self._known.zone.start_of(date.fromisoformat(found.due) + timedelta(days=1))
        return replace(care, until=min(care.until, ends))

    def _last_is_out(self, gauge: str, task: Task, moment: datetime) -> bool:
        """Whether the last reading of a task, by a moment, was out of its limits; a tick without one clears nothing."""
        done = self._rows.done_before(gauge, task.id, utc_text(moment), LATEST)
        last = next((row for row in done if row.points != "{}" or not self._is_a_tick(row)), None)
        return last is not None and self._is_out(last)


def gauge_of(known: Known, key: str, at: datetime) -> Item:
    """The gauge with an id; refuses what is none, and one that was scrapped by then."""
    gauge = known.item(key)
    if gauge.kind is not Kind.GAUGE:
        raise Refused(said("{gauge} is a {kind}, not a gauge.", gauge=gauge.id, kind=term(gauge.kind, "kind")))
    if gauge.scrapped and known.zone.day(at) >= gauge.scrapped:
        raise Refused(
            said(
                "{gauge} was scrapped on {scrapped}; measure with another one.", gauge=gauge.id, scrapped=gauge.scrapped
            )
        )
    return gauge
