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
        self._reader, self._said = reader, keys
        self._keys, self._pressed = self._named(), self._by_caps()
        self._short = False

    def shorten(self, *, short: bool) -> None:
        """Takes one row alone from now on, or as many as the keys take."""
        if short != self._short:
            self._short = short
            self.refresh(layout=True)

    def show(self, keys: Sequence[tuple[Said, Said]]) -> None:
        """Names these keys from now on."""
        self._said = keys
        self._name_keys()

    def read_by(self, reader: Reader) -> None:
        """Names them in the language of who reads now."""
        self._reader = reader
        self._name_keys()

    def _name_keys(self) -> None:
        named = self._named()
        if named != self._keys:
            self._keys, self._pressed = named, self._by_caps()
            self.refresh(layout=True)

    def _named(self) -> tuple[tuple[str, str], ...]:
        return tuple((text(shown, self._reader), text(word, self._reader)) for shown, word in self._said)

    def _by_caps(self) -> dict[str, str]:
        """The keys by their caps as they are read: a click on one is a press."""
        named = (key for key in KEYS if key.key != NUMBERS)
        return {text(term(cap(key), "key"), self._reader): key.key.split(",")[0] for key in named}

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

    def _first_keys(self, width: int) -> list[tuple[str, str]]:
        """The first keys that fit one row beside the one that leads to all others, or back."""
        ways_on = {text(term(shown, "key"), self._reader) for shown in ("?", "esc")}
        last = [key for key in self._keys if key[0] in ways_on][:1]
        kept, room = [], width - sum(_cells(key) for key in last)
        for key in self._keys:
            if key not in last and _cells(key) <= room:
                kept.append(key)
                room -= _cells(key)
        return [*kept, *last]

    def _rows(self, width: int) -> list[list[tuple[str, str]]]:
        if self._short:
            return [self._first_keys(width)]
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


def _cells(key: tuple[str, str]) -> int:
    """The cells of a key with its word, and the gap behind it."""
    shown, word = key
    return width_of(shown) + width_of(word) + 5
