"""The page the lead begins with: what is held, late, due, asked; the week by day; what strokes bring next."""

from __future__ import annotations

from functools import partial

from textual.app import ComposeResult

from tui.keys import Where, bindings_at
from tui.messages import BoardWanted, RoundWanted, RowSelected
from tui.present.home import head_rows, list_rows, name_of, week_rows, why_text
from tui.present.moments import Now
from tui.present.words import wrapped
from tui.screens.frame.desk import Desk
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.item_pages import item_papers
from tui.screens.frame.pages import PAPERS, STORES, fault_paper, hints_for
from tui.screens.frame.pick import PickScreen
from tui.widgets.section_rows import SectionRows
from upkeep.said import said
from upkeep.views.board import BoardLine
from upkeep.views.overview.home import GoingOn, Home, HomeRow, Part

_WHY_ROWS = 2


class HomeScreen(DoingScreen):
    """Every part in its order with its count; one row an item, a line, or the cleans of a press."""

    BINDINGS = bindings_at(Where.HOME)
    WHERE = Where.HOME
    DEFAULT_CSS = (
        "HomeScreen #why { height: 2; } HomeScreen #week { height: 3; } HomeScreen.-small #week { display: none; }"
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._list = SectionRows[HomeRow](name_of)
        self._home: Home | None = None
        self._now: Now | None = None

    @property
    def row(self) -> HomeRow | None:
        """The selected row."""
        return self._list.selected

    @property
    def selected(self) -> BoardLine | None:
        """The line of the selected row; of a row of several the first."""
        return self.row.lines[0] if self.row and self.row.lines else None

    def place_here(self) -> str | None:
        """The place of the selected row."""
        return self.row.place if self.row else None

    def items_here(self) -> tuple[str, ...]:
        """The item of the selected row, and what it sits in."""
        if self.selected is None:
            return (self.row.item,) if self.row and self.row.item else ()
        return super().items_here()

    def chosen_lines(self) -> tuple[str, ...]:
        """The lines of the selected row, one or several."""
        return tuple(line.line for line in self.row.lines) if self.row else ()

    def item_selected(self) -> str | None:
        """The item of the selected row; None where it stands for several."""
        return self.row.item if self.row else None

    def compose(self) -> ComposeResult:
        """The head with the counts, the rows, why, the week, the foot."""
        yield self.rows("title", "-loud")
        yield self.rows("head")
        yield self._list
        yield self.rows("why")
        yield self.rows("week")
        yield from self.foot()

    def on_mount(self) -> None:
        """The rows take the keys."""
        self._list.focus()
        prepared = self.desk.words(said("Being prepared ..."))
        self.rows("head").show([f" {prepared}"])

    async def view(self) -> None:
        """Fetches the page."""
        at, here, area = self.desk.now(), self.desk.here, self.desk.area
        person = here.id if here is not None and self.desk.is_known(here.id) else None
        self._home = await self.desk.clerk.ask(lambda book: book.home(at, person, area))
        self._now = self.desk.standing_at(at)
        width = self.app.size.width
        title, *counts = head_rows(self._home, self._now, here.name if here else "", area, width)
        self.rows("title").show([title])
        self.rows("head").show(counts)
        self.rows("week").show(week_rows(self._home, self.desk.reader, width))
        self._list.show(list_rows(self._home, self._now, max(width - 2, 20)))

    def on_row_selected(self, message: RowSelected) -> None:
        """Shows why the selected row stands there."""
        now = self.desk.standing_at(self.desk.now())
        rows = wrapped(why_text(self.row, now), max(self.app.size.width - 2, 10), _WHY_ROWS)
        self.rows("why").show([f" {row}" for row in (*rows, *[""] * (_WHY_ROWS - len(rows)))])

    # From here on

    def action_part(self, number: int) -> None:
        """Goes to a part by its number."""
        self._list.go_to(f"{number} ")

    def action_open_line(self) -> None:
        """Opens what the selected row stands for."""
        from tui.screens.board.detail import DetailScreen

        row, here = self.row, self.desk.here
        if row is None:
            return
        if row.part is GoingOn.PARTS:
            self.read(STORES["kits"])
        elif isinstance(row.part, GoingOn):
            self.read(PAPERS["handover"])
        elif row.part is Part.QUESTIONS:
            self.read(PAPERS["questions"])
        elif row.fault is not None:
            self.read(fault_paper(row.fault))
        elif row.part is Part.HINTS and here is not None:
            self.read(hints_for(here.id))
        elif len(row.lines) == 1:
            self.app.push_screen(DetailScreen(self.desk, row.lines[0].line))
        elif row.lines:
            self.app.post_message(RoundWanted(row.place))
        elif row.item is not None:
            self.do(partial(self._read_about, row.item))

    async def _read_about(self, item: str) -> None:
        kind = await self.desk.clerk.ask(lambda book: book.known.item(item).kind)
        await self.read_one_of(said("Which page about {item}?", item=item), item_papers(item, kind))

    def action_which(self) -> None:
        """Asks which area to look at; it stays chosen, whatever page one goes to meanwhile."""
        self.bring(self._which)

    async def _which(self) -> None:
        places = await self.desk.clerk.ask(lambda book: book.places())
        areas = sorted({place.area for place in places if place.area})
        options = [("", said("the whole plant")), *((area, said("area {area}", area=area)) for area in areas)]
        picked = await self.asked(PickScreen(self.desk, said("Which area?"), options))
        if picked is not None:
            self.desk.area = picked or None
            self.look()

    def action_lists(self) -> None:
        """Asks which page of the plant to read."""
        self.bring(self.read_a_page)

    def action_sign(self) -> None:
        """Signs the selected line; of a row of several all of them at once."""
        if self.row is not None and len(self.row.lines) > 1:
            self.action_deed("sign")
        else:
            super().action_sign()

    def action_round(self) -> None:
        """Walks the round of the place of the selected row."""
        if self.row is not None:
            self.app.post_message(RoundWanted(self.row.place))

    def action_board(self) -> None:
        """Shows the board of the whole plant."""
        self.app.post_message(BoardWanted())
