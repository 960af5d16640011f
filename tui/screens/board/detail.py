"""The page of one line: why it stands as it does, its edges, the life of its item and its history."""

from __future__ import annotations

from functools import partial

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.keys import Where, bindings_at
from tui.messages import RoundWanted
from tui.present.moments import wall_said
from tui.present.page import sections, title_text
from tui.present.words import between
from tui.screens.frame.desk import Desk
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.item_pages import item_papers
from upkeep.said import said
from upkeep.views.board import BoardLine


class DetailScreen(DoingScreen):
    """Everything the book says about one line."""

    BINDINGS = bindings_at(Where.DETAIL)
    WHERE = Where.DETAIL
    DEFAULT_CSS = "DetailScreen VerticalScroll { height: 1fr; padding: 0 1; scrollbar-size: 0 0; }"

    def __init__(self, desk: Desk, line: str) -> None:
        super().__init__(desk)
        self._line_name = line
        self._line: BoardLine | None = None
        self._page = Static(markup=False)

    @property
    def selected(self) -> BoardLine | None:
        """The line of this page."""
        return self._line

    def compose(self) -> ComposeResult:
        """The title, the page, the foot."""
        yield self.rows("head", "-loud")
        with VerticalScroll():
            yield self._page
        yield from self.foot()

    async def view(self) -> None:
        """Fetches the line with the life and history of its item."""
        at = self.desk.now()
        detail = await self.desk.clerk.ask(lambda book: book.detail(self._line_name, at))
        now, width = self.desk.standing_at(at), self.app.size.width
        self._line = detail.line
        clock = self.desk.words(wall_said(at, now.zone))
        head = between(f" {title_text(detail.line, now.reader)}", f"{clock} ", width)
        self.rows("head").show([head])
        parts: list[tuple[str, str]] = []
        for heading, rows in sections(detail, now, max(width - 5, 20)):
            parts += [(f"{heading}\n", "bold underline"), ("".join(f"  {row}\n" for row in rows), "")]
        self._page.update(Content.assemble(*parts))

    def action_lists(self) -> None:
        """Asks which page about the item to read."""
        line = self._line
        if line is not None:
            question = said("Which page about {item}?", item=line.item)
            self.do(partial(self.read_one_of, question, item_papers(line.item, line.item_kind)))

    def action_round(self) -> None:
        """Walks the round of the place."""
        if self._line is not None:
            self.app.post_message(RoundWanted(self._line.place))
