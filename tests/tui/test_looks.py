"""How the screens look: contrast, colour beside signs and words, and what a click does where terminals tell of one."""

from __future__ import annotations

import pytest

from tests.tui.fake_book import MORNING, FakeBook, counted
from tests.tui.terminal import SMALL, terminal
from tui.app import StrokebookApp
from tui.looks import THEMES, Look
from upkeep.entries.signing import Sign

INKS = ("foreground", "error", "warning")


def luminance(colour: str) -> float:
    """The relative luminance of a colour of sRGB (WCAG 2.2, glossary, "relative luminance", 2023)."""
    channels = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(ink: str, ground: str) -> float:
    """The contrast ratio of two colours (WCAG 2.2, glossary, "contrast ratio", 2023)."""
    darker, lighter = sorted((luminance(ink), luminance(ground)))
    return (lighter + 0.05) / (darker + 0.05)


def test_the_ratio_is_that_of_the_standard() -> None:
    """Black on white is 21 to 1; #767676 is known as the lightest grey that passes on white, #777777 fails (from
    memory)."""
    assert round(contrast("#000000", "#ffffff"), 6) == 21
    assert contrast("#777777", "#ffffff") < 4.5 <= contrast("#767676", "#ffffff")


@pytest.mark.parametrize("look", THEMES)
def test_every_ink_can_be_read_on_its_ground(look: Look) -> None:
    """4.5 to 1 at least (WCAG 2.2, success criterion 1.4.3)."""
    theme = THEMES[look]
    for ground in (theme.background, theme.surface, theme.panel):
        assert ground is not None
        for ink in INKS:
            assert contrast(getattr(theme, ink), ground) >= 4.5


def colours(app: StrokebookApp, words: str) -> set[str]:
    """The colours of the row on the screen that has these words."""
    found = set()
    for strip in app.screen._compositor.render_strips():
        if words in "".join(segment.text for segment in strip):
            found |= {segment.style.color.name for segment in strip if segment.style and segment.style.color}
    return found


@pytest.mark.parametrize("look", THEMES)
async def test_the_most_urgent_rows_catch_the_eye(look: Look) -> None:
    """Overdue and past the stop in one ink, due in another, the rest as the page is."""
    theme = THEMES[look]
    app = StrokebookApp(FakeBook, lambda: MORNING, look=look)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(0.5)
        assert colours(app, "weekly-oiling") | colours(app, "Weekly oiling") == {theme.error}
        assert colours(app, "Feed check") == {theme.error}
        assert theme.warning in colours(app, "Daily clean")


async def test_without_colour_every_row_says_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Signs and words stand there in any case; no row has an ink of its own."""
    async with terminal(FakeBook()) as here:
        coloured = here.text
    monkeypatch.setenv("NO_COLOR", "1")
    async with terminal(FakeBook()) as here:
        assert here.text == coloured
        inks = {colour for words in ("Weekly oiling", "Daily clean") for colour in colours(here.app, words)}
        assert inks <= {"default", "ansi_default"}


@pytest.mark.parametrize("size", [SMALL, (120, 40)], ids=["80x24", "120x40"])
async def test_a_box_leaves_the_page_behind_it_whole_without_colour_too(
    monkeypatch: pytest.MonkeyPatch, size: tuple[int, int]
) -> None:
    """Above and below it every row is as it was; beside it nothing of a row is left over."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with terminal(FakeBook(), size=size) as here:
        await here.settle()
        before = here.rows
        await here.press("l")
        boxed = {place for place, row in enumerate(here.rows) if row[:1] in ("┏", "┃", "┗")}
        assert boxed
        for place, row in enumerate(here.rows):
            if place not in boxed:
                assert row == before[place]
        assert before[0].strip()


async def test_a_row_is_selected_by_a_click_and_opened_by_the_next() -> None:
    """As Enter does."""
    async with terminal(counted(), place="P-07", by="ana") as here:
        row = next(place for place, text in enumerate(here.rows) if "Press clean" in text)
        await here.pilot.click(offset=(20, row))
        await here.settle()
        assert "Sign:" not in here.text
        await here.pilot.click(offset=(20, row))
        await here.settle()
        assert "Sign: Press clean" in here.text


async def test_a_key_at_the_foot_is_pressed_by_a_click() -> None:
    """The one that is under the pointer."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        place, row = next((place, row) for place, row in enumerate(here.rows) if "count" in row and "check" in row)
        await here.pilot.click(offset=(row.index("count") + 1, place))
        await here.type("1204400", "enter")
        assert "COUNTED P-07: 1,204,400" in here.text
        assert not any(isinstance(entry, Sign) for entry in book.written)
