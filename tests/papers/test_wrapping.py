"""Breaking text into lines and lines into pages."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.papers.wrapping import columns, padded, paged, wrapped

TEXTS = st.text(st.characters(exclude_categories=["C"]))


@given(TEXTS, st.integers(2, 40))
def test_wrapping_keeps_every_letter_and_the_width(text: str, width: int) -> None:
    """No line is too wide, and without spaces the lines are the text."""
    lines = wrapped(text, width)
    assert "".join(lines).replace(" ", "") == "".join(text.split())
    assert all(columns(line) <= width for line in lines)


def test_words_stay_whole_where_they_fit() -> None:
    """Only a word wider than the line is broken."""
    assert wrapped("Clean the module", 9) == ["Clean the", "module"]
    assert wrapped("a DS-031-long-name b", 8) == ["a", "DS-031-l", "ong-name", "b"]


def test_no_text_is_one_empty_line() -> None:
    """So that a cell without text still has its line."""
    assert wrapped("", 10) == [""]


def test_wide_letters_take_two_columns_and_marks_none() -> None:
    """As terminals and fixed-width fonts show them."""
    assert columns("線a") == 3
    assert columns("e\u0301") == 1
    assert padded("線", 4) == "線  "


def test_a_letter_wider_than_the_line_is_refused() -> None:
    """Rather than looked for without end."""
    with pytest.raises(ValueError, match="no letter"):
        wrapped("線", 1)


@given(st.lists(st.integers(1, 10), min_size=1), st.integers(10, 40))
def test_pages_hold_every_block_once_and_none_too_many(heights: list[int], room: int) -> None:
    """Blocks keep their order, no page overflows, and no page could have taken the block after it."""
    pages = paged(heights, room)
    assert [index for page in pages for index in page] == list(range(len(heights)))
    used = [sum(heights[index] for index in page) for page in pages]
    assert all(height <= room for height in used)
    assert all(height + heights[page.stop] > room for height, page in zip(used[:-1], pages[:-1], strict=True))
