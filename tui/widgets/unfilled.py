"""What a form says when something in it is missing."""

from __future__ import annotations

from textual.widget import Widget
from textual.widgets import Input

from upkeep.said import Said


class Unfilled(Exception):
    """Something in the form is missing or unreadable: what to say, and the field to go to."""

    def __init__(self, sentence: Said, field: Widget) -> None:
        super().__init__(sentence)
        self.said = sentence
        self.field = field

    def go_there(self) -> None:
        """Goes to the field; what is typed next replaces what stands there."""
        self.field.focus()
        if isinstance(self.field, Input):
            self.field.select_all()
