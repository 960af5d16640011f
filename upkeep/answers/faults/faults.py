"""Faults as a person asks for them: one, the list, the causes of a symptom, and what somebody has to know at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta

from upkeep.answers.faults.cases import Case, FaultCases
from upkeep.answers.faults.paretos import mean_restoration, paretos
from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by
from upkeep.plant.model import Kind
from upkeep.quality.causes import ESTIMATOR, Confirmed, likely
from upkeep.quality.repairs import calls, missing, proofs_wanted
from upkeep.quality.symptoms import ADJUSTED, OTHER, Symptom, causes, questions, symptom
from upkeep.said import Join, Moment, Numeral, Said, in_turn, listed, said
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
        self._mended, self._entries = context.mended, context.entries

    def case(self, number: int) -> FaultCase:
        """The fault with a number; raises :class:`NotFound`."""
        found = self._cases.one(number)
        return self._view(found, self._cases.alike(found))

    def listing(
        self, item: str | None = None, *, only_open: bool = False, limit: int | None = None, shares: bool = False
    ) -> FaultList:
        """The newest faults of an item or of all (None: no limit), and the shares of all of them where asked for."""
        if item is not None:
            self._known.item(item)
        found = self._cases.open(item) if only_open else list(self._cases.all(item))
        found = [one for one in reversed(found) if one.report.at <= self._at]
        alike: dict[tuple[str, str], list[Case]] = {}
        views = []
        for one in found if shares else found[:limit]:
            key = one.report.item, one.words
            if key not in alike:
                alike[key] = self._cases.alike(one)
            views.append(self._view(one, alike[key]))
        faults = tuple(views[:limit])
        restored = mean_restoration(one.way for one in found)
        return FaultList(faults, len(found) - len(faults), paretos(views) if shares else (), *restored)

    def causes(self, listed: str, item: str | None = None, fault: int | None = None) -> CauseList:
        """The likely causes of a symptom (``other``: told in words), and its last times on an item."""
        if item is not None:
            self._known.item(item)
        seen = symptom(listed)
        fixed = [
            one
            for one in self._cases.of_symptom(None if listed == OTHER else listed)
            if one.way.fixed is not None and one.report.at <= self._at and one.number != fault
        ]
        records = [Confirmed(one.way.cause or OTHER, one.way.found_by, one.way.repair) for one in fixed]
        here = [one for one in fixed if item in (None, one.report.item)]
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
            adjusted=sum(one.cause == ADJUSTED for one in records),
            estimator=ESTIMATOR,
        )

    def causes_of(self, item: str) -> tuple[CauseList, ...]:
        """The likely causes of every open fault of an item, newest first."""
        found = self.listing(item, only_open=True).faults
        return tuple(self.causes(one.listed or OTHER, item, one.number) for one in found)

    def questions(self) -> Iterator[Question]:
        """Open faults that somebody has to know of, each a sentence for the lead."""
        for one in self.listing(only_open=True).faults:
            if one.calls:
                yield Question(one.item, one.at, in_turn(self._calls_for(one), _waits(one)))

    def _calls_for(self, case: FaultCase) -> Said:
        calls = (
            said("{who} since {moment} ({why})", who=call.to, moment=Moment(call.since, self._known.zone), why=call.why)
            for call in case.calls
        )
        return said(
            "Fault #{fault} on {item}, {symptom}, needs attention: {calls}.",
            fault=Numeral(case.number),
            item=case.item,
            symptom=case.symptom,
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
            by=self._name(report.by),
            symptom=report.symptom,
            listed=report.listed,
            stopped=report.stopped,
            crash=report.crash,
            state=way.state,
            cautions=case.symptom.cautions,
            taken_at=way.taken.at if way.taken else None,
            taken_by=self._name(way.taken.by) if way.taken else None,
            answers=tuple(self._answers(case)),
            fixed_at=way.fixed.at if way.fixed else None,
            done=way.fixed.text if way.fixed else "",
            cause=way.cause,
            cause_title=_cause_title(case.symptom, way.cause),
            found_by=way.found_by,
            verified_at=way.verified.at if way.verified else None,
            verified_by=self._name(way.verified.by) if way.verified else None,
            ended_at=way.ended,
            wanted=wanted,
            missing=() if way.ended else missing(way, wanted, repeat),
            response=way.response,
            repair=way.repair,
            restoration=way.restoration,
            repeat=repeat,
            watch=self._cases.watch(case, alike, self._at),
            calls=() if self._is_gone(report.item) else calls(way, case.symptom, self._at),
            module=self._module(report.item, report.at),
            reel=self._reel(report.item, report.at),
        )

    def _answers(self, case: Case) -> Iterator[Answer]:
        for one in case.way.checks:
            asks = questions().get(one.what[0], one.what[0])
            yield Answer(one.what[0], asks, bool(one.yes), one.at, self._name(one.by), one.text)

    @staticmethod
    def _before(seen: Symptom, cases: Iterable[Case]) -> Iterator[Before]:
        for one in cases:
            way, cause = one.way, one.way.cause or OTHER
            done = way.fixed.text if way.fixed else ""
            yield Before(one.number, one.report.item, one.report.at, cause, _cause_title(seen, cause), done, way.repair)

    def _name(self, by: str) -> str:
        return self._known.names.get(by, by)

    def _is_gone(self, item: str) -> bool:
        """Whether an item was scrapped or left for ever: nobody has to be called for it any more."""
        scrapped = self._known.item(item).scrapped
        gone = scrapped is not None and scrapped <= self._known.zone.day(self._at)
        return gone or gone_by(self._context, item, self._at) is not None

    def _module(self, item: str, at: datetime) -> str | None:
        """The module in which an item hung, that hung on it, or that it is."""
        chain = self._holders(item, at)
        on_press = self._mended.contents_of(item, utc_text(at)) if self._kind(item) is Kind.PRESS else []
        return next((one for one in (*chain, *on_press) if self._kind(one) is Kind.MODULE), None)

    def _holders(self, item: str, at: datetime) -> list[str]:
        chain, holder = [item], self._mended.inside_of(item, utc_text(at))
        while holder is not None and holder not in chain:
            chain.append(holder)
            holder = self._mended.inside_of(holder, utc_text(at))
        return chain

    def _reel(self, item: str, at: datetime) -> str | None:
        """The reel named last in a check on what hung there, within a day."""
        module = self._module(item, at)
        around = {
            *self._holders(item, at),
            *((module, *self._mended.contents_of(module, utc_text(at))) if module else ()),
        }
        since = utc_text(at - REEL_KNOWN_FOR)
        for number in self._mended.checks_between(sorted(around), since, utc_text(at)):
            found = self._entries.one(number)
            if found is not None and isinstance(found.entry, Check) and found.entry.reel:
                return found.entry.reel
        return None

    def _kind(self, item: str) -> Kind | None:
        found = self._known.items.get(item)
        return found.kind if found else None


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
    return next((one.title for one in seen.causes if one.id == cause), causes().get(cause, cause))
