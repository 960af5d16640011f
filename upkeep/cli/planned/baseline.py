"""The baseline of a new book: the first time of work that nobody knows the history of."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.clock import now
from upkeep.cli.options import book_option, by_option, json_option, opened, say_json, say_written
from upkeep.cli.proving import proven
from upkeep.cli.saying import reader_of, say
from upkeep.entries.origin import IN_A_SHELL
from upkeep.said import said

_MOST_WEEKS = 52


@click.command()
@click.option("--weeks", type=click.IntRange(1, _MOST_WEEKS), default=8, show_default=True, help="Over so many weeks.")
@click.option("--dry-run", is_flag=True, help="Show the plan; write nothing.")
@by_option
@json_option
@book_option
def baseline(weeks: int, dry_run: bool, by: str, as_json: bool, book_path: Path) -> None:
    """Plan the first time of work that nobody knows the history of, spread over some weeks.

    Work that was never signed in this book, and of which nobody stated when it was done before, or which by what was
    stated is overdue, gets a day of its own: what law asks for first, then what belongs to customers, then what is
    oldest, inside the hours there are, and all work of one item together.  Until that day the line asks for nothing;
    it opens in the week before it, and what has a hard stop stops once it is overdue.  Work that comes back
    within four weeks needs no such day.  Nothing that has a day already is moved; --dry-run shows the plan.

    Example: strokebook baseline --weeks 8 --by lea
    """
    from upkeep.papers.planned.baseline_text import baseline_text

    with opened(book_path) as book:
        moment = now()
        plan = book.baseline(moment, weeks)
        if as_json:
            say_json(plan)
        else:
            click.echo(baseline_text(plan, reader_of(book)), nl=False)
        entries = book.baseline_statements(moment, weeks, by)
        if dry_run or as_json or not entries:
            return
        written = book.write(entries, now, IN_A_SHELL, proven(book, by, entries=entries))
        say(said("The baseline is in the book."))
        say_written(book, written)
