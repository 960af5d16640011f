"""A change of tools on one press: its steps, and the form of each, one after another until the press is released."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from tui.keys import Where, bindings_at
from tui.present.changing import step_rows
from tui.present.words import wrapped
from tui.screens.acts.deed import Deed, Subject
from tui.screens.acts.form import DeedScreen
from tui.screens.changeover.steps import giving_up_deed, pausing_deed, resuming_deed, step_deed
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.notes import NotesScreen
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import person_for
from upkeep.plant.model import FITS_IN, Kind
from upkeep.said import Said, said
from upkeep.views.board import BoardLine
from upkeep.views.changeover import Change
from upkeep.views.rights import Wish
from upkeep.wording.changeover import candidate_said, change_said, waits_said, warnings_said
from upkeep.wording.text import fit


class ChangeScreen(DoingScreen):
    """The steps of the change on a press.  Enter does what comes next, and goes on from there."""

    BINDINGS = bindings_at(Where.CHANGE)
    WHERE = Where.CHANGE
    DEFAULT_CSS = "ChangeScreen VerticalScroll { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }"

    def __init__(self, desk: Desk, press: str) -> None:
        super().__init__(desk)
        self._press = press

    @property
    def selected(self) -> BoardLine | None:
        """No line: the steps have forms of their own."""
        return None

    def place_here(self) -> str | None:
        """The press."""
        return self._press

    def check_at(self) -> str | None:
        """The press."""
        return self._press

    def items_here(self) -> tuple[str, ...]:
        """The press."""
        return (self._press,)

    def compose(self) -> ComposeResult:
        """The head, what waits or is void, the steps, the foot."""
        yield self.rows("head", "-loud")
        with VerticalScroll(can_focus=False):
            yield self.rows("says")
            yield self.rows("told", "-loud")
            yield self.rows("steps")
        yield from self.foot()

    async def view(self) -> None:
        """Fetches how far the change has come."""
        change, width, now = (
            await self._change(),
            max(self.app.size.width - 3, 20),
            self.desk.standing_at(self.desk.now()),
        )
        head = said("Change of tools on {press}", press=self._press)
        self.rows("head").show([fit(f" {self.desk.words(head)}", self.app.size.width)])
        if change is None:
            nothing = said("No change is open. Enter begins one: it asks first what goes in.")
            self.rows("says").show(wrapped(self.desk.words(nothing), width))
        else:
            self.rows("says").show(wrapped(self.desk.words(change_said(change, now.zone)), width))
        told = waits_said(change, now.zone) if change else ()
        self.rows("told").show([row for one in told for row in wrapped(self.desk.words(one), width)])
        self.rows("steps").show(step_rows(change, now, width) if change else ())

    async def _change(self) -> Change | None:
        at = self.desk.now()
        return await self.desk.clerk.ask(lambda book: book.changing(at).open_on(self._press))

    # The path

    def action_next_step(self) -> None:
        """Does what comes next, and goes on until something is left open or the press is released."""
        self.do(self._path)

    async def _path(self) -> None:
        change = await self._change()
        if change is None:
            if not await self._begin():
                return
            change = await self._change()
        while change is not None:
            before = _stands(change)
            await self._step(change)
            change = await self._change()
            if change is not None and _stands(change) == before:
                break  # something was left open
        self.look()

    async def _begin(self) -> bool:
        """Asks what goes in, tells what to know of it, and begins; whether that was written."""
        by = await person_for(self, Wish("changeover", item=self._press))
        picked = await self.asked(PickScreen(self.desk, said("What goes in?"), await self._choices())) if by else None
        if by is None or picked is None:
            return False
        at = self.desk.now()
        candidate = await self.desk.clerk.ask(lambda book: book.changing(at).candidate(self._press, picked))
        warnings = warnings_said(candidate)
        if warnings:
            await self.shown(NotesScreen(self.desk, candidate_said(candidate), warnings))
        begun = await self.desk.clerk.ask(lambda book: book.step_forms(at).begun(self._press, picked, by.id))
        trial = await self.desk.clerk.ask(lambda book: book.step_forms(at).trial(begun))
        await self.desk.clerk.ask(lambda book: book.tried(trial, self.desk.recording()))
        written = await self.desk.written(begun, by=by)
        self.desk.remember(written, by, at, said("change of tools on {press} begun", press=self._press), None)
        return True

    async def _choices(self) -> list[tuple[str, Said]]:
        """The sets that orders wait for, then all others that could go in."""
        at = self.desk.now()
        before = await self.desk.clerk.ask(lambda book: book.changing(at).before(self._press))
        items = await self.desk.clerk.ask(lambda book: book.items())
        kinds, here = {FITS_IN[Kind.DIE_SET]: Kind.DIE_SET, Kind.PRESS: Kind.MODULE}, {i.item for i in before.hanging}
        there = {one.kind for one in before.hanging}
        fitting = {kind for inside, kind in kinds.items() if inside in there}
        ordered = [(one.item, candidate_said(one)) for one in before.ordered]
        taken = here | {key for key, _ in ordered}
        return [
            *ordered,
            *(
                (item.id, said("{item} {title}", item=item.id, title=item.title))
                for item in items
                if item.kind in fitting and item.id not in taken and not item.scrapped
            ),
        ]

    async def _step(self, change: Change) -> None:
        """Does the next step.  A line that is signed asks by itself who signs; the rest is done by who has the change
        in hand, and somebody else takes it over first."""
        at = self.desk.now()
        form = await self.desk.clerk.ask(lambda book: book.step_forms(at).form(change, {}))
        if form.line and change.waits is None:
            line = await self.desk.clerk.ask(lambda book: book.line(form.line, at))
            await self._sign(line)
            return
        by = await person_for(self, Wish("changeover", item=self._press))
        if by is None:
            return
        if change.waits is not None or (change.in_hand_of[0] != by.id and not change.next.is_anybodys):
            asks = await self.desk.clerk.ask(lambda book: book.step_forms(at).pausing(change))
            await self._fill(resuming_deed(change, asks), by)
            return
        crimp = next((ask for ask in form.asks if ask.key == "crimp"), None)
        chosen: dict[str, str] = {}
        if crimp is not None:
            options = [(option.key, option.says) for option in crimp.options]
            picked = await self.asked(PickScreen(self.desk, crimp.label, options))
            if picked is None:
                return
            chosen = {"crimp": picked}
            form = await self.desk.clerk.ask(lambda book: book.step_forms(at).form(change, chosen))
        await self._fill(step_deed(change, form, chosen), by, form.caution)

    async def _fill(self, deed: Deed, by: Here, *minds: Said) -> None:
        asks = await self.desk.clerk.ask(lambda book: deed.fields(book, Subject(), self.desk.now()))
        asks = [ask for ask in asks if ask.key != "crimp"]
        await self._tell_done(await self.asked(DeedScreen(self.desk, deed, Subject(), asks, by, minds)))

    # Other ways

    def action_pause(self) -> None:
        """Pauses the change, with the count and why."""
        self.do(self._pause)

    async def _pause(self) -> None:
        change = await self._open()
        by = await person_for(self, Wish("changeover", item=self._press)) if change else None
        if change is None or by is None:
            return
        at = self.desk.now()
        asks = await self.desk.clerk.ask(lambda book: book.step_forms(at).pausing(change))
        await self._fill(pausing_deed(change, asks), by)

    def action_give_up(self) -> None:
        """Gives the change up."""
        self.do(self._give_up)

    async def _give_up(self) -> None:
        change = await self._open()
        by = await person_for(self, Wish("changeover", item=self._press)) if change else None
        if change is not None and by is not None:
            await self._fill(giving_up_deed(change), by)

    async def _open(self) -> Change | None:
        change = await self._change()
        if change is None:
            self.say(said("No change of tools is open on {press}.", press=self._press))
        return change


def _stands(change: Change) -> tuple[object, ...]:
    """What changes with whatever is done."""
    return change.next, change.in_hand_of, change.waits
