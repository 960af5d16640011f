"""The dossier of an item."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.evidence.printing import printing_options, say_or_print
from upkeep.cli.options import (
    book_option,
    json_option,
    known_option,
    language_option,
    moment_of,
    opened,
    say_json,
    seen,
    seen_option,
)
from upkeep.cli.saying import reader_of


@click.command()
@click.argument("item")
@click.option("--since", "since_text", help="Only what happened from this moment on: '2026-01-01 00:00'.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def dossier(
    item: str, since_text: str | None, target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None,
    known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """All the book holds of ITEM - a die set, part, module, press or gauge - as one page: what it is and whose, where
    it sat, its strokes and what they rest on, checks and sign-offs with the limits, instructions, rights and gauges of
    then, faults, holds, permits, dispositions, corrections, batches, pictures, and what is not known.

    A part has what was measured on the set it sat in, while it sat there.

    Example: strokebook dossier DS-031 --at "2026-03-02 14:00" --pdf DS-031.pdf
    """
    from upkeep.papers.cards.labels import item_code
    from upkeep.papers.evidence.dossier_text import dossier_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        since = None if since_text is None else moment_of(since_text, book.zone)
        found = book.dossier(item, at, since=since, known_at=known_at)
        if as_json:
            from upkeep.cli.reasons_json import with_reasons

            say_json(with_reasons(found, book))
            return
        reader = reader_of(book, language)
        page = dossier_text(found, book.zone, book.names, reader)
        code = item_code(book.known.item(item))
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at, code=code)
