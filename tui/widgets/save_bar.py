"""The last field of a form: Enter on it saves."""

from __future__ import annotations

from textual.widgets import Static


class SaveBar(Static, can_focus=True):
    """Looks like a key cap, reversed while it waits for Enter."""

    DEFAULT_CSS = """
    SaveBar { height: 1; width: auto; padding: 0 2; margin-left: 2; }
    SaveBar:focus { text-style: reverse bold; }
    """

    def __init__(self, text: str) -> None:
        super().__init__(text, markup=False)
