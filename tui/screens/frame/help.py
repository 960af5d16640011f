"""The keys and signs, on one page."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from tui.keys import Where, bindings_at, cap, keys_at
from tui.present.board import ESTIMATED
from tui.present.state_words import MEANINGS, state_text
from tui.screens.frame.base import DeskScreen
from tui.screens.frame.desk import Desk
from upkeep.due.states import BOARD_ORDER
from upkeep.said import Said, said, term
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import padded


def help_rows(where: Where, reader: Reader) -> list[str]:
    """The page: the keys that work where it was opened, then everywhere in a list, then the signs."""
    rows = [*_key_rows(where, reader), "", *_key_rows(Where.LIST, reader), ""]
    rows.append(text(said("Signs"), reader))
    rows += [_row(state_text(state, reader), MEANINGS[state], reader) for state in BOARD_ORDER]
    return [*rows, _row(ESTIMATED, said("strokes that had to be estimated"), reader)]


def _key_rows(where: Where, reader: Reader) -> list[str]:
    head = text(said("Keys {where}", where=term(where)), reader)
    return [head, *(_row(text(term(cap(key), "key"), reader), term(key.description), reader) for key in keys_at(where))]


def _row(sign: str, meaning: Said, reader: Reader) -> str:
    return f"  {padded(sign, 16)} {text(meaning, reader)}"


class HelpScreen(DeskScreen[None]):
    """What every key does here, and what the signs say."""

    BINDINGS = bindings_at(Where.HELP)
    WHERE = Where.HELP

    def __init__(self, desk: Desk, where: Where) -> None:
        super().__init__(desk)
        self._where = where

    def compose(self) -> ComposeResult:
        """One page of text."""
        with VerticalScroll():
            yield self.rows("page")
        yield self.rows("said")
        yield self.key_line()

    def on_mount(self) -> None:
        """Shows the page."""
        self.rows("page").show(help_rows(self._where, self.desk.reader))
