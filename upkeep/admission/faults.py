"""Admission of faults, of the steps on them, and of the release of what they stopped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from typing import ClassVar

from upkeep.admission.jobs import check_not_locked
from upkeep.admission.lives import check_not_gone
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.faults.cases import Case, FaultCases
from upkeep.answers.people.who_may import check_right
from upkeep.due.facts import OUT_OF_LIMITS
from upkeep.due.holds import OutOfLimits
from upkeep.entries.faults import STAGES, Fault, Happened, Hold, Release, Repair, Stage
from upkeep.entries.standing import Standing
from upkeep.errors import Refused
from upkeep.keeping.holds import hold_reason
from upkeep.plant.line_names import LineName
from upkeep.plant.model import TOLD, Event, Kind
from upkeep.plant.rights import Act
from upkeep.quality.repairs import PROOFS, Repeat, missing, proofs_wanted
from upkeep.quality.symptoms import ADJUSTED, OTHER, causes, named, questions, symptom
from upkeep.said import Join, Moment, Numeral, Quoted, Said, in_lines, listed, said, term
from upkeep.units.instants import utc_text


class FaultAdmission(SubjectAdmission):
    """Judges faults, repairs, holds and releases, each step after the one before it."""

    # Reports

    def _reported(self, fault: Fault) -> Fault:
        """A press that must not run any more is taken out of production by the report itself."""
        item = self._known.item(fault.item)
        press = self._counter.press_at(item.id, fault.at)
        if fault.crash and press is not None and press != item.id:
            raise Refused(
                said(
                    "Report the crash on {press}, where {item} is fitted: it affects everything on that press.",
                    press=press,
                    item=item.id,
                )
            )
        seen = symptom(None) if fault.listed is None else named(fault.listed)
        if not seen.maintenance_only:
            self._check_stays_stopped(fault)
            return fault
        self.notes.append(
            said(
                "{cautions} {item} is held until it is repaired and released.",
                cautions=listed(seen.cautions, Join.SPACE),
                item=fault.item,
            )
        )
        return replace(fault, stopped=True)

    def _check_stays_stopped(self, fault: Fault) -> None:
        """Somebody else's report that an item was stopped is not taken back by everybody: that would release it."""
        if fault.corrects is None:
            return
        old = self._cases().by_number(fault.corrects)
        if old.report.stopped and old.way.ended is None and not fault.stopped and fault.by != old.report.by:
            person = self._known.person(fault.by)
            check_right(self._known, person, Act.RELEASE, fault.at)

    # Steps

    def _check_step(self, step: Repair) -> None:
        if step.stage not in STAGES:
            raise Refused(
                said(
                    "{stage} is not a step of a repair. Use one of: {stages}.",
                    stage=Quoted(step.stage),
                    stages=listed(STAGES),
                )
            )
        case = self._cases().by_number(step.fault, step.at, step.corrects)
        if step.at < case.report.at:
            raise Refused(
                said(
                    "#{fault} was reported {moment}; no step can be earlier than that.",
                    fault=Numeral(case.number),
                    moment=self._shown(case.report.at),
                )
            )
        if case.way.ended is not None and step.corrects is None:
            raise Refused(
                said(
                    "#{fault} was {state} {moment}. If it has come back, report it again.",
                    fault=Numeral(case.number),
                    state=case.way.state,
                    moment=self._shown(case.way.ended),
                )
            )
        self._check_says_only_its_own(step)
        match step.stage:
            case Stage.CHECKED:
                self._check_answer(step, case)
            case Stage.FIXED:
                self._check_fixed(step, case)
            case Stage.VERIFIED:
                self._check_verified(step, case)
            case Stage.ANALYSED:
                self._check_cause(step)
                if step.cause == ADJUSTED:
                    raise Refused(
                        said("'adjusted' is not a root cause. Name the cause that made the adjustment necessary.")
                    )
            case Stage.CLOSED:
                self._check_closed(case)

    @staticmethod
    def _check_says_only_its_own(step: Repair) -> None:
        """Nothing is kept that the step does not mean."""
        given = (("what", step.what), ("yes or no", step.yes is not None), ("cause", step.cause), ("text", step.text))
        wanted = {
            str(Stage.CHECKED): ("what", "yes or no", "text"),
            str(Stage.FIXED): ("cause", "text"),
            str(Stage.ANALYSED): ("cause", "text"),
            str(Stage.VERIFIED): ("what", "text"),
        }.get(step.stage, ("text",))
        for name, value in given:
            if value and name not in wanted:
                raise Refused(said("'{stage}' takes no {name}; leave it out.", stage=step.stage, name=name))

    @staticmethod
    def _check_answer(step: Repair, case: Case) -> None:
        offered = {check.id: check.asks for check in case.symptom.checks} or questions()
        if len(step.what) != 1 or step.what[0] not in questions() or step.yes is None:
            asked = said("Answer one check with yes (all is well) or no (it found something):")
            raise Refused(in_lines([asked, *_named(offered)]))

    @staticmethod
    def _check_cause(step: Repair) -> None:
        if step.cause not in causes():
            raise Refused(in_lines([said("Name the cause. It is one of:"), *_named(causes())]))
        if step.cause == OTHER and not step.text.strip():
            raise Refused(said("Describe the other cause in your own words, so that others can find it."))

    def _check_fixed(self, step: Repair, case: Case) -> None:
        self._check_cause(step)
        if not step.text.strip():
            raise Refused(
                said(
                    "Say what was done to fix #{fault}; the next person who meets it will read it.",
                    fault=Numeral(case.number),
                )
            )
        if step.cause == ADJUSTED and (repeat := self._repeat(case)) is not None:
            self.notes.append(
                said(
                    "It has come {n} times {within} ({faults}): 'adjusted' does not settle it. It needs the "
                    "step 'analysed' with a root cause, and that cause fixed.",
                    n=len(repeat.faults),
                    within=repeat.within,
                    faults=listed(f"#{number}" for number in repeat.faults),
                )
            )

    def _check_verified(self, step: Repair, case: Case) -> None:
        if case.way.fixed is None:
            raise Refused(
                said("#{fault} is not fixed yet; first enter what was done ('fixed').", fault=Numeral(case.number))
            )
        if not self._known.facts.verified_by_fixer and self._known.is_one_person(step.by, case.way.fixed.by):
            raise Refused(
                said(
                    "{person} fixed #{fault}; somebody else must verify it. A plant in which one person does both says "
                    "so in plant.toml (verified_by_fixer = true).",
                    person=self._known.person(step.by).name,
                    fault=Numeral(case.number),
                )
            )
        unknown = [proof for proof in step.what if proof not in PROOFS]
        if unknown:
            raise Refused(
                said(
                    "{unknown} is not a way to verify a repair. Use: {proofs}.",
                    unknown=Quoted(unknown[0]),
                    proofs=listed(PROOFS),
                )
            )
        wanted = self._proofs(case)
        lacking = [proof for proof in wanted if proof not in step.what]
        if lacking:
            proofs = listed(
                (said("{proof} ({what})", proof=proof, what=PROOFS[proof]) for proof in lacking), Join.SEMICOLON
            )
            raise Refused(
                said(
                    "To verify #{fault}, these are still missing: {proofs}.", fault=Numeral(case.number), proofs=proofs
                )
            )

    def _check_closed(self, case: Case) -> None:
        if case.report.stopped:
            raise Refused(
                said(
                    "#{fault} stopped {item}: releasing the item closes the fault ('strokebook release {item}').",
                    fault=Numeral(case.number),
                    item=case.report.item,
                )
            )
        lacks = missing(case.way, self._proofs(case), self._repeat(case))
        if lacks:
            raise Refused(
                said(
                    "#{fault} cannot be closed until it is {lacks}.",
                    fault=Numeral(case.number),
                    lacks=listed(lacks, Join.SEMICOLON),
                )
            )

    # Events

    def _check_happened(self, happened: Happened) -> None:
        item = self._known.item(happened.item)
        if happened.what not in TOLD:
            raise Refused(
                said(
                    "{what} is not an event to enter here. Use one of: {events}.",
                    what=Quoted(happened.what),
                    events=listed(event.replace(" ", "-") for event in TOLD),
                )
            )
        if happened.what != Event.BACK and item.kind is not Kind.PRESS:
            raise Refused(
                said(
                    "{item} is a {kind}; only a press is entered as moved or with its guard off.",
                    item=item.id,
                    kind=term(item.kind, "kind"),
                )
            )
        asked = [task.title for task in self._known.tasks_on(item) if happened.what in task.after]
        self.notes.append(
            said("Before {item} runs again, this is due: {tasks}.", item=item.id, tasks=listed(asked))
            if asked
            else said("No task of {item} is asked for after that ('after' in tasks.toml).", item=item.id)
        )

    # Holds

    def _check_hold(self, hold: Hold) -> None:
        self._check_reason(hold, said("held"))

    def _check_reason(self, entry: Hold | Release, what: Said) -> None:
        item = self._known.item(entry.item)
        if not entry.because:
            raise Refused(said("Say why {item} is {what}; the reason stays in the book.", item=item.id, what=what))

    def _in_force(self, item: str) -> set[str]:
        return {row.what for row in self._rows.standings_of(self._known.item(item).id)}

    def _check_release(self, release: Release) -> None:
        self._check_reason(release, said("released"))
        check_not_gone(self._context, release.item, release.at, said("released"))
        check_not_locked(self._context, release.item)
        if Standing.HOLD not in self._in_force(release.item):
            raise Refused(said("{item} is not held.", item=release.item))
        missing = list(self._missing(release.item, release.at))
        if missing:
            raise Refused(
                said("{item} cannot be released yet: {why}.", item=release.item, why=listed(missing, Join.SEMICOLON))
            )
        if self._known.item(release.item).kind is Kind.GAUGE and self._known.calibration is not None:
            self._tell_validity(release)

    def _tell_validity(self, release: Release) -> None:
        """A released gauge may be taken in hand again; whether it counts, its calibration says."""
        state = GaugeStates(self._context).at(release.item, release.at)
        if not state.valid:
            self.notes.append(
                said(
                    "{gauge} is released and still not valid ({why}). Sign its calibration first: {task}.",
                    gauge=release.item,
                    why=state.why,
                    task=self._known.calibration.title if self._known.calibration else "",
                )
            )

    def _missing(self, item: str, at: datetime) -> Iterator[Said]:
        yield from self._not_reworked(item)
        yield from self._not_measured_again(item)
        for case in self._cases().open(item):
            if not case.report.stopped or case.report.at > at:
                continue
            case = self._cases().by_number(case.number, at)
            lacks = missing(case.way, self._proofs(case), self._repeat(case))
            if lacks:
                yield said(
                    "fault #{fault} ({symptom}) is {lacks}",
                    fault=Numeral(case.number),
                    symptom=term(case.report.symptom),
                    lacks=listed(said("not {what}", what=what) for what in lacks),
                )

    def _not_measured_again(self, key: str) -> Iterator[Said]:
        """The work that found a value out of limits, where it was not signed with good ones since."""
        item, hold = self._known.item(key), hold_reason(self._context, key)
        task = self._known.tasks.get(hold.task) if isinstance(hold, OutOfLimits) else None
        if task is None:
            return
        self._counter.settle()
        happening = self._context.judge.facts(item, task).happening
        if happening is not None and happening.what == OUT_OF_LIMITS:
            line = str(LineName(key, task.id))
            yield said(
                "{line} found a value out of limits (#{entry}) and has not been signed with good ones since",
                line=line,
                entry=Numeral(happening.entry),
            )

    def _not_reworked(self, key: str) -> Iterator[Said]:
        """What an item graded 4 still lacks: the work that its finding asks for, with its second signature."""
        out, item = self._rows.last_graded(key, 4), self._known.item(key)
        released = self._context.entries.last_of_each(key, ("release",))
        if out is None or any(utc_text(one.entry.at) >= out.at for one in released):
            return
        self._counter.settle()
        for task in self._known.tasks_on(item):
            facts = self._context.judge.facts(item, task) if task.after_grade is not None else None
            if facts is None or (facts.last is not None and utc_text(facts.last.at) >= out.at):
                continue
            line = str(LineName(key, task.id))
            if facts.unverified is None:
                yield said("graded 4 (#{entry}), and {line} has not been signed", entry=Numeral(out.entry), line=line)
            else:
                yield said(
                    "{line} waits for its second signature (#{entry})", line=line, entry=Numeral(facts.unverified)
                )

    # What is known

    def _cases(self) -> FaultCases:
        self._counter.settle()
        return FaultCases(self._context)

    def _repeat(self, case: Case) -> Repeat | None:
        return self._cases().repeat(case, self._cases().alike(case))

    def _proofs(self, case: Case) -> tuple[str, ...]:
        return proofs_wanted(symptom(case.report.listed), self._known.item(case.report.item).kind)

    def _shown(self, moment: datetime) -> Moment:
        return Moment(moment, self._known.zone)

    JUDGES: ClassVar[Judges] = {
        Fault: _reported,
        Repair: _check_step,
        Hold: _check_hold,
        Release: _check_release,
        Happened: _check_happened,
    }


def _named(what: Mapping[str, str]) -> Iterator[Said]:
    """Ids with what they stand for, one a line."""
    return (said("  {id}: {title}", id=key, title=title) for key, title in what.items())
