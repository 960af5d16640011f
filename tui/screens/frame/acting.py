"""What can be done to the selected line from the board, a round or its page: sign, verify, check, count, report.

The form of an action is imported when somebody asks for it: the first lines of a board do not wait for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from tui.keys import Where
from tui.present.moments import moment_said
from tui.screens.frame.base import BookScreen
from tui.screens.frame.desk import Here, Signed
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import badge_meant, identified, may, person_for, proven
from upkeep.said import Clause, Numeral, Said, in_turn, said, term
from upkeep.views.board import BoardLine
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned
from upkeep.wording.scanned import scanned_said

if TYPE_CHECKING:
    from tui.screens.frame.pages import Paper


class ActingScreen(BookScreen):
    """A full screen with a selected line.  Each action asks in front of it what it needs, then looks again."""

    WHERE: ClassVar[Where]

    @property
    def selected(self) -> BoardLine | None:
        """The line the actions are about; None: there is none."""
        raise NotImplementedError

    def place_here(self) -> str | None:
        """The place whose press is counted."""
        return self.selected.place if self.selected else None

    def items_here(self) -> tuple[str, ...]:
        """The items on which something may be found, the likeliest first."""
        line = self.selected
        return tuple(filter(None, (line.item, line.inside))) if line else ()

    # Signing

    def action_sign(self) -> None:
        """Signs the selected line."""
        self.sign(self.selected)

    def sign(self, line: BoardLine | None) -> None:
        """Opens the sign-off of a line."""
        if line is None:
            self.say(said("Select a line first."))
        else:
            self.bring(partial(self._sign, line))

    async def _sign(self, line: BoardLine) -> None:
        from tui.present.signing import is_short
        from tui.screens.signing.sign import SignScreen
        from tui.screens.signing.sign_now import SignNowScreen

        at = self.desk.now()
        form = await self.desk.clerk.ask(lambda book: book.sign_form(line.line, at))
        asks_before = self.desk.asks_for_codes or self.desk.here is not None or not is_short(form)
        if asks_before and await person_for(self, Wish("sign", item=line.item, task=line.task)) is None:
            return
        screen = SignNowScreen(self.desk, form) if is_short(form) else SignScreen(self.desk, form)
        await self._tell(await self.asked(screen))

    async def _tell(self, signed: Signed | None) -> None:
        """Shows the proof of something signed or checked, and what the book answered to it before anything else."""
        if signed is None:
            return
        self.show_signed(signed)
        if signed.notes:
            from tui.screens.frame.notes import NotesScreen

            await self.shown(NotesScreen(self.desk, self._proof(signed), signed.notes))

    def _proof(self, signed: Signed) -> Said:
        at = moment_said(signed.at, self.desk.zone)
        return said(
            "SIGNED {at} {name}: {meaning}. {what}.",
            at=at,
            name=signed.by.name,
            meaning=Clause(signed.meaning) if signed.meaning else "",
            what=signed.what,
        )

    def show_signed(self, signed: Signed) -> None:
        """Shows the proof that something was signed."""
        self.say(in_turn(self._proof(signed), said("Press u to undo.")))

    # Checks

    def action_check(self) -> None:
        """Checks what the die set here makes."""
        where = self.check_at()
        if where is None:
            self.say(said("Select a line first: the check is made on the die set there."))
        else:
            self.bring(partial(self._check, where))

    def check_at(self) -> str | None:
        """The place or item whose die set is checked."""
        return self.selected.item if self.selected else None

    async def _check(self, where: str) -> None:
        from tui.screens.checks.check import CheckScreen

        at = self.desk.now()
        die_set = await self._die_set(where)
        if die_set is not None and await self._may(Wish("check", item=die_set)):
            form = await self.desk.clerk.ask(lambda book: book.check_forms(at).form(die_set))
            await self._tell(await self.asked(CheckScreen(self.desk, form)))

    async def _die_set(self, where: str) -> str | None:
        at = self.desk.now()
        sets = await self.desk.clerk.ask(lambda book: book.check_forms(at).sets_at(where))
        if len(sets) > 1:
            titles = {item.id: item.title for item in await self.desk.clerk.ask(lambda book: book.items())}
            options = [(item, said("{item}  {title}", item=item, title=titles[item])) for item in sets]
            return await self.asked(PickScreen(self.desk, said("Which die set?"), options))
        if not sets:
            self.say(
                said("No die set is fitted at {where}, so nothing is made there. Enter its fitting first.", where=where)
            )
        return sets[0] if sets else None

    # The second signature

    def action_verify(self) -> None:
        """Gives the second signature on the selected line, by a person who says so now."""
        line = self.selected
        if line is None or line.unverified is None:
            self.say(said("No sign-off on this line is waiting for a second signature."))
        else:
            self.bring(partial(self._verify, line, line.unverified))

    async def _verify(self, line: BoardLine, entry: int) -> None:
        from upkeep.entries.signing import Verify

        question = said(
            "Second signature ({role}) on {task}, {item}: who are you?",
            role=term(line.second_signature or "", "role"),
            task=line.title,
            item=line.item,
        )
        meaning = said("Your name will mean: verified by me. It must not be the person who did the work.")
        person = await identified(self, question, meaning)
        if person is not None and await may(self, Wish("verify", about=entry), person):
            verified = Verify(at=self.desk.now(), by=person.id, entry=entry)
            written = await self.desk.written(verified, by=person)
            what = said("second signature on #{entry}", entry=Numeral(entry))
            self.desk.remember(written, person, verified.at, what)
            self.say(
                said(
                    "VERIFIED #{entry} by {person}: {line} on {item}.",
                    entry=Numeral(entry),
                    person=person.name,
                    line=line.title,
                    item=line.item,
                )
            )
            self.look()

    # Counts and findings

    def action_count(self) -> None:
        """Asks for the count of the press here."""
        place = self.place_here()
        if place is None:
            self.say(said("Select a line on a press first."))
        else:
            self.bring(partial(self._count, place))

    async def _count(self, place: str) -> None:
        from tui.screens.press.count import CountScreen

        by = await person_for(self, Wish("count"))
        written = await self.asked(CountScreen(self.desk, place, by)) if by else None
        if written:
            self.say(written)

    def action_fault(self) -> None:
        """Asks what was found."""
        if self.items_here():
            self.bring(partial(self._fault, self.items_here()))
        else:
            self.say(said("Select a line first: the fault is reported on its item."))

    async def _fault(self, items: tuple[str, ...]) -> None:
        from tui.screens.press.fault import FaultScreen

        if await self._may(Wish("fault", item=items[0])):
            written = await self.asked(FaultScreen(self.desk, items))
            if written:
                self.say(written)

    # Pictures

    def action_attach(self) -> None:
        """Asks for a picture of what was written last at this terminal."""
        last = self.desk.takes_picture
        if last is None:
            self.say(said("A picture belongs to a fault, check or sign-off: write that here first, then attach it."))
        else:
            self.bring(partial(self._picture_of, last))

    async def _picture_of(self, last: Signed) -> None:
        from tui.screens.press.picture import PictureScreen

        if await self._may(Wish("picture", item=last.item)):
            written = await self.asked(PictureScreen(self.desk, last))
            if written:
                self.say(written)

    async def _may(self, wish: Wish) -> bool:
        """Whether whoever is here may do something; where names are proven it is asked first who that is."""
        if self.desk.here is None and not self.desk.asks_for_codes:
            return True  # the form asks for the name
        return await person_for(self, wish) is not None

    # Pages

    async def read_one_of(self, question: Said, papers: Mapping[str, Paper]) -> None:
        """Asks which page to read, and shows it."""
        options = [(name, paper.title) for name, paper in papers.items()]
        answer = await self.asked(PickScreen(self.desk, question, options))
        if answer is not None:
            self.read(papers[answer])

    def read(self, paper: Paper) -> None:
        """Shows a page."""
        from tui.screens.board.paper import PaperScreen

        screen = PaperScreen
        if paper.where is Where.QUESTIONS:
            from tui.screens.board.questions import QuestionsScreen as screen
        elif paper.where is Where.SUSPECT:
            from tui.screens.board.suspect import SuspectScreen as screen
        elif paper.where is Where.HINTS:
            from tui.screens.board.hints import HintsScreen as screen
        self.app.push_screen(screen(self.desk, paper))

    # Undo, who, help

    def action_undo(self) -> None:
        """Takes back what was written last at this terminal."""
        self.save(self._undo)

    async def _undo(self) -> None:
        last = self.desk.can_undo()
        by = await proven(self, Here(last.by.id, last.by.name)) if last is not None else None
        if last is not None and by is None:
            return
        signed = await self.desk.undo(by)
        if signed is None:
            self.say(said("There is nothing left to undo here. An entry can still be struck with a reason."))
            return
        what, name = signed.what, signed.by.name
        taken = (
            said("UNDONE: {what}, signed by {by}.", what=what, by=name)
            if signed.meaning
            else said("UNDONE: {what}, by {by}.", what=what, by=name)
        )
        self.say(in_turn(taken, said("Both entries stay in the book.")))
        self.look()

    def action_other_person(self) -> None:
        """Asks who is here now."""
        self.do(self._other_person)

    async def _other_person(self) -> None:
        self.desk.here = None  # whoever was here has gone: the next name is asked and proven anew
        self.look()
        self.desk.here = await identified(self)
        await self.person_came()
        self.look()

    async def person_came(self) -> None:
        """Hears that somebody said who is here now, or that nobody did."""

    def hear_badge(self, number: str) -> None:
        """Ends with whoever was here: a scan says who is here now."""
        self.do(partial(self._scanned, number))

    async def _scanned(self, number: str) -> None:
        before, self.desk.here = self.desk.here, None
        self.look()
        named = await badge_meant(self, number)
        if named is None:
            self.say(said("Nobody who may sign here has this badge. Type your short id: press o."))
        elif before is None or before.id != named[0]:  # the second scan of the same badge goes
            self.desk.here = await proven(self, Here(*named))
            await self.person_came()
            self.look()

    def take_scanned(self, scanned: Scanned) -> None:
        """Says what was scanned, where it is and whether it may run."""
        self.say(scanned_said(scanned))

    def action_help(self) -> None:
        """Shows the keys."""
        from tui.screens.frame.help import HelpScreen

        self.app.push_screen(HelpScreen(self.desk, self.WHERE))

    def action_quit(self) -> None:
        """Ends the screens; those of a station only in the name of a keeper."""
        self.do(self._quit)

    async def _quit(self) -> None:
        if self.desk.station is None:
            self.app.exit()
            return
        keeper = await identified(self, said("A keeper of the book closes this station. Who are you?"))
        if keeper is None:
            return
        at = self.desk.now()
        in_charge = await self.desk.clerk.ask(lambda book: book.naming.in_charge(at))
        if keeper.id in in_charge:
            self.app.exit()
        else:
            self.say(said("{name} is no keeper of the book; the station stays open.", name=keeper.name))
