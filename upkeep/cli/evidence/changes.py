"""What changed in the definitions of the plant."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.evidence.printing import printing_options, say_or_print
from upkeep.cli.options import (
    MOST,
    book_option,
    json_option,
    known_option,
    language_option,
    moment_of,
    opened,
    say_json,
    seen,
    seen_option,
    shown_at_most,
)
from upkeep.cli.saying import reader_of
from upkeep.plant.definition import Defined


@click.command()
@click.argument("name", required=False)
@click.option("--kind", type=click.Choice([str(what) for what in Defined]), help="Only what is of this kind.")
@click.option("--changed-by", help="Only what this person changed: an id.")
@click.option("--since", "since_text", help="Only from this moment on: '2026-01-01 00:00'.")
@click.option("--all", "every", is_flag=True, help="Also what was defined for the first time.")
@click.option("--limit", type=click.IntRange(1, MOST), help="How many, newest first; all with --json, else 50.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def changes(
    name: str | None, kind: str | None, changed_by: str | None, since_text: str | None, every: bool, limit: int | None,
    target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None, known_text: str | None,
    language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What changed in the plant's definitions - tasks, limits, rights, people, gauges, rules of the plant: who, when,
    why, from what to what; and how NAME (an id, or plant) stood at that moment.

    Example: strokebook changes clean-module --at "2026-03-01 12:00"
    """
    from upkeep.papers.evidence.changes_text import changes_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.changes(
            at, name, what=kind, by=changed_by, first=None if since_text is None else moment_of(since_text, book.zone),
            limit=shown_at_most(limit, as_json, 50), every=every, known_at=known_at,
        )  # fmt: skip
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = changes_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)
