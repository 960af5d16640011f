"""A gauge with what vouches for it, and the results that turn when it was found to read wrong."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from upkeep.answers.board import Boards
from upkeep.answers.checks.gauge_states import GaugeStates, gauge_of
from upkeep.answers.checks.results import CHECKED_KINDS, Results
from upkeep.due.reasons import LastDone
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.keeping.limits_in_force import is_within
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Kind
from upkeep.plant.values.gauging import gauge_class_of
from upkeep.quality.gauges import Doubt, state_said
from upkeep.quality.suspect import start_of
from upkeep.said import Numeral, Said, said
from upkeep.store.then import LAST
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.views.checks import (
    Flip,
    GaugeCalibration,
    GaugeCare,
    GaugeDoubt,
    GaugeLine,
    GaugeReport,
    GaugeUser,
    InDoubt,
)
from upkeep.wording.holds import hold_said

Verdicts = dict[str, tuple[bool, bool]]
"""Characteristics with how they were judged, and how they are without the error of the gauge."""


class GaugeReports:
    """Makes the page of a gauge, and the register of all, as of the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._states = GaugeStates(context)
        self._measurements, self._entries, self._rows = context.measurements, context.entries, context.rows
        self._limits = context.limits
        self._results = Results(context)

    def report(self, key: str) -> GaugeReport:
        """One gauge; raises :class:`NotFound` or :class:`Refused` where the id is none of a gauge."""
        gauge = gauge_of(self._known, key, self._at)
        state = self._states.at(key, self._at)
        vouched = self._states.last_vouched(key, (self._at, LAST))
        since, _ = vouched or (None, 0)
        held = hold_reason(self._context, key)
        return GaugeReport(
            id=key,
            title=gauge.title,
            gauge_class=gauge.gauge_class or "",
            at=self._at,
            valid=state.valid and not held,
            in_order=state.valid,
            note=state_said(state, self._at, self._known.zone),
            held=held,
            cares=tuple(self._cares(key)),
            users_since=since,
            users=tuple(self._users(key, since)),
            doubts=tuple(self._doubt(key, doubt) for doubt in self._states.doubts(key)),
            calibrations=tuple(self._calibrations(key)),
            unit=self._unit(gauge.gauge_class),
        )

    def register(self) -> tuple[GaugeLine, ...]:
        """Every gauge in use, those that do not count first, then by how soon they have to be seen to."""
        gauges = [item for item in self._known.items.values() if item.kind is Kind.GAUGE and not item.scrapped]
        lines = [self._line(gauge) for gauge in gauges]
        return tuple(sorted(lines, key=lambda line: (line.valid, line.until or NEVER, line.id)))

    def _line(self, gauge: Item) -> GaugeLine:
        state, held = self._states.at(gauge.id, self._at), hold_reason(self._context, gauge.id)
        note = said("held: {why}", why=hold_said(held)) if held else state_said(state, self._at, self._known.zone)
        return GaugeLine(
            gauge.id, gauge.title, gauge.gauge_class or "", gauge.place or "-", state.valid and not held, note,
            None if held else state.until,
        )  # fmt: skip

    def _name(self, by: str, entry: int) -> str:
        return self._context.names.of(by, entry)

    def _cares(self, key: str) -> Iterator[GaugeCare]:
        for task in self._states.tasks:
            line = Boards(self._context).line(str(LineName(key, task.id)))
            done = next((reason for reason in line.reasons.all if isinstance(reason, LastDone)), None)
            by = None if done is None else self._name(done.by, done.entry)
            yield GaugeCare(task.title, line.last_done_at, by, line.reasons)

    def _unit(self, gauge_class: str | None) -> str:
        """The unit a kind of gauge reads in: that of all points it measures; "" where they have several, or none."""
        points = [(point, point.gauge_class) for crimp in self._known.crimps.values() for point in crimp.points]
        points += [(point, gauge_class_of(task, point)) for task in self._known.tasks.values() for point in task.points]
        units = {point.unit for point, kind in points if kind is not None and kind == gauge_class}
        return units.pop() if len(units) == 1 else ""

    def _calibrations(self, key: str) -> Iterator[GaugeCalibration]:
        calibration = self._states.calibration
        rows = self._rows.done_before(key, calibration.id, utc_text(self._at), LAST) if calibration else ()
        for row in rows:
            recorded = self._entries.by_number(row.entry)
            if recorded is not None and isinstance(recorded.entry, Sign) and (found := recorded.entry.calibration):
                yield GaugeCalibration(
                    row.entry, recorded.entry.at, self._name(row.by, row.entry), found.certificate, found.laboratory,
                    found.received, found.left, found.uncertainty, date.fromisoformat(found.due),
                )  # fmt: skip

    def _users(self, key: str, since: datetime | None) -> Iterator[GaugeUser]:
        for user in self._measurements.users(key, utc_text(since) if since else ""):
            yield GaugeUser(self._name(user.by, user.newest), user.entries, from_utc_text(user.last))

    # What is in doubt

    def turned_bad(self) -> Iterator[tuple[Doubt, Flip]]:
        """Every good result about product that is bad without the error of a gauge found to read wrong."""
        for gauge in self._measurements.gauges_out_of_tolerance():
            for doubt in self._states.doubts(gauge):
                for flip in self._doubt(gauge, doubt).flips:
                    if flip.good_before and self._known.item(flip.item).kind in CHECKED_KINDS:
                        yield doubt, flip

    def _doubt(self, key: str, doubt: Doubt) -> GaugeDoubt:
        start, end = utc_text(doubt.since) if doubt.since else "", utc_text(doubt.until or NEVER)
        rows = self._measurements.measured_after(key, start, end)
        entries = [
            recorded
            for number in dict.fromkeys(row.entry for row in rows)
            if (recorded := self._entries.by_number(number))
        ]
        judged = [(recorded, self._verdicts(recorded, key, doubt.off)) for recorded in entries]
        verdicts = [pair for _, verdicts_by_point in judged for pair in verdicts_by_point.values()]
        found_in = self._entries.by_number(doubt.entry)
        assert found_in is not None
        return GaugeDoubt(
            off=doubt.off,
            unit=doubt.unit,
            found_at=doubt.found_at,
            found_by=self._name(found_in.entry.by, found_in.id),
            entry=doubt.entry,
            since=doubt.since,
            until=doubt.until,
            results=len(rows),
            passed=sum(before for before, _ in verdicts),
            unjudged=len(rows) - len(verdicts),
            flips=tuple(
                flip for recorded, verdicts_by_point in judged for flip in self._flips(recorded, verdicts_by_point)
            ),
            tasks=tuple(
                self._in_doubt(recorded.entry, recorded.id)
                for number in self._measurements.signed_by(key, start, end)
                if (recorded := self._entries.by_number(number)) and isinstance(recorded.entry, Sign)
            ),
            people=tuple(dict.fromkeys(self._name(recorded.entry.by, recorded.id) for recorded in entries)),
        )

    def _verdicts(self, recorded: Recorded, gauge: str, off: float) -> Verdicts:
        entry = recorded.entry
        if isinstance(entry, Check):
            now, looks = entry.verdicts(off), dict(entry.looks)
            return {key: (good, now[key]) for key, good in entry.verdicts().items() if key not in looks}
        assert isinstance(entry, Sign)
        limits = self._limits.points(recorded)
        by_it = [(key, values) for key, values in entry.measured if entry.gauge_of(key) == gauge]
        bound = {key: limits[key] for key, _ in by_it if key in limits}
        return {
            key: (
                is_within(bound[key], values),
                is_within(bound[key], tuple(round(value - off, 9) for value in values)),
            )
            for key, values in by_it
            if key in bound and (bound[key].lower is not None or bound[key].upper is not None)
        }

    def _flips(self, recorded: Recorded, verdicts: Verdicts) -> Iterator[Flip]:
        entry = recorded.entry
        assert isinstance(entry, Check | Sign)
        for point, (before, now) in verdicts.items():
            if before == now:
                continue
            since, why = self._window(recorded, point) if before else (None, None)
            press, order = (entry.press, entry.order) if isinstance(entry, Check) else (None, None)
            yield Flip(
                recorded.id, entry.item, point, entry.at, self._name(entry.by, recorded.id), press, order,
                dict(entry.points)[point], before, now, since, why,
            )  # fmt: skip

    def _window(self, recorded: Recorded, point: str) -> tuple[datetime | None, Said | None]:
        """Where the suspect window of a result begins that turned bad."""
        entry = recorded.entry
        assert isinstance(entry, Check | Sign)
        if self._known.item(entry.item).kind not in CHECKED_KINDS:
            return None, said("no product is measured with it")
        part = self._results.part(entry.item, point, entry.at)
        start = start_of(self._results.before(recorded, point), self._known.since[entry.item], part)
        if start.entry is None:
            return start.at, start.why
        return start.at, said("{why} (#{entry})", why=start.why, entry=Numeral(start.entry))

    def _in_doubt(self, sign: Sign, number: int) -> InDoubt:
        return InDoubt(str(LineName(sign.item, sign.task)), sign.at, self._name(sign.by, number), number)
