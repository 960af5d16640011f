"""Counts and fittings: what a counter showed, and what sits where since then."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.files import from_option, take_file
from upkeep.cli.options import because_option, book_option, by_option, happened_option, number, write
from upkeep.cli.saying import WrongUsage
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Unfit
from upkeep.plant.model import FITS_IN, Kind
from upkeep.said import said
from upkeep.sources.drop import COUNTS

_count_option = click.option("--count", "figure", type=number, help="What the press counter shows at that moment.")
_no_count_option = click.option("--no-count", is_flag=True, help="Nobody read it: the strokes are shared by estimate.")


@click.command()
@click.argument("press", required=False)
@click.argument("value", type=number, required=False)
@click.option("--rolled-over", is_flag=True, help="The counter has rolled over since the reading before.")
@click.option("--after-reset", is_flag=True, help="The counter has been set back to zero since the reading before.")
@from_option
@happened_option
@by_option
@because_option
@book_option
def count(
    press: str | None, value: int | None, rolled_over: bool, after_reset: bool, file: Path | None, at_text: str | None,
    by: str, because: str, book_path: Path,
) -> None:  # fmt: skip
    """Enter that the counter of PRESS (or of a module that has its own) shows VALUE.

    A count faster than the press can run is refused; the lead may enter it with --because, and is asked about it later.

    --from FILE takes counts from a CSV file instead, with the columns press, at, count (local time of the plant): the
    good lines go in, the bad ones are listed by number, and loading the same file twice changes nothing.

    Example: strokebook count P-07 1204300 --by ana
    """
    if file is not None:
        take_file(book_path, file, COUNTS, by)
        return
    if press is None or value is None:
        raise WrongUsage(said("Name the press and what its counter shows, or a file with --from."))
    write(
        book_path,
        at_text,
        lambda book, at: [
            Count(
                at=at,
                by=by,
                press=press,
                value=value,
                rolled_over=rolled_over,
                after_reset=after_reset,
                because=because,
            )
        ],
    )


@click.command()
@click.argument("item")
@click.argument("inside")
@_count_option
@_no_count_option
@click.option("--swap", is_flag=True, help="Take out whatever is in the way at the same moment.")
@happened_option
@by_option
@because_option
@book_option
def fit(
    item: str, inside: str, figure: int | None, no_count: bool, swap: bool, at_text: str | None, by: str, because: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Put ITEM into INSIDE: a module on a press, a die set in a module, a part in a die set.

    Example: strokebook fit DS-031 M-12 --count 1206950 --by ben
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        hanging = dict(book.hanging(at))
        where = _press(book, hanging, inside)
        _ask_count(item, where, figure, no_count)
        ended = _in_the_way(book, hanging, item, inside) if swap else []
        moves: list[Entry] = []
        for content in ended:
            press = _press(book, hanging, content)
            moves.append(Unfit(at=at, by=by, item=content, count=figure if press == where else None, because=because))
        moves.append(Fit(at=at, by=by, item=item, inside=inside, count=figure if where else None, because=because))
        return moves

    write(book_path, at_text, entries)


@click.command()
@click.argument("item")
@_count_option
@_no_count_option
@click.option("--to", help="The place it goes to, if not its home.")
@happened_option
@by_option
@because_option
@book_option
def unfit(
    item: str, figure: int | None, no_count: bool, to: str | None, at_text: str | None, by: str, because: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Take ITEM out of what it sits in.

    Example: strokebook unfit M-12 --count 1206950 --to R-03 --by ben
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        where = _press(book, dict(book.hanging(at)), item)
        _ask_count(item, where, figure, no_count)
        return [Unfit(at=at, by=by, item=item, count=figure if where else None, to=to, because=because)]

    write(book_path, at_text, entries)


def _press(book: Book, hanging: dict[str, str], item: str) -> str | None:
    key: str | None = item
    while key is not None and book.known.item(key).kind is not Kind.PRESS:
        key = hanging.get(key)
    return key


def _ask_count(item: str, press: str | None, figure: int | None, no_count: bool) -> None:
    if press is not None and figure is None and not no_count:
        raise WrongUsage(
            said(
                "{item} moves on {press}: read the counter and give --count, or --no-count if nobody read it.",
                item=item,
                press=press,
            )
        )
    if press is None and figure is not None:
        raise WrongUsage(said("{item} is not moving on or off a press; leave out --count.", item=item))


def _in_the_way(book: Book, hanging: dict[str, str], item: str, inside: str) -> list[str]:
    kind = book.known.item(item).kind
    same = [other for other, where in hanging.items() if where == inside and book.known.item(other).kind is kind]
    return [*([item] if item in hanging else []), *(other for other in same if other != item and kind in FITS_IN)]
