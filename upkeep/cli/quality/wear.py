"""Wear: the life of an item, advice on intervals, lives of a family, the slug, parts that leave."""

from __future__ import annotations

from dataclasses import is_dataclass, replace
from datetime import datetime
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upkeep.book import Book
from upkeep.cli.options import (
    book_option,
    fields_of,
    json_option,
    known_option,
    opened,
    say_json,
    seen,
    seen_option,
)
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.quality.pictures import looked_at
from upkeep.cli.saying import WrongValue, reader_of
from upkeep.errors import NotFound
from upkeep.papers import board_text, wear_text
from upkeep.plant.model import PARTS, Kind
from upkeep.said import Quoted, Said, said

if TYPE_CHECKING:
    from upkeep.papers.plots import Plot
    from upkeep.views.wear import ItemWear, PointWear
    from upkeep.wording.sentences import Reader

_plot_option = click.option(
    "--plot",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Draw it to a file, .svg or .png.",
)


@click.command()
@click.argument("item")
@click.option("--point", help="Draw the trend of this measured point, in the terminal or to a file with --plot.")
@_plot_option
@replace_option
@seen_option
@known_option
@json_option
@book_option
def life(
    item: str, point: str | None, plot: Path | None, replacing: bool, at_text: str | None, known_text: str | None,
    as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """The strokes of ITEM, how it wears, and how sure both are.

    Strokes since new, rework and inspection; the trend of each measured point with the strokes and days to its limit,
    or why there is none; settings that are drifting, where to look first, pictures that are missing.

    How sure its alarms are, by simulation.  A last value off its line: 6 in 100 parts get it within 30 values though
    they wear steadily; of jumps of four scatters between values 9 in 10 are found after 20 values, a third after 8.
    Hidden wear: 5 in 100 steady sets get it within 30 set-ups; a drift of one step over ten is found in 8 of 10 where
    settings are read to a fifth of a step.  On a dial of whole steps it takes more set-ups: 6 in 10 by the twelfth,
    nearly all by the fifteenth; less than half a step cannot be found.  A forecast: 5 in 200 parts that do not wear get
    one; half a scatter of wear a value is seen in 3 of 4 after 8 values.

    Example: strokebook life CP-031 --point slug-height --plot trend.svg
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        numbers, wear = book.life(item, at, known_at=known_at), book.wear(at, known_at=known_at).item(item)
        wear = replace(wear, pictures=looked_at(wear.pictures, book.path))
        drawn = _drawn(wear, point) if point or plot else None
        if plot is not None and drawn is not None:
            _save(book, at, _trend_plot(item, drawn, reader_of(book)), plot, replacing)
        if as_json:
            _say_json({**fields_of(numbers), **fields_of(wear)})
            return
        reader = reader_of(book)
        texts = board_text.life_text(numbers, book.zone, reader), wear_text.wear_text(wear, book.zone, reader)
        click.echo("".join(texts), nl=False)
        if point is not None and drawn is not None:
            from upkeep.papers.plots import chart_text

            click.echo("\n" + chart_text(_trend_plot(item, drawn, reader)), nl=False)


def _trend_plot(item: str, drawn: PointWear, reader: Reader) -> Plot:
    from upkeep.papers.wear_plots import trend_plot  # a life is most often told without a drawing

    return trend_plot(item, drawn, reader)


def _save(book: Book, at: datetime, drawn: Plot, path: Path, replacing: bool) -> None:
    from upkeep.papers.plot_files import drawn_for  # loads faces and XML, and most answers draw nothing

    source = f"{book.known.facts.name}, {book.zone.minute(at)}"
    put(path, drawn_for(path, replace(drawn, source=source)), replacing=replacing)


def _drawn(wear: ItemWear, point: str | None) -> PointWear:
    """The point to draw: the one named, else the one that comes first to its limit."""
    named = [measured for measured in wear.points if point is None or measured.point == point]
    if not named:
        raise NotFound(
            said("measured point of"), f"{wear.item}: {point or 'any'}", [measured.point for measured in wear.points]
        )
    return min(named, key=lambda measured: (measured.left_safe is None, measured.left_safe or 0))


@click.command()
@click.argument("item", required=False)
@seen_option
@known_option
@json_option
@book_option
def advise(item: str | None, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path) -> None:
    """How often to inspect ITEM (or every item): a proposal with its arithmetic.

    At most half of the strokes from warning to limit, at the rate of wear measured; a quarter longer after three grades
    of 0 or 1, half after a grade of 3 or 4.  Nothing is changed: the line for tasks.toml is printed.

    Example: strokebook advise DS-031
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        advice = book.wear(at, known_at=known_at).advice(item)
        if as_json:
            _say_json([fields_of(item_advice) | {"changes": item_advice.proposal.changes} for item_advice in advice])
        else:
            shown = advice if item else [item_advice for item_advice in advice if item_advice.proposal.changes]
            click.echo(wear_text.advice_text(shown, reader_of(book)), nl=False)


@click.command()
@click.argument("family")
@click.option(
    "--kind", type=click.Choice([kind.value for kind in (*PARTS, Kind.DIE_SET)]), default=Kind.CONDUCTOR_PUNCH.value,
    show_default=True, help="The kind of part.",
)  # fmt: skip
@click.option("--by-terminal", is_flag=True, help="Pool lives with different terminals only if they agree.")
@click.option("--shape", type=click.FloatRange(0.1, 20), help="A shape the plant states, for few failures.")
@click.option(
    "--cost-ratio",
    type=click.FloatRange(0.1, 1000),
    help="What a failure costs, in planned replacements; gives the best age to replace.",
)
@_plot_option
@replace_option
@seen_option
@known_option
@json_option
@book_option
def lives(
    family: str, kind: str, by_terminal: bool, shape: float | None, cost_ratio: float | None, plot: Path | None,
    replacing: bool, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """How long the parts of a FAMILY of die sets live.

    Worn and broken parts are failures; parts still running or gone for another reason count as having lived at least
    that long.  With fewer than five failures a distribution needs a stated shape.

    Groups are pooled where they agree: alike ones are kept apart in 5 of 100 cases; one that lives half as long is
    kept apart in 9 of 10 with eight failures in each, in a quarter with three (by simulation, shape 3).

    Example: strokebook lives tab-28 --cost-ratio 10 --plot lives.svg
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        report = book.wear(at, known_at=known_at).lives(
            family, Kind(kind), by_terminal=by_terminal, shape=shape, cost_ratio=cost_ratio
        )
        if plot is not None:
            from upkeep.papers.wear_plots import life_plot

            _save(book, at, life_plot(report, *report.reports[0], reader_of(book)), plot, replacing)
        _say_json(report) if as_json else click.echo(wear_text.lives_text(report, book.zone, reader_of(book)), nl=False)


@click.command()
@click.argument("item")
@click.option("--height", type=float, help="The closed height it should have, if not taken from the crimp.")
@click.option("--crimp", help="The terminal on its wire, as crimps.toml names it.")
@click.option("--found", help="What crushed slugs measured: 1.23,1.23,1.24.")
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of what is typed.")
@seen_option
@json_option
@book_option
def slug(
    item: str, height: float | None, crimp: str | None, found: str | None, unit: str, at_text: str | None,
    as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """The solder slug to crush with ITEM, and how far the press setting has to move.

    This only computes; enter what you measured with 'strokebook check ITEM slug'.

    Example: strokebook slug DS-031 --height 1.20 --found 1.23,1.23,1.24
    """
    from upkeep.wear.slug import in_mm

    values = [in_mm(value, unit) for value in _numbers(found)]
    with opened(book_path) as book:
        at, _ = seen(at_text, None, book.zone)
        wanted = None if height is None else in_mm(height, unit)
        help_given = book.wear(at).slug(item, wanted, values, crimp)
        text = wear_text.slug_text(help_given, book.zone, reader_of(book))
        _say_json(help_given) if as_json else click.echo(text, nl=False)


def _numbers(text: str | None) -> list[float]:
    try:
        numbers = [float(word) for word in text.split(",")] if text else []
    except ValueError:
        numbers = [float("nan")]
    if not all(0 < value < 1000 for value in numbers):
        raise WrongValue(
            said(
                "{text}: write heights with a decimal point, separated by commas, like 1.23,1.24",
                text=Quoted(str(text)),
            )
        )
    return numbers


def _say_json(value: Any) -> None:
    """JSON has no infinite numbers: an end that is not known is null."""
    say_json(_finite(value))


def _finite(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _finite(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(each) for each in value]
    if is_dataclass(value) and not isinstance(value, Said):
        return _finite(fields_of(value))
    return None if isinstance(value, float) and not isfinite(value) else value
