"""The page of suspect product, and what becomes of its lines: entered from here, by quantity."""

from __future__ import annotations

from dataclasses import replace

from tui.keys import Where, bindings_at
from tui.screens.acts.form import DeedScreen
from tui.screens.acts.palette import DEEDS
from tui.screens.acts.subjects import subject_of
from tui.screens.board.paper import PaperScreen
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import person_for
from upkeep.said import Numeral, Said, in_turn, said
from upkeep.views.rights import Wish
from upkeep.views.suspect import HoldList, SuspectLine


class SuspectScreen(PaperScreen):
    """The same page with its key: the next line nobody has judged is asked for first."""

    BINDINGS = bindings_at(Where.SUSPECT)
    WHERE = Where.SUSPECT

    def action_dispose(self) -> None:
        """Asks which line and what becomes of it, and writes it."""
        self.do(self._dispose)

    async def _dispose(self) -> None:
        at = self.desk.now()
        lists = await self.desk.clerk.ask(lambda book: book.suspects(at).lists())
        waiting = {f"{one.number} {line.row}": (one, line) for one in lists for line in one.lines if line.open}
        if not waiting:
            self.say(said("No line of a hold list waits for a disposition."))
            return
        by = await person_for(self, Wish("disposition"))
        picked = await self._which(waiting) if by is not None else None
        if by is None or picked is None:
            return
        hold_list, line = waiting[picked]
        deed, item = DEEDS["disposition"], hold_list.item
        subject = await self.desk.clerk.ask(lambda book: subject_of(book, item, (), at))
        asks = await self.desk.clerk.ask(lambda book: deed.fields(book, subject, at))
        known = {"list": str(hold_list.number), "row": str(line.row)}
        asks = [replace(ask, preset=known.get(ask.key, ask.preset)) for ask in asks]
        done = await self.asked(DeedScreen(self.desk, deed, subject, asks, by))
        if done is not None:
            wrote = said("WRITTEN: {what}, by {name}.", what=done.what, name=done.by.name)
            self.say(in_turn(wrote, *done.notes))
            self.look()

    async def _which(self, waiting: dict[str, tuple[HoldList, SuspectLine]]) -> str | None:
        """The line; asked only where several wait."""
        if len(waiting) == 1:
            return next(iter(waiting))
        options = [(key, _line_said(*found)) for key, found in waiting.items()]
        return await self.asked(PickScreen(self.desk, said("Which line?"), options))


def _line_said(hold_list: HoldList, line: SuspectLine) -> Said:
    return said(
        "#{n} {item} line {row}: {press}, {strokes} strokes",
        n=Numeral(hold_list.number),
        item=hold_list.item,
        row=line.row,
        press=line.press,
        strokes=line.strokes,
    )
