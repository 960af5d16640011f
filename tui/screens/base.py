"""What screens have in common: a place at the desk, work with the book beside the keys, sentences to the person."""

from __future__ import annotations

from collections.abc import Callable, Coroutine, Iterable
from functools import partial
from typing import TypeVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen, Screen
from textual.widget import Widget
from textual.worker import Worker

from tui.keys import Where, foot_at
from tui.messages import BookChanged
from tui.present.words import wrapped
from tui.screens.desk import Desk
from tui.widgets.key_line import KeyLine
from tui.widgets.text_rows import TextRows
from upkeep.errors import StrokebookError
from upkeep.said import Said

SMALLEST = (80, 24)
"""Columns and rows the screens are made for."""

_SENTENCE_ROWS = 4

Result = TypeVar("Result")
Work = Callable[[], Coroutine[None, None, None]]
"""Something to do beside the keys."""


class DeskScreen(Screen[Result]):
    """A screen at a desk.  Work with the book runs beside the keys, and a refusal is shown as its sentence."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._rows: dict[str, TextRows] = {}

    def rows(self, id_: str, look: str = "") -> TextRows:
        """The rows of text with this id, made when first asked for.

        They are held here and not searched for on the screen: an answer of the book may come when it is closing.
        """
        if id_ not in self._rows:
            self._rows[id_] = TextRows(id=id_, classes=look or None)
        return self._rows[id_]

    def do(self, work: Work, group: str = "work") -> None:
        """Does work with the book; a look under way is given up for a new one (group "view")."""
        _: Worker[None] = self.run_worker(partial(self._refusals_said, work), exclusive=group == "view", group=group)

    async def _refusals_said(self, work: Work) -> None:
        try:
            await work()
        except StrokebookError as refusal:
            self.say(refusal.said)

    def say(self, sentence: Said | None) -> None:
        """Shows a sentence to the person; None clears it."""
        rows = wrapped(self.desk.words(sentence), self._room_for_sentences(), _SENTENCE_ROWS) if sentence else ()
        self.rows("said").show([f" {row}" for row in rows])

    def _room_for_sentences(self) -> int:
        return max(self.size.width - 2, 10)


class BookScreen(DeskScreen[None]):
    """A full screen over the book, shown anew when the book or the minute changes."""

    DEFAULT_CSS = """
    BookScreen { layout: vertical; overflow: hidden; }
    BookScreen #too-small { dock: top; }
    """

    def foot(self, where: Where) -> ComposeResult:
        """The row of sentences, the keys, and the notice of a small window."""
        yield self.rows("said", "-strong")
        yield KeyLine(foot_at(where))
        yield self.rows("too-small", "-loud")

    async def view(self) -> None:
        """Asks the book once and shows the answer."""
        raise NotImplementedError

    def look(self) -> None:
        """Shows the book as it is now."""
        self.do(self.view, group="view")

    def on_screen_resume(self) -> None:
        """Looks again on coming to the front."""
        self.look()

    def on_book_changed(self, message: BookChanged) -> None:
        """Looks again when the book or the minute changed."""
        message.stop()
        self.look()

    def on_resize(self) -> None:
        """Lays the texts out anew; says so while the window is smaller than the screens are made for."""
        width, height = self.app.size
        small = width < SMALLEST[0] or height < SMALLEST[1]
        text = f"Window {width} x {height}: too small, parts are cut off. Make it {SMALLEST[0]} x {SMALLEST[1]}."
        self.rows("too-small").show(wrapped(text, max(width, 10)) if small else ())
        self.look()


class Asker(DeskScreen[Result | None], ModalScreen[Result | None]):
    """A box in front of a screen that asks one thing; None is "went back"."""

    DEFAULT_CSS = """
    Asker { align: center middle; background: transparent; }
    Asker > Vertical { width: 76; max-width: 100%; height: auto; max-height: 100%; border: heavy $foreground;
                       background: $background; padding: 0 1; }
    """
    WHERE = Where.ASKED

    def asks(self) -> Iterable[Widget]:
        """What stands in the box."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """The box: what is asked, the sentences, the keys."""
        with Vertical():
            yield from self.asks()
            yield self.rows("said", "-strong")
            yield KeyLine(self.foot())

    def foot(self) -> tuple[tuple[str, str], ...]:
        """The keys named at the foot of the box."""
        return (("enter", "take"), *foot_at(self.WHERE))

    def _room_for_sentences(self) -> int:
        return max(min(76, self.app.size.width) - 6, 10)

    def action_leave(self) -> None:
        """Goes back without an answer."""
        self.dismiss(None)
