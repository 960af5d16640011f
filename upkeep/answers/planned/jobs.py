"""The lines of a week as jobs to be levelled: who may do them, in which turns, at which press."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import cached_property
from math import ceil

from upkeep.answers.people.who_may import hands_for
from upkeep.answers.planned.hours import Attendance, WeekHours
from upkeep.due.states import State
from upkeep.keeping.context import Context
from upkeep.planning.levelling.problem import CARRIED, FIRST, PLAIN, Job, Problem, Slot
from upkeep.plant.model import Energy, Kind
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import BoardLine

UNTIMED = 10
"""Minutes a job counts for that has none (plant default, no source)."""


def minutes_of(line: BoardLine) -> int:
    """The whole minutes a line counts for."""
    return ceil(line.minutes) or UNTIMED


class WeekJobs:
    """Makes jobs and slots of the lines and hours of a week, from a moment on."""

    def __init__(self, context: Context, hours: WeekHours) -> None:
        self._context, self._known, self._hours = context, context.known, hours
        self._hands: dict[tuple[str, str], tuple[str, ...]] = {}
        self.turns: tuple[ShiftSpan, ...] = tuple(shift for shift in hours.shifts if shift.end > context.moment)

    @cached_property
    def present(self) -> tuple[Attendance, ...]:
        """Everybody on the shifts still to come."""
        coming = set(map(id, self.turns))
        return tuple(one for one in self._hours.attendances if id(one.shift) in coming)

    def hands(self, line: BoardLine) -> tuple[str, ...]:
        """Who may do a line and works in its area, by id."""
        key = line.item_kind, line.task
        if key not in self._hands:
            self._hands[key] = hands_for(self._context, line.item, line.task, self._hours.first)
        areas = {one.id: one.area for one in self._hours.people}
        return tuple(one for one in self._hands[key] if one in areas and areas[one] in (None, line.area))

    def problem(self, lines: Sequence[BoardLine], carried: Mapping[str, int], care: Mapping[str, int]) -> Problem:
        """The lines as a problem.  ``carried`` is how often each was carried over, by its name; ``care`` the minutes of
        work of every shift that somebody has on each of theirs, by id."""
        facts = self._known.facts.planning
        rows = [self._job(row, line, carried.get(line.line, 0)) for row, line in enumerate(lines, 1)]
        number = {id(shift): turn for turn, shift in enumerate(self.turns)}
        slots = [
            Slot(one.person.id, number[id(one.shift)], minutes)
            for one in self.present
            if (minutes := one.minutes * (100 - facts.reserve) // 100 - care.get(one.person.id, 0)) > 0
        ]
        slots.sort(key=lambda slot: slot.turn)
        return Problem(tuple(rows), tuple(slots), facts.between_stops, facts.set_up, self._standing)

    def _job(self, row: int, line: BoardLine, carried: int) -> Job:
        closes = self._last_turn_before(line.stop_at) if line.state is not State.STOP and line.stop_at else None
        hard = line.statutory or line.state is State.STOP or closes is not None
        at_press = line.place in self._known.items and self._known.items[line.place].kind is Kind.PRESS
        return Job(
            row=row,
            line=line.line,
            place=line.place,
            minutes=minutes_of(line),
            who=frozenset(self.hands(line)),
            opens=self._first_turn_after(line.opens_at),
            due=self._due(line),
            closes=closes,
            weight=FIRST if hard else CARRIED if carried else PLAIN,
            stops=at_press and line.energy != Energy.LOOK,
        )

    def _due(self, line: BoardLine) -> int:
        if line.state in (State.OVERDUE, State.STOP):
            return -1
        if line.overdue_at is not None:
            return self._last_turn_before(line.overdue_at)
        return len(self.turns) - 1

    def _first_turn_after(self, moment: datetime | None) -> int:
        ends = (turn for turn, shift in enumerate(self.turns) if moment is None or shift.end > moment)
        return next(ends, len(self.turns))

    def _last_turn_before(self, moment: datetime) -> int:
        """The last turn that has ended by a moment, or -1; of one that ends later, nothing is promised."""
        return max((turn for turn, shift in enumerate(self.turns) if shift.end <= moment), default=-1)

    @cached_property
    def orders_known(self) -> bool:
        """Whether any order is planned: else nobody knows which press stands when."""
        return bool(self._ordered)

    @cached_property
    def _ordered(self) -> dict[str, set[date]]:
        """The days of the week on which each press has an order, and the day before which each order began."""
        from upkeep.answers.forecast import days_of_order

        days: dict[str, set[date]] = {}
        for order in self._context.rows.orders():
            days.setdefault(order.press, set()).update(
                day for day in days_of_order(self._context, order, self._hours.first) if day <= self._hours.last
            )
        return days

    @cached_property
    def _standing(self) -> frozenset[tuple[str, int]]:
        """The presses that stand anyway: on a day without an order, and in the first turn of the day on which an order
        begins, for its change of tools.  Nothing, where no orders are known."""
        if not self.orders_known:
            return frozenset()
        first = self._first_turns
        begins = {(order.press, date.fromisoformat(order.day)) for order in self._context.rows.orders()}
        presses = [item.id for item in self._known.items.values() if item.kind is Kind.PRESS]
        return frozenset(
            (press, turn)
            for press in presses
            for turn, shift in enumerate(self.turns)
            if shift.day not in self._ordered.get(press, ())
            or ((press, shift.day) in begins and turn == first[shift.day])
        )

    @cached_property
    def _first_turns(self) -> dict[date, int]:
        return {shift.day: turn for turn, shift in reversed(tuple(enumerate(self.turns)))}


def day_of(moment: datetime | None, context: Context) -> date | None:
    """The last day before a moment; None: there is no such moment."""
    return None if moment is None else context.known.zone.day(moment - timedelta(seconds=1))
