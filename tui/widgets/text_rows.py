"""Rows of text that are shown as they are."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import Static


class TextRows(Static):
    """Text from anybody, never read as markup.  Takes no rows at all while it is empty."""

    DEFAULT_CSS = """
    TextRows { height: auto; width: 1fr; }
    TextRows.-empty { display: none; }
    TextRows.-loud { text-style: reverse bold; }
    TextRows.-strong { text-style: bold; }
    """

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__("", id=id, classes=classes, markup=False)
        self.rows: tuple[str, ...] = ()
        self.add_class("-empty")

    def show(self, rows: Sequence[str]) -> None:
        """Shows these rows instead of what stood there; redraws only when they differ.

        The screen is laid out anew only when there are more or fewer of them.
        """
        if tuple(rows) == self.rows:
            return
        as_many = len(rows) == len(self.rows)
        self.rows = tuple(rows)
        self.set_class(not self.rows, "-empty")
        self.update(Content("\n".join(self.rows)), layout=not as_many)
