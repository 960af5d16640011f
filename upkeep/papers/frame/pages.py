"""Lines and blocks of lines into pages.  Nothing is ever cut: what is too long goes on overleaf."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.said import said
from upkeep.wording.sentences import Reader, text


def page_text(page: int, pages: int, reader: Reader) -> str:
    """Which page this is, and of how many."""
    return text(said("page {page} of {pages}", page=page, pages=pages), reader)


def paged(heights: Sequence[float], room: float) -> list[range]:
    """Which blocks stand on which page: as many as fit, in order.  No block may be higher than a page."""
    pages, first, used = [], 0, 0.0
    for index, height in enumerate(heights):
        if used + height > room and index > first:
            pages.append(range(first, index))
            first, used = index, 0.0
        used += height
    return [*pages, range(first, len(heights))]
