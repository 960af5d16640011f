"""One page of text over the book, to be read from top to bottom."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.timer import Timer

from tui.keys import Where, bindings_at
from tui.present.moments import wall_said
from tui.present.words import between
from tui.screens.frame.base import BookScreen
from tui.screens.frame.book_door import BookDoor
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.pages import Paper
from upkeep.errors import Refused, StrokebookError
from upkeep.said import said
from upkeep.wording.sentences import Reader
from upkeep.wording.sentences import text as words_of


class PaperScreen(BookScreen):
    """A page; shown anew when the book or the minute changes.  ``at``: as it stood at that moment instead of now."""

    BINDINGS = bindings_at(Where.PAPER)
    WHERE: ClassVar[Where] = Where.PAPER
    DEFAULT_CSS = "PaperScreen VerticalScroll { height: 1fr; padding: 0 0; scrollbar-size: 0 0; }"

    def __init__(self, desk: Desk, paper: Paper, at: datetime | None = None) -> None:
        super().__init__(desk)
        self._paper, self._at = paper, at
        self._waited = 0
        self._waits: Timer | None = None

    def compose(self) -> ComposeResult:
        """The title, the page, the foot."""
        yield self.rows("head", "-loud")
        with VerticalScroll():
            yield self.rows("page")
        yield from self.foot()

    def on_mount(self) -> None:
        """Says what comes: a page with a trend or a month of figures takes a moment."""
        self._show_head()
        self._waits = self.set_interval(1.0, self._show_waiting)
        self._show_waiting()

    def _show_waiting(self) -> None:
        told = said("Being prepared, {seconds} s ... Esc goes back.", seconds=self._waited)
        self.rows("page").show([self.desk.words(told)])
        self._waited += 1

    def action_print(self) -> None:
        """Makes a PDF of the page beside the book, to be printed."""
        self.save(self._print)

    async def _print(self) -> None:
        at = self._at or self.desk.now()
        stamp = f"{self.desk.zone.local(self.desk.now()):%Y-%m-%d-%H%M%S}"
        here, reader = self.desk.here, self.desk.reader
        file = await self.desk.clerk.ask(lambda book: _printed(self._paper, book, at, reader, stamp, here))
        self.say(said("Ready to print: {file}", file=file))

    def _show_head(self) -> None:
        clock = self.desk.words(wall_said(self._at or self.desk.now(), self.desk.zone))
        title = self.desk.words(self._paper.title)
        self.rows("head").show([between(f" {title}", f"{clock} ", self.app.size.width)])

    async def view(self) -> None:
        """Fetches the page; where the book refuses it, its sentence stands there instead."""
        at = self._at or self.desk.now()
        try:
            text = await self.desk.clerk.ask(lambda book: _page(self._paper, book, at, self.desk.reader))
        except StrokebookError as refusal:
            text = self.desk.words(refusal.said)
        if self._waits is not None:
            self._waits.stop()
        self._show_head()
        self.rows("page").show(text.rstrip("\n").split("\n"))


def _page(paper: Paper, book: BookDoor, at: datetime, reader: Reader) -> str:
    """The page, and how far the names on it can be relied on."""
    from upkeep.papers.frame.naming import with_names

    return with_names(paper.text(book, at, reader), book.facts.signed_with, reader)


def _printed(paper: Paper, book: BookDoor, at: datetime, reader: Reader, stamp: str, here: Here | None) -> Path:
    """The file of the page as a PDF in the folder ``printed`` beside the book; none is ever written over."""
    from upkeep.entries.origin import Proof
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.page_pdf import page_pdf

    proof = here.proven.proof if here is not None and here.proven is not None else Proof.NONE
    text = f"{words_of(paper.title, reader)}\n\n{_page(paper, book, at, reader)}"
    frame = frame_cells(book.printed(at, here.id if here is not None else "", proof), reader)
    folder = book.path.parent / "printed"
    file = folder / f"page-{stamp}.pdf"
    try:
        folder.mkdir(exist_ok=True)
        with file.open("xb") as new:
            new.write(page_pdf(text, frame, reader))
    except OSError as error:
        raise Refused(said("{file} cannot be written: {why}.", file=file, why=str(error.strerror))) from error
    return file
