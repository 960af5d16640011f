"""Blocks of lines into pages."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from upkeep.papers.frame.pages import paged


@given(st.lists(st.integers(1, 10), min_size=1), st.integers(10, 40))
def test_pages_hold_every_block_once_and_none_too_many(heights: list[int], room: int) -> None:
    """Blocks keep their order, no page overflows, and no page could have taken the block after it."""
    pages = paged(heights, room)
    assert [index for page in pages for index in page] == list(range(len(heights)))
    used = [sum(heights[index] for index in page) for page in pages]
    assert all(height <= room for height in used)
    assert all(height + heights[page.stop] > room for height, page in zip(used[:-1], pages[:-1], strict=True))
