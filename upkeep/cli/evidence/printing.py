"""A page of evidence on the terminal, or as a PDF with the head of papers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from upkeep.cli.options import say_page
from upkeep.cli.outputs import replace_option, save
from upkeep.entries.origin import Proof

if TYPE_CHECKING:
    from upkeep.book import Book
    from upkeep.wording.sentences import Reader

Command = TypeVar("Command", bound=Callable[..., Any])

_OPTIONS = (
    click.option(
        "--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write the page to this file as PDF."
    ),
    click.option(
        "--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF."
    ),
    replace_option,
    click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it."),
)


def printing_options(command: Command) -> Command:
    """The options of a page that may be printed: ``target``, ``paper``, ``replacing``, ``by``."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def say_or_print(
    book: Book, page: str, at: datetime, reader: Reader, target: Path | None, paper: str, replacing: bool, by: str,
    *, known_at: datetime | None = None, code: str = "",
) -> None:  # fmt: skip
    """Shows a page, or writes it to a file; ``code`` is what is scanned to mean what it is about."""
    if target is None:
        say_page(book, page, reader)
        return
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.naming import with_names
    from upkeep.papers.frame.page_pdf import page_pdf

    frame = frame_cells(book.printed(at, by, Proof.NONE, known_at=known_at), reader, code=code)
    document = page_pdf(with_names(page, book.facts.signed_with, reader), frame, reader, paper)
    save(target, document, replacing=replacing)
