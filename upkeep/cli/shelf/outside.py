"""What is out for rework, life tags, and the pieces of a batch."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.entering.signing import point_option, points_of
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    happened_option,
    json_option,
    language_option,
    moment_of,
    opened,
    say_json,
    seen_option,
    write,
)
from upkeep.cli.saying import reader_of
from upkeep.cli.shelf.stock import day_of
from upkeep.entries.shelf.outside import ComeBack, SendOut, TakeIn


@click.command()
@click.option("--all", "all_of_them", is_flag=True, help="Also what was taken in again.")
@seen_option
@json_option
@book_option
def outside(all_of_them: bool, at_text: str | None, as_json: bool, book_path: Path) -> None:
    """What is out for rework, expected when, or waits for its receiving inspection."""
    from upkeep.papers.shelf.shelf_text import outside_text

    with opened(book_path) as book:
        found = book.outside(moment_of(at_text, book.zone), all_of_them=all_of_them)
        say_json(found) if as_json else click.echo(outside_text(found, book.zone, reader_of(book)), nl=False)


@click.command("send-out")
@click.argument("item")
@click.option("--to", required=True, help="To whom it goes.")
@click.option("--expected", type=day_of, required=True, help="The day it is expected back: 2026-04-20.")
@click.option("--text", required=True, help="What is to be done to it.")
@because_option
@happened_option
@by_option
@book_option
def send_out(
    item: str, to: str, expected: str, text: str, because: str, at_text: str | None, by: str, book_path: Path
) -> None:  # fmt: skip
    """ITEM leaves for rework outside the plant; until it was inspected on its return it cannot be fitted.

    Example: strokebook send-out CP-031 --to "the grinder" --expected 2026-04-20 --text "re-polish" --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [SendOut(at=at, by=by, item=item, to=to, expected=expected, text=text, because=because)],
    )


@click.command("come-back")
@click.argument("item")
@click.option("--bears", help="The id on what came, where that is another piece.")
@click.option("--text", default="", help="The supplier's own record: its number, what was done.")
@because_option
@happened_option
@by_option
@book_option
def come_back(
    item: str, bears: str | None, text: str, because: str, at_text: str | None, by: str, book_path: Path
) -> None:  # fmt: skip
    """ITEM came back from rework; next is its receiving inspection ('take-in').

    Example: strokebook come-back CP-031 --text "delivery note 881, re-polished" --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [ComeBack(at=at, by=by, item=item, bears=bears, text=text, because=because)],
    )


@click.command("take-in")
@click.argument("item")
@click.argument("found", type=click.Choice(["good", "bad"]))
@point_option
@click.option("--with", "gauge", help="The gauge it was measured with.")
@click.option("--text", default="", help="What was seen, or what is wrong.")
@because_option
@happened_option
@by_option
@book_option
def take_in(
    item: str, found: str, points: tuple[str, ...], gauge: str | None, text: str, because: str, at_text: str | None,
    by: str, book_path: Path,
) -> None:  # fmt: skip
    """The receiving inspection of ITEM: good or bad, with the points that were measured (in mm).

    Example: strokebook take-in CP-031 good --point height=12.04 --with G-03 --by uwe
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            TakeIn(at=at, by=by, item=item, good=found == "good", points=points_of(points, lambda _: "mm"), gauge=gauge,
                   text=text, because=because)
        ],
    )  # fmt: skip


@click.command("life-tag")
@click.argument("item")
@seen_option
@language_option
@json_option
@book_option
def life_tag(item: str, at_text: str | None, language: str | None, as_json: bool, book_path: Path) -> None:
    """The tag that goes with ITEM when it leaves the plant: its strokes, reworks, what it is still good for."""
    from upkeep.papers.shelf.life_tag_text import life_tag_text

    with opened(book_path) as book:
        found, reader = book.life_tag(moment_of(at_text, book.zone), item), reader_of(book, language)
        say_json(found) if as_json else click.echo(life_tag_text(found, book.zone, reader), nl=False)


@click.command()
@click.argument("item")
@seen_option
@json_option
@book_option
def batch(item: str, at_text: str | None, as_json: bool, book_path: Path) -> None:
    """Where the other pieces of the batch of ITEM are: where to look when it failed."""
    from upkeep.papers.shelf.shelf_text import pieces_text

    with opened(book_path) as book:
        found = book.pieces_of(moment_of(at_text, book.zone), item)
        say_json(found) if as_json else click.echo(pieces_text(found, reader_of(book)), nl=False)


globals()["send-out"] = send_out
globals()["come-back"] = come_back
globals()["take-in"] = take_in
globals()["life-tag"] = life_tag
