"""Pictures of items: kept with their checksum, looked after, laid side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book
from upkeep.cli.options import book_option, happened_option, json_option, number, opened, say_json, seen, write
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.saying import WrongUsage, reader_of, words
from upkeep.errors import BookDamaged, NotFound, Refused
from upkeep.papers import wear_text
from upkeep.said import DayOf, Said, said, said_many, term
from upkeep.units.instants import Zone

if TYPE_CHECKING:
    from upkeep.entries.entry import Entry
    from upkeep.views.wear import PictureState


@click.command()
@click.argument("item", required=False)
@click.argument("file", required=False, type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--as-new", is_flag=True, help="This is the picture to compare later ones with.")
@click.option("--check", "look", is_flag=True, help="Check that the files are unchanged; write nothing.")
@click.option(
    "--beside", type=click.Path(path_type=Path, dir_okay=False), metavar="PNG",
    help="Draw the last picture of ITEM beside the one as new, at the same scale, to this file.",
)  # fmt: skip
@click.option("--of", "of", type=number, help="The sign-off, check or fault it belongs to, by its entry number.")
@click.option("--scale", type=float, metavar="POINTS", help="How many points of the picture are one millimetre.")
@replace_option
@happened_option
@click.option("--by", envvar="STROKEBOOK_BY", help="Who is writing: a person's id.")
@json_option
@book_option
def picture(
    item: str | None, file: Path | None, as_new: bool, look: bool, beside: Path | None, of: int | None,
    scale: float | None, replacing: bool,
    at_text: str | None, by: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Keep a picture FILE of ITEM with its checksum, or --check the files of ITEM (or of all items).

    FILE is copied to the folder 'pictures' beside the book, under its checksum, and goes with every backup; it must be
    a picture, whatever it is called.  A missing or altered picture is reported, and the entry stays; --check then ends
    with exit code 1.

    Two pictures are drawn at one scale: a millimetre is as long on both, where --scale says how long it is.

    Example: strokebook picture CP-031 photos/cp-031-new.jpg --as-new --by tom
    """
    if item is not None and file is not None and not look and beside is None:
        _keep(item, file, (as_new, of, scale), by, at_text, book_path)
        return
    if file is not None or not (look or (beside is not None and item is not None)):
        raise WrongUsage(said("Give ITEM and FILE to keep a picture, or --check, or ITEM --beside PNG."))
    with opened(book_path) as book:
        at, _ = seen(at_text, None, book.zone)
        pictures = looked_at(book.wear(at).pictures(item), book.path)
        if beside is not None:
            _draw_beside(pictures, beside, book.zone, book.path, replacing)
        say_json(list(pictures)) if as_json else click.echo(
            wear_text.pictures_text(pictures, book.zone, reader_of(book)), nl=False
        )
    wrong = sum(1 for picture in pictures if picture.trouble)
    if look and wrong:
        raise BookDamaged(
            said_many(
                "{n} picture is not as it was kept. The last good backup has it.",
                "{n} pictures are not as they were kept. The last good backup has them.",
                n=wrong,
            )
        )


def _keep(
    item: str, file: Path, told: tuple[bool, int | None, float | None], by: str | None, at_text: str | None,
    book_path: Path,
) -> None:  # fmt: skip
    if by is None:
        raise WrongUsage(said("Say who keeps it: --by ID, or STROKEBOOK_BY."))

    def entries(book: Book, at: datetime) -> list[Entry]:
        from upkeep.entries.lives import Picture

        as_new, of, scale = told
        sha256 = _put_away(file, book.path)
        named = _named(file, book.path)
        return [Picture(at=at, by=by, item=item, file=named, sha256=sha256, as_new=as_new, of=of, scale=scale)]

    write(book_path, at_text, entries)


def _put_away(file: Path, book_path: Path) -> str:
    from upkeep.papers.beside import ending_of
    from upkeep.store.disk.pictures import keep

    try:
        return keep(book_path, file, ending_of(file))
    except OSError as error:
        raise Refused(said("{file} cannot be kept: {why}.", file=file, why=str(error.strerror))) from error


def _draw_beside(pictures: Sequence[PictureState], target: Path, zone: Zone, book_path: Path, replacing: bool) -> None:
    from upkeep.papers.beside import Shown, side_by_side
    from upkeep.store.disk.pictures import place_of

    new = [picture for picture in pictures if picture.as_new]
    later = [picture for picture in pictures if not picture.as_new]
    if not (new and later):
        missing = said("picture as new") if not new else said("later picture")
        if not pictures:
            raise Refused(said("There is no picture of this item in this book."))
        raise NotFound(missing, pictures[0].item)
    shown = [
        Shown(place_of(book_path, picture.file, picture.sha256), words(_caption(picture, zone)), picture.scale)
        for picture in (new[-1], later[-1])
    ]
    drawn = side_by_side((shown[0], shown[1]))
    put(target, drawn, replacing=replacing)


def _caption(picture: PictureState, zone: Zone) -> Said:
    caption = said("{item} {day}", item=picture.item, day=DayOf(picture.at, zone))
    if picture.as_new:
        caption = said("{caption} as new", caption=caption)
    if not picture.trouble:
        return caption
    return said("{caption} ({trouble})", caption=caption, trouble=term(picture.trouble.split(":")[0]))


def looked_at(pictures: Sequence[PictureState], book_path: Path) -> tuple[PictureState, ...]:
    """The pictures with what has become of their files."""
    if not pictures:
        return ()
    from upkeep.store.disk.pictures import trouble_of  # with what hashes

    return tuple(replace(picture, trouble=trouble_of(book_path, picture.file, picture.sha256)) for picture in pictures)


def _named(file: Path, book_path: Path) -> str:
    """A file as the book names it: from the book's folder where it lies within, else by its whole path."""
    folder, whole = book_path.resolve().parent, file.resolve()
    return whole.relative_to(folder).as_posix() if whole.is_relative_to(folder) else str(whole)
