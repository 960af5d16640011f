"""Taking a count: the field, the range in which it should lie, and the sentence when the book does not take it."""

from __future__ import annotations

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
    CountEntry Horizontal { height: 1; }
    CountEntry #count-label { width: 8; }
    CountEntry #count-field { width: 18; }
    CountEntry #count-range { padding-left: 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.offered: int | None = None

    def compose(self) -> ComposeResult:
        """The field with the range beside it, the sentence under it."""
        with Horizontal():
            yield TextRows(id="count-label", classes="-strong")
            yield CountField(id="count-field")
            yield TextRows(id="count-range")
        yield TextRows(id="count-said", classes="-strong")

    def on_mount(self) -> None:
        """Names the field."""
        self.query_one("#count-label", TextRows).show([" Count"])

    @property
    def field(self) -> CountField:
        """The field itself."""
        return self.query_one(CountField)

    def show_range(self, text: str) -> None:
        """Shows the last count and the expected range; what is typed stays."""
        self.query_one("#count-range", TextRows).show([text] if text else ())

    def refuse(self, sentence: str, *, offered: int | None = None) -> None:
        """Shows why the count was not taken; with ``offered`` one key confirms that the counter rolled over."""
        self.offered = offered
        hint = " Press y: it rolled over." if offered is not None else ""
        rows = wrapped(f"{sentence}{hint}", max(self.size.width - 2, 20), 4)
        self.query_one("#count-said", TextRows).show([f" {row}" for row in rows])

    def clear(self) -> None:
        """Makes ready for the next count."""
        self.offered = None
        self.field.value = ""
        self.query_one("#count-said", TextRows).show(())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hands the typed text to the screen."""
        event.stop()
        self.post_message(CountTyped(event.value))
