"""What is told beside the count itself: counters, quantities, orders, uncounted strokes, reworks."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.cli.entering.signing import points_of, unit_in
from upkeep.cli.files import from_option, take_file
from upkeep.cli.options import because_option, book_option, by_option, happened_option, number, write
from upkeep.cli.saying import WrongUsage
from upkeep.entries.counting import UNCOUNTED_WAYS, ConfigureCounter, QuantityMade, Restart, UncountedStrokes
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.planning import Order
from upkeep.said import said
from upkeep.sources.drop import ORDERS, QUANTITIES

if TYPE_CHECKING:
    from upkeep.book import Book
    from upkeep.entries.entry import Entry


def _number_or_unknown(text: str) -> int | None:
    """A whole number, or None for '?'."""
    return None if text == "?" else number(text)


@click.command()
@click.argument("press")
@click.argument("shown", type=_number_or_unknown)
@click.argument("shows_now", type=number)
@happened_option
@by_option
@because_option
@book_option
def restart(
    press: str, shown: int | None, shows_now: int, at_text: str | None, by: str, because: str, book_path: Path
) -> None:
    """Enter that the counter of PRESS, which showed SHOWN, was set back or replaced and now shows SHOWS_NOW.

    Where nobody knows what it showed, write '?'. The strokes since it was read last are then an estimate: as many as
    the press does in that time, between none and the most it can do.

    Example: strokebook restart P-07 1209500 0 --because "new counter, battery dead" --by tom

    Example: strokebook restart P-07 '?' 0 --because "counter smashed by the forklift" --by tom
    """
    write(
        book_path,
        at_text,
        lambda book, at: [Restart(at=at, by=by, press=press, shown=shown, now=shows_now, because=because)],
    )


@click.command(name="configure-counter")
@click.argument("press")
@click.argument("way", type=click.Choice(["running", "resettable", "countdown"]))
@click.option("--digits", type=int, required=True, help="How many digits the counter has.")
@click.option("--times", type=float, default=1.0, show_default=True, help="Strokes to each count.")
@happened_option
@by_option
@because_option
@book_option
def configure_counter(
    press: str, way: str, digits: int, times: float, at_text: str | None, by: str, because: str, book_path: Path
) -> None:
    """Enter how the counter of PRESS counts from now on.

    Example: strokebook configure-counter P-07 running --digits 6 --times 0.5 --because "sensor counts twice" --by tom
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            ConfigureCounter(at=at, by=by, press=press, way=way, digits=digits, times=times, because=because)
        ],
    )


@click.command()
@click.argument("press", required=False)
@click.argument("pieces", type=number, required=False)
@click.option("--minutes", type=number, help="How many minutes the run took, ending at that time.")
@click.option("--with", "item", help="The die set that made them.")
@click.option("--order", help="The order they were made for.")
@from_option
@happened_option
@by_option
@book_option
def quantity(
    press: str | None, pieces: int | None, minutes: int | None, item: str | None, order: str | None,
    file: Path | None, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Enter PIECES made on PRESS; where a count was not taken, the strokes are shared by them.

    --from FILE takes quantities from a CSV file instead, with the columns press, at, pieces, minutes and, if it has
    them, item, order: the good lines go in, the bad ones are listed by number, and loading the same file twice changes
    nothing.

    Example: strokebook quantity P-07 5000 --minutes 240 --with DS-031 --order A-77 --by ana
    """
    if file is not None:
        take_file(book_path, file, QUANTITIES, by)
        return
    if press is None or pieces is None or minutes is None:
        raise WrongUsage(said("Name the press, the pieces and --minutes, or a file with --from."))
    write(
        book_path,
        at_text,
        lambda book, at: [
            QuantityMade(at=at, by=by, press=press, pieces=pieces, minutes=minutes, item=item, order=order)
        ],
    )


@click.command()
@click.argument("order", required=False)
@click.argument("pieces", type=number, required=False)
@click.argument("item", required=False)
@click.argument("press", required=False)
@click.argument("day", required=False)
@from_option
@by_option
@book_option
def order(
    order: str | None, pieces: int | None, item: str | None, press: str | None, day: str | None, file: Path | None,
    by: str, book_path: Path,
) -> None:  # fmt: skip
    """Plan ORDER: PIECES with die set ITEM on PRESS from DAY on; shows beforehand which limits it would run past.

    --from FILE takes orders from a CSV file instead, with the columns order, pieces, item, press, day: the good lines
    go in, the bad ones are listed by number, and loading the same file twice changes nothing.

    Example: strokebook order A-77 30000 DS-031 P-07 2026-03-09 --by lea
    """
    if file is not None:
        take_file(book_path, file, ORDERS, by)
        return
    if order is None or pieces is None or item is None or press is None or day is None:
        raise WrongUsage(said("Name the order, pieces, die set, press and day, or a file with --from."))
    write(
        book_path,
        None,
        lambda book, at: [Order(at=at, by=by, order=order, pieces=pieces, item=item, press=press, day=day)],
    )


@click.command()
@click.argument("item")
@click.argument("way", type=click.Choice(UNCOUNTED_WAYS))
@click.argument("strokes", type=number)
@happened_option
@by_option
@book_option
def uncounted(item: str, way: str, strokes: int, at_text: str | None, by: str, book_path: Path) -> None:
    """Enter STROKES of ITEM (and of all in it) that the press counter did not count, or that wear less.

    Strokes by hand are not counted by the press, nor are those made while its counter has stopped (stood-still: the
    pieces made); strokes at set-up or dry are counted, and wear less, by the plant's weight. What an item did before it
    came into this book is told once, before it is fitted: bought-used, other-plant where another plant had it, or
    before-book where it worked here already.

    Example: strokebook uncounted M-12 hand 14 --by ben
    """
    write(book_path, at_text, lambda book, at: [UncountedStrokes(at=at, by=by, item=item, way=way, strokes=strokes)])


@click.command()
@click.argument("item")
@click.argument("granted", type=number)
@click.option("--before", multiple=True, metavar="POINT=VALUES", help="What it measured before: slug-height=1.204.")
@click.option("--after", multiple=True, metavar="POINT=VALUES", help="What it measured after.")
@click.option("--granted-by", metavar="ID", help="Who granted the strokes, where it is not you.")
@happened_option
@by_option
@because_option
@book_option
def rework(
    item: str, granted: int, before: tuple[str, ...], after: tuple[str, ...], granted_by: str | None,
    at_text: str | None, by: str, because: str, book_path: Path,
) -> None:  # fmt: skip
    """Enter that part ITEM was reworked and is GRANTED this many strokes; its strokes since new go on counting.

    Example: strokebook rework CP-031 60000 --before slug-height=1.204 --after slug-height=1.199 --granted-by lea
    --because re-polished --by tom
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        was, became = (points_of(texts, unit_in(book)) for texts in (before, after))
        return [
            Rework(
                at=at, by=by, item=item, granted=granted, granted_by=granted_by, before=was, after=became,
                because=because,
            )
        ]  # fmt: skip

    write(book_path, at_text, entries)


@click.command(name="unknown-life")
@click.argument("item")
@happened_option
@by_option
@because_option
@book_option
def unknown_life(item: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Enter that the strokes of ITEM are not known: it has none left until it is inspected."""
    write(book_path, at_text, lambda book, at: [UnknownLife(at=at, by=by, item=item, because=because)])


globals()["configure-counter"] = configure_counter
globals()["unknown-life"] = unknown_life
