"""The foot of each screen: which keys it names, and with which word."""

from __future__ import annotations

import pytest

from tests.tui.fake_book import FakeBook
from tests.tui.terminal import SMALL, Terminal, terminal
from tui.keys import KEYS, Key, Where, foot_at

FEET = {
    Where.BOARD: "enter why, s sign, c count, k check, f found, / find, t to do/all, w which, l lists, "
    "r round, b home, + write, ? help, q quit",
    Where.COUNTING: "enter write, esc lines",
    Where.REFUSED: "y yes, e earlier wrong, c type again",
    Where.FOUND: "tab all symptoms, ctrl+o other item, esc back",
    Where.HOME: "enter why, 1-9 part, s sign, f found, w area, l lists, r round, b board, + write, d put off, "
    "h hold, y where, ? help, q quit",
    Where.WHEREABOUTS: "/ find, enter pages, f found, ? help, + write, h hold, m move, p then, esc back",
    Where.ROUND: "1-9 sign, c count, k check, f found, a picture, i why, p place, o who, b board, m tools, ? help",
    Where.DETAIL: "s sign, c count, k check, f found, v verify, l pages, r round, + write, d put off, h hold, "
    "m move, esc back, ? help",
    Where.FORM: "enter next, shift+tab back, ctrl+s save, ctrl+r save as extra, esc back",
    Where.CHECK: "enter next, shift+tab back, ctrl+s save, ctrl+t occasion, ctrl+p pull, ctrl+g wear, "
    "ctrl+o order, reel, esc back",
    Where.CHANGE: "c count, f found, u undo, o who, enter next, p pause, x give up, esc back, ? help",
    Where.DEED: "enter next, shift+tab back, ctrl+s save, esc back",
    Where.SHEET: "enter next, shift+tab back, ctrl+s save, esc back",
    Where.SIGN: "esc back",
    Where.FAULT: "y stands, n runs, ctrl+o other item, esc back",
    Where.COUNT: "esc back",
    Where.PICTURE: "tab complete, esc back",
    Where.ASKED: "esc back",
    Where.PAPER: "p print, esc back",
    Where.SUSPECT: "p print, d disposition, esc back",
    Where.QUESTIONS: "s settle, n seen, esc back",
    Where.HINTS: "l looked again, esc back",
    Where.WEEK: "p propose, m move, x off, d decide, a agree, f freeze, u undo, ? help, esc back",
    Where.SETTLE: "esc back",
    Where.HELP: "esc back",
    Where.NOTES: "enter go on",
    Where.LIST: "",
    Where.PICK: "",
}
"""What the foot says at each place; what is not in it stands on the help page."""


def shown(here: Terminal) -> str:
    """The foot as it stands on the screen, its words apart by one blank."""
    return " ".join(" ".join(here.rows[-2:]).split())


@pytest.mark.parametrize("where", Where)
def test_the_foot_of_each_place_names_these_keys(where: Where) -> None:
    """Each key with one short word."""
    assert ", ".join(f"{cap} {word}" for cap, word in foot_at(where)) == FEET[where]


@pytest.mark.parametrize("key", KEYS, ids=lambda key: f"{key.key}-{key.where[0].name}")
def test_a_key_has_a_word_for_the_foot_and_a_sentence_for_the_help(key: Key) -> None:
    """Not the other way round."""
    assert len(key.name) <= 13
    assert not key.name.endswith(".")
    assert key.description.endswith(".")
    assert key.description[0].isupper()


@pytest.mark.parametrize(("keys", "where"), [((), Where.BOARD), (("enter",), Where.DETAIL)])
async def test_the_screen_shows_its_foot(keys: tuple[str, ...], where: Where) -> None:
    """All of it, in two rows of 80 columns."""
    async with terminal(FakeBook(), SMALL) as here:
        await here.press(*keys)
        assert shown(here).endswith(FEET[where].replace(",", "").removesuffix("esc back"))


async def test_after_a_sign_off_the_row_of_sentences_names_the_undo_key_and_the_help_says_what_it_does() -> None:
    """For as long as it works."""
    async with terminal(FakeBook(), by="ben") as here:
        await here.press("down", "down", "down", "s", "enter")
        assert "Press u to undo." in here.text
        await here.press("question_mark")
        assert "Undoes what was written here last, for a short time." in here.text
