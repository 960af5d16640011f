"""Taking a count: the field, the range in which it should lie, and the sentence when the book does not take it."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Input

from tui.messages import CountTyped
from tui.present.words import wrapped
from tui.widgets.fields import CountField
from tui.widgets.text_rows import TextRows
from upkeep.frozen import frozen
from upkeep.said import in_turn, said
from upkeep.wording.sentences import Reader, text

_CONFIRMING = {
    "rolled over": said("Press y: it rolled over."),
    "set back": said("Press y: it was set back to zero."),
}
"""What a key confirms, by what may explain a lower count."""


@frozen
class TypedCount:
    """A typed count: how the counter came to it where somebody confirmed that ("rolled over", "set back"; None: nobody
    did), and the entry it is kept against (None: none)."""

    value: int
    confirmed: str | None = None
    disputes: int | None = None


@frozen
class Offer:
    """What may be answered to a refused count: ``earlier`` is the entry it contradicts, ``confirms`` what may explain
    it ("rolled over", "set back"; None: nothing may)."""

    value: int
    earlier: int
    confirms: str | None

    @property
    def confirmed(self) -> TypedCount:
        """The count with what explains it."""
        return TypedCount(self.value, confirmed=self.confirms)

    @property
    def disputing(self) -> TypedCount:
        """The count kept as a question for the lead."""
        return TypedCount(self.value, disputes=self.earlier)


class Answers(TextRows, can_focus=True):
    """What may be answered to a count that was not taken; it has the keys until one is pressed, or a figure typed."""

    def __init__(self, field: CountField) -> None:
        super().__init__(id="count-answers", classes="-strong")
        self._field = field

    def on_key(self, event: events.Key) -> None:
        """A figure begins a new count, in the field."""
        if event.character is not None and event.character.isdigit():
            event.stop()
            self.screen.set_focus(self._field)
            self._field.post_message(events.Key(event.key, event.character))


class CountEntry(Vertical):
    """One number and Enter.  ``offered`` is what may be answered to a refusal; None: nothing."""

    DEFAULT_CSS = """
    CountEntry { height: auto; }
    CountEntry Horizontal { height: auto; }
    CountEntry #count-label { width: 7; }
    CountEntry #count-field { width: 18; }
    CountEntry #count-range { padding-left: 2; }
    """

    def __init__(self, reader: Reader) -> None:
        super().__init__()
        self._reader = reader
        self.offered: Offer | None = None
        self.field = CountField(id="count-field")
        self._label = TextRows(id="count-label", classes="-strong")
        self._range, self._said = TextRows(id="count-range"), TextRows(id="count-said", classes="-strong")
        self.answers = Answers(self.field)

    def compose(self) -> ComposeResult:
        """The field with the range beside it, the sentence under it."""
        with Horizontal():
            yield self._label
            yield self.field
            yield self._range
        yield self._said
        yield self.answers

    def on_mount(self) -> None:
        """Names the field."""
        self.read_by(self._reader)

    def read_by(self, reader: Reader) -> None:
        """Speaks to who reads now."""
        self._reader = reader
        self._label.show([" " + text(said("Count"), reader)])

    def on_descendant_focus(self) -> None:
        """Makes the label loud while figures go into the field."""
        self._label.add_class("-loud")

    def on_descendant_blur(self) -> None:
        """Makes the label quiet again."""
        self._label.remove_class("-loud")

    def show_range(self, rows: Sequence[str]) -> None:
        """Shows the last count and the expected range; what is typed stays."""
        self._range.show(rows)

    def refuse(self, sentence: str, *, offered: Offer | None = None) -> None:
        """Shows why the count was not taken; what is typed next replaces it.

        With ``offered`` one key gives each answer it names: the answers have the keys then, and not the field.
        """
        self.offered = offered
        self.field.select_all()
        hints = [] if offered is None else [said("Press e: the earlier one is wrong.")]
        if offered is not None and offered.confirms is not None:
            hints.insert(0, _CONFIRMING[offered.confirms])
        width = max(self.size.width - 2, 20)
        self._said.show([f" {row}" for row in wrapped(sentence, width, 8)])
        self.answers.show([f" {row}" for row in wrapped(text(in_turn(*hints), self._reader), width, 2)])
        (self.field if offered is None else self.answers).focus()

    def on_input_changed(self) -> None:
        """Takes an offer back once another count is typed."""
        if self.field.has_focus and self.offered is not None:
            self.count_again()

    def count_again(self) -> None:
        """Takes the offer back: another count is typed."""
        self.offered = None
        self.answers.show(())
        self.field.focus()

    def clear(self) -> None:
        """Makes ready for the next count."""
        self.offered = None
        self.field.value = ""
        self._said.show(())
        self.answers.show(())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hands the typed text to the screen."""
        event.stop()
        self.post_message(CountTyped(event.value))
