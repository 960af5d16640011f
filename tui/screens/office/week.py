"""The lead's week: proposed, changed job by job, agreed, frozen, and decided where a job was carried over too often."""

from __future__ import annotations

from collections.abc import Callable, Coroutine, Sequence
from datetime import timedelta
from functools import partial

from textual.app import ComposeResult

from tui.keys import Where, bindings_at
from tui.messages import RowSelected
from tui.present.week import hours_rows, name_of, plan_rows, stage_rows
from tui.present.words import wrapped
from tui.screens.frame.acting import ActingScreen
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.pick import PickScreen
from tui.screens.office.sentence import SentenceScreen
from tui.screens.who.identify import person_for
from tui.widgets.section_rows import SectionRows
from upkeep.entries.entry import Entry
from upkeep.entries.plans.weeks import AgreeWeek, Decision, PlanJob
from upkeep.said import Said, Weekday, in_turn, said
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.board import BoardLine
from upkeep.views.planned.week_plan import PlanRow, WeekPlan
from upkeep.views.rights import Wish
from upkeep.wording.planned.weeks import shift_heading
from upkeep.wording.text import fit

Step = Callable[[WeekPlan, PlanRow, Here], Coroutine[None, None, None]]
"""What is done about one row."""

_DECISIONS = {
    Decision.HOURS: said("Give it hours: it gets a shift of its own"),
    Decision.DEFER: said("Put it off, at somebody's risk"),
    Decision.INTERVAL: said("Change its interval, in tasks.toml"),
    Decision.CANCEL: said("Cancel it: it will not be done this time"),
}


