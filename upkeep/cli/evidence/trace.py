"""A trace through the book."""

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
from upkeep.views.evidence.trace import Traceable

_WHAT = {"order": Traceable.ORDER, "reel": Traceable.REEL, "wire": Traceable.WIRE, "batch": Traceable.BATCH,
         "person": Traceable.PERSON, "item": Traceable.ITEM}  # fmt: skip


@click.command()
@click.argument("name")
@click.option("--as", "what", type=click.Choice(list(_WHAT)), help="What the name is of, if of several things.")
@click.option("--whole", is_flag=True, help="Each set-up as its own page, with every check.")
@click.option("--since", "since_text", help="Only set-ups that still ran at this moment or later: '2026-01-01 00:00'.")
@click.option("--limit", type=click.IntRange(1, MOST), help="How many set-ups, newest first; all with --json, else 20.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def trace(
    name: str, what: str | None, whole: bool, since_text: str | None, limit: int | None, target: Path | None,
    paper: str, replacing: bool, by: str, at_text: str | None, known_text: str | None, language: str | None,
    as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Which pieces NAME belongs to - an order, reel, wire lot, batch of parts, gauge, person, die set, part or press:
    set-up by set-up when and where they were made, with which settings, first and last piece, counts, gauges, people.

    Each line names the orders, reels, parts with their batches and people that belong to it, so the way back is the
    same command. An order that only a check names is found too.

    Example: strokebook trace A-0305 --pdf A-0305.pdf
    """
    from upkeep.papers.evidence.trace_text import trace_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        first = None if since_text is None else moment_of(since_text, book.zone)
        found = book.trace(
            name, at, what=_WHAT[what] if what else None, first=first, limit=shown_at_most(limit, as_json, 20),
            known_at=known_at,
        )  # fmt: skip
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = trace_text(found, book.zone, reader, whole=whole)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)
