"""What is going to be used of each spare: by the forecast of what falls due, and as it was in the past."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from upkeep.answers.board import Boards
from upkeep.answers.forecast import Forecasts
from upkeep.answers.life import life
from upkeep.answers.shelf.stock import Shelf
from upkeep.due.days import interval_of
from upkeep.due.states import State
from upkeep.due.usage import stroke_interval
from upkeep.keeping.context import Context
from upkeep.planning.forecast import FARTHEST, Ahead
from upkeep.planning.shelf.demand import times_within, worn_out_within
from upkeep.planning.shelf.reorder import Demand
from upkeep.plant.model import Item, Task
from upkeep.plant.values.spare import Spare
from upkeep.views.board import BoardLine, day_due

PAST_WEEKS = 26
"""Weeks of past use that are looked at; fewer where the shelf is younger.  Plant default, no source."""

AT_LEAST_DAYS = 28
"""The fewest days of past use, and of days ahead, that say anything.  Plant default, no source."""


class Demands:
    """The demand for spares at the moment of a context; what many spares ask for is looked up once."""

    def __init__(self, context: Context, shelf: Shelf) -> None:
        self._context, self._shelf = context, shelf
        self._today = context.known.zone.day(context.moment)
        self._forecasts = Forecasts(context)
        self._ahead: dict[str, Ahead | None] = {}
        self._lines: dict[str, list[BoardLine]] = {}

    def of(self, spare: Spare) -> Demand:
        """What a week uses of a spare, looking as far ahead as an order takes."""
        days = max(spare.lead_days or 0, AT_LEAST_DAYS)
        due = [self._worn(spare, days), self._planned(spare, days)]
        told = [number for number in due if number is not None]
        return Demand(sum(told) * 7 / days if told else None, self._past(spare))

    def _past(self, spare: Spare) -> float | None:
        """Uses a week of the weeks behind; None where the shelf is younger than four weeks."""
        moves = self._context.shelf_history.moves(spare.id)
        if not moves:
            return None
        since = self._context.moment - timedelta(weeks=PAST_WEEKS)
        known_from = max(since, self._context.known.zone.start_of(self._first_day(moves[0].at)))
        days = (self._context.moment - known_from).days
        return None if days < AT_LEAST_DAYS else self._shelf.uses(spare.id, known_from) * 7 / days

    def _first_day(self, at: str) -> date:
        return date.fromisoformat(at[:10])

    # What wears out

    def _worn(self, spare: Spare, days: int) -> float | None:
        """Parts in use that are going to be used up; None where no life of any is known."""
        if spare.part is None:
            return None
        workdays = self._context.known.workdays
        n = workdays.count(self._today, self._today + timedelta(days=days))
        told: list[float] = []
        for part, holder in self._in_use(spare):
            number = self._worn_out(spare, part, holder, n)
            told += [] if number is None else [number]
        return sum(told) if told else None

    def _worn_out(self, spare: Spare, part: Item, holder: Item, n: int) -> float | None:
        ahead, numbers = self._ahead_of(holder), life(self._context, part.id)
        new = part.life or spare.life
        if ahead is None or new is None:
            return None
        left = numbers.life_left
        if left is None:
            left = new - numbers.since_new[2]
        return worn_out_within(left, new, ahead, n)

    def _in_use(self, spare: Spare) -> Iterator[tuple[Item, Item]]:
        """Each part in use that a spare may replace, with what it sits in."""
        known, whereabouts = self._context.known, self._context.whereabouts
        for item in known.items.values():
            if item.kind is not spare.part or item.scrapped:
                continue
            inside = whereabouts.sits_in(item.id)
            holder = known.items.get(inside) if inside is not None else None
            if holder is not None and spare.is_for(item.family or holder.family):
                yield item, holder

    def _ahead_of(self, holder: Item) -> Ahead | None:
        if holder.id not in self._ahead:
            self._ahead[holder.id] = self._forecasts.ahead_of(holder)
        return self._ahead[holder.id]

    # What planned work takes

    def _planned(self, spare: Spare, days: int) -> float | None:
        """What the work that falls due takes; None where no task takes any."""
        tasks = [task for task in self._context.known.tasks.values() if task.parts.get(spare.id)]
        if not tasks:
            return None
        until = self._today + timedelta(days=days)
        return float(sum(task.parts[spare.id] * self._times(task, until) for task in tasks))

    def _times(self, task: Task, until: date) -> int:
        return sum(self._times_of(task, line, until) for line in self._lines_of(task))

    def _lines_of(self, task: Task) -> list[BoardLine]:
        if task.id not in self._lines:
            items = [item.id for item in self._context.known.items.values() if item.kind is task.applies_to]
            lines = Boards(self._context).lines_of(items)
            for line in lines:
                self._lines.setdefault(line.task, []).append(line)
            self._lines.setdefault(task.id, [])
        return self._lines[task.id]

    def _times_of(self, task: Task, line: BoardLine, until: date) -> int:
        known = self._context.known
        if line.state in (State.PAUSED, State.NOT_REQUIRED):
            return 0
        if task.each_shift:
            days = known.workdays.count(self._today, until)
            return days * max(1, len(known.facts.shifts)) if known.facts.shifts else days
        first, every = self._first_by_day(task, line)
        if line.remaining is not None:
            by_strokes, each = self._first_by_strokes(task, line)
            if by_strokes is not None and (first is None or by_strokes < first):
                first, every = by_strokes, each
        return 0 if first is None else times_within(max(first, self._today), every, until)

    def _first_by_day(self, task: Task, line: BoardLine) -> tuple[date | None, float]:
        if not (task.every or task.rule):
            return None, 0
        first = day_due(line, self._context.known.zone)
        return first, interval_of(task, self._today)

    def _first_by_strokes(self, task: Task, line: BoardLine) -> tuple[date | None, float]:
        """When the strokes left run out as the days ahead go, and how many days an interval lasts."""
        item = self._context.known.item(line.item)
        ahead, interval = self._ahead_of(item), stroke_interval(task, item)
        if ahead is None or interval is None or ahead.rate.mean <= 0:
            return None, 0
        left = max(0, line.remaining or 0)
        for number, so_far in enumerate(ahead.sums()):
            if so_far.mean >= left:
                return so_far.day, interval / ahead.rate.mean * 7 / 5
            if number >= FARTHEST:
                break
        return None, 0
