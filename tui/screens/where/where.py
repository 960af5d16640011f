"""What hangs and stands where in the whole plant, now or at a past moment, found by any words of it."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from textual.app import ComposeResult
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.messages import RowSelected
from tui.present.moments import moment_said
from tui.present.where import name_of, where_head, where_rows
from tui.screens.frame.desk import Desk
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.item_pages import item_papers
from tui.screens.frame.moment import MomentScreen
from tui.widgets.labelled_field import LabelledField
from tui.widgets.section_rows import SectionRows
from upkeep.said import said
from upkeep.views.board import BoardLine
from upkeep.views.overview.whereabouts import WhereQuery, WhereRow


class WhereScreen(DoingScreen):
    """One list of all items by place; a search narrows it as one types."""

    BINDINGS = bindings_at(Where.WHEREABOUTS)
    WHERE = Where.WHEREABOUTS

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._list = SectionRows[WhereRow](name_of)
        self._search = LabelledField(desk.words(said("Find item, place, status or owner:")), id="search")
        self._words = ""
        self._past: datetime | None = None

    @property
    def selected(self) -> BoardLine | None:
        """No line is selected here: items are."""
        return None

    def item_selected(self) -> str | None:
        """The selected item."""
        return self._list.selected.item if self._list.selected else None

    def items_here(self) -> tuple[str, ...]:
        """The selected item and what it sits in."""
        row = self._list.selected
        return tuple(filter(None, (row.item, row.inside))) if row else ()

    def place_here(self) -> str | None:
        """The place of the selected item."""
        return self._list.selected.place if self._list.selected else None

    def compose(self) -> ComposeResult:
        """The head, the search, the items, the foot."""
        yield self.rows("head", "-loud")
        yield self._search
        yield self._list
        yield from self.foot()

    def on_mount(self) -> None:
        """The items take the keys."""
        self._list.focus()

    async def view(self) -> None:
        """Fetches the list."""
        at = self._past or self.desk.now()
        query = WhereQuery(search=self._words)
        found = await self.desk.clerk.ask(lambda book: book.where(at, query))
        now, width = self.desk.standing_at(at), self.app.size.width
        self.rows("head").show([where_head(found, now, width, self._past is not None)])
        self._list.show(where_rows(found, now, max(width - 2, 20)))

    def on_row_selected(self, message: RowSelected) -> None:
        """Nothing more stands anywhere about a row."""
        message.stop()

    # Finding

    def action_search(self) -> None:
        """Goes to the search."""
        self._search.field.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Finds as one types."""
        self._words = event.value.strip()
        self.look()

    def on_input_submitted(self) -> None:
        """Goes from the search to the items."""
        self._list.focus()

    def action_leave(self) -> None:
        """From the search to the items, from a search to all items, else back."""
        if self._search.field.has_focus:
            self._list.focus()
        elif self._words:
            self._search.field.value = ""
        else:
            super().action_leave()

    # A past moment, and the pages of an item

    def action_past(self) -> None:
        """Asks for a moment; none goes back to now."""
        self.do(self._go_back)

    async def _go_back(self) -> None:
        answer = await self.asked(MomentScreen(self.desk))
        if answer is None:
            return
        self._past = answer.at
        moment = moment_said(answer.at, self.desk.zone) if answer.at else None
        self.say(said("As it stood {moment}. What is written is written now.", moment=moment) if moment else None)
        self.look()

    def action_lists(self) -> None:
        """Asks which page about the selected item to read."""
        self.action_open_line()

    def action_open_line(self) -> None:
        """The same."""
        row = self._list.selected
        if row is not None:
            question = said("Which page about {item}?", item=row.item)
            self.do(partial(self.read_one_of, question, item_papers(row.item, row.kind)))
