"""Asks for the code or password that proves a name; whoever has only their first code chooses one of their own here."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.screens.frame.base import Asker
from tui.screens.frame.desk import Desk, Here
from tui.widgets.fields import Field
from upkeep.said import Said, said
from upkeep.wording.text import padded

if TYPE_CHECKING:
    from upkeep.book import Naming, Proven, WrongCode

_WIDTH = 70


class CodeScreen(Asker[Here]):
    """The name, large, what it will mean, and the field for the code.  What is typed is never shown."""

    BINDINGS = bindings_at(Where.ASKED)

    def __init__(self, desk: Desk, person: Here, meaning: Said | None = None) -> None:
        super().__init__(desk)
        self._person, self._meaning = person, meaning
        self._field = Field(id="code", longest=128)
        self._field.password = True
        self._first = self._chosen = ""

    def asks(self) -> Iterable[Widget]:
        """Who that is, what the name will mean, the code."""
        yield self.rows("name", "-loud")
        yield self.rows("meaning", "-strong")
        yield self.rows("question")
        yield self._field

    def on_mount(self) -> None:
        """Fills the box."""
        name = padded(f" {self._person.name} ({self._person.id})", _WIDTH)
        self.rows("name").show([padded("", _WIDTH), name, padded("", _WIDTH)])
        default = said("What you write from here on carries your name, until you go or somebody else comes.")
        self.rows("meaning").show([self.desk.words(self._meaning or default)])
        self._ask(said("Your code or password, then Enter"))

    def _ask(self, what: Said) -> None:
        self.rows("question").show([self.desk.words(what)])
        self._field.value = ""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Looks at the code beside the keys: hashing it takes a while."""
        event.stop()
        typed, self._field.value = event.value, ""
        if self._first:
            self._choose(typed)
        else:
            self.save(partial(self._prove, typed))

    async def _prove(self, typed: str) -> None:
        from upkeep.book import OnlyFirst, WrongCode

        naming = await self._naming()
        try:
            proven = await asyncio.to_thread(
                naming.prove, self._person.id, typed, self.desk.recording(), self.desk.station
            )
        except OnlyFirst as first:
            self._first = typed
            self.say(first.said)
            self._ask(said("A code of your own, then Enter"))
        except WrongCode as wrong:
            await self._tell_waits(naming, wrong)
            raise
        else:
            self._take(proven)

    def _choose(self, typed: str) -> None:
        """Asks for the new code a second time, and keeps it when both are the same."""
        if not self._chosen:
            self._chosen = typed
            self._ask(said("The same again, then Enter"))
        elif typed != self._chosen:
            self._begin_choice_anew()
            self.say(said("These two are not the same. Type your new code again."))
        else:
            self.save(self._keep)

    def _begin_choice_anew(self) -> None:
        self._chosen = ""
        self._ask(said("A code of your own, then Enter"))

    async def _keep(self) -> None:
        from upkeep.book import WrongCode
        from upkeep.entries.keys import Given, Key
        from upkeep.entries.origin import Proof

        naming, new, at = await self._naming(), self._chosen, self.desk.recording()
        self._begin_choice_anew()
        try:
            proven = await asyncio.to_thread(naming.choose, self._person.id, self._first, new, at, self.desk.station)
        except WrongCode as wrong:
            await self._tell_waits(naming, wrong)
            raise
        key = Key.PASSWORD if proven.proof is Proof.PASSWORD else Key.CODE
        given = Given(at=self.desk.now(), by=self._person.id, key=key, person=self._person.id)
        await self.desk.written(given, by=self._with(proven))
        self._take(proven)

    async def _naming(self) -> Naming:
        return await self.desk.clerk.ask(lambda book: book.naming)

    async def _tell_waits(self, naming: Naming, wrong: WrongCode) -> None:
        waits = naming.wait_entries(wrong.waits, self.desk.now(), self._person.id)
        if waits:
            await self.desk.written(*waits)

    def _with(self, proven: Proven) -> Here:
        return Here(self._person.id, self._person.name, proven)

    def _take(self, proven: Proven) -> None:
        self.leave(self._with(proven))
