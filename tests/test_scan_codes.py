"""The grammar of what is scanned: one writer, one reader, and a check character that notices what was read wrong."""

from __future__ import annotations

from string import ascii_uppercase, digits

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from upkeep.errors import Refused
from upkeep.keys.hashing import LETTERS
from upkeep.scan_codes import (
    ScanCode,
    Scannable,
    is_like_a_code,
    letters_of,
    read_code,
    row_code,
    seal_code,
    seal_text,
    taken_out,
)

LINK = "0b6015955db69116ace8de5fb3a27de6fdcff8a59fd388f658ddd1d472f680c0"
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}", fullmatch=True)
ROWS = st.builds(row_code, st.integers(0, 10**9), st.integers(1, 9999), st.just("M-12/lube"))
SEALS = st.builds(seal_code, st.integers(0, 10**9), st.text("0123456789abcdef", min_size=64, max_size=64))
BADGES = st.text(LETTERS, min_size=16, max_size=16).map(lambda number: ScanCode(Scannable.BADGE, number))
ITEMS = st.builds(ScanCode, st.sampled_from([Scannable.ITEM, Scannable.GAUGE]), IDS)
CODES = st.one_of(BADGES, ITEMS, ROWS, SEALS)


@given(CODES)
def test_what_is_written_is_read(code: ScanCode) -> None:
    assert read_code(str(code)) == code
    assert taken_out(f"1.203{code}") == ("1.203", code)


@given(CODES)
def test_a_keyboard_with_its_capitals_locked_types_the_same_code(code: ScanCode) -> None:
    read = read_code(str(code).swapcase())
    assert read is not None
    assert (read.kind, read.text.casefold()) == (code.kind, code.text.casefold())


@given(CODES, st.data())
def test_any_one_letter_or_figure_that_is_wrong_is_noticed(code: ScanCode, data: st.DataObject) -> None:
    """Of any one in the text or the check character; another kind letter makes another shape, or is noticed as well."""
    written = str(code)
    place = data.draw(st.sampled_from([i for i, letter in enumerate(written) if letter.isalnum() and i > 1]))
    was = written[place].upper()
    wrong = data.draw(st.sampled_from([letter for letter in digits + ascii_uppercase if letter != was]))
    damaged = written[:place] + wrong + written[place + 1 :]
    if is_like_a_code(damaged):
        with pytest.raises(Refused, match="not read whole"):
            read_code(damaged)


@given(st.text(digits + ascii_uppercase, min_size=1, max_size=40))
def test_the_check_character_is_that_of_iso_7064(text: str) -> None:
    """ISO/IEC 7064:2003, hybrid system MOD 37,36, as the library python-stdnum has it (stdnum.iso7064.mod_37_36)."""
    code = str(ScanCode(Scannable.ITEM, text))
    assert mod_37_36.is_valid(code[1:])
    assert code[-1] == mod_37_36.calc_check_digit(code[1:-1])


def test_a_published_number_has_the_check_character_it_is_published_with() -> None:
    """The example of the Global Release Identifier, which ends with this check character: IFPI, GRid Standard 2.1
    (2005), A1-2425G-ABC1234002-M; from memory."""
    assert mod_37_36.calc_check_digit("A12425GABC1234002") == "M"
    assert str(ScanCode(Scannable.ITEM, "A12425GABC1234002")).endswith(mod_37_36.calc_check_digit("IA12425GABC1234002"))


@pytest.mark.parametrize(
    "text",
    ["", "*", "**", "5 * 3", "*short", "1204300", "*I", "*I-A7", "*R12", "*S812.0B6", "*Bk3xd0m9", "*X12", "IDS-031"],
)
def test_what_has_no_shape_of_a_code_is_text(text: str) -> None:
    assert not is_like_a_code(text)
    assert read_code(text) is None
    assert taken_out(text) == (text, None)


def test_a_badge_that_was_not_read_whole_is_shown_to_nobody() -> None:
    written = str(ScanCode(Scannable.BADGE, "K3XD0M9T4C7RW2HQ"))
    with pytest.raises(Refused) as refused:
        read_code(written[:-1] + ("0" if written[-1] != "0" else "1"))
    assert str(refused.value) == "This badge was not read whole. Scan it again."
    with pytest.raises(Refused, match=r"'\*IDS-031A' was not read whole"):
        read_code("*IDS-031A")


def test_rows_and_seals_say_where_they_are_from() -> None:
    assert (row_code(812, 12, "M-12/lube").text, seal_code(812, LINK).text) == (
        f"812.12.{letters_of(['M-12/lube'])}", "812.BNQBLFK5W2IRNLHI3ZP3"
    )  # fmt: skip
    printed_before = ScanCode(Scannable.ROW, "812.12")  # by a program that wrote no letters
    assert read_code(str(printed_before)) == printed_before


def test_a_seal_is_read_aloud_as_it_is_scanned() -> None:
    """Its letters in groups; the letters themselves as RFC 4648 (2006), section 6, has them: those of "foobar" are
    MZXW6YTBOI in section 10."""
    assert seal_text(812, LINK) == "812 BNQBL-FK5W2-IRNLH-I3ZP3-U"
    assert "*S" + seal_text(812, LINK).replace(" ", ".").replace("-", "") == str(seal_code(812, LINK))
    assert seal_text(1, b"foobar".hex() + LINK).startswith("1 MZXW6-YTB")
