"""The deeds that can be done on what is selected: one key each for the frequent ones, and a palette of all.

The deeds are imported when somebody asks for one: the first lines of a board do not wait for them.
"""

from __future__ import annotations

from functools import partial

from tui.screens.frame.acting import ActingScreen
from tui.screens.frame.desk import Signed
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import person_at
from upkeep.plant.model import Role
from upkeep.said import in_turn, said

_OTHER, _SHEET, _WEEK = "other item", "sheet", "plan of a week"


class DoingScreen(ActingScreen):
    """A screen whose selection may be written about."""

    def chosen_lines(self) -> tuple[str, ...]:
        """The lines that deeds are about: those that were marked, else the selected one."""
        return (self.selected.line,) if self.selected else ()

    def item_selected(self) -> str | None:
        """The item that deeds are about."""
        return self.selected.item if self.selected else None

    def action_deeds(self) -> None:
        """Asks which deed, of all that may be done here."""
        self.bring(partial(self._deeds, None))

    async def _deeds(self, item: str | None) -> None:
        from tui.screens.acts.palette import DEEDS, offered
        from tui.screens.acts.subjects import subject_of

        by = await person_at(self)
        if by is None:
            return
        lines, about = (() if item else self.chosen_lines()), item or self.item_selected()
        at = self.desk.now()
        deeds = await self.desk.clerk.ask(lambda book: offered(book, subject_of(book, about, lines, at), by.id, at))
        options = [(deed.key, deed.name) for deed in deeds]
        options.append((_OTHER, said("About another item ...")))
        about_said = said("Write about {item}.", item=about) if about else said("Write what?")
        picked = await self.asked(PickScreen(self.desk, about_said, options))
        if picked == _OTHER:
            other = await self._other_item()
            if other is not None:
                await self._deeds(other)
        elif picked is not None:
            await self._do_deed(DEEDS[picked].key, item)

    async def read_a_page(self) -> None:
        """Asks which page of the plant to read, and shows it; how work was signed is offered to leads alone, and a
        weekly list that came back is entered from here as well."""
        from tui.screens.frame.pages import PAPERS, STORES, hints_for

        keeps = await self.desk.clerk.ask(lambda book: book.keeps_spares())
        papers, here = {**PAPERS, **(STORES if keeps else {})}, self.desk.here
        if here is not None and self.desk.facts.hints_agreed and self.desk.is_known(here.id):
            roles = await self.desk.clerk.ask(lambda book: book.known.person(here.id).roles)
            if Role.LEAD in roles:
                papers["signed"] = hints_for(here.id)
        options = [(name, paper.title) for name, paper in papers.items()]
        options.append((_WEEK, said("The plan of a week: propose, move, agree, freeze")))
        options.append((_SHEET, said("A weekly list that came back: enter its rows")))
        picked = await self.asked(PickScreen(self.desk, said("Which page?"), options))
        if picked == _SHEET:
            from tui.screens.office.sheet import SheetScreen

            self.app.push_screen(SheetScreen(self.desk))
        elif picked == _WEEK:
            self.action_plan_week()
        elif picked is not None:
            self.read(papers[picked])

    def action_plan_week(self) -> None:
        """Opens the plan of a week: this one, from Thursday on the next."""
        from tui.screens.office.week import WeekScreen

        self.app.push_screen(WeekScreen(self.desk))

    async def _other_item(self) -> str | None:
        items = await self.desk.clerk.ask(lambda book: book.items())
        options = [(item.id, said("{item}  {title}", item=item.id, title=item.title)) for item in items]
        return await self.asked(PickScreen(self.desk, said("Which item?"), options))

    def action_deed(self, key: str) -> None:
        """Opens the form of one deed."""
        self.bring(partial(self._do_deed, key))

    async def _do_deed(self, key: str, item: str | None = None) -> None:
        from tui.screens.acts.form import DeedScreen
        from tui.screens.acts.palette import DEEDS, why_not
        from tui.screens.acts.subjects import subject_of

        deed, at = DEEDS[key], self.desk.now()
        lines, about = (() if item else self.chosen_lines()), item or self.item_selected()
        subject = await self.desk.clerk.ask(lambda book: subject_of(book, about, lines, at))
        if not deed.fits(subject):
            self.say(said("{deed}: select what it is about first, or press + for all that fits.", deed=deed.name))
            return
        by = await person_at(self)
        if by is None:
            return
        refused = await self.desk.clerk.ask(lambda book: why_not(book, deed, subject, by.id, at))
        if refused is not None:
            self.say(refused)
            return
        asks, minds = await self.desk.clerk.ask(
            lambda book: (deed.fields(book, subject, at), deed.minds(book, subject, at))
        )
        await self._tell_done(await self.asked(DeedScreen(self.desk, deed, subject, asks, by, minds)))

    async def _tell_done(self, done: Signed | None) -> None:
        """Shows the proof that it was written, and what the book answered."""
        if done is None:
            return
        wrote = said("WRITTEN: {what}, by {name}.", what=done.what, name=done.by.name)
        self.say(in_turn(wrote, said("Press u to undo."), *done.notes))
        self.was_written()
        self.look()

    def was_written(self) -> None:
        """Forgets what was marked to be written about, where something can be marked."""

    # Over the whole plant

    def action_where(self) -> None:
        """Shows what hangs and stands where."""
        from tui.screens.where.where import WhereScreen

        self.app.push_screen(WhereScreen(self.desk))

    def action_past(self) -> None:
        """Asks for a past moment, and which page to read as it stood then."""
        self.do(self._read_past)

    async def _read_past(self) -> None:
        from tui.screens.board.paper import PaperScreen
        from tui.screens.frame.item_pages import item_papers
        from tui.screens.frame.moment import MomentScreen
        from tui.screens.frame.pages import PAPERS, PAST

        answer = await self.asked(MomentScreen(self.desk))
        if answer is None or answer.at is None:
            return
        line = self.selected
        papers = {**PAST, **PAPERS, **(item_papers(line.item, line.item_kind) if line else {})}
        options = [(name, paper.title) for name, paper in papers.items()]
        picked = await self.asked(PickScreen(self.desk, said("Which page, as it stood then?"), options))
        if picked is not None:
            self.app.push_screen(PaperScreen(self.desk, papers[picked], answer.at))

    def action_hold_or_release(self) -> None:
        """Releases the item where it is held, else holds it."""
        self.bring(self._hold_or_release)

    async def _hold_or_release(self) -> None:
        held = {one.item for one in await self.desk.clerk.ask(lambda book: book.holds())}
        await self._do_deed("release" if self.item_selected() in held else "hold")

    def action_move(self) -> None:
        """Asks whether the item goes in, comes out, or takes something in."""
        self.bring(self._move)

    async def _move(self) -> None:
        from tui.screens.acts.palette import DEEDS, offered
        from tui.screens.acts.subjects import subject_of

        by = await person_at(self)
        if by is None:
            return
        at, about, lines = self.desk.now(), self.item_selected(), self.chosen_lines()
        deeds = await self.desk.clerk.ask(lambda book: offered(book, subject_of(book, about, lines, at), by.id, at))
        options = [(deed.key, deed.name) for deed in deeds if deed.verb in ("fit", "unfit", "put")]
        if not options:
            self.say(said("Nothing goes in or out here for {name}.", name=by.name))
            return
        picked = await self.asked(PickScreen(self.desk, said("{item}: in or out?", item=about or ""), options))
        if picked is not None:
            await self._do_deed(DEEDS[picked].key)
