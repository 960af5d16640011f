"""The page of questions: what the counts leave open, what the lead answers to a count that contradicts another, and
what somebody says to have seen."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.walk import not_a_count_said, read_count
from tui.present.words import wrapped
from tui.screens.board.paper import PaperScreen
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.pick import PickScreen
from tui.screens.who.identify import person_for
from tui.widgets.fields import CountField, Field
from upkeep.said import Numeral, Said, in_turn, said, said_as, term
from upkeep.views.questions import Disputed
from upkeep.views.rights import Wish

_WIDTH = 70
_KEPT_ROWS = 6


class QuestionsScreen(PaperScreen):
    """The same page with its keys: a count kept against an earlier one is settled from here, and what is asked until
    somebody has seen it ends here."""

    BINDINGS = bindings_at(Where.QUESTIONS)
    WHERE = Where.QUESTIONS

    def action_settle(self) -> None:
        """Asks what is right, and writes it."""
        self.do(self._settle)

    async def _settle(self) -> None:
        disputed = await self._which()
        by = await person_for(self, Wish("strike")) if disputed is not None else None
        if disputed is None or by is None:
            return
        wrong = said("#{entry} was read wrong, and I know what it showed", entry=Numeral(disputed.entry))
        unknown = said("#{entry} was read wrong, and nobody knows what it showed", entry=Numeral(disputed.entry))
        right = said("#{entry} stands: what was kept against it is struck", entry=Numeral(disputed.entry))
        options = [("figure", wrong), ("unknown", unknown), ("right", right)]
        answer = await self.asked(PickScreen(self.desk, said("{line}", line=disputed.line), options))
        written = await self.asked(SettleScreen(self.desk, disputed, by, answer)) if answer is not None else None
        if written is not None:
            self.say(written)
            self.look()

    def action_seen(self) -> None:
        """Asks what somebody has seen, and writes it."""
        self.do(self._seen)

    async def _seen(self) -> None:
        at = self.desk.now()
        asked = await self.desk.clerk.ask(lambda book: book.questions(at))
        if not asked:
            self.say(said("Nothing waits to be seen here."))
            return
        by = await person_for(self, Wish("seen"))
        options = {one.about: said("{item}: {asks}", item=one.about, asks=one.asks) for one in reversed(asked)}
        about = (
            await self.asked(PickScreen(self.desk, said("What has been seen?"), list(options.items()))) if by else None
        )
        if by is None or about is None:
            return
        moment = self.desk.now()
        entries = await self.desk.clerk.ask(lambda book: book.seen(about, by.id, moment))
        written = await self.desk.written(*entries, by=by)
        self.desk.remember(written, by, moment, said("what was seen about {item}", item=about))
        self.say(said("SEEN by {name}: {item}. It is asked no more.", name=by.name, item=about))
        self.look()

    async def _which(self) -> Disputed | None:
        """The reading to settle; asked only where there are several."""
        at = self.desk.now()
        waiting = {str(one.entry): one for one in await self.desk.clerk.ask(lambda book: book.disputed(at))}
        if not waiting:
            self.say(said("No count is kept against an earlier one, so there is nothing to settle here."))
        if len(waiting) < 2:
            return next(iter(waiting.values()), None)
        options = [(key, said("#{entry}: {line}", entry=key, line=one.line)) for key, one in waiting.items()]
        picked = await self.asked(PickScreen(self.desk, said("Which reading?"), options))
        return None if picked is None else waiting[picked]


class SettleScreen(Asker[Said]):
    """The figure and the reason for one ``answer``: the earlier reading was wrong and its figure is known ("figure"),
    is not ("unknown"), or it stands ("right").  The answer of the screen says what was written."""

    BINDINGS = bindings_at(Where.SETTLE)
    WHERE = Where.SETTLE

    def __init__(self, desk: Desk, disputed: Disputed, by: Here, answer: str) -> None:
        super().__init__(desk)
        self._disputed, self._by, self._answer = disputed, by, answer
        self._figure, self._because = CountField(id="figure"), Field(id="because", longest=120)

    def asks(self) -> Iterable[Widget]:
        """The reading, what is kept against it, the fields."""
        yield self.rows("question", "-strong")
        yield self.rows("kept")
        yield self.rows("figure-label", "-strong")
        yield self._figure
        yield self.rows("because-label", "-strong")
        yield self._because

    def keys_now(self) -> Foot:
        """Enter goes on, and writes at last."""
        return ((term("enter", "key"), said_as("foot", "next, write")), *super().keys_now()[1:])

    def on_mount(self) -> None:
        """Fills the box; the figure is asked for only where it is known."""
        one, words = self._disputed, self.desk.words
        asked = said("#{entry}: {line}", entry=Numeral(one.entry), line=one.line)
        self.rows("question").show(wrapped(words(asked), _WIDTH))
        kept = (row for line in one.kept for row in wrapped(words(said("kept against it: {line}", line=line)), _WIDTH))
        self.rows("kept").show(tuple(kept)[:_KEPT_ROWS])
        known = self._answer == "figure"
        self._figure.display = known
        label = said("What the counter showed at #{entry}, in strokes", entry=Numeral(one.entry))
        self.rows("figure-label").show([words(label)] if known else ())
        self.rows("because-label").show([words(said("How you know, or why"))])
        self.set_focus(self._figure if known else self._because)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Goes on to the reason; after the reason it writes."""
        event.stop()
        if event.input is self._figure:
            self.set_focus(self._because)
        else:
            self.save(self._write)

    async def _write(self) -> None:
        figure = read_count(self._figure.value) if self._answer == "figure" else None
        if self._answer == "figure" and figure is None:
            self.say(not_a_count_said(self._figure.value))
            self.set_focus(self._figure)
            return
        because = self._because.value.strip()
        if not because:
            self.say(said("Say how you know: it stays in the book beside the correction."))
            return
        number, at, stands = self._disputed.entry, self.desk.now(), self._answer == "right"
        entries = await self.desk.clerk.ask(
            lambda book: book.settled(number, figure, earlier_stands=stands, at=at, by=self._by.id, because=because)
        )
        written = await self.desk.written(*entries, by=self._by)
        what = said("what was settled about #{entry}", entry=Numeral(number))
        self.desk.remember(written, self._by, at, what)
        told = said("SETTLED #{entry}, by {name}.", entry=Numeral(number), name=self._by.name)
        self.leave(in_turn(told, *written.notes))
