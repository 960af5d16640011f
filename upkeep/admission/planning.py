"""Admission of the plan of a week: absences, proposals, changes, that it was agreed and frozen, decisions."""

from __future__ import annotations

from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.people.who_may import why_not
from upkeep.answers.planned.hours import WeekHours
from upkeep.answers.planned.steps import WeekSteps, undecided_said
from upkeep.entries.plans.weeks import Absent, AgreeWeek, Carried, FreezeWeek, PlanJob, Propose, rows_from
from upkeep.errors import Refused
from upkeep.plant.line_names import LineName
from upkeep.said import Quoted, said
from upkeep.units.shifts import ShiftSpan
from upkeep.views.planned.week_plan import Stage
from upkeep.views.rights import Wish


class WeekAdmission(SubjectAdmission):
    """Judges steps of a planned week by how far it has come."""

    def _check_absent(self, absent: Absent) -> None:
        person = self._known.person(absent.person)
        if absent.last < absent.first:
            raise Refused(
                said("{last} is before {first}; give the first day and then the last.", last=absent.last,
                     first=absent.first)
            )  # fmt: skip
        for row in self._context.plans.absences(absent.first, absent.last):
            if row.person == person.id and row.entry != absent.corrects:
                raise Refused(
                    said(
                        "{name} is absent from {first} to {last} already (#{entry}).",
                        name=person.name, first=row.first, last=row.last, entry=row.entry,
                    )
                )  # fmt: skip

    def _check_propose(self, proposed: Propose) -> None:
        steps = self._steps(proposed.week)
        if steps.stage is Stage.FROZEN:
            raise Refused(said("{week} is frozen; a new proposal would say nothing.", week=proposed.week))
        for row in rows_from(proposed.rows):
            self._check_line(row.line)

    def _check_job(self, change: PlanJob) -> None:
        line = self._check_line(change.line)
        steps = self._steps(change.week)
        if steps.stage is Stage.NONE:
            raise Refused(said("{week} has no plan yet; propose it first ('strokebook propose').", week=change.week))
        if change.shift is None:
            return
        shift = self._shift(change.week, change.shift)
        person = self._known.person(change.person or "")
        wanted = why_not(self._context, Wish("sign", *line), person.id, shift.start)
        if wanted is not None:
            raise Refused(wanted)
        hours = WeekHours(self._context, change.week)
        if not any(one.person.id == person.id and one.shift == shift for one in hours.attendances):
            self.notes.append(
                said("{name} does not work on {shift}, as far as the book knows.", name=person.name, shift=shift.key)
            )

    def _shift(self, week: str, key: str) -> ShiftSpan:
        for shift in WeekHours(self._context, week).shifts:
            if shift.key == key:
                return shift
        self._known.calendar.named(key)  # says what is wrong with it, if it is no shift at all
        raise Refused(said("{shift} is not a shift of {week}.", shift=Quoted(key), week=week))

    def _check_agree(self, agreed: AgreeWeek) -> None:
        stage = self._steps(agreed.week).stage
        if stage in (Stage.NONE, Stage.FROZEN, Stage.AGREED):
            raise Refused(
                {
                    Stage.NONE: said(
                        "{week} has no plan yet; propose it first ('strokebook propose').", week=agreed.week
                    ),
                    Stage.FROZEN: said("{week} is frozen.", week=agreed.week),
                    Stage.AGREED: said("{week} is agreed as it stands.", week=agreed.week),
                }[stage]
            )

    def _check_freeze(self, frozen: FreezeWeek) -> None:
        steps = self._steps(frozen.week)
        refused = steps.not_to_be_frozen()
        if refused is not None:
            raise Refused(refused)
        rows, most = rows_from(frozen.rows), self._known.facts.planning.carries
        for row in rows:
            self._check_line(row.line)
        waiting = [row.line for row in rows if row.carried >= most and row.line not in steps.decisions]
        if waiting:
            raise Refused(undecided_said(waiting, most))

    def _check_carried(self, decided: Carried) -> None:
        self._check_line(decided.line)
        self._steps(decided.week)
        if not decided.because.strip():
            raise Refused(said("Say why {line} is decided so; the sentence stays with it.", line=decided.line))

    def _steps(self, week: str) -> WeekSteps:
        """The steps of a week; raises :class:`Unreadable` for a week that is none."""
        WeekHours(self._context, week)
        return WeekSteps(self._context, week)

    def _check_line(self, name: str) -> LineName:
        line = LineName.read(name)
        item, task = self._known.item(line.item), self._known.task(line.task)
        if task not in self._known.tasks_on(item):
            raise Refused(said("{task} is no work on {item}.", task=task.title, item=item.id))
        return line

    JUDGES: ClassVar[Judges] = {
        Absent: _check_absent,
        Propose: _check_propose,
        PlanJob: _check_job,
        AgreeWeek: _check_agree,
        FreezeWeek: _check_freeze,
        Carried: _check_carried,
    }
