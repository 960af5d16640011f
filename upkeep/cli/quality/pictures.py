"""Pictures of items: kept with their checksum, looked after, laid side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book
from upkeep.cli.options import book_option, happened_option, json_option, opened, say_json, seen, write
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.saying import WrongUsage
from upkeep.errors import NotFound
from upkeep.papers import wear_text
from upkeep.said import said
from upkeep.units.instants import Zone

if TYPE_CHECKING:
    from upkeep.entries.entry import Entry
    from upkeep.views.wear import PictureState

_CHUNK = 1 << 20


@click.command()
@click.argument("item", required=False)
@click.argument("file", required=False, type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--as-new", is_flag=True, help="This is the picture to compare later ones with.")
@click.option("--check", "look", is_flag=True, help="Check that the files are unchanged; write nothing.")
@click.option(
    "--beside", type=click.Path(path_type=Path, dir_okay=False), metavar="PNG",
    help="Draw the last picture of ITEM beside the one as new, at the same scale, to this file.",
)  # fmt: skip
@replace_option
@happened_option
@click.option("--by", envvar="STROKEBOOK_BY", help="Who is writing: a person's id.")
@json_option
@book_option
def picture(
    item: str | None, file: Path | None, as_new: bool, look: bool, beside: Path | None, replacing: bool,
    at_text: str | None, by: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Keep a picture FILE of ITEM with its checksum, or --check the files of ITEM (or of all items).

    The file stays where it is; a missing or altered file is reported, and the entry stays.

    Example: strokebook picture CP-031 photos/cp-031-new.jpg --as-new --by tom
    """
    if item is not None and file is not None and not look and beside is None:
        _keep(item, file, as_new, by, at_text, book_path)
        return
    if file is not None or not (look or (beside is not None and item is not None)):
        raise WrongUsage(said("Give ITEM and FILE to keep a picture, or --check, or ITEM --beside PNG."))
    with opened(book_path) as book:
        at, _ = seen(at_text, None, book.zone)
        pictures = looked_at(book.wear(at).pictures(item), book.path)
        if beside is not None:
            _draw_beside(pictures, beside, book.zone, book.path, replacing)
        say_json(list(pictures)) if as_json else click.echo(wear_text.pictures_text(pictures, book.zone), nl=False)


def _keep(item: str, file: Path, as_new: bool, by: str | None, at_text: str | None, book_path: Path) -> None:
    if by is None:
        raise WrongUsage(said("Say who keeps it: --by ID, or STROKEBOOK_BY."))

    def entries(book: Book, at: datetime) -> list[Entry]:
        from upkeep.entries.lives import Picture

        named = _named(file, book.path)
        return [Picture(at=at, by=by, item=item, file=named, sha256=_checksum(file), as_new=as_new)]

    write(book_path, at_text, entries)


def _draw_beside(pictures: Sequence[PictureState], target: Path, zone: Zone, book_path: Path, replacing: bool) -> None:
    from upkeep.papers.beside import side_by_side

    new = [picture for picture in pictures if picture.as_new]
    later = [picture for picture in pictures if not picture.as_new]
    if not (new and later):
        missing = said("picture as new") if not new else said("later picture")
        raise NotFound(missing, pictures[0].item if pictures else "of this item")
    folder = book_path.resolve().parent
    shown = [(folder / picture.file, _caption(picture, zone)) for picture in (new[-1], later[-1])]
    drawn = side_by_side((shown[0], shown[1]))
    put(target, drawn, replacing=replacing)


def _caption(picture: PictureState, zone: Zone) -> str:
    return f"{picture.item} {zone.day(picture.at)}{' as new' if picture.as_new else ''}{_warned(picture)}"


def _warned(picture: PictureState) -> str:
    return f" ({picture.trouble.split(':')[0]})" if picture.trouble else ""


def looked_at(pictures: Sequence[PictureState], book_path: Path) -> tuple[PictureState, ...]:
    """The pictures with what has become of their files."""
    folder = book_path.resolve().parent
    return tuple(replace(picture, trouble=_trouble(folder / picture.file, picture.sha256)) for picture in pictures)


def _named(file: Path, book_path: Path) -> str:
    """A file as the book names it: from the book's folder where it lies within, else by its whole path."""
    folder, whole = book_path.resolve().parent, file.resolve()
    return whole.relative_to(folder).as_posix() if whole.is_relative_to(folder) else str(whole)


def _trouble(file: Path, sha256: str) -> str:
    try:
        return "" if _checksum(file) == sha256 else "ALTERED: it is not the file that was kept"
    except OSError:
        return "MISSING: no such file can be read"


def _checksum(file: Path) -> str:
    import hashlib  # with the library behind it: only where there is a picture

    checksum = hashlib.sha256()
    with file.open("rb") as opened_file:
        while chunk := opened_file.read(_CHUNK):
            checksum.update(chunk)
    return checksum.hexdigest()
