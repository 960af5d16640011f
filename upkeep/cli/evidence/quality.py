"""How good the data are, and which tasks to drop."""

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


@click.command("data-quality")
@click.option("--area", help="Only this area.")
@click.option("--weeks", type=click.IntRange(1, 104), default=8, show_default=True, help="How many weeks back.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def data_quality(
    area: str | None, weeks: int, target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None,
    known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """How good the data are, by area and week by week: readings late or missing, strokes estimated or of no module,
    gauges that do not count, questions unanswered, names not proven.

    Example: strokebook data-quality --weeks 12 --pdf quality.pdf
    """
    from upkeep.papers.evidence.quality_text import quality_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.data_quality(at, area=area, weeks=weeks, known_at=known_at)
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = quality_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)


@click.command("which-tasks")
@click.option("--since", "since_text", help="From this moment on; left out: over a year.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def which_tasks(
    since_text: str | None, target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None,
    known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Which tasks never find anything and may be dropped, and which find too much, with the numbers and what they allow
    to say.

    Example: strokebook which-tasks --since "2026-01-01 00:00"
    """
    from upkeep.papers.evidence.quality_text import pruning_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.which_tasks(
            at, first=None if since_text is None else moment_of(since_text, book.zone), known_at=known_at
        )
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = pruning_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)


globals()["data-quality"] = data_quality
globals()["which-tasks"] = which_tasks
