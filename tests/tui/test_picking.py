"""One of many is picked: which of them are in sight, and which one is marked."""

from __future__ import annotations

import pytest
from textual.widgets import Static

from tests.tui.fake_book import FakeBook
from tests.tui.terminal import Terminal, terminal

FIRST_TEN = [
    "all states", "state stop", "state held", "state overdue", "state due", "state open", "state later",
    "state paused", "state not required", "area Hall A",
]  # fmt: skip


def in_the_box(here: Terminal) -> list[str]:
    """The options in sight, from top to bottom: between the question with its field and which of how many they are."""
    return [row.split("┃")[1].strip() for row in here.rows if row.count("┃") == 2][2:12]


def marked(here: Terminal) -> list[str]:
    """The options that are drawn the other way round."""
    options = here.app.screen.query_one("#options", Static)
    strips = [options.render_line(row) for row in range(options.size.height)]
    return [one.text.strip() for strip in strips for one in strip if one.style and one.style.reverse]


async def test_the_first_ten_of_many_are_in_sight_and_the_first_is_marked() -> None:
    """Ten rows of 25, in their order."""
    async with terminal(FakeBook()) as here:
        await here.press("w")
        assert in_the_box(here) == FIRST_TEN
        assert "1-10 of 25" in here.text
        assert marked(here) == ["all states"]


@pytest.mark.parametrize(("downs", "first"), [(9, "all states"), (10, "state stop"), (11, "state held")])
async def test_the_list_goes_on_when_the_mark_leaves_its_foot(downs: int, first: str) -> None:
    """The tenth is still on the first ten; then one more comes in at the foot for each that goes out at the top."""
    async with terminal(FakeBook()) as here:
        await here.press("w", *["down"] * downs)
        seen = in_the_box(here)
        assert (len(seen), seen[0]) == (10, first)
        assert marked(here) == [seen[-1]]


async def test_few_options_are_all_in_sight() -> None:
    """Narrowed to two halls, both stand there, and nothing else."""
    async with terminal(FakeBook()) as here:
        await here.press("w")
        await here.type("hall")
        assert [row for row in in_the_box(here) if row] == ["area Hall A", "area Hall B"]
        await here.press("down", "enter")
        assert "Hall B" in here.text


async def test_the_mark_stops_at_both_ends() -> None:
    """Up from the first is the first, down from the last is the last."""
    async with terminal(FakeBook()) as here:
        await here.press("w", "up")
        assert marked(here) == ["all states"]
        await here.press(*["down"] * 40)
        (last,) = marked(here)
        assert last.startswith("role ")
        assert last == in_the_box(here)[-1]
        await here.press("down")
        assert marked(here) == [last]
