"""Texts that share a row or stop after some rows."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tui.present.words import between, first_that_fits, wrapped
from upkeep.wording.text import width_of

WIDTHS = st.integers(min_value=1, max_value=60)


@given(st.text(), WIDTHS)
def test_wrapped_rows_fit(text: str, width: int) -> None:
    """No row is wider than asked."""
    assert all(width_of(row) <= width for row in wrapped(text, width))


def test_a_word_longer_than_the_row_goes_on_below() -> None:
    """What somebody wrote is read to its end."""
    assert wrapped("see DS-031-and-DS-040", 10) == ("see", "DS-031-and", "-DS-040")


def test_the_last_row_of_a_limited_wrap_is_cut() -> None:
    """So that nobody takes the text for complete."""
    assert wrapped("one two three four", 9, 2) == ("one two", "three fo…")


def test_the_left_text_gives_way_to_the_right_one() -> None:
    """The clock at the end of a row is never cut."""
    assert between("a long name of a plant", "06:05", 16) == "a long na… 06:05"


def test_the_longest_form_that_fits_is_taken() -> None:
    """And the shortest where none does."""
    assert [first_that_fits(("long form", "short"), width) for width in (9, 8, 2)] == ["long form", "short", "short"]
