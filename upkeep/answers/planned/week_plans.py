"""The plan of a week: the lines it is made of, the proposal that levels them, and how it stands."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from functools import cached_property

from upkeep.answers.board import Boards
from upkeep.answers.planned.capacity import capacity, care_by_person
from upkeep.answers.planned.hours import WeekHours
from upkeep.answers.planned.jobs import WeekJobs, minutes_of
from upkeep.answers.planned.solving import solved
from upkeep.answers.planned.steps import CarriedOver, WeekSteps, answered_since, undecided_said
from upkeep.answers.week import calling
from upkeep.due.states import State
from upkeep.entries.plans.weeks import Carried, FreezeWeek, Planned, Propose, rows_text
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.planning.levelling.levelled import Levelled
from upkeep.planning.levelling.problem import Problem
from upkeep.said import said
from upkeep.units.weeks import iso_week
from upkeep.views.board import BoardLine
from upkeep.views.planned.week_plan import Mark, PlanRow, Stage, Unplaced, WeekPlan


class WeekPlans:
    """Answers for one week at the moment of a context; raises :class:`Unreadable` for a week that is none."""

    def __init__(self, context: Context, week: str | None) -> None:
        self._context, self._known = context, context.known
        self.week = week or iso_week(context.known.zone.day(context.moment))
        self._hours = WeekHours(context, self.week)
        self._steps, self._carried = WeekSteps(context, self.week), CarriedOver(context, self.week)
        self._boards = Boards(context)
        self._jobs = WeekJobs(context, self._hours)

    # Lines

    @cached_property
    def _called(self) -> list[BoardLine]:
        """Everything that asks for work by the end of the week, in walking order, carried lines first."""
        end = self._known.zone.start_of(self._hours.last + timedelta(days=1))
        lines = calling(self._boards, self._context.moment, end, None)
        judge = self._context.judge
        return sorted(
            lines,
            key=lambda line: (
                -self._times(line.line), judge.area_and_route(line.place)[1], line.place, line.item, line.task,
            ),
        )  # fmt: skip

    @cached_property
    def _promised(self) -> set[str]:
        """Lines that the frozen list of the week before still expects on a shift to come."""
        before = iso_week(self._hours.first - timedelta(days=1))
        steps = WeekSteps(self._context, before)
        if steps.frozen is None or self._known.zone.day(self._context.moment) >= self._hours.first:
            return set()
        coming = {shift.key for shift in WeekHours(self._context, before).shifts if shift.end > self._context.moment}
        return {row.line for row, _ in steps.rows() if row.shift in coming}

    @cached_property
    def listed(self) -> list[BoardLine]:
        """The lines of the list: work of every shift is left to the rounds.  What is still promised in the week before
        stands last: nobody knows yet whether it will be done."""
        rows = (line for line in self._called if not line.of_rounds)
        return sorted(rows, key=lambda line: line.line in self._promised)

    @cached_property
    def _here(self) -> list[BoardLine]:
        """The lines of the list that take hours of this week."""
        return [line for line in self.listed if line.line not in self._promised]

    def _times(self, line: str) -> int:
        return self._carried.times(line)

    # The proposal

    def proposal(self, at: datetime, by: str) -> Propose:
        """The levelled week as an entry to be written.  Raises :class:`Refused` where the week is frozen or over, or
        nobody works in it."""
        if self._steps.stage is Stage.FROZEN:
            raise Refused(
                said(
                    "{week} is frozen. Change single lines with 'strokebook plan-job', or freeze it anew after that.",
                    week=self.week,
                )
            )
        if not self._jobs.turns:
            raise Refused(said("{week} has no shift that is still to come.", week=self.week))
        problem = self._problem
        made = solved(problem)
        rows = [*self._placed(made, problem), *self._held(), *self._still_promised()]
        return Propose(at=at, by=by, week=self.week, made=made.made, gap=round(made.gap * 10_000), rows=rows_text(rows))

    @cached_property
    def _free(self) -> list[BoardLine]:
        return [line for line in self._here if line.state is not State.HELD]

    @cached_property
    def _problem(self) -> Problem:
        care = care_by_person(self._hours, self._called, self._jobs)
        times = {line.line: self._times(line.line) for line in self._free}
        return self._jobs.problem(self._free, times, care)

    def outline(self) -> tuple[list[BoardLine], Problem, tuple[date, ...]]:
        """What a proposal would be made of: the lines to be placed, the problem they make, and the day of each turn."""
        return self._free, self._problem, tuple(turn.day for turn in self._jobs.turns)

    def _placed(self, made: Levelled, problem: Problem) -> list[Planned]:
        rows = []
        for line, choices, number in zip(self._free, problem.choices, made.plan, strict=True):
            carried, minutes = self._times(line.line), minutes_of(line)
            if number is None:
                why = self._why_not(line, choices)
                rows.append(Planned(line.line, line.occurrence, None, None, minutes, carried, str(why)))
            else:
                slot = problem.slots[number]
                shift = self._jobs.turns[slot.turn].key
                rows.append(Planned(line.line, line.occurrence, shift, slot.person, minutes, carried))
        return rows

    def _why_not(self, line: BoardLine, choices: Sequence[int]) -> Unplaced:
        if not self._jobs.hands(line):
            return Unplaced.NOBODY
        return Unplaced.HOURS if choices else Unplaced.WINDOW

    def _held(self) -> list[Planned]:
        return [
            Planned(line.line, line.occurrence, None, None, minutes_of(line), self._times(line.line), "held")
            for line in self._here
            if line.state is State.HELD
        ]

    def _still_promised(self) -> list[Planned]:
        return [
            Planned(line.line, line.occurrence, None, None, minutes_of(line), self._times(line.line), "promised")
            for line in self.listed
            if line.line in self._promised
        ]

    # The frozen list

    def freezing(self, at: datetime, by: str) -> FreezeWeek:
        """The list as an entry that freezes it.  Raises :class:`Refused` where it was not agreed as it stands, or a
        line that was carried over too often still waits for the lead."""
        plan = self.plan()
        waiting = [row.line for row in plan.rows if row.asks]
        if waiting:
            raise Refused(undecided_said(waiting, plan.carries))
        refused = self._steps.not_to_be_frozen()
        if refused is not None:
            raise Refused(refused)
        rows = [
            Planned(row.line, row.occurrence, row.shift, row.person, row.minutes, row.carried, row.why and str(row.why))
            for row in plan.rows
            if row.mark is not Mark.REMOVED
        ]
        return FreezeWeek(at=at, by=by, week=self.week, rows=rows_text(rows))

    # As it stands

    def plan(self) -> WeekPlan:
        """The plan as it stands at the moment."""
        steps, zone = self._steps, self._known.zone
        rows = self._rows()
        proposed, frozen, agreed = steps.proposed, steps.frozen, steps.agreed
        return WeekPlan(
            plant=self._known.facts.name,
            zone=zone.name,
            week=self.week,
            stage=steps.stage,
            shifts=tuple(shift.key for shift in self._hours.shifts),
            rows=tuple(rows),
            capacity=capacity(self._context, self._hours, self._here, self._called, self._jobs),
            made=proposed[1].made if proposed else "",
            gap=proposed[1].gap / 10_000 if proposed else 0.0,
            agreed_by=self._context.names.of(agreed[1].by, agreed[0]) if agreed else "",
            agreed_at=agreed[1].at if agreed else None,
            revision=frozen[0] if frozen else None,
            frozen_at=frozen[1].at if frozen else None,
            frozen_by=self._context.names.of(frozen[1].by, frozen[0]) if frozen else "",
            carries=self._known.facts.planning.carries,
            orders_known=self._jobs.orders_known,
        )

    def _rows(self) -> list[PlanRow]:
        steps = self._steps
        standing = steps.rows()
        known = {row.line for row, _ in standing}
        if steps.frozen is None:
            standing += [
                (Planned(line.line, line.occurrence, minutes=minutes_of(line), why=str(self._why_new(line))), Mark.NONE)
                for line in self.listed
                if line.line not in known
            ]
        rows: list[PlanRow] = []
        for row, mark in standing:
            line = self._by_name.get(row.line) or self._boards.line_if_any(row.line)
            if line is not None and not (steps.frozen is None and self._is_gone(row.line)):
                rows.append(self._row(len(rows) + 1, row, mark, line))
        return rows

    def _why_new(self, line: BoardLine) -> Unplaced:
        return Unplaced.PROMISED if line.line in self._promised else Unplaced.NEW

    @cached_property
    def _by_name(self) -> dict[str, BoardLine]:
        """Everything that asks for work by the end of the week, by the name of its line."""
        return {line.line: line for line in self._called}

    def _is_gone(self, line: str) -> bool:
        """Whether a proposed line asks for nothing any more; those that the lead put on a shift stay."""
        return line not in self._by_name and line not in self._steps.changes

    def _row(self, number: int, row: Planned, mark: Mark, line: BoardLine) -> PlanRow:
        steps = self._steps
        done = answered_since(self._context, row.line, steps.frozen_at) if steps.frozen else None
        carried = row.carried or self._times(row.line)
        decided = steps.decisions.get(row.line)
        too_often = carried >= self._known.facts.planning.carries and mark is not Mark.REMOVED
        return PlanRow(
            row=number,
            line=row.line,
            item=line.item,
            task=line.task,
            title=line.title or line.task,
            place=line.place,
            area=line.area,
            occurrence=row.occurrence or line.occurrence,
            statutory=line.statutory,
            late=line.state in (State.OVERDUE, State.STOP),
            due_day=self._due_day(line.overdue_at),
            minutes=row.minutes or minutes_of(line),
            shift=row.shift,
            person=row.person,
            name=self._context.names.now(row.person) if row.person else "",
            carried=carried,
            why=Unplaced(row.why) if row.why else None,
            mark=mark,
            decision=decided.decision if decided else None,
            asks=too_often and not self._is_decided(row, decided),
            done_at=done,
            may=self._jobs.hands(line),
        )

    def _is_decided(self, row: Planned, decided: Carried | None) -> bool:
        """Whether what was decided holds: given hours it stands on a shift; deferred or cancelled it asks no more."""
        if decided is None:
            return False
        if decided.decision == "hours":
            return row.shift is not None
        return decided.decision == "interval" or row.line not in self._by_name

    def _due_day(self, overdue_at: datetime | None) -> date | None:
        return None if overdue_at is None else self._known.zone.day(overdue_at - timedelta(seconds=1))
