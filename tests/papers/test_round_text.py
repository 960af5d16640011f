"""The round as text."""

from __future__ import annotations

from dataclasses import replace

from tests.tui.fake_book import MORNING, FakeBook
from upkeep.papers.board_text import round_text
from upkeep.units.instants import Zone
from upkeep.wording.sentences import ENGLISH
from upkeep.wording.text import WIDTH


def test_a_big_count_does_not_run_past_the_page() -> None:
    """Nothing of it is lost: the range goes on in the next line."""
    walk = replace(FakeBook().round("P-07", MORNING), last_count=999_999_999, expected=(1_000_000_999, 1_000_199_999))
    page = round_text(walk, Zone("UTC"), ENGLISH)
    assert max(map(len, page.splitlines())) <= WIDTH
    assert "999,999,999" in page
    assert "1,000,000,999 and 1,000,199,999 strokes" in " ".join(page.split())
