"""The keys and signs, on one page."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from tui.keys import Where, bindings_at, cap, foot_at, keys_at
from tui.present.board import ESTIMATED
from tui.present.state_words import MEANINGS, state_text
from tui.screens.base import DeskScreen
from tui.screens.desk import Desk
from tui.widgets.key_line import KeyLine
from upkeep.due.states import BOARD_ORDER


def help_rows(where: Where) -> list[str]:
    """The page: the keys that work where it was opened, then everywhere in a list, then the signs."""
    rows = [f"Keys {where.value}", *_key_rows(where), "", f"Keys {Where.LIST.value}", *_key_rows(Where.LIST), ""]
    rows += ["Signs", *(f"  {state_text(state):<16} {MEANINGS[state]}" for state in BOARD_ORDER)]
    return [*rows, f"  {ESTIMATED:<16} strokes that had to be estimated"]


def _key_rows(where: Where) -> list[str]:
    return [f"  {cap(key):<16} {key.description}" for key in keys_at(where)]


class HelpScreen(DeskScreen[None]):
    """What every key does here, and what the signs say."""

    BINDINGS = bindings_at(Where.HELP)

    def __init__(self, desk: Desk, where: Where) -> None:
        super().__init__(desk)
        self._where = where

    def compose(self) -> ComposeResult:
        """One page of text."""
        with VerticalScroll():
            yield self.rows("page")
        yield self.rows("said")
        yield KeyLine(foot_at(Where.HELP))

    def on_mount(self) -> None:
        """Shows the page."""
        self.rows("page").show(help_rows(self._where))
