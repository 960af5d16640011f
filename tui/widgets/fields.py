"""Fields to type into: nothing blinks, and what is typed is kept until the screen goes."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

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

    def on_focus(self) -> None:
        """A field in reverse video needs no line to be seen."""
        self.placeholder = " "

    def on_blur(self) -> None:
        """Shows where to type as long as nobody does."""
        self.placeholder = EMPTY


class CountField(Field):
    """Takes the figures of a counter.  Letters pass on: they stay keys of the screen around it."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, longest=20)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Only what may stand in a count is for this field."""
        return character is not None and character in _COUNT_CHARACTERS

    async def _on_key(self, event: events.Key) -> None:
        if event.character is None or event.character in _COUNT_CHARACTERS or not event.is_printable:
            await super()._on_key(event)
        else:
            event.prevent_default()
