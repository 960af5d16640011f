"""Faults put together from the file: the report, its steps, its release, and the faults it repeats."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TypeGuard

from upkeep.counting.strokes import strokes_between, strokes_since_new
from upkeep.entries.faults import Fault, Repair
from upkeep.errors import NotFound
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.holds import standing_faults
from upkeep.plant.model import Kind
from upkeep.quality.repairs import Course, Earlier, Repeat, Step, Watch, course, repeat_of, watch_of
from upkeep.quality.symptoms import Symptom, symptom
from upkeep.said import said
from upkeep.store.rows.findings import FaultRow
from upkeep.units.instants import from_utc_text, utc_text


@frozen
class Case:
    """A fault as it was reported, and how far it has come."""

    number: int
    report: Fault
    symptom: Symptom
    way: Course

    @property
    def words(self) -> str:
        """The symptom as a rule compares it: its id, or the words without regard to case and spaces."""
        return self.report.listed or " ".join(self.report.symptom.casefold().split())


class FaultCases:
    """Puts each fault together with its steps, as of the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._entries, self._history, self._measurements = context.entries, context.fault_history, context.measurements
        self._counts, self._known, self._facts = context.judge.counts, context.known, context.known.facts

    def by_number(self, number: int, until: datetime | None = None, without: int | None = None) -> Case:
        """The fault with a number by its steps until a moment, all but one; raises :class:`NotFound`."""
        row = self._history.fault(number)
        if row is None:
            raise NotFound(said("fault in effect"), f"#{number}", [], said("See 'strokebook faults'."))
        return self._case(row, until, without)

    def all(self, item: str | None = None) -> Iterator[Case]:
        """The faults of an item or of all, in order; of a press, also those of what hung on it when they were found."""
        rows = self._history.on_press(item) if self._is_press(item) else self._history.faults(item)
        return (self._case(row) for row in rows)

    def _is_press(self, item: str | None) -> TypeGuard[str]:
        return item is not None and self._known.item(item).kind is Kind.PRESS

    def open(self, item: str | None = None) -> list[Case]:
        """Those of :meth:`all` that have not ended, in order of their numbers."""
        if self._is_press(item):
            here = {row.entry for row in self._history.on_press(item)}
            return [case for case in self.open() if case.number in here]
        standing = [self._case(row) for row in standing_faults(self._context, item)]
        return [other for other in standing if other.way.ended is None]

    def of_symptom(self, listed: str | None) -> Iterator[Case]:
        """The faults of all items with a symptom of the list (None: told in words), in order."""
        return (self._case(row) for row in self._history.by_symptom(listed))

    def alike(self, case: Case) -> list[Case]:
        """The faults of the same symptom on the same item, in order, itself among them."""
        rows = self._history.alike(case.report.item, case.report.listed)
        return [other for other in (self._case(row) for row in rows) if other.words == case.words]

    def repeat(self, case: Case, alike: Sequence[Case]) -> Repeat | None:
        """Whether a fault came so often among those ``alike`` that its cause has to be analysed."""
        here = (case.report.at, case.number)
        analyses = [other.way.analysed for other in alike if other.way.analysed is not None]
        before = max((analysis.at for analysis in analyses if analysis.at < case.report.at), default=None)
        faults = [other for other in alike if (other.report.at, other.number) <= here]
        counted = [other for other in faults if before is None or other.report.at > before]
        if len(counted) < self._facts.repeat_times:
            return None
        earlier = [Earlier(other.number, other.report.at, self._strokes(other, case.report.at)) for other in counted]
        return repeat_of(
            earlier, case.report.at, self._facts, any(analysis.at >= case.report.at for analysis in analyses)
        )

    def watch(self, case: Case, alike: Sequence[Case], at: datetime) -> Watch | None:
        """The watch over an ended fault at a moment; None while it is open."""
        ended, item = case.way.ended, case.report.item
        if ended is None:
            return None
        later = next((other for other in alike if (other.report.at, other.number) > (ended, case.number)), None)
        again = (later.number, strokes_between(self._counts, item, ended, later.report.at).best) if later else None
        return watch_of(strokes_between(self._counts, item, ended, at).best, again, self._facts.watch_strokes)

    def _strokes(self, case: Case, at: datetime) -> int | None:
        item = case.report.item
        if not strokes_since_new(self._counts, item, at).best:
            return None
        return strokes_between(self._counts, item, case.report.at, at).best

    def _case(self, row: FaultRow, until: datetime | None = None, without: int | None = None) -> Case:
        number = row.entry
        recorded = self._entries.by_number(number)
        assert recorded is not None
        assert isinstance(recorded.entry, Fault)
        report = recorded.entry
        steps = [step for step in self._steps(self._numbers(number, report)) if step.entry != without]
        steps = [step for step in steps if until is None or step.at <= until]
        released = (
            self._measurements.released_after(report.item, utc_text(report.at), number) if report.stopped else None
        )
        ended = from_utc_text(released.at) if released and (until is None or released.at <= utc_text(until)) else None
        return Case(number, report, symptom(report.listed), course(report.at, report.stopped, steps, ended))

    def _numbers(self, number: int, report: Fault) -> list[int]:
        """Every number the fault had: corrected, it got another one, and the steps on the old one stay its own."""
        numbers, before = [number], report.corrects
        while before is not None:
            numbers.append(before)
            old = self._entries.by_number(before)
            before = old.entry.corrects if old else None
        return numbers

    def _steps(self, numbers: list[int]) -> Iterator[Step]:
        for entry in self._history.steps(numbers):
            recorded = self._entries.by_number(entry)
            assert recorded is not None
            step = recorded.entry
            assert isinstance(step, Repair)
            yield Step(recorded.id, step.at, step.by, step.stage, step.what, step.yes, step.cause, step.text)
