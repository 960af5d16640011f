"""Asks for one of many: type a part of it, or move with the arrows, then Enter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from tui.keys import Where, bindings_at
from tui.screens.frame.base import Asker
from tui.screens.frame.desk import Desk
from tui.widgets.fields import Field
from upkeep.said import Quoted, Said, in_turn, said
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.text import fit

_ROWS = 10
_ROW_WIDTH = 70


class PickScreen(Asker[str]):
    """Which one?  The options are (key, label); the answer is a key."""

    BINDINGS = bindings_at(Where.ASKED, Where.PICK)
    DEFAULT_CSS = "PickScreen #options { height: 10; }"

    def __init__(self, desk: Desk, question: Said, options: Sequence[tuple[str, Said]]) -> None:
        super().__init__(desk)
        self._question = question
        self._options = tuple((key, desk.words(label)) for key, label in options)
        self._found, self._cursor = self._options, 0
        self._rows_shown = Static(id="options", markup=False)

    def asks(self) -> Iterable[Widget]:
        """The question, a field that narrows, the options."""
        yield self.rows("question", "-strong")
        yield Field(id="part")
        yield self._rows_shown
        yield self.rows("shown")

    def on_mount(self) -> None:
        """Shows all options."""
        question = in_turn(self._question, said("Type part of it, or use the arrow keys."))
        self.rows("question").show([self.desk.words(question)])
        self._show()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrows the options to those that hold the typed text; those that begin with it stand first."""
        wanted = event.value.strip().casefold()
        found = [option for option in self._options if wanted in option[1].casefold()]
        self._found = tuple(sorted(found, key=lambda option: not option[1].casefold().startswith(wanted)))
        self._cursor = 0
        self.say(None)
        self._show()

    def action_move(self, rows: int) -> None:
        """Moves the mark."""
        self._cursor = max(0, min(self._cursor + rows, len(self._found) - 1))
        self._show()

    def _show(self) -> None:
        top = max(0, self._cursor - _ROWS + 1)
        rows = [
            (f" {fit(label, _ROW_WIDTH - 1)}\n", "reverse" if index == self._cursor else "")
            for index, (_, label) in enumerate(self._found[top : top + _ROWS], start=top)
        ]
        self._rows_shown.update(Content.assemble(*rows))
        found = len(self._found)
        shown = said("{first}-{last} of {n}", first=top + 1, last=min(top + _ROWS, found), n=found)
        self.rows("shown").show([f" {self.desk.words(shown)}"] if found > _ROWS else ())

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes an item that is among the options."""
        keys = [key for key, _ in self._options]
        if isinstance(scanned, ScannedItem) and scanned.item in keys:
            self.leave(scanned.item)
        else:
            super().take_scanned(scanned)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes the marked option."""
        if self._found:
            self.leave(self._found[self._cursor][0])
        else:
            self.say(said("Nothing here contains {typed}.", typed=Quoted(event.value.strip())))
