"""Asks for one sentence, which goes into the book as it is typed."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.words import wrapped
from tui.screens.frame.base import Asker
from tui.screens.frame.desk import Desk
from tui.widgets.fields import Field
from upkeep.said import Said, said

_WIDTH = 70


class SentenceScreen(Asker[str]):
    """A question and a field; what is typed is the answer."""

    BINDINGS = bindings_at(Where.ASKED)

    def __init__(self, desk: Desk, question: Said) -> None:
        super().__init__(desk)
        self._question = question
        self._field = Field(id="sentence")

    def asks(self) -> Iterable[Widget]:
        """The question and the field."""
        yield self.rows("question", "-strong")
        yield self._field

    def on_mount(self) -> None:
        """Asks."""
        self.rows("question").show(wrapped(self.desk.words(self._question), _WIDTH))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes what was typed, unless that is nothing."""
        event.stop()
        if event.value.strip():
            self.leave(event.value.strip())
        else:
            self.say(said("Type a sentence, or go back with Esc."))
