"""Text that fits its cells, keeps its letters and never acts on a terminal."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from upkeep.wording.text import WIDTH, fit, padded, paragraph, visible, width_of, wrapped

TEXTS = st.text(st.characters(exclude_categories=["C"]))
MECHANIC, FLAG, HEART, SHRI = "\U0001f469\u200d\U0001f527", "\U0001f1f5\U0001f1f1", "\u2764\ufe0f", "ශ්\u200dරී"


@given(st.text())
def test_nothing_a_terminal_acts_on_is_left(text: str) -> None:
    """Escapes, line ends and direction marks are replaced, and once is enough."""
    shown = visible(text)
    assert shown.replace("\u200d", "").replace("\u00a0", "").isprintable()
    assert visible(shown) == shown


def test_what_shows_nothing_of_its_own_is_named_by_its_number() -> None:
    """The rest of the text stays readable; blanks of every kind are blanks, accents are joined to their letters."""
    assert visible("red\x1b[31m\nalert\u202e") == "red[U+001B][31m alert[U+202E]"
    assert visible("P-07\u00a0and\tP-08") == "P-07 and P-08"
    assert visible("1\u00a0204\u00a0300") == "1\u00a0204\u00a0300"
    assert visible("Lo\u0301dz\u0301") == "Lódź"


def test_a_joiner_stays_where_it_joins() -> None:
    """In a picture of several and in a syllable; between letters it would hide that two ids differ."""
    assert [visible(text) for text in (MECHANIC, SHRI)] == [MECHANIC, SHRI]
    assert visible("an\u200da") == "an[U+200D]a"
    assert visible("\u200d") == "[U+200D]"


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("Öl prüfen", 9), ("線a", 3), ("e\u0301", 1), ("한국어", 6), ("Змазати", 7), ("μm ≤ Ω", 6),
        (MECHANIC, 2), (FLAG, 2), (HEART, 2), ("\u2764", 1), ("\U0001f44d\U0001f3fd", 2), ("½ …", 3),
    ],
)  # fmt: skip
def test_a_text_is_as_wide_as_terminals_show_it(text: str, cells: int) -> None:
    """Wide letters and pictures take two cells, marks none; rich, which lays out the screens, says the same.

    Widths: Unicode Standard Annex 11, East Asian Width (W and F are wide), and UTS 51 for emoji sequences (2 cells).
    """
    assert width_of(text) == cells == cell_len(text)


@given(st.text(), st.integers(0, 60))
def test_fitted_text_takes_exactly_its_cells(text: str, cells: int) -> None:
    """Whatever is written, wide letters and marks included."""
    assert width_of(fit(text, cells)) == cells


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("abcdef", "abc…"), ("ab", "ab  "), ("日本語", "日… "), ("日本", "日本"), (MECHANIC * 3, f"{MECHANIC}… "),
        ("e\u0323\u0301bcde", "ẹ\u0301bc…"),
    ],
)  # fmt: skip
def test_a_text_is_cut_with_an_ellipsis_or_filled_with_blanks(text: str, shown: str) -> None:
    """What is one letter to the eye is never cut in half."""
    assert fit(text, 4) == shown


def test_a_padded_text_is_never_cut() -> None:
    """It gets blanks up to its cells, or stays as it is."""
    assert [padded(text, 4) for text in ("線", "Łódź", "longer")] == ["線  ", "Łódź", "longer"]


@given(TEXTS, st.integers(2, 40), st.integers(2, 40))
def test_wrapping_keeps_every_letter_and_the_width(text: str, room: int, first: int) -> None:
    """No line is too wide, and without blanks the lines are the text."""
    lines = wrapped(text, room, first=first)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert width_of(lines[0]) <= first
    assert all(width_of(line) <= room for line in lines[1:])


@given(st.lists(st.text("ab", min_size=1, max_size=8), min_size=1), st.integers(8, 30))
def test_wrapping_keeps_every_word_whole_that_fits(words: list[str], room: int) -> None:
    """In order, and no line could have taken the word after it."""
    lines = wrapped(" ".join(words), room)
    assert " ".join(lines).split() == words
    assert all(len(f"{line} {after.split()[0]}") > room for line, after in pairwise(lines))


def test_only_a_word_wider_than_the_line_is_broken() -> None:
    """Also not at its hyphens: an id stays one."""
    assert wrapped("Clean the module", 9) == ["Clean the", "module"]
    assert wrapped("a DS-031-long-name b", 8) == ["a", "DS-031-l", "ong-name", "b"]
    assert wrapped("look at DS-031", 10) == ["look at", "DS-031"]
    assert wrapped(MECHANIC * 3, 5) == [MECHANIC * 2, MECHANIC]


def test_columns_made_with_blanks_stay_columns() -> None:
    """Blanks before and within the text are kept, those where a line ends are not."""
    assert wrapped("a    b   c", 8) == ["a    b", "c"]
    assert wrapped("   9  a b  ", 8) == ["   9  a", "b"]
    assert wrapped("   DS-031-and-DS-040", 8) == ["DS-031-a", "nd-DS-04", "0"]


def test_no_text_is_one_empty_line() -> None:
    """So that a cell without text still has its line."""
    assert wrapped("", 10) == [""]


def test_a_letter_wider_than_the_line_has_one_of_its_own() -> None:
    """Rather than being lost, or looked for without end."""
    assert wrapped("線路", 1) == ["線", "路"]


def test_a_paragraph_is_indented_and_as_wide_as_a_page() -> None:
    """The first line from its column on, the others from theirs."""
    lines = paragraph("word " * 40, 2, 6)
    assert [len(line) - len(line.lstrip()) for line in lines] == [2, 6, 6]
    assert all(WIDTH - 5 < len(line) <= WIDTH for line in lines[:-1])
    assert paragraph("a\x07", 3) == ["   a[U+0007]"]
    assert paragraph("", 3) == [""]
