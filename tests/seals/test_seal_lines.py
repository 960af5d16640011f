"""A seal as people type it, as a scanner types it, as a line of a file of seals."""

from __future__ import annotations

from datetime import UTC, datetime
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.errors import Refused
from upkeep.scan_codes import seal_code, seal_text
from upkeep.seals.line import read_seal, seal_lines, seal_of

BOOK = "6f9619ff-8b86-4d01-b42d-00cf4fc964ff"
AT = datetime(2026, 3, 6, 9, tzinfo=UTC)
links = st.binary(min_size=1, max_size=9).map(lambda some: sha256(some).hexdigest())
numbers = st.integers(0, 10**9)


@given(numbers, links, st.sampled_from(["{}", "#{}", "s{}", "  {} ", "{}"]), st.booleans())
def test_a_seal_typed_or_scanned_is_the_one_that_was_printed(entry: int, link: str, form: str, lower: bool) -> None:
    """With or without hyphens, spaces and capitals."""
    wanted = seal_of(BOOK, entry, link, AT).letters
    printed = seal_text(entry, link)
    ways = [form.format(printed), printed.replace("-", ""), printed.replace("-", " "), str(seal_code(entry, link))]
    for text in ways:
        read = read_seal(text.lower() if lower else text)
        assert (read.entry, read.letters, read.link) == (entry, wanted, None)


@given(numbers, links, st.integers(0, 19), st.sampled_from("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"))
def test_one_wrong_letter_is_noticed(entry: int, link: str, place: int, letter: str) -> None:
    """ISO/IEC 7064:2003, MOD 37,36 finds every single wrong character."""
    printed = seal_text(entry, link)
    number, _, letters = printed.partition(" ")
    plain = list(letters.replace("-", ""))
    if plain[place] == letter:
        return
    plain[place] = letter
    with pytest.raises(Refused, match="not read whole"):
        read_seal(f"{number} {''.join(plain)}")


def test_what_a_hand_writes_for_a_letter_is_taken_for_it() -> None:
    """Base 32 has no 0 and no 1: O and I are meant."""
    entry, link = next((n, h) for n in range(999) for h in [sha256(b"%d" % n).hexdigest()] if {"O", "I"} <= set(
        seal_of(BOOK, n, h, AT).letters))  # fmt: skip
    number, _, letters = seal_text(entry, link).partition(" ")
    written = f"{number} {letters[:-1].replace('O', '0').replace('I', '1')}{letters[-1]}"
    assert read_seal(written).letters == seal_of(BOOK, entry, link, AT).letters


@given(numbers, links)
def test_a_line_of_a_file_is_read_as_it_was_written(entry: int, link: str) -> None:
    seal = seal_of(BOOK, entry, link, AT)
    assert list(seal_lines(f"# for people\n{seal.text}\nnothing\n")) == [seal]
    assert read_seal(seal.text) == seal


@pytest.mark.parametrize("text", ["", "812", "BNQBL", "*IDS-031K", "812 BNQBL-FK5W2-IRNLH-I3ZP3", "#812", "x" * 300])
def test_what_is_no_seal_gets_a_sentence(text: str) -> None:
    with pytest.raises(Refused):
        read_seal(text)
