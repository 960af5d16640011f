"""What the book answered to something just written, to be read before going on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.containers import VerticalScroll
from textual.widget import Widget

from tui.keys import Where, bindings_at, foot_at
from tui.present.words import wrapped
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk
from tui.widgets.text_rows import TextRows
from upkeep.said import Said
from upkeep.wording.text import padded

_WIDTH = 70


class NotesScreen(Asker[None]):
    """A box with what was written and every note of the book on it; Enter goes on."""

    BINDINGS = bindings_at(Where.NOTES)
    WHERE = Where.NOTES
    DEFAULT_CSS = "NotesScreen VerticalScroll { height: auto; max-height: 16; scrollbar-size-vertical: 1; }"

    def __init__(self, desk: Desk, written: Said, notes: Sequence[Said]) -> None:
        super().__init__(desk)
        self._written, self._notes = written, tuple(notes)

    def asks(self) -> Iterable[Widget]:
        """What was written, then the notes."""
        yield self.rows("written", "-strong")
        with_notes = VerticalScroll(*(TextRows(classes="-loud note") for _ in self._notes))
        yield with_notes

    def keys_now(self) -> Foot:
        """Enter goes on."""
        return foot_at(self.WHERE)

    def on_mount(self) -> None:
        """Fills the box."""
        self.rows("written").show(wrapped(self.desk.words(self._written), _WIDTH))
        for rows, note in zip(self.query(TextRows).filter(".note"), self._notes, strict=True):
            rows.show([f" {padded(row, _WIDTH)} " for row in wrapped(self.desk.words(note), _WIDTH - 2)])
