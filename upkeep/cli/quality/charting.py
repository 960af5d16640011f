"""Charts, capability and pulls of what was checked."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from upkeep.cli.options import book_option, json_option, known_option, opened, say_json, seen, seen_option
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.saying import READER, WrongUsage, reader_of
from upkeep.papers import chart_text
from upkeep.papers.plot_files import drawn_for
from upkeep.quality.capability import proofs
from upkeep.quality.control import KINDS
from upkeep.said import said

_crimp_option = click.option("--crimp", help="Only checks of this crimp.")
_last_option = click.option(
    "--last", type=click.IntRange(1, 1000), default=50, show_default=True, help="How many checks to look back on."
)


@click.command()
@click.argument("item")
@click.argument("point")
@click.option("--kind", type=click.Choice(KINDS), help="xbar if checks have several readings, otherwise single.")
@click.option("--of-nominal", is_flag=True, help="Chart deviations from nominal: one chart for all crimps of a set.")
@_crimp_option
@_last_option
@click.option(
    "--plot",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Draw the charts to a file, .svg or .png.",
)
@replace_option
@seen_option
@known_option
@json_option
@book_option
def chart(
    item: str, point: str, kind: str | None, of_nominal: bool, crimp: str | None, last: int, plot: Path | None,
    replacing: bool, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """The control charts of POINT on ITEM: limits, and every rule that is broken, in words.

    xbar charts the means and ranges of the checks, single the values with moving ranges, ewma a moving average that
    finds slow drift.  Readings from a gauge that was not valid, and those taken before adjusting, are left out.

    By simulation a steady process breaks a rule on 16 of 100 xbar or single charts of 20 points and on 45 of 50 points
    (once in 70 points where the limits are known); on ewma charts 3 and 9 of 100.  A shift of two scatters of a point
    in the last ten of 25 is found in 8 of 10 cases, by ewma in 6.  So one broken rule is a reason to look, not to stop.

    Example: strokebook chart DS-031 crimp-height --of-nominal
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        views = book.checks(at, known_at=known_at)
        charted = views.chart(item, point, kind, of_nominal=of_nominal, crimp=crimp, last=last)
        if plot is not None:
            source = f"{book.known.facts.name}, {book.zone.minute(at)}"
            plots = [
                replace(drawn, source=source) for drawn in chart_text.plots_of(charted, book.zone, reader_of(book))
            ]
            put(plot, drawn_for(plot, *plots), replacing=replacing)
        say_json(charted) if as_json else click.echo(
            chart_text.chart_page(charted, book.zone, reader_of(book)), nl=False
        )


@click.command()
@click.argument("item")
@click.argument("point")
@_crimp_option
@_last_option
@seen_option
@known_option
@json_option
@book_option
def capability(
    item: str, point: str, crimp: str | None, last: int, at_text: str | None, known_text: str | None, as_json: bool,
    book_path: Path,
) -> None:  # fmt: skip
    """The Ppk of POINT on ITEM with its lower bound; refused below 25 readings, with the reason.

    Taken from the checks of the crimp made last, under its present limits.

    Example: strokebook capability DS-031 crimp-height
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        report = book.checks(at, known_at=known_at).capability(item, point, crimp=crimp, last=last)
        say_json(report) if as_json else click.echo(
            chart_text.capability_text(report, book.zone, reader_of(book)), nl=False
        )


@click.command()
@click.argument("item", required=False)
@click.option("--good", type=click.IntRange(0, 100_000), help="Without ITEM: so many pulls were good.")
@click.option("--bad", type=click.IntRange(0, 100_000), default=0, show_default=True, help="And so many were bad.")
@_crimp_option
@_last_option
@seen_option
@known_option
@json_option
@book_option
def pulls(
    item: str | None, good: int | None, bad: int, crimp: str | None, last: int, at_text: str | None,
    known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What the pull tests on ITEM say, and what so few of them leave open; without ITEM how many good ones prove what.

    Without ITEM no book is asked: it says which share of bad pieces is not excluded with 95 % confidence after so many
    pulls (Clopper and Pearson, Biometrika 26, 1934), and how many good ones would exclude it.

    Example: strokebook pulls DS-031; strokebook pulls --good 5
    """
    if item is None:
        proves = proofs(good, bad)
        say_json(proves) if as_json else click.echo(chart_text.proofs_text(proves, READER), nl=False)
        return
    if good is not None or bad:
        raise WrongUsage(said("Give ITEM, or --good and --bad; what was pulled on an item stands in the book."))
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        report = book.checks(at, known_at=known_at).pulls(item, crimp=crimp, last=last)
        say_json(report) if as_json else click.echo(chart_text.pulls_text(report, book.zone, reader_of(book)), nl=False)
