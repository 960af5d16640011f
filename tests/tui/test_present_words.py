"""Text that fits its cells and never acts on a terminal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.present.words import between, cell_width, first_that_fits, fit, listed, plain, wrapped

WIDTHS = st.integers(min_value=1, max_value=60)


@given(st.text(), st.integers(min_value=0, max_value=60))
def test_fitted_text_takes_exactly_its_cells(text: str, width: int) -> None:
    """Whatever is written, wide letters and marks included."""
    assert cell_width(fit(text, width)) == width


@given(st.text())
def test_nothing_a_terminal_acts_on_is_left(text: str) -> None:
    """Escapes, line ends and direction marks are replaced, and once is enough."""
    assert plain(text).isprintable()
    assert plain(plain(text)) == plain(text)


@given(st.text(), WIDTHS)
def test_wrapped_rows_fit(text: str, width: int) -> None:
    """No row is wider than asked."""
    assert all(cell_width(row) <= width for row in wrapped(text, width))


@given(st.lists(st.text("ab", min_size=1, max_size=8), min_size=1), st.integers(min_value=8, max_value=30))
def test_wrapping_keeps_every_word(words: list[str], width: int) -> None:
    """Words that fit a row are all there, in order."""
    assert " ".join(wrapped(" ".join(words), width)).split() == words


def test_an_escape_sequence_is_shown_and_not_obeyed() -> None:
    """The rest of the text stays readable."""
    assert plain("red\x1b[31m\nalert") == "red\N{REPLACEMENT CHARACTER}[31m alert"


@pytest.mark.parametrize(("text", "shown"), [("abcdef", "abc…"), ("ab", "ab  "), ("日本語", "日… "), ("日本", "日本")])
def test_a_text_is_cut_with_an_ellipsis_or_filled_with_blanks(text: str, shown: str) -> None:
    """Wide letters are never cut in half."""
    assert fit(text, 4) == shown


def test_the_last_row_of_a_limited_wrap_is_cut() -> None:
    """So that nobody takes the text for complete."""
    assert wrapped("one two three four", 9, 2) == ("one two", "three fo…")


def test_the_left_text_gives_way_to_the_right_one() -> None:
    """The clock at the end of a row is never cut."""
    assert between("a long name of a plant", "06:05", 16) == "a long na… 06:05"


def test_the_longest_form_that_fits_is_taken() -> None:
    """And the shortest where none does."""
    assert [first_that_fits(("long form", "short"), width) for width in (9, 8, 2)] == ["long form", "short", "short"]


@pytest.mark.parametrize(
    ("words", "text"), [((), ""), (("a",), "a"), (("a", "b"), "a and b"), (("a", "b", "c"), "a, b and c")]
)
def test_words_are_listed_as_in_a_sentence(words: tuple[str, ...], text: str) -> None:
    """With "and" before the last."""
    assert listed(words) == text
