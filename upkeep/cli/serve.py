"""Keeping the book by itself."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.book import Book, Proven
from upkeep.cli.options import book_option, opened
from upkeep.cli.proving import unattended
from upkeep.cli.saying import WrongUsage
from upkeep.errors import Refused
from upkeep.said import said
from upkeep.service.drops import DropFolder


@click.command()
@click.option("--lists", type=click.Path(path_type=Path, file_okay=False), default=Path("lists"), show_default=True,
              help="Folder for the weekly lists.")  # fmt: skip
@click.option("--backups", type=click.Path(path_type=Path, file_okay=False), default=Path("backups"), show_default=True,
              help="Folder for the nightly backups.")  # fmt: skip
@click.option("--keep", type=click.IntRange(1), default=14, show_default=True, help="How many good backups to keep.")
@click.option("--drop", type=click.Path(path_type=Path, file_okay=False), help="Folder of CSV files to take in.")
@click.option("--by", envvar="STROKEBOOK_BY", help="In whose name dropped files are entered: a person's id.")
@book_option
def serve(lists: Path, backups: Path, keep: int, drop: Path | None, by: str | None, book_path: Path) -> None:
    """Run unattended: shift changes, Monday's weekly list, nightly proven backups.  Ctrl-C stops it.

    --drop FOLDER takes in the CSV files that other programs put there, each once it no longer changes: counts,
    quantities or orders, as 'count', 'quantity' and 'order' take them with --from.  A file whose lines were all good
    is moved to FOLDER/taken, any other to FOLDER/refused with a text beside it that says what is wrong; its good lines
    are in the book.

    Example: strokebook serve --drop incoming --by lea
    """
    with opened(book_path) as book:
        folder = None if drop is None else _drop_folder(book, drop, by)
    from upkeep.service.serve import serve as keep_book

    keep_book(book_path, lists=lists, backups=backups, keep=keep, drop=folder)


def _drop_folder(book: Book, folder: Path, by: str | None) -> DropFolder:
    if by is None:
        raise WrongUsage(said("Say with --by in whose name the dropped files are entered."))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused(said("{folder} cannot be made: {why}.", folder=folder, why=str(error.strerror))) from None
    person = book.known.person(by).id

    def prove(held: Book) -> Proven:
        return unattended(held, person)

    prove(book)
    return DropFolder(folder, book.path, person, prove)
