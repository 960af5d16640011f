"""Faults as a person asks for them: one, the list, the causes of a symptom, and what somebody has to know at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta

from upkeep.answers.faults.cases import Case, FaultCases
from upkeep.answers.faults.paretos import mean_restoration, paretos
from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by
from upkeep.plant.model import Kind, Role
from upkeep.progress import watched
from upkeep.quality.causes import ESTIMATOR, Confirmed, likely
from upkeep.quality.repairs import Call, Step, calls, missing, proofs_wanted
from upkeep.quality.symptoms import ADJUSTED, OTHER, Symptom, causes, questions, symptom
from upkeep.said import Join, Moment, Numeral, Said, Value, in_turn, listed, said, term
from upkeep.units.instants import utc_text
from upkeep.views.faults import Answer, Before, CauseList, FaultCase, FaultList
from upkeep.views.questions import Question

LAST_TIMES = 5
"""How many earlier times on the item are shown."""

REEL_KNOWN_FOR = timedelta(days=1)
"""How long the reel named in a check counts as the one in use.  Plant default, no source."""


class FaultViews:
    """Faults of one book as it stands (or stood) at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._cases = FaultCases(context)
        self._history, self._entries = context.fault_history, context.entries

    def case(self, number: int) -> FaultCase:
        """The fault with the number of its report; raises :class:`NotFound` where that entry is no fault in effect."""
        fault_case = self._cases.by_number(number)
        return self._view(fault_case, self._cases.alike(fault_case))

    def listing(
        self, item: str | None = None, *, only_open: bool = False, limit: int | None = None, shares: bool = False
    ) -> FaultList:
        """The newest faults of an item or of all (None: no limit), and the shares of all of them where asked for.

        Those of a press are also those of the modules, die sets and parts that hung there when they were found.
        """
        if item is not None:
            self._known.item(item)
        cases = self._cases.open(item) if only_open else list(self._cases.all(item))
        cases = [case for case in reversed(cases) if case.report.at <= self._at]
        alike: dict[tuple[str, str], list[Case]] = {}
        views = []
        looked_at = cases if shares else cases[:limit]
        for case in watched(looked_at, "cases", len(looked_at), self._context.file.watch):
            key = case.report.item, case.words
            if key not in alike:
                alike[key] = self._cases.alike(case)
            views.append(self._view(case, alike[key]))
        faults = tuple(views[:limit])
        restored = mean_restoration(case.way for case in cases)
        return FaultList(faults, len(cases) - len(faults), paretos(views) if shares else (), *restored)

    def causes(self, listed: str, item: str | None = None, fault: int | None = None) -> CauseList:
        """The likely causes of a symptom (``other``: told in words), and its last times on an item."""
        if item is not None:
            self._known.item(item)
        seen = symptom(listed)
        fixed = [
            case
            for case in self._cases.of_symptom(None if listed == OTHER else listed)
            if case.way.fixed is not None and case.report.at <= self._at and case.number != fault
        ]
        records = [Confirmed(case.way.cause or OTHER, case.way.found_by, case.way.repair) for case in fixed]
        here = [case for case in fixed if item in (None, case.report.item)]
        return CauseList(
            symptom=seen.id,
            title=seen.title,
            item=item,
            fault=fault,
            cautions=seen.cautions,
            maintenance_only=seen.maintenance_only,
            likely=likely(seen, records),
            checks=seen.checks,
            before=tuple(self._before(seen, here[::-1][:LAST_TIMES])),
            adjusted=sum(record.cause == ADJUSTED for record in records),
            estimator=ESTIMATOR,
        )

    def causes_of(self, item: str) -> tuple[CauseList, ...]:
        """The likely causes of every open fault of an item, newest first."""
        faults = self.listing(item, only_open=True).faults
        return tuple(self.causes(fault.listed or OTHER, fault.item, fault.number) for fault in faults)

    def questions(self) -> Iterator[Question]:
        """Open faults that somebody has to know of, each a sentence for the lead."""
        for fault in self.listing(only_open=True).faults:
            if fault.calls:
                yield Question(
                    fault.item, max(call.since for call in fault.calls), in_turn(self._calls_for(fault), _waits(fault))
                )

    def _calls(self, case: Case) -> tuple[Call, ...]:
        """Who has to know of a fault, after the times of the plant, counted over its shifts."""
        facts = self._known.facts
        return calls(
            case.way,
            case.symptom,
            self._at,
            lead_after=timedelta(minutes=facts.call_lead_after),
            manager_after=timedelta(minutes=facts.call_manager_after),
            worked_by=self._known.calendar.worked_by,
        )

    def _called(self, to: str) -> Value:
        """Who is called; the safety officers of the plant by their names."""
        day = self._known.zone.day(self._at)
        officers = [
            person.name
            for person in self._known.people.values()
            if Role.SAFETY in person.roles and person.signs_on(day)
        ]
        role = term(to, "role")
        return said("{role} ({names})", role=role, names=listed(officers)) if to == Role.SAFETY and officers else role

    def _calls_for(self, case: FaultCase) -> Said:
        calls = (
            said(
                "{who} since {moment} ({why})",
                who=self._called(call.to),
                moment=Moment(call.since, self._known.zone),
                why=call.why,
            )
            for call in case.calls
        )
        return said(
            "Fault #{fault} on {item}, {symptom}, needs attention: {calls}.",
            fault=Numeral(case.number),
            item=case.item,
            symptom=term(case.symptom),
            calls=listed(calls, Join.SEMICOLON),
        )

    # Making them

    def _view(self, case: Case, alike: Sequence[Case]) -> FaultCase:
        report, way = case.report, case.way
        wanted = proofs_wanted(case.symptom, self._known.item(report.item).kind)
        repeat = self._cases.repeat(case, alike)
        return FaultCase(
            number=case.number,
            item=report.item,
            at=report.at,
            by=self._context.names.of(report.by, case.number),
            symptom=report.symptom,
            listed=report.listed,
            stopped=report.stopped,
            crash=report.crash,
            state=way.state,
            cautions=case.symptom.cautions,
            taken_at=way.taken.at if way.taken else None,
            taken_by=self._name(way.taken) if way.taken else None,
            answers=tuple(self._answers(case)),
            fixed_at=way.fixed.at if way.fixed else None,
            done=way.fixed.text if way.fixed else "",
            cause=way.cause,
            cause_title=_cause_title(case.symptom, way.cause),
            found_by=way.found_by,
            verified_at=way.verified.at if way.verified else None,
            verified_by=self._name(way.verified) if way.verified else None,
            ended_at=way.ended,
            wanted=wanted,
            missing=() if way.ended else missing(way, wanted, repeat),
            response=way.response,
            repair=way.repair,
            restoration=way.restoration,
            repeat=repeat,
            watch=self._cases.watch(case, alike, self._at),
            calls=() if self._is_gone(report.item) else self._calls(case),
            module=self._module(report.item, report.at),
            reel=self._reel(report.item, report.at),
        )

    def _answers(self, case: Case) -> Iterator[Answer]:
        for check in case.way.checks:
            asks = questions().get(check.what[0], check.what[0])
            yield Answer(check.what[0], asks, bool(check.yes), check.at, self._name(check), check.text)

    @staticmethod
    def _before(seen: Symptom, cases: Iterable[Case]) -> Iterator[Before]:
        for earlier in cases:
            way, cause = earlier.way, earlier.way.cause or OTHER
            done = way.fixed.text if way.fixed else ""
            yield Before(
                earlier.number,
                earlier.report.item,
                earlier.report.at,
                cause,
                _cause_title(seen, cause),
                done,
                way.repair,
            )

    def _name(self, step: Step) -> str:
        return self._context.names.of(step.by, step.entry)

    def _is_gone(self, item: str) -> bool:
        """Whether an item was scrapped or left for ever: nobody has to be called for it any more."""
        scrapped = self._known.item(item).scrapped
        gone = scrapped is not None and scrapped <= self._known.zone.day(self._at)
        return gone or gone_by(self._context, item, self._at) is not None

    def _module(self, item: str, at: datetime) -> str | None:
        """The module in which an item hung, that hung on it, or that it is."""
        chain = self._holders(item, at)
        on_press = self._history.contents_of(item, utc_text(at)) if self._kind(item) is Kind.PRESS else []
        return next((key for key in (*chain, *on_press) if self._kind(key) is Kind.MODULE), None)

    def _holders(self, item: str, at: datetime) -> list[str]:
        chain, holder = [item], self._history.inside_of(item, utc_text(at))
        while holder is not None and holder not in chain:
            chain.append(holder)
            holder = self._history.inside_of(holder, utc_text(at))
        return chain

    def _reel(self, item: str, at: datetime) -> str | None:
        """The reel named last in a check on what hung there, within a day."""
        module = self._module(item, at)
        around = {
            *self._holders(item, at),
            *((module, *self._history.contents_of(module, utc_text(at))) if module else ()),
        }
        since = utc_text(at - REEL_KNOWN_FOR)
        for number in self._history.checks_between(sorted(around), since, utc_text(at)):
            recorded = self._entries.by_number(number)
            if recorded is not None and isinstance(recorded.entry, Check) and recorded.entry.reel:
                return recorded.entry.reel
        return None

    def _kind(self, item: str) -> Kind | None:
        known = self._known.items.get(item)
        return known.kind if known else None


def _waits(case: FaultCase) -> Said:
    """What is still to be done before a fault ends."""
    if case.missing:
        return said("It is {lacks}.", lacks=listed(said("not {what}", what=what) for what in case.missing))
    if case.stopped:
        return said("It is waiting to be released.")
    return said("It is waiting to be closed.")


def _cause_title(seen: Symptom, cause: str | None) -> str:
    """How a cause is said under a symptom; empty for none."""
    if cause is None:
        return ""
    return next((candidate.title for candidate in seen.causes if candidate.id == cause), causes().get(cause, cause))
