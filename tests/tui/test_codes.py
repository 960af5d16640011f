"""A terminal in a plant that goes by codes: who is here, how that is proven, and when it ends."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.keys.broken import BROKEN
from tests.plants_with_codes import NOON, SECRETS
from tests.tui.terminal import Terminal, terminal
from tui.present.scanner import Scanner
from upkeep.book import Book
from upkeep.entries.origin import Proof
from upkeep.scan_codes import ScanCode, Scannable


@pytest.fixture
def path(folder_with_codes: Path, tmp_path: Path) -> Path:
    shutil.copytree(folder_with_codes, tmp_path / "copy")
    return tmp_path / "copy" / "plant.book"


def opener(path: Path) -> Callable[[], Book]:
    return lambda: Book.open(path)


def newest(path: Path) -> tuple[str, str, Proof]:
    with Book.open(path) as book:
        line = book.newest_written(1)[0]
        return line.kind, line.by, line.proof


def badge(number: str) -> str:
    return str(ScanCode(Scannable.BADGE, number))


async def come(here: Terminal, person: str) -> None:
    """Somebody says who they are and proves it."""
    await here.press("o")
    await here.type(person, "enter")
    await here.type(SECRETS[person], "enter")


async def test_a_name_is_shown_with_what_it_will_mean_before_the_code_is_asked(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape", "o")
        await here.type("ben", "enter")
        assert "Ben (ben)" in here.text
        assert "What you write from here on carries your name" in here.text
        await here.type(SECRETS["ben"])
        assert SECRETS["ben"] not in here.text
        await here.press("enter")
        assert "Here: Ben (ben)." in here.text


async def test_a_clean_is_a_touch_and_enter_once_somebody_is_known_and_carries_the_proof(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape")
        await come(here, "ben")
        await here.press("1", "enter")
        assert "SIGNED" in here.text
    assert newest(path) == ("sign", "ben", Proof.CODE)


async def test_nobody_known_is_asked_before_the_form(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape", "1")
        assert "Who is here?" in here.text
        await here.type("ben", "enter")
        await here.type(SECRETS["ben"], "enter")
        await here.press("enter")
    assert newest(path) == ("sign", "ben", Proof.CODE)


async def test_wrong_codes_write_nothing_and_the_fifth_begins_a_wait(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape", "o")
        await here.type("ben", "enter")
        for _ in range(5):
            await here.type("000000", "enter")
            assert "That is not the code of Ben." in here.text
        await here.type(SECRETS["ben"], "enter")
        assert "The next try is possible at" in here.text
        await here.wait(31)
        await here.type(SECRETS["ben"], "enter")
        assert "Here: Ben (ben)." in here.text
    assert newest(path) == ("wrong-codes", "ben", Proof.NONE)


async def test_whoever_comes_after_a_pause_is_somebody_else(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape")
        await come(here, "ben")
        here.clock.forward(90)
        await here.press("1")
        assert "Who is here?" in here.text


async def test_the_name_of_the_person_before_cannot_be_signed_with(path: Path) -> None:
    """Typed over in the form, another name asks for its own code."""
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape")
        await come(here, "ben")
        await here.press("1")
        await here.type("ana", "enter")
        assert "Ana (ana)" in here.text
        await here.type(SECRETS["ben"], "enter")
        assert "That is not the code of Ana." in here.text
    assert newest(path)[0] == "fit"


async def test_only_whoever_wrote_something_undoes_it(path: Path) -> None:
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape")
        await come(here, "ben")
        await here.press("1", "enter")
        await come(here, "ana")
        await here.press("u")
        assert "Ben (ben)" in here.text
        await here.type(SECRETS["ben"], "enter")
        assert "UNDONE" in here.text
    assert newest(path) == ("strike", "ben", Proof.CODE)


async def test_rights_decide_before_a_form_opens_and_say_whom_to_ask(path: Path) -> None:
    async with terminal(opener(path), clock=Clock(NOON)) as here:
        await come(here, "ben")
        await here.press("t", "slash")
        await here.type("P-07/guard", "enter")
        await here.press("s")
        told = " ".join(here.text.split())
        assert "may not sign Task guard-check on P-07: this needs the role of appointed person. Ask Agnes Iwar." in told


async def test_how_work_was_signed_is_offered_to_the_lead_alone(path: Path) -> None:
    async with terminal(opener(path), clock=Clock(NOON)) as here:
        await here.press("l")
        assert "How work was signed" not in here.text
        await here.press("escape")
        await come(here, "ben")
        await here.press("l")
        assert "How work was signed" not in here.text
        await here.press("escape")
        await come(here, "lea")
        await here.press("l")
        await here.type("how work", "enter")
        assert "Looked for under this agreement: works agreement of 2026-02-01." in here.text


async def test_a_first_code_becomes_ones_own_at_the_terminal(path: Path) -> None:
    with Book.open(path) as book:
        first = book.naming.keys.codes.give_first("tom", NOON, is_password=False)
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape", "o")
        await here.type("tom", "enter")
        await here.type(first, "enter")
        assert "this is your first code: choose one of your own" in here.text
        await here.type("123456", "enter")
        await here.type("123456", "enter")
        assert "a pattern which anybody tries first" in here.text
        await here.type("884213", "enter")
        await here.type("884214", "enter")
        assert "These two are not the same." in here.text
        await here.type("884213", "enter")
        await here.type("884213", "enter")
        assert "Here: Tom (tom)." in here.text
    assert newest(path) == ("given", "tom", Proof.CODE)


async def test_a_scan_says_who_is_here_and_the_next_one_ends_it(path: Path) -> None:
    """Whatever the round shows; the same badge again goes."""
    with Book.open(path) as book:
        ben, ana = (book.naming.keys.held.give_badge(person, NOON) for person in ("ben", "ana"))
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.type(badge(ben), "enter")
        await here.type(SECRETS["ben"], "enter")
        assert "Here: Ben (ben)." in here.text
        await here.type(badge(ana), "enter")
        assert "Nobody has said who is here." in "\n".join(here.rows) or "As which of these" in here.text
        await here.type("operator", "enter")
        await here.type(SECRETS["ana"], "enter")
        assert "Here: Ana (ana)." in here.text
        await here.type(badge(ana), "enter")
        assert "Nobody has said who is here." in here.text


async def test_a_withdrawn_badge_is_nobody_and_five_of_them_make_the_station_wait(path: Path) -> None:
    with Book.open(path) as book:
        lost = book.naming.keys.held.give_badge("ben", NOON)
        book.naming.keys.held.withdraw_badges("ben")
    async with terminal(opener(path), place="P-07", clock=Clock(NOON)) as here:
        await here.press("escape")
        for _ in range(5):
            await here.type(badge(lost), "enter")
            assert "Nobody who may sign here has this badge." in here.text
        await here.type(badge(lost), "enter")
        assert "Too many wrong codes were typed here." in here.text
    assert newest(path)[0] == "wrong-codes"


def test_a_star_in_a_text_is_no_scan_and_nothing_typed_is_lost() -> None:
    def passed(text: str) -> tuple[str, str | None]:
        scanner: Scanner[str] = Scanner()
        given = [key for letter in text for key in scanner.passes_on(letter, _KEYS.get(letter, letter), letter)]
        return "".join(given), scanner.scanned

    assert passed("5 * 3\n") == ("5 * 3\n", None)
    assert passed("*short\n") == ("*short\n", None)
    assert passed("see *IDS-031R!\n") == ("see *IDS-031R!\n", None)
    assert passed("note*IDS-031R\n") == ("note", "*IDS-031R")
    assert passed("*0123456789ABCDEF\n") == ("*0123456789ABCDEF\n", None)


_KEYS = {"\n": "enter"}


@pytest.mark.parametrize("broken", BROKEN)
async def test_a_file_of_keys_that_cannot_be_used_is_told_at_the_terminal(path: Path, broken: str) -> None:
    """The board is there all the same; nobody is taken for somebody."""
    spoil, told = BROKEN[broken]
    spoil(Path(f"{path}-keys"))
    async with terminal(opener(path), place="P-07", clock=Clock(NOON), size=(120, 40)) as here:
        assert "Task clean" in here.text
        await here.press("escape", "o")
        await here.type("ben", "enter")
        await here.type(SECRETS["ben"], "enter")
        assert told in " ".join(here.text.split())
        assert "Here: Ben" not in here.text
    assert newest(path)[0] == "fit"


async def test_without_its_file_of_keys_everybody_needs_a_new_code(path: Path) -> None:
    Path(f"{path}-keys").unlink()
    async with terminal(opener(path), place="P-07", clock=Clock(NOON), size=(120, 40)) as here:
        await here.press("escape", "o")
        await here.type("ben", "enter")
        await here.type(SECRETS["ben"], "enter")
        assert "Ben has no code" in " ".join(here.text.split())
