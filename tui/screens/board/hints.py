"""The page of how work was signed, and what somebody else saw at work that was drawn to be looked at again."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.words import wrapped
from tui.screens.board.paper import PaperScreen
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import identified, may
from tui.widgets.fields import Field
from upkeep.said import Numeral, Said, in_turn, said, said_as, term
from upkeep.views.hints import Hint, HintKind
from upkeep.views.rights import Wish

_WIDTH, _ROWS = 70, 4


class HintsScreen(PaperScreen):
    """The lead's page; whoever was asked to look again says here what they saw."""

    BINDINGS = bindings_at(Where.HINTS)
    WHERE = Where.HINTS

    def action_looked_again(self) -> None:
        """Asks who looked and what they saw, and writes it."""
        self.do(self._looked_again)

    async def _looked_again(self) -> None:
        drawn = await self._which()
        if drawn is None:
            return
        (entry,) = drawn.entries
        question = said("Who looked at the work of #{entry}? Not the person who signed it.", entry=Numeral(entry))
        by = await identified(self, question, said("Your name will mean: I looked at it myself."))
        if by is None or not await may(self, Wish("looked-again", about=entry), by):
            return
        written = await self.asked(LookedScreen(self.desk, drawn, by))
        if written is not None:
            self.say(written)
            self.look()

    async def _which(self) -> Hint | None:
        """The sign-off that was looked at; asked only where several are drawn."""
        at, here = self.desk.now(), self.desk.here
        if here is None:
            return None
        hints = await self.desk.clerk.ask(lambda book: book.signing_hints(here.id, at))
        drawn = {str(hint.entries[0]): hint for hint in hints.hints if hint.kind is HintKind.AGAIN}
        if not drawn:
            self.say(said("No work waits to be looked at again."))
        if len(drawn) < 2:
            return next(iter(drawn.values()), None)
        options = [(key, said("#{entry}: {seen}", entry=key, seen=hint.seen)) for key, hint in drawn.items()]
        picked = await self.asked(PickScreen(self.desk, said("Which work was looked at?"), options))
        return None if picked is None else drawn[picked]


class LookedScreen(Asker[Said]):
    """What somebody saw at work that was drawn, and whether it is as signed.  The answer says what was written."""

    BINDINGS = bindings_at(Where.SETTLE)
    WHERE = Where.SETTLE

    def __init__(self, desk: Desk, drawn: Hint, by: Here) -> None:
        super().__init__(desk)
        self._drawn, self._by = drawn, by
        self._agrees, self._text = Field(id="agrees", longest=1), Field(id="text", longest=200)

    def asks(self) -> Iterable[Widget]:
        """The work, the two fields."""
        yield self.rows("question", "-strong")
        yield self.rows("agrees-label", "-strong")
        yield self._agrees
        yield self.rows("text-label", "-strong")
        yield self._text

    def keys_now(self) -> Foot:
        """Enter goes on, and writes at last."""
        return ((term("enter", "key"), said_as("foot", "next, write")), *super().keys_now()[1:])

    def on_mount(self) -> None:
        """Fills the box."""
        words = self.desk.words
        self.rows("question").show(wrapped(words(self._drawn.seen), _WIDTH)[:_ROWS])
        self.rows("agrees-label").show([words(said("Is it as it was signed?  y: yes   n: no"))])
        self.rows("text-label").show([words(said("What was seen"))])
        self.set_focus(self._agrees)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Goes on to the words; after them it writes."""
        event.stop()
        answer = self._agrees.value.strip().casefold()
        if answer not in ("y", "n"):
            self.say(said("Type y where the work is as it was signed, n where it is not."))
            self.set_focus(self._agrees)
        elif event.input is self._agrees:
            self.say(None)
            self.set_focus(self._text)
        else:
            self.save(partial(self._write, answer == "y"))

    async def _write(self, agrees: bool) -> None:
        from upkeep.entries.signing import LookedAgain

        (entry,), at = self._drawn.entries, self.desk.now()
        look = LookedAgain(at=at, by=self._by.id, entry=entry, agrees=agrees, text=self._text.value.strip())
        written = await self.desk.written(look, by=self._by)
        self.desk.remember(written, self._by, at, said("what was seen at the work of #{entry}", entry=Numeral(entry)))
        told = said("LOOKED AT #{entry} AGAIN: {name}.", entry=Numeral(entry), name=self._by.name)
        self.leave(in_turn(told, *written.notes))
