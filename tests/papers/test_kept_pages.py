"""A hold list, the figures and the life of a part, as they were looked at."""

from __future__ import annotations

from tests.papers.kept_pages import pages
from tests.papers.weeks import GOLDEN


def test_pages_of_the_kept_book_are_as_they_were_looked_at() -> None:
    """Byte for byte; ``python -m tests.papers.kept_pages`` writes them anew."""
    for name, text in pages().items():
        assert text.encode() == (GOLDEN / f"{name}.txt").read_bytes(), name
