"""The foot of a screen: which keys do something here."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.strip import Strip
from textual.widget import Widget

from tui.keys import KEYS, NUMBERS, cap
from upkeep.said import Said, term
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import width_of

_CAP = Style(reverse=True)


class KeyLine(Widget):
    """Keys and their words in as many rows as they take; each key stands on a cap."""

    DEFAULT_CSS = "KeyLine { height: auto; dock: bottom; }"

    def __init__(self, keys: Sequence[tuple[Said, Said]], reader: Reader) -> None:
        super().__init__()
        self._reader = reader
        self._keys = self._named(keys)
        self._pressed = {
            text(term(cap(key), "key"), reader): key.key.split(",")[0] for key in KEYS if key.key != NUMBERS
        }

    def show(self, keys: Sequence[tuple[Said, Said]]) -> None:
        """Names these keys from now on."""
        named = self._named(keys)
        if named != self._keys:
            self._keys = named
            self.refresh(layout=True)

    def _named(self, keys: Sequence[tuple[Said, Said]]) -> tuple[tuple[str, str], ...]:
        return tuple((text(shown, self._reader), text(word, self._reader)) for shown, word in keys)

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        """As many rows as the keys take at this width."""
        return len(self._rows(width))

    def render_line(self, y: int) -> Strip:
        """One row of keys."""
        style, rows = self.rich_style, self._rows(self.size.width)
        if y >= len(rows):
            return Strip.blank(self.size.width, style)
        segments = [
            segment
            for shown, word in rows[y]
            for segment in (Segment(f" {shown} ", style + _CAP), Segment(f" {word}  ", style))
        ]
        return Strip(segments).adjust_cell_length(self.size.width, style)

    def on_click(self, event: events.Click) -> None:
        """Presses the key whose cap or word was clicked."""
        rows, left = self._rows(self.size.width), 0
        for shown, word in rows[event.y] if event.y < len(rows) else ():
            right = left + width_of(shown) + width_of(word) + 5
            if left <= event.x < right and shown in self._pressed:
                self.app.simulate_key(self._pressed[shown])
            left = right

    def _rows(self, width: int) -> list[list[tuple[str, str]]]:
        rows: list[list[tuple[str, str]]] = [[]]
        used = 0
        for shown, word in self._keys:
            needs = width_of(shown) + width_of(word) + 3
            if used and used + needs > width:
                rows.append([])
                used = 0
            rows[-1].append((shown, word))
            used += needs + 2
        return rows