class WeekScreen(ActingScreen):
    """The plan of one week, row by row under its shifts; every step of it has a key."""

    BINDINGS = bindings_at(Where.WEEK)
    WHERE = Where.WEEK
    DEFAULT_CSS = "WeekScreen #stage { height: 3; } WeekScreen #hours { height: 1; }"

    def __init__(self, desk: Desk, week: str | None = None) -> None:
        super().__init__(desk)
        today = desk.zone.day(desk.now())
        self._week = week or iso_week(today + timedelta(days=7 if today.weekday() >= 3 else 0))
        self._list = SectionRows[PlanRow](name_of)
        self._plan: WeekPlan | None = None

    @property
    def selected(self) -> BoardLine | None:
        """No line of the board."""
        return None

    def compose(self) -> ComposeResult:
        """The week, how far it has come, its hours, its rows, the foot."""
        yield self.rows("title", "-loud")
        yield self.rows("stage")
        yield self.rows("hours", "-strong")
        yield self._list
        yield from self.foot()

    def on_mount(self) -> None:
        """The rows take the keys."""
        self._list.focus()

    def on_row_selected(self, message: RowSelected) -> None:
        """Nothing hangs on which row it is."""
        message.stop()

    async def view(self) -> None:
        """Fetches the plan."""
        at, week, words = self.desk.now(), self._week, self.desk.words
        plan = await self.desk.clerk.ask(lambda book: book.week_plan(at, week))
        self._plan, width = plan, self.app.size.width
        first, last = plan.capacity.first_day, plan.capacity.last_day
        title = said("Plan of {week}: {first} to {last}", week=week, first=Weekday(first), last=Weekday(last))
        self.rows("title").show([fit(f" {words(title)}", width)])
        self.rows("stage").show([f" {row}" for row in wrapped(words(stage_rows(plan)), width - 2, 3)])
        self.rows("hours").show([fit(f" {words(hours_rows(plan))}", width)])
        self._list.show(plan_rows(plan, self.desk.reader, width - 2))

    # Weeks

    def action_week(self, weeks: int) -> None:
        """Goes to the week before or after."""
        first, _ = week_days(self._week)
        self._week = iso_week(first + timedelta(weeks=weeks))
        self.say(None)
        self.look()

    # Steps

    def action_propose(self) -> None:
        """Levels the week."""
        self.save(self._propose)

    async def _propose(self) -> None:
        by = await person_for(self, Wish("propose"))
        if by is None:
            return
        self.say(said("The week is being levelled ..."))
        at, week = self.desk.now(), self._week
        entry = await self.desk.clerk.ask(lambda book: book.week_proposal(week, at, by.id))
        await self._write([entry], by, said("proposal of {week}", week=week))

    def action_agree(self) -> None:
        """Says that production agrees."""
        self.save(self._agree)

    async def _agree(self) -> None:
        by = await person_for(self, Wish("agree-week"))
        if by is not None:
            entry = AgreeWeek(at=self.desk.now(), by=by.id, week=self._week)
            await self._write([entry], by, said("{week} agreed with production", week=self._week))

    def action_freeze(self) -> None:
        """Freezes the list."""
        self.save(self._freeze)

    async def _freeze(self) -> None:
        by = await person_for(self, Wish("freeze-week"))
        if by is None:
            return
        at, week = self.desk.now(), self._week
        entry = await self.desk.clerk.ask(lambda book: book.week_freezing(week, at, by.id))
        await self._write([entry], by, said("list of {week} frozen", week=week))

    # One row

    def action_move_job(self) -> None:
        """Puts the selected job on a shift with somebody."""
        self._of_row(self._move)

    async def _move(self, plan: WeekPlan, row: PlanRow, by: Here) -> None:
        today = self.desk.zone.day(self.desk.now()).isoformat()
        options = [(key, shift_heading(key)) for key in plan.shifts if key[: len(today)] >= today]
        shift = await self.asked(PickScreen(self.desk, said("{line}: on which shift?", line=row.line), options))
        if shift is None:
            return
        names = {one.id: one.name for one in await self.desk.clerk.ask(lambda book: book.people())}
        options = [(one, said("{id}  {name}", id=one, name=names.get(one, one))) for one in row.may]
        if not options:
            self.say(said("Nobody at work may do {line}: no such role, or not trained.", line=row.line))
            return
        person = await self.asked(PickScreen(self.desk, said("{line}: by whom?", line=row.line), options))
        if person is not None:
            entry = PlanJob(at=self.desk.now(), by=by.id, week=plan.week, line=row.line, shift=shift, person=person)
            what = said("{line} on {shift} with {name}", line=row.line, shift=shift, name=names.get(person, person))
            await self._write([entry], by, what)

    def action_take_off(self) -> None:
        """Takes the selected job off the week."""
        self._of_row(self._take_off)

    async def _take_off(self, plan: WeekPlan, row: PlanRow, by: Here) -> None:
        because = await self._sentence(said("{line}: why is it taken off?", line=row.line))
        if because is not None:
            entry = PlanJob(at=self.desk.now(), by=by.id, week=plan.week, line=row.line, shift=None, person=None,
                            because=because)  # fmt: skip
            await self._write([entry], by, said("{line} taken off {week}", line=row.line, week=plan.week))

    def action_decide(self) -> None:
        """Decides about the selected job, which was carried over too often."""
        self._of_row(self._decide)

    async def _decide(self, plan: WeekPlan, row: PlanRow, by: Here) -> None:
        if row.carried < plan.carries:
            self.say(said("{line} was not carried over {n} times: nothing is to be decided.", line=row.line,
                          n=plan.carries))  # fmt: skip
            return
        options = [(str(decision), name) for decision, name in _DECISIONS.items()]
        picked = await self.asked(PickScreen(self.desk, said("{line}: what becomes of it?", line=row.line), options))
        if picked is None:
            return
        to, risk = None, ""
        if picked == Decision.DEFER:
            to = await self._sentence(said("Until when? A day like 2026-12-14, or strokes."))
            risk = (await self._sentence(said("What may happen while it waits?")) if to else None) or ""
            if not risk:
                return
        because = await self._sentence(said("Why? The sentence stays with it."))
        if because is None:
            return
        at, decision = self.desk.now(), Decision(picked)
        entries = await self.desk.clerk.ask(
            lambda book: book.week_decision(plan.week, at, by.id, row.line, decision, because, to, risk)
        )
        await self._write(entries, by, said("decision about {line}", line=row.line))

    async def _sentence(self, question: Said) -> str | None:
        return await self.asked(SentenceScreen(self.desk, question))

    def _of_row(self, step: Step) -> None:
        self.bring(partial(self._on_row, step))

    async def _on_row(self, step: Step) -> None:
        row, plan = self._list.selected, self._plan
        if row is None or plan is None:
            self.say(said("Select a row first."))
            return
        by = await person_for(self, Wish("plan-job"))
        if by is not None:
            await step(plan, row, by)

    async def _write(self, entries: Sequence[Entry], by: Here, what: Said) -> None:
        at = self.desk.now()
        written = await self.desk.written(*entries, by=by)
        self.desk.remember(written, by, at, what)
        self.say(in_turn(said("WRITTEN: {what}, by {name}.", what=what, name=by.name), *written.notes))
        self.look()
