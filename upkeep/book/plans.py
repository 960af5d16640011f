"""What a book answers about planned work: a week, its hours, its proposal, its frozen list."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.shelf import OnTheShelf
from upkeep.progress import Watch, nobody

if TYPE_CHECKING:
    from upkeep.entries.entry import Entry
    from upkeep.entries.plans.weeks import Decision, FreezeWeek, Propose
    from upkeep.entries.signing import Stated
    from upkeep.views.overview.manager import ManagerPage
    from upkeep.views.planned.baselines import Baseline
    from upkeep.views.planned.week_plan import Capacity, WeekPlan
    from upkeep.views.planned.year import BackTest, PolicyChange, Starts, WhatIf, YearAhead


class Plans(OnTheShelf):
    """The questions of whoever plans; nothing here writes."""

    def week_plan(self, at: datetime, week: str | None = None, *, known_at: datetime | None = None) -> WeekPlan:
        """The plan of an ISO week as it stands (the week of ``at`` where none is named)."""
        from upkeep.answers.planned.week_plans import WeekPlans

        return WeekPlans(self._seen_from.at(at, known_at), week).plan()

    def capacity(self, at: datetime, week: str | None = None, *, known_at: datetime | None = None) -> Capacity:
        """The hours due in a week beside the hours there are."""
        return self.week_plan(at, week, known_at=known_at).capacity

    def manager_page(self, at: datetime, *, known_at: datetime | None = None, watch: Watch = nobody) -> ManagerPage:
        """What the plant manager reads on Monday: ten things now, and of the last whole week.

        ``watch`` is told how many lines of the board were gone through.  Raises :class:`Refused` while the book has no
        whole week behind it.
        """
        from upkeep.answers.figures.manager import Managing, coming_week
        from upkeep.answers.shelf.kits import kits_of

        listed = self.week(at, week=coming_week(self.zone.day(at)), known_at=known_at, watch=watch)
        context = self._seen_from.at(at, known_at)
        return Managing(context, watch).page(kits_of(listed, context))

    def week_proposal(self, week: str | None, at: datetime, by: str) -> Propose:
        """The levelled week as an entry to be written; raises :class:`Refused` where there is nothing to level."""
        from upkeep.answers.planned.week_plans import WeekPlans

        return WeekPlans(self._seen_from.at(at), week).proposal(at, by)

    def week_standing(self, week: str, at: datetime) -> frozenset[str] | None:
        """The lines that stand on the frozen list of a week, those taken off since left out; None: it is not frozen."""
        from upkeep.answers.planned.steps import WeekSteps

        return WeekSteps(self._seen_from.at(at), week).standing

    def baseline(self, at: datetime, weeks: int) -> Baseline:
        """The first time of all work without history, spread over the weeks after this one."""
        from upkeep.answers.planned.baselines import Baselines

        return Baselines(self._seen_from.at(at), weeks).baseline()

    def baseline_statements(self, at: datetime, weeks: int, by: str) -> Sequence[Stated]:
        """The same as entries to be written."""
        from upkeep.answers.planned.baselines import Baselines

        return Baselines(self._seen_from.at(at), weeks).statements(at, by)

    def week_freezing(self, week: str | None, at: datetime, by: str) -> FreezeWeek:
        """The list of a week as an entry that freezes it; raises :class:`Refused` with what has to come first."""
        from upkeep.answers.planned.week_plans import WeekPlans

        return WeekPlans(self._seen_from.at(at), week).freezing(at, by)

    def week_decision(
        self, week: str, at: datetime, by: str, line: str, decision: Decision, because: str, to: str | None = None,
        risk: str = "",
    ) -> Sequence[Entry]:  # fmt: skip
        """What is decided about a line that was carried over too often, as entries to be written: it defers (``to`` a
        later point, at a ``risk``) or cancels the line as well."""
        from upkeep.entries.plans.weeks import Carried, Decision
        from upkeep.entries.signing import Cancel, Defer
        from upkeep.plant.line_names import LineName

        entries: list[Entry] = [Carried(at=at, by=by, week=week, line=line, decision=decision, because=because)]
        item, task = LineName.read(line)
        occurrence = self.line(line, at).occurrence
        if to is not None:
            entries.append(
                Defer(at=at, by=by, item=item, task=task, occurrence=occurrence, to=to, risk=risk, because=because)
            )
        elif decision == Decision.CANCEL:
            entries.append(Cancel(at=at, by=by, item=item, task=task, occurrence=occurrence, because=because))
        return entries

    def year_ahead(
        self, at: datetime, changes: Sequence[PolicyChange], runs: int, seed: int, shape: float | None = None,
        watch: Watch = nobody,
    ) -> YearAhead:  # fmt: skip
        """The coming year, played ``runs`` times, beside that with some changes; ``shape`` is that of all lives, where
        the plant states one.  Raises :class:`NotFound` or
        :class:`Unreadable` for a change of what is not there."""
        from upkeep.answers.planned.year import YearsAhead

        return YearsAhead(self._seen_from.at(at), shape, watch).year(changes, runs, seed)

    def what_if(
        self, at: datetime, task: str, every: str | None, strokes: int | None, shape: float | None = None
    ) -> WhatIf:
        """What another interval of a task would do: hours a week, and the risk where lives are known."""
        from upkeep.answers.planned.what_if import Supposing

        return Supposing(self._seen_from.at(at), shape).of(task, every, strokes)

    def starts(self, at: datetime) -> Starts:
        """First days of all that was never done, so that the weeks of the year are level."""
        from upkeep.answers.planned.starts import starts

        return starts(self._seen_from.at(at))

    def back_test(self, at: datetime, weeks: int, watch: Watch = nobody) -> BackTest:
        """What plans of past weeks would have done, against what was done in them."""
        from upkeep.answers.planned.back_test import back_test

        return back_test(self._seen_from.at, at, weeks, watch)
