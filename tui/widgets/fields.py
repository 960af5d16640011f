"""Fields to type into: nothing blinks, and what is typed is kept until the screen goes."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

from tui.messages import NotTaken
from upkeep.said import Said, said

EMPTY = "________"
"""Stands in a field nobody typed into yet."""

_COUNT_CHARACTERS = "0123456789 ,.'"


class Field(Input):
    """One row to type text into."""

    DEFAULT_CSS = """
    Field, Field:focus { border: none; height: 1; padding: 0 1; width: 1fr; background-tint: $foreground 0%; }
    Field { text-style: underline; }
    Field:focus { text-style: reverse; }
    Field > .input--selection { background: $background; color: $foreground; text-style: bold; }
    """

    def __init__(self, value: str = "", *, id: str | None = None, longest: int = 200) -> None:
        super().__init__(value, id=id, placeholder=EMPTY, max_length=longest, select_on_focus=True)
        self.cursor_blink = False
        self._offered = ""

    def replace(self, text: str, start: int, end: int) -> None:
        """Takes a text as a whole, or says why it takes none of it."""
        self._offered = text
        super().replace(text, start, end)

    def restricted(self) -> None:
        """Says why the text was not taken: nothing typed or pasted is shortened silently."""
        self.post_message(NotTaken(self.why_not(self._offered)))

    def why_not(self, text: str) -> Said:
        """Why a text does not go in."""
        return said(
            "At most {longest} characters fit here, so the {n} that came were not taken.",
            longest=self.max_length or 0, n=len(text),
        )  # fmt: skip

    def _on_paste(self, event: events.Paste) -> None:
        if len(event.text.splitlines()) > 1:
            event.stop()
            event.prevent_default()
            lines = len(event.text.splitlines())
            self.post_message(NotTaken(said("One line fits here; the {n} lines that came were not taken.", n=lines)))

    def on_focus(self) -> None:
        """A field in reverse video needs no line to be seen."""
        self.placeholder = " "

    def on_blur(self) -> None:
        """Shows where to type as long as nobody does."""
        self.placeholder = EMPTY


class CountField(Field):
    """Takes the figures of a counter and how people group them.  A letter is neither taken nor a key of the screen."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, longest=20)
        self.restrict = f"[{_COUNT_CHARACTERS}]*"

    def why_not(self, text: str) -> Said:
        """Only figures go in."""
        if all(character in _COUNT_CHARACTERS for character in text):
            return super().why_not(text)
        return said("Only the figures of the counter go in here; Esc leaves the field.")
