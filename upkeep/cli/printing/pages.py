"""A page of text as a PDF in a file, with the head of papers and how far its names can be relied on."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.cli.outputs import save

if TYPE_CHECKING:
    from upkeep.views.printed import Printed
    from upkeep.wording.sentences import Reader


def save_page(
    target: Path, page: str, printed: Printed, signed_with: str, reader: Reader, paper: str, *, replacing: bool,
    code: str = "",
) -> None:  # fmt: skip
    """Writes the PDF of a page; ``code`` is scanned to mean what it is about ("": nothing is)."""
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.naming import with_names
    from upkeep.papers.frame.page_pdf import page_pdf

    frame = frame_cells(printed, reader, code=code)
    save(target, page_pdf(with_names(page, signed_with, reader), frame, reader, paper), replacing=replacing)
