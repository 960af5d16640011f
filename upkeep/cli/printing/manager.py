"""The manager's page."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import (
    book_option,
    fields_of,
    json_option,
    known_option,
    language_option,
    opened,
    say_json,
    seen,
    seen_option,
)
from upkeep.cli.outputs import replace_option, save
from upkeep.cli.progress import watch_of
from upkeep.cli.saying import reader_of
from upkeep.entries.origin import Proof


@click.command()
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF.")
@replace_option
@click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it.")
@seen_option
@known_option
@language_option
@json_option
@book_option
def manager(
    target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None, known_text: str | None,
    language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What the plant manager reads on Monday: ten things on one sheet, each with its base, eight weeks of it, and what
    somebody must decide.

    It tells how things stand now, and of the last whole week.

    Example: strokebook manager --pdf monday.pdf --paper Letter --by mia
    """
    from upkeep.papers.figures.manager_text import manager_text
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.framed_text import framed_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        page = book.manager_page(at, known_at=known_at, watch=watch_of(book_path))
        reader = reader_of(book, language)
        frame = frame_cells(book.printed(at, by, Proof.NONE, known_at=known_at), reader)
    if as_json:
        from upkeep.papers.figures.manager_rows import manager_rows

        say_json(fields_of(page) | {"items": manager_rows(page)})
    elif target is not None:
        from upkeep.papers.figures.manager_pdf import manager_pdf

        save(target, manager_pdf(page, frame, reader, paper), replacing=replacing)
    else:
        click.echo(framed_text(manager_text(page, reader), frame, reader), nl=False)
