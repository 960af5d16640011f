"""A question answered with one key."""

from __future__ import annotations

from collections.abc import Mapping

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from upkeep.wording.text import fit

_LABEL_WIDTH = 38


class OneKey(Widget, can_focus=True):
    """A label and the keys that answer it, each with its word; ``key`` is the one pressed (None: no answer yet)."""

    DEFAULT_CSS = "OneKey { height: 1; width: 1fr; }"

    def __init__(self, label: str, keys: Mapping[str, str], key: str | None = None) -> None:
        super().__init__()
        self._label, self._keys = label, keys
        self.key = key

    def render_line(self, y: int) -> Strip:
        """The label with its answer, or with the keys that give one."""
        style = self.rich_style + Style(reverse=True) if self.has_focus else self.rich_style
        offered = "   ".join(f"{key} {word}" for key, word in self._keys.items())
        said = offered if self.key is None else self._keys[self.key]
        room = min(_LABEL_WIDTH, max(self.size.width - len(said), 0))
        return Strip([Segment(fit(fit(self._label, room) + said, self.size.width), style)])

    def takes(self, key: str) -> bool:
        """Whether a key answers this question."""
        return key in self._keys

    def answer(self, key: str) -> None:
        """Takes one of its keys as the answer."""
        self.key = key
        self.refresh()
