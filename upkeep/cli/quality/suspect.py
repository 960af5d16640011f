"""Suspect product: hold lists, what becomes of their lines, restricted windows, deviation permits."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.options import (
    book_option,
    by_option,
    happened_option,
    json_option,
    known_option,
    language_option,
    number,
    opened,
    say_json,
    seen,
    seen_option,
    write,
)
from upkeep.cli.outputs import replace_option, save
from upkeep.cli.saying import WrongUsage, reader_of
from upkeep.entries.entry import Entry
from upkeep.entries.suspect import DISPOSITIONS, Disposition, Permit, Restriction
from upkeep.errors import NotFound
from upkeep.papers import suspect_text
from upkeep.papers.frame.naming import with_names
from upkeep.said import Numeral, Quoted, either, said
from upkeep.units.instants import utc_text

_because_option = click.option("--because", required=True, help="The reason, in your words.")


@click.command()
@click.argument("number", type=number, required=False)
@click.option("--item", help="Only lists of this item.")
@click.option("--point", help="The characteristic that failed: crimp-height, burr.")
@click.option("--all", "closed", is_flag=True, help="Also lists whose lines are all judged.")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write the page to this file.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF.")
@replace_option
@seen_option
@known_option
@language_option
@json_option
@book_option
def suspect(
    number: int | None, item: str | None, point: str | None, closed: bool, target: Path | None, paper: str,
    replacing: bool, at_text: str | None, known_text: str | None, language: str | None, as_json: bool,
    book_path: Path,
) -> None:  # fmt: skip
    """Which product is suspect: the open hold lists, or list NUMBER as a page.

    A window runs back from the failed check to the last good check of the same characteristic on the same item with a
    gauge valid at that time, or to when the part concerned was changed. Estimated strokes count at their highest.

    Example: strokebook suspect --item DS-031 --point crimp-height
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        views, reader = book.suspects(at, known_at=known_at), reader_of(book, language)
        if number is None and not (item and point):
            if target is not None:
                raise WrongUsage(said("Give the number of the hold list to print."))
            lists = views.lists(item, closed=closed)
            listed = suspect_text.lists_text(lists, book.zone, reader)
            say_json(list(lists)) if as_json else click.echo(listed, nl=False)
            return
        hold_list = views.hold_list(number, point) if number is not None else views.window(item or "", point or "")
        page = suspect_text.hold_list_text(hold_list, book.zone, reader)
        page = with_names(page, book.facts.signed_with, reader)
        if target is not None:
            from upkeep.papers.frame.frame_rows import frame_cells
            from upkeep.papers.frame.page_pdf import page_pdf

            frame = frame_cells(book.printed(at, known_at=known_at), reader)
            save(target, page_pdf(page, frame, reader, paper), replacing=replacing)
        elif as_json:
            say_json(hold_list)
        else:
            click.echo(page, nl=False)


@click.command()
@click.argument("number", type=number)
@click.argument("row", type=int)
@click.argument("how", type=click.Choice(DISPOSITIONS))
@click.option(
    "--pieces", "pieces", multiple=True, metavar="HOW=N", help="How many became what: --pieces scrapped=3; repeated."
)
@_because_option
@happened_option
@by_option
@book_option
def disposition(
    number: int, row: int, how: str, pieces: tuple[str, ...], because: str, at_text: str | None, by: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Enter the disposition of line ROW in hold list NUMBER: sorted, scrapped, released or reworked.

    What was sorted is told by quantity: how many were released, reworked and scrapped.

    Example: strokebook disposition 123 1 sorted --pieces released=2647 --pieces scrapped=3 --because "bin 4" --by lea
    """
    told = tuple(map(_pieces, pieces))

    def entries(book: Book, at: datetime) -> list[Entry]:
        for line in book.suspects(now()).hold_list(number).lines:
            if line.row == row:
                since = utc_text(line.since)
                return [
                    Disposition(at=at, by=by, list=number, press=line.press, since=since, how=how, because=because,
                                pieces=told)
                ]  # fmt: skip
        raise NotFound(
            said("line in that hold list:"),
            str(row),
            [],
            said("See 'strokebook suspect {number}'.", number=Numeral(number)),
        )

    write(book_path, at_text, entries)


def _pieces(typed: str) -> tuple[str, int]:
    how, _, pieces = typed.partition("=")
    if how not in DISPOSITIONS or not (pieces.isascii() and pieces.isdecimal()):
        raise WrongUsage(
            said(
                "{typed}: write what became of how many, like scrapped=3; what: {ways}.",
                typed=Quoted(typed),
                ways=either(DISPOSITIONS),
            )
        )
    return how, int(pieces)


@click.command()
@click.argument("number", type=number)
@click.argument("strokes", type=number)
@_because_option
@happened_option
@by_option
@book_option
def restrict(number: int, strokes: int, because: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Let the window of hold list NUMBER begin at STROKES of its item; signed by quality, with the calculation.

    Example: strokebook restrict 123 190000 --because "trend reaches the limit at 190,400 (95 %: 190,050)" --by lea
    """
    write(
        book_path, at_text, lambda book, at: [Restriction(at=at, by=by, list=number, strokes=strokes, because=because)]
    )


@click.command()
@click.argument("item")
@click.argument("strokes", type=number)
@_because_option
@happened_option
@by_option
@book_option
def permit(item: str, strokes: int, because: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Deviation permit: ITEM, held or past a hard stop, may do STROKES more; only the lead and quality may grant it.

    The permit ends by itself.  It never lifts the guard, the lock-out or anything the law requires.

    Example: strokebook permit DS-031 2000 --because "order A-77 ends today, 100 % looked at" --by lea
    """
    write(book_path, at_text, lambda book, at: [Permit(at=at, by=by, item=item, strokes=strokes, because=because)])
