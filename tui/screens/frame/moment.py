"""Asks for a moment to look back to."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.typed import moment_typed
from tui.screens.frame.base import Asker
from tui.screens.frame.desk import Desk
from tui.widgets.fields import Field
from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import said


@frozen
class LookBack:
    """The moment to look back to; None: now."""

    at: datetime | None


class MomentScreen(Asker[LookBack]):
    """A time of today, or a day with its time; nothing is now."""

    BINDINGS = bindings_at(Where.ASKED)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._field = Field(id="moment", longest=32)

    def asks(self) -> Iterable[Widget]:
        """The question and the field."""
        yield self.rows("question", "-strong")
        yield self._field

    def on_mount(self) -> None:
        """Asks."""
        asked = said("As it stood when? 6:05, or a day with its time like 2026-03-02 06:00; nothing is now.")
        self.rows("question").show([self.desk.words(asked)])

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes the moment, or says why it is none."""
        event.stop()
        if not event.value.strip():
            self.leave(LookBack(None))
            return
        try:
            self.leave(LookBack(moment_typed(event.value, self.desk.standing_at(self.desk.now()))))
        except Unreadable as refusal:
            self.say(refusal.said)
