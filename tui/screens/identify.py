"""Asks who is here: one short id, typed or scanned, and Enter."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.people import Named, at_work, found_text, meant, unknown_text
from tui.screens.base import Asker, DeskScreen
from tui.screens.desk import Desk, Here
from tui.widgets.fields import Field


class IdentifyScreen(Asker[Here]):
    """Who are you?  ``meaning`` says what the name will stand for."""

    BINDINGS = bindings_at(Where.ASKED)

    def __init__(self, desk: Desk, question: str = "Who is here?", meaning: str = "") -> None:
        super().__init__(desk)
        self._question, self._meaning = question, meaning
        self._people: tuple[Named, ...] = ()
        self._field = Field(id="person", longest=32)

    def asks(self) -> Iterable[Widget]:
        """The question, the field, who that is."""
        yield self.rows("question", "-strong")
        yield self._field
        yield self.rows("found")

    def on_mount(self) -> None:
        """Shows the question and fetches who there is."""
        self.rows("question").show([row for row in (self._question, self._meaning) if row])
        self.do(self._learn)

    async def _learn(self) -> None:
        people = await self.desk.clerk.ask(lambda book: book.people())
        self._people = at_work(people, self.desk.zone.day(self.desk.now()))
        self._show_found(self._field.value)

    def _show_found(self, typed: str) -> None:
        self.rows("found").show([f" {found_text(self._people, typed)}"])

    def on_input_changed(self, event: Input.Changed) -> None:
        """Shows who is meant so far."""
        self.say(None)
        self._show_found(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes the person, or says why nobody was found."""
        self.do(partial(self._take, event.value))

    async def _take(self, typed: str) -> None:
        if not self._people:
            await self._learn()  # a scanner may type faster than the book answers
        person = meant(self._people, typed)
        if person is None:
            self.say(unknown_text(self._people, typed))
        else:
            self.leave(Here(*person))


async def person_at(screen: DeskScreen[Any]) -> Here | None:
    """Who is at the desk of a screen; asks in front of it where nobody said so yet.  None: nobody says so now."""
    if screen.desk.here is None:
        screen.desk.here = await screen.asked(IdentifyScreen(screen.desk))
    return screen.desk.here
