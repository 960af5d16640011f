"""Taking a count: the field, the range in which it should lie, and the sentence when the book does not take it."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Input

from tui.messages import CountTyped
from tui.present.words import wrapped
from tui.widgets.fields import CountField
from tui.widgets.text_rows import TextRows


class CountEntry(Vertical):
    """One number and Enter.  ``offered`` is the count for which the book offered a rollover; None: none."""

    DEFAULT_CSS = """
    CountEntry { height: auto; }
    CountEntry Horizontal { height: auto; }
    CountEntry #count-label { width: 7; }
    CountEntry #count-field { width: 18; }
    CountEntry #count-range { padding-left: 2; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.offered: int | None = None
        self.field = CountField(id="count-field")
        self._label = TextRows(id="count-label", classes="-strong")
        self._range, self._said = TextRows(id="count-range"), TextRows(id="count-said", classes="-strong")

    def compose(self) -> ComposeResult:
        """The field with the range beside it, the sentence under it."""
        with Horizontal():
            yield self._label
            yield self.field
            yield self._range
        yield self._said

    def on_mount(self) -> None:
        """Names the field."""
        self._label.show([" Count"])

    def on_descendant_focus(self) -> None:
        """Makes the label loud while figures go into the field."""
        self._label.add_class("-loud")

    def on_descendant_blur(self) -> None:
        """Makes the label quiet again."""
        self._label.remove_class("-loud")

    def show_range(self, rows: Sequence[str]) -> None:
        """Shows the last count and the expected range; what is typed stays."""
        self._range.show(rows)

    def refuse(self, sentence: str, *, offered: int | None = None) -> None:
        """Shows why the count was not taken; what is typed next replaces it.

        With ``offered`` one key confirms that the counter rolled over.
        """
        self.offered = offered
        self.field.select_all()
        hint = " Press y: it rolled over." if offered is not None else ""
        rows = wrapped(f"{sentence}{hint}", max(self.size.width - 2, 20), 4)
        self._said.show([f" {row}" for row in rows])

    def clear(self) -> None:
        """Makes ready for the next count."""
        self.offered = None
        self.field.value = ""
        self._said.show(())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hands the typed text to the screen."""
        event.stop()
        self.post_message(CountTyped(event.value))
