"""The year ahead: what it may bring, what another interval would do, when work begins; past weeks planned again."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import (
    book_option,
    by_option,
    json_option,
    language_option,
    moment_of,
    number,
    opened,
    say_json,
    seen_option,
)
from upkeep.cli.progress import GOING_BACK, PLAYING, watch_of
from upkeep.cli.saying import reader_of
from upkeep.errors import Refused, Unreadable
from upkeep.said import Quoted, said
from upkeep.views.planned.year import PolicyChange

_shape_option = click.option(
    "--shape", type=click.FloatRange(0.1, 20), help="The Weibull shape of all lives, where the plant states one."
)


@click.command("year-ahead")
@click.option("--every", multiple=True, help="Another interval: lube-press='14 days'. Give it as often as needed.")
@click.option("--strokes", multiple=True, help="Another stroke interval: die-inspection=150000.")
@click.option("--hours", multiple=True, help="More hours a week of a role, or fewer: 'maintenance technician=-8'.")
@click.option("--stock", multiple=True, help="More of a spare on the shelf and at its reorder level, or fewer: CP=3.")
@click.option("--runs", type=click.IntRange(200, 5000), default=200, show_default=True, help="How often it is played.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same year.")
@_shape_option
@seen_option
@language_option
@json_option
@book_option
def year_ahead(
    every: tuple[str, ...], strokes: tuple[str, ...], hours: tuple[str, ...], stock: tuple[str, ...], runs: int,
    seed: int, shape: float | None, at_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Play the coming year: lines late, hours by week, parts worn out in use, each with its spread over all runs.

    With a change it is played twice, by the same chances: as the plant goes on now, and as it would with the change.
    What it assumes is told below. Money is told where plant.toml gives costs.

    Example: strokebook year-ahead --every lube-press='14 days' --hours 'maintenance technician=-8'
    """
    from upkeep.papers.planned.year_text import year_text

    changes = [
        _change(what, text)
        for what, texts in (("every", every), ("strokes", strokes), ("hours", hours), ("stock", stock))
        for text in texts
    ]
    with opened(book_path) as book:
        found = book.year_ahead(moment_of(at_text, book.zone), changes, runs, seed, shape, watch_of(book_path, PLAYING))
        if as_json:
            say_json(found)
        else:
            click.echo(year_text(found, reader_of(book, language)), nl=False)


def _change(what: str, text: str) -> PolicyChange:
    name, equals, value = text.rpartition("=")
    if not (equals and name and value):
        raise Unreadable(said("{text} is no change; write name=value, like lube-press='14 days'.", text=Quoted(text)))
    return PolicyChange(what, name, value)


@click.command("what-if")
@click.argument("task")
@click.option("--every", help="The interval by days: '14 days'.")
@click.option("--strokes", type=number, help="The interval by strokes: 60,000.")
@_shape_option
@seen_option
@language_option
@json_option
@book_option
def what_if(
    task: str, every: str | None, strokes: int | None, shape: float | None, at_text: str | None, language: str | None,
    as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What another interval of TASK would do, before it is saved: hours of work a week, and the risk.

    The risk is the chance that a part fails within one interval, by the lives of its family; where too few of them are
    known, that is said. Nothing is written.

    Example: strokebook what-if lube-press --every '14 days'
    """
    from upkeep.papers.planned.year_text import what_if_text

    if (every is None) is (strokes is None):
        raise Refused(said("Give the interval by days ('--every') or by strokes ('--strokes')."))
    with opened(book_path) as book:
        found = book.what_if(moment_of(at_text, book.zone), task, every, strokes, shape)
        if as_json:
            say_json(found)
        else:
            click.echo(what_if_text(found, reader_of(book, language)), nl=False)


@click.command()
@click.option("--entries", "as_entries", is_flag=True, help="The first days as lines for 'strokebook enter'.")
@by_option
@seen_option
@language_option
@json_option
@book_option
def starts(
    as_entries: bool, by: str, at_text: str | None, language: str | None, as_json: bool, book_path: Path
) -> None:
    """First days of all that was never done, so that the weeks of the year are level.

    What was done before, or has a first day already, keeps its days and counts. It looks over a whole year;
    'strokebook baseline' plans the first weeks by risk. Nothing is written: enter what --entries gives.

    Example: strokebook starts --entries --by lea > first.txt && strokebook enter first.txt
    """
    from upkeep.papers.planned.year_text import starts_entries, starts_text

    with opened(book_path) as book:
        at = moment_of(at_text, book.zone)
        found = book.starts(at)
        if as_json:
            say_json(found)
        elif as_entries:
            click.echo(starts_entries(found, book.zone.minute(at), by), nl=False)
        else:
            click.echo(starts_text(found, reader_of(book, language)), nl=False)


@click.command("back-test")
@click.option("--weeks", type=click.IntRange(1, 52), default=8, show_default=True, help="How many past weeks.")
@seen_option
@language_option
@json_option
@book_option
def back_test(weeks: int, at_text: str | None, language: str | None, as_json: bool, book_path: Path) -> None:
    """What plans of past weeks would have done, against what was done in them.

    Each week is planned as it stood at its first moment, with what was known then.

    Example: strokebook back-test --weeks 8
    """
    from upkeep.papers.planned.year_text import back_test_text

    with opened(book_path) as book:
        found = book.back_test(moment_of(at_text, book.zone), weeks, watch_of(book_path, GOING_BACK))
        if as_json:
            say_json(found)
        else:
            click.echo(back_test_text(found, reader_of(book, language)), nl=False)


for _name, _command in (("year-ahead", year_ahead), ("what-if", what_if), ("back-test", back_test)):
    globals()[_name] = _command
