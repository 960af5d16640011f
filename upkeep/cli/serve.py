"""Keeping the book by itself."""

from __future__ import annotations

from contextlib import AbstractContextManager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book, Proven
from upkeep.cli.options import book_option, opened
from upkeep.cli.proving import token_file, unattended
from upkeep.cli.saying import WrongUsage
from upkeep.errors import Refused
from upkeep.said import Quoted, said
from upkeep.service.drops import DropFolder
from upkeep.wording.sentences import languages

if TYPE_CHECKING:
    from upkeep.station.server.setting import Setting

HERE = "127.0.0.1:8600"
"""Where stations are served unless told otherwise: on this machine alone."""


@click.command()
@click.option("--lists", type=click.Path(path_type=Path, file_okay=False), default=Path("lists"), show_default=True,
              help="Folder for the weekly lists.")  # fmt: skip
@click.option("--backups", type=click.Path(path_type=Path, file_okay=False), default=Path("backups"), show_default=True,
              help="Folder for the nightly backups.")  # fmt: skip
@click.option("--keep", type=click.IntRange(1), default=14, show_default=True, help="How many good backups to keep.")
@click.option("--drop", type=click.Path(path_type=Path, file_okay=False), help="Folder of CSV files to take in.")
@click.option("--by", envvar="STROKEBOOK_BY", help="The person in whose name dropped files are entered: an id.")
@click.option("--stations", is_flag=False, flag_value=HERE, metavar="[HOST:PORT]",
              help=f"Serve the pages of the stations; without HOST:PORT at {HERE}.")  # fmt: skip
@click.option("--called", multiple=True, metavar="NAME", help="A name or address by which tablets call this machine.")
@click.option("--certificate", type=click.Path(path_type=Path, dir_okay=False), help="The plant's certificate (PEM).")
@click.option("--key", type=click.Path(path_type=Path, dir_okay=False), help="The key of the certificate (PEM).")
@click.option("--language", type=click.Choice(languages()), help="The language of tablets on which none was chosen.")
@book_option
def serve(
    lists: Path, backups: Path, keep: int, drop: Path | None, by: str | None, stations: str | None,
    called: tuple[str, ...], certificate: Path | None, key: Path | None, language: str | None,
    book_path: Path,
) -> None:  # fmt: skip
    """Run unattended: shift changes, Monday's weekly list, nightly proven backups.  Ctrl-C stops it.

    --drop FOLDER takes in the CSV files that other programs put there, each once it no longer changes: counts,
    quantities or orders, as 'count', 'quantity' and 'order' take them with --from.  A file whose lines were all good
    is moved to FOLDER/taken, any other to FOLDER/refused with a text beside it that says what is wrong; its good lines
    are in the book.

    --stations serves pages for tablets and PCs at the presses.  Other machines reach them at an address of the plant's
    network, with a certificate of the plant's own; --called says under which names they may ask.  A tablet is read in
    the language chosen on it, else in --language, else in the station_language of plant.toml, else in the first of the
    plant's languages; whoever is named there reads their own.

    Example: strokebook serve --drop incoming --by lea

    Example: strokebook serve --stations 0.0.0.0:8600 --called strokebook.plant --certificate plant.pem --key plant.key
    """
    with opened(book_path) as book:
        folder = None if drop is None else _drop_folder(book, drop, by)
    if stations is None and (called or certificate or key or language):
        raise WrongUsage(said("--called, --certificate, --key and --language go with --stations."))
    served = None if stations is None else _setting(book_path, stations, called, certificate, key, language)
    from upkeep.service.serve import serve as keep_book

    keep_book(book_path, lists=lists, backups=backups, keep=keep, drop=folder, beside=_beside(served))


def _beside(setting: Setting | None) -> AbstractContextManager[object] | None:
    if setting is None:
        return None
    from upkeep.station.server.run import serving

    return serving(setting)


def _setting(
    book_path: Path, address: str, called: tuple[str, ...], certificate: Path | None, key: Path | None,
    language: str | None,
) -> Setting:  # fmt: skip
    from upkeep.station.server.setting import Setting

    host, _, port = address.rpartition(":")
    if not port.isascii() or not port.isdigit() or not 0 < int(port) < 65536 or not host:
        raise WrongUsage(said("{address} is not HOST:PORT; write it like {here}.", address=Quoted(address), here=HERE))
    return Setting(book_path, host.strip("[]"), int(port), frozenset(called), certificate, key, language)


def _drop_folder(book: Book, folder: Path, by: str | None) -> DropFolder:
    if by is None:
        raise WrongUsage(said("Say with --by in whose name the dropped files are entered."))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused(said("{folder} cannot be made: {why}.", folder=folder, why=str(error.strerror))) from None
    person, tokens = book.known.person(by).id, token_file()

    def prove(held: Book) -> Proven:
        return unattended(held, person, tokens)

    prove(book)
    return DropFolder(folder, book.path, person, prove)
