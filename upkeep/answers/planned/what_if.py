"""What another interval of one task would do, before it is saved: hours of work a week, and the risk by family."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.answers.planned.recurring import Paced, RecurringLines, days_of
from upkeep.answers.planned.year import FamilyLivesKnown
from upkeep.due.days import interval_of
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.planning.year.spreading import WEEK
from upkeep.plant.model import PARTS, Item, Kind, Task
from upkeep.said import said
from upkeep.views.planned.year import FamilyRisk, WhatIf


class Supposing:
    """Answers for the board as it stands at the moment of a context."""

    def __init__(self, context: Context, shape: float | None = None) -> None:
        self._context, self._known = context, context.known
        self._recurring = RecurringLines(context)
        self._lives = FamilyLivesKnown(context, shape)

    def of(self, task_id: str, every: str | None, strokes: int | None) -> WhatIf:
        """What an interval in days (``every``) or in strokes would do.  Raises :class:`NotFound` for another task,
        :class:`Unreadable` for no interval, :class:`Refused` where no line of the task goes by it."""
        task = self._known.task(task_id)
        lines = [line for line in self._recurring.lines if line.line.task == task.id]
        going = [line for line in lines if (line.strokes if every is None else line.every) is not None]
        if not going:
            raise Refused(
                said("No line of {task} goes by strokes; give '--every'.", task=task.id)
                if every is None
                else said("No line of {task} goes by days; give '--strokes'.", task=task.id)
            )
        days = None if every is None else days_of(every, self._recurring.today)
        then = None if days is None else self._recurring.working_days(days)
        now_text = (task.every or task.rule or "") if strokes is None else self._strokes_text(going)
        pairs = list(self._families(task))
        risks = [risk for pair in pairs for risk in [self._risk(*pair, going, task, days, strokes)] if risk is not None]
        told = {(risk.family, risk.kind) for risk in risks}
        return WhatIf(
            task=task.id,
            title=task.title,
            interval_now=now_text,
            interval_then=every or str(strokes),
            by_strokes=every is None,
            hours_now=sum(_minutes_a_week(line, None, None) for line in going) / 60,
            hours_then=sum(_minutes_a_week(line, then, strokes) for line in going) / 60,
            lines=len(going),
            unpaced=sum(line.strokes is not None and line.pace is None for line in going),
            risks=tuple(risks),
            unknown=tuple((family, kind.value) for family, kind in pairs if (family, kind.value) not in told),
        )

    @staticmethod
    def _strokes_text(lines: list[Paced]) -> str:
        strokes = sorted({int(line.strokes) for line in lines if line.strokes is not None})
        return str(strokes[0]) if len(strokes) == 1 else f"{strokes[0]}..{strokes[-1]}"

    def _families(self, task: Task) -> Iterator[tuple[str, Kind]]:
        """The families a task cares for, each with the kinds of parts it looks after."""
        kinds = (task.applies_to,) if task.applies_to in PARTS else tuple(PARTS)
        items = [item for item in self._known.items.values() if item.kind is task.applies_to and not item.scrapped]
        families = sorted({family for item in items for family in self._families_of(item)})
        parts = {item.kind for item in self._known.items.values() if item.kind in kinds and not item.scrapped}
        return ((family, kind) for family in families for kind in kinds if kind in parts)

    def _families_of(self, item: Item) -> set[str]:
        inside = self._context.whereabouts.sits_in(item.id) if item.kind in PARTS else None
        family = item.family or (self._known.item(inside).family if inside is not None else None)
        return {family} if family else set()

    def _risk(
        self, family: str, kind: Kind, lines: list[Paced], task: Task, days: int | None, strokes: int | None
    ) -> FamilyRisk | None:
        found = self._lives.of(family, kind)
        mine = [line for line in lines if family in self._families_of(self._known.item(line.line.item))]
        if found is None or not mine:
            return None
        weibull, failures = found
        now = [_strokes_of(line, self._days_now(task)) for line in mine]
        then = [float(strokes)] * len(mine) if strokes is not None else [_strokes_of(line, days or 0) for line in mine]
        known = [(a, b) for a, b in zip(now, then, strict=True) if a is not None and b is not None]
        if not known:
            return None
        longest_now, longest_then = max(a for a, _ in known), max(b for _, b in known)
        return FamilyRisk(family, kind.value, weibull.failed(longest_now), weibull.failed(longest_then), failures)

    def _days_now(self, task: Task) -> int:
        return interval_of(task, self._recurring.today) if task.every or task.rule else 0


def _strokes_of(line: Paced, days: int) -> float | None:
    """The strokes an item does in an interval; None where nobody knows how fast it runs."""
    if line.strokes is not None:
        return line.strokes
    return line.pace.mean * days * WEEK / 7 if line.pace is not None else None


def _minutes_a_week(line: Paced, every: int | None, strokes: int | None) -> float:
    """The minutes of a line in a week, by its own interval or by another: of days and strokes the more frequent."""
    by_days = (every or line.every) if line.every is not None else None
    rates = [WEEK / by_days] if by_days is not None else []
    if line.strokes is not None and line.pace is not None:
        rates.append(line.pace.mean * WEEK / (strokes or line.strokes))
    return line.minutes * max(rates, default=0.0)
