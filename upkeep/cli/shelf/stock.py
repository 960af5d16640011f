"""What lies on the shelf, and what moves there."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    happened_option,
    json_option,
    moment_of,
    number,
    opened,
    say_json,
    say_page,
    seen_option,
    write,
)
from upkeep.cli.saying import WrongUsage, WrongValue, reader_of
from upkeep.entries.counting import BEFORE_THE_BOOK
from upkeep.entries.shelf.moves import Buy, CountShelf, GiveBack, Issue
from upkeep.said import Quoted, said

_boxes_option = click.option("--boxes/--pieces", "boxes", default=None, help="What the number counts.")
_batch_option = click.option("--batch", help="The batch they are of.")


def _ids(text: str) -> tuple[str, ...]:
    """Ids as people write them, separated by commas."""
    return tuple(part.strip() for part in text.split(",") if part.strip())


_as_option = click.option(
    "--as", "pieces", type=_ids, default="", help="The ids of pieces that have them: CP-201,CP-202."
)


def day_of(text: str) -> str:
    """A day as people write it, as ISO text; wrong usage where it is none."""
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise WrongValue(said("{text} is not a date; write it like 2026-03-09.", text=Quoted(text))) from None


def _pieces(book: Book, spare: str, many: int, boxes: bool | None) -> int:
    """How many pieces a number of boxes or pieces is; of what comes in boxes it has to be said."""
    pack = book.known.spare(spare).pack
    if pack > 1 and boxes is None:
        raise WrongUsage(
            said("{spare} comes in boxes of {pack}: say whether you mean --boxes or --pieces.", spare=spare, pack=pack)
        )
    return many * pack if boxes else many


@click.command()
@click.argument("spare", required=False)
@seen_option
@json_option
@book_option
def shelf(spare: str | None, at_text: str | None, as_json: bool, book_path: Path) -> None:
    """What lies on the shelf, or of one SPARE: pieces and batches, what is expected, when it was counted.

    Example: strokebook shelf SP-CP-RING
    """
    from upkeep.papers.shelf.shelf_text import shelf_text

    with opened(book_path) as book:
        found = book.shelf(moment_of(at_text, book.zone), spare)
        say_json(found) if as_json else say_page(book, shelf_text(found, book.zone, reader_of(book)))


@click.command()
@click.argument("spare")
@click.argument("many", type=number)
@_boxes_option
@_batch_option
@_as_option
@click.option("--for", "bought", type=number, help="The order they came for (its number); else the first that is open.")
@click.option("--used", type=number, default=0, help="Strokes each of them had done before, where it is not new.")
@click.option("--way", type=click.Choice(BEFORE_THE_BOOK), default=BEFORE_THE_BOOK[0], help="Where it did them.")
@because_option
@happened_option
@by_option
@book_option
def receive(
    spare: str, many: int, boxes: bool | None, batch: str | None, pieces: tuple[str, ...], bought: int | None,
    used: int, way: str, because: str, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Spares came in: so MANY of SPARE lie on the shelf from now on.

    Parts that wear have an id of their own, on the metal or on the bag: name them with --as. New ids become items.

    Example: strokebook receive SP-CP-RING 2 --batch B-0311 --as CP-201,CP-202 --by benno

    Example: strokebook receive SP-WIPES 3 --boxes --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: book.received(
            at, by, spare, _pieces(book, spare, many, boxes), batch=batch, pieces=pieces, bought=bought, used=used,
            way=way, because=because,
        ),
    )  # fmt: skip


@click.command()
@click.argument("spare")
@click.argument("many", type=number)
@_boxes_option
@_batch_option
@_as_option
@click.option("--for", "line", help="The job it is taken for: item/task.")
@because_option
@happened_option
@by_option
@book_option
def issue(
    spare: str, many: int, boxes: bool | None, batch: str | None, pieces: tuple[str, ...], line: str | None,
    because: str, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """So MANY of SPARE are taken off the shelf, for a job or for the reason you give.

    What is taken for a job waits in its bag; the sign-off books what it used, and what is left goes back.

    Example: strokebook issue SP-SPRING 2 --for M-12/spring-change --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            Issue(at=at, by=by, spare=spare, number=_pieces(book, spare, many, boxes), batch=batch, pieces=pieces,
                  line=line, because=because)
        ],
    )  # fmt: skip


@click.command("give-back")
@click.argument("spare")
@click.argument("many", type=number)
@_boxes_option
@_batch_option
@_as_option
@click.option("--for", "line", help="The job it had been taken for: item/task.")
@because_option
@happened_option
@by_option
@book_option
def give_back(
    spare: str, many: int, boxes: bool | None, batch: str | None, pieces: tuple[str, ...], line: str | None,
    because: str, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """So MANY of SPARE are put back on the shelf.

    Example: strokebook give-back SP-SPRING 1 --for M-12/spring-change --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            GiveBack(at=at, by=by, spare=spare, number=_pieces(book, spare, many, boxes), batch=batch, pieces=pieces,
                     line=line, because=because)
        ],
    )  # fmt: skip


@click.command("count-shelf")
@click.argument("spare")
@click.argument("many", type=number)
@_boxes_option
@_batch_option
@_as_option
@because_option
@happened_option
@by_option
@book_option
def count_shelf(
    spare: str, many: int, boxes: bool | None, batch: str | None, pieces: tuple[str, ...], because: str,
    at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """You counted so MANY of SPARE on the shelf; the difference to what the book had stays on record.

    Example: strokebook count-shelf SP-WIPES 140 --pieces --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            CountShelf(at=at, by=by, spare=spare, number=_pieces(book, spare, many, boxes), batch=batch, pieces=pieces,
                       because=because)
        ],
    )  # fmt: skip


@click.command()
@click.argument("spare")
@click.argument("many", type=number)
@_boxes_option
@click.option("--expected", type=day_of, required=True, help="The day it is expected on: 2026-04-20.")
@click.option("--text", default="", help="The number or name of the order at the supplier.")
@because_option
@happened_option
@by_option
@book_option
def buy(
    spare: str, many: int, boxes: bool | None, expected: str, text: str, because: str, at_text: str | None, by: str,
    book_path: Path,
) -> None:  # fmt: skip
    """So MANY of SPARE were ordered from the supplier; until they are received they stand as expected.

    Example: strokebook buy SP-CP-RING 4 --expected 2026-04-20 --text "order 4711" --by benno
    """
    write(
        book_path,
        at_text,
        lambda book, at: [
            Buy(at=at, by=by, spare=spare, number=_pieces(book, spare, many, boxes), expected=expected, text=text,
                because=because)
        ],
    )  # fmt: skip


globals()["give-back"] = give_back
globals()["count-shelf"] = count_shelf
