"""The demo plant."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from upkeep.book import BoardQuery, Book
from upkeep.cli.clock import now
from upkeep.cli.outputs import private
from upkeep.cli.progress import BUILDING, watch_of
from upkeep.cli.saying import reader_of, say
from upkeep.due.states import CALLING
from upkeep.errors import Refused
from upkeep.papers.board_text import board_text
from upkeep.said import Numeral, said
from upkeep.store.disk.place import refuse_what_is_left, remove_with_what_is_beside
from upkeep.store.disk.seals_beside import SEALS

DEMO_BOOK = Path("demo-plant.db")


@click.command()
@click.option("--days", type=click.IntRange(1, 4000), default=90, show_default=True, help="Days of history.")
@click.option("--seed", type=int, default=7, show_default=True, help="The same seed gives the same book.")
@click.option(
    "--book",
    "book_path",
    type=click.Path(path_type=Path, dir_okay=False),
    default=DEMO_BOOK,
    show_default=True,
    help="Where to put the demo's book.",
)
@click.option("--fresh", is_flag=True, help="Make it again in place of an earlier demo.")
def demo(days: int, seed: int, book_path: Path, fresh: bool) -> int:
    """Build the demo plant's book - an invented crimp shop - and open the screens on it.

    Where standard output is no terminal, print the board instead.
    """
    if book_path.exists() and not fresh:
        say(said("Using the book made earlier, {book}; --fresh makes a new one.", book=book_path), err=True)
    else:
        if book_path.exists():
            _refuse_unless_demo(book_path)
        else:
            refuse_what_is_left(book_path)
        _build(book_path, days, seed)
    _say_codes(book_path)
    if sys.stdout.isatty():
        from upkeep.cli.screens import open_screens

        return open_screens(book_path)
    with Book.open(book_path) as book:
        click.echo(board_text(book.board(now(), BoardQuery(states=frozenset(CALLING))), reader_of(book)), nl=False)
    say(said("\nOpen the screens in a terminal: strokebook screens --book {book}", book=book_path))
    return 0


def _refuse_unless_demo(book_path: Path) -> None:
    """Raises :class:`Refused` where the file to be replaced is anything but a book of the demo plant."""
    from demo_plant.build import is_built

    if not is_built(book_path):
        raise Refused(
            said(
                "{book} is no book of the demo plant, and --fresh replaces nothing else. Choose another name with "
                "--book, or move the file away.",
                book=book_path,
            )
        )


def _build(book_path: Path, days: int, seed: int) -> None:
    """Builds the book beside its place and puts it there when it is whole."""
    from demo_plant.build import build

    say(
        said("Building {days} days of an invented plant into {book} ...", days=Numeral(days), book=book_path),
        err=True,
    )
    partial = book_path.with_name(f".{book_path.name}.part")
    remove_with_what_is_beside(partial)
    try:
        with build(partial, days=days, end=now(), seed=seed, watch=watch_of(book_path, BUILDING)) as book:
            say(said("{n} entries.", n=book.newest_written(1)[0].entry), err=True)
        remove_with_what_is_beside(book_path)  # with its write-ahead log, which would be played over the new book
        Path(f"{book_path}{SEALS}").unlink(missing_ok=True)  # an earlier demo of the same seed has the same id
        os.replace(partial, book_path)
        _give_codes(book_path)
    finally:
        remove_with_what_is_beside(partial)


def _give_codes(book_path: Path) -> None:
    """Gives the people of the demo their codes, and its commands a file of tokens."""
    from demo_plant.codes import give_codes

    tokens = tokens_of(book_path)
    tokens.unlink(missing_ok=True)
    with Book.open(book_path) as book:
        book.naming.keys.path.unlink(missing_ok=True)  # those of an earlier demo
        lines = give_codes(book, now())
    with os.fdopen(private(tokens), "w", encoding="ascii") as file:
        file.write(lines)


def tokens_of(book_path: Path) -> Path:
    """Where the tokens of a demo are."""
    from demo_plant.codes import TOKENS

    return book_path.with_suffix(TOKENS)


def _say_codes(book_path: Path) -> None:
    from demo_plant.codes import CODE, PASSWORD

    say(
        said(
            "This demo goes by codes: everybody's is {code}; lead, quality, manager and keepers have the password "
            "'{password}'. Its commands take a token: export STROKEBOOK_TOKEN_FILE={tokens}",
            code=CODE,
            password=PASSWORD,
            tokens=tokens_of(book_path),
        ),
        err=True,
    )
