"""Something was found: a word, a line of text if one likes, Enter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.findings import FINDINGS, finding_rows, symptom_text
from tui.screens.base import Asker
from tui.screens.desk import Desk, Here
from tui.widgets.fields import Field
from upkeep.entries.kinds import Fault


class FaultScreen(Asker[str]):
    """What was found on which item; the answer says what was written."""

    BINDINGS = bindings_at(Where.FAULT)
    WHERE = Where.FAULT

    def __init__(self, desk: Desk, items: Sequence[str], by: Here) -> None:
        super().__init__(desk)
        self._items, self._by = tuple(items), by
        self._place, self._picked, self._stopped = 0, 0, False

    def asks(self) -> Iterable[Widget]:
        """The item, the words, the line of text."""
        yield self.rows("question", "-strong")
        yield self.rows("words")
        yield self.rows("stopped", "-strong")
        yield Field(id="remark", longest=120)

    def foot(self) -> tuple[tuple[str, str], ...]:
        """Enter writes here."""
        return (("enter", "write"), *super().foot()[1:])

    def on_mount(self) -> None:
        """Waits for a number first; the line of text comes after."""
        self.set_focus(None)
        self.query_one(Field).can_focus = False
        self._show()

    def _show(self) -> None:
        number = self._picked or None
        self.rows("question").show([f"Found on {self._items[self._place]} by {self._by.name}: which?"])
        self.rows("words").show(finding_rows(number))
        taken = "taken out of production" if self._stopped else "stays in production"
        self.rows("stopped").show([f" {self._items[self._place]} {taken}"])

    def action_number(self, number: int) -> None:
        """Picks a word and goes on to the line of text."""
        if number <= len(FINDINGS):
            self._picked = number
            field = self.query_one(Field)
            field.can_focus = True
            field.focus()
            self._show()

    def action_turn_stopped(self) -> None:
        """Says that the item was taken out of production, or that it was not."""
        self._stopped = not self._stopped
        self._show()

    def action_other_item(self) -> None:
        """Goes on to the next item here."""
        self._place = (self._place + 1) % len(self._items)
        self._show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Writes the finding."""
        self.do(partial(self._write, symptom_text(self._picked, event.value)))

    async def _write(self, symptom: str) -> None:
        item = self._items[self._place]
        fault = Fault(at=self.desk.now(), by=self._by.id, item=item, symptom=symptom, stopped=self._stopped)
        number = await self.desk.write(fault)
        self.dismiss(f"FOUND on {item}: {symptom}. Written as #{number} by {self._by.name}.")
