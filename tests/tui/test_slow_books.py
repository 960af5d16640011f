"""A book that takes its time: keys pressed meanwhile are kept for what comes, and it can be given up."""

from __future__ import annotations

from datetime import datetime
from threading import Event

from tests.tui.fake_book import FakeBook
from tests.tui.terminal import terminal
from tui.screens.board.board import BoardScreen
from tui.screens.signing.sign import SignScreen
from tui.widgets.fields import Field
from upkeep.said import Said
from upkeep.views.rights import Wish
from upkeep.views.signing import SignForm

LINE = "DS-031/wear-inspection"


class SlowBook(FakeBook):
    """Answers what a sign-off asks only when it is let go on."""

    def __init__(self) -> None:
        super().__init__()
        self.go_on = Event()

    def sign_form(self, line: str, at: datetime) -> SignForm:
        """When it may."""
        assert self.go_on.wait(60)
        return super().sign_form(line, at)


class SlowToJudge(FakeBook):
    """Says who may do something only when it is let go on."""

    def __init__(self) -> None:
        super().__init__()
        self.go_on = Event()

    def why_not(self, wish: Wish, person: str, at: datetime) -> Said | None:
        """When it may."""
        assert self.go_on.wait(60)
        return super().why_not(wish, person, at)


async def test_keys_typed_between_the_name_and_the_form_stand_in_the_form() -> None:
    """What was asked for is still on its way once somebody has said who they are."""
    book = SlowToJudge()
    async with terminal(book) as here:
        assert isinstance(here.app.screen, BoardScreen)
        line = here.app.screen.selected
        assert line is not None
        book.forms[line.line] = {"graded": True}
        await here.press("s")
        await here.type("ana")
        await here.pilot.press("enter")
        while not isinstance(here.app.screen, BoardScreen):
            await here.pilot.pause()
        await here.pilot.press("b", "l", "2")
        book.go_on.set()
        await here.settle()
        assert isinstance(here.app.screen, SignScreen)
        assert "2 visible: galling" in here.text.partition("Remark")[0].partition("Grade")[2][:40]


async def test_keys_typed_while_a_form_is_on_its_way_stand_in_its_first_field() -> None:
    """None of them is a command of the screen one comes from: b would show the board, l the pages, q the end."""
    book = SlowBook()
    async with terminal(book, by="ana") as here:
        await here.pilot.press("s", "b", "l", "q")
        book.go_on.set()
        await here.settle()
        focused = here.app.focused
        assert isinstance(focused, Field)
        assert focused.value == "blq"


async def test_what_is_on_its_way_is_given_up_with_escape() -> None:
    """The screen one comes from stays; no key that was pressed meanwhile does anything there."""
    book = SlowBook()
    async with terminal(book, by="ana") as here:
        before = here.app.screen
        await here.pilot.press("s", "b", "q", "escape")
        book.go_on.set()
        await here.settle()
        assert here.app.screen is before
        await here.press("question_mark")
        assert here.app.screen is not before
