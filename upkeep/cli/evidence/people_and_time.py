"""Late work, permits and signers: what an auditor asks of people and time."""

from __future__ import annotations

from datetime import date, datetime
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
from upkeep.cli.progress import watch_of
from upkeep.cli.saying import reader_of

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--from", "first", type=_DAY, help="First day, 2026-01-01; left out: the first of the month.")
@click.option("--to", "last", type=_DAY, help="Last day; left out: today.")
@click.option("--area", help="Only this area.")
@click.option("--item", help="Only this item.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def late(
    first: datetime | None, last: datetime | None, area: str | None, item: str | None, target: Path | None, paper: str,
    replacing: bool, by: str, at_text: str | None, known_text: str | None, language: str | None, as_json: bool,
    book_path: Path,
) -> None:  # fmt: skip
    """Work that was not done in time, with what became of it and the reason its signer gave; of some days, an area, an
    item.

    Work of shifts is missed and never late: it is in 'figures', not here.

    Example: strokebook late --from 2026-01-01 --to 2026-03-31 --area "Hall A"
    """
    from upkeep.papers.evidence.late_text import late_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.late(
            at, first=_day_of(first), last=_day_of(last), area=area, item=item, known_at=known_at,
            watch=watch_of(book_path),
        )  # fmt: skip
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = late_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)


def _day_of(given: datetime | None) -> date | None:
    """A day as click gives it, without its hours."""
    return None if given is None else given.date()


@click.command()
@click.option("--since", "since_text", help="Only from this moment on: '2026-01-01 00:00'.")
@click.option("--area", help="Only this area.")
@click.option("--item", help="Only this item.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def permits(
    since_text: str | None, area: str | None, item: str | None, target: Path | None, paper: str, replacing: bool,
    by: str, at_text: str | None, known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Deviation permits and concessions: who allowed how much, why, how much of it was used, and how it ended.

    Example: strokebook permits --since "2026-01-01 00:00"
    """
    from upkeep.papers.evidence.permit_text import permits_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        first = None if since_text is None else moment_of(since_text, book.zone)
        found = book.permits(at, first=first, area=area, item=item, known_at=known_at)
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = permits_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)


@click.command()
@click.argument("task", required=False)
@click.option("--area", help="Only people of this area, and those of none.")
@click.option("--item", help="Only the tasks on this item.")
@printing_options
@seen_option
@known_option
@language_option
@json_option
@book_option
def signers(
    task: str | None, area: str | None, item: str | None, target: Path | None, paper: str, replacing: bool, by: str,
    at_text: str | None, known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Who may sign TASK (left out: each task, and each right) on that day, and until when their training holds; who has
    the role and is not trained.

    Example: strokebook signers guard-check --at "2026-03-01 12:00"
    """
    from upkeep.papers.evidence.signers_text import signers_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.signers(at, task, area=area, item=item, known_at=known_at)
        if as_json:
            say_json(found)
            return
        reader = reader_of(book, language)
        page = signers_text(found, book.zone, reader)
        say_or_print(book, page, at, reader, target, paper, replacing, by, known_at=known_at)
