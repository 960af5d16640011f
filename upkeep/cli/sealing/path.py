"""One entry shown to somebody outside, with its path to the seal of the book."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.clock import now
from upkeep.cli.evidence.proof_folder import new_folder, say_how_to_check, write_chain, write_seal
from upkeep.cli.options import book_option, opened
from upkeep.errors import BookDamaged


@click.command()
@click.argument("number", type=int)
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--withhold", multiple=True, help="A field to keep back: by, 'entered by', station, because, 'text 1' ..."
)
@book_option
def seal_path(number: int, folder: Path, withhold: tuple[str, ...], book_path: Path) -> None:
    """Show entry NUMBER with its path to the seal of the book, in a new FOLDER that anybody can check.

    The entry stands there with all that is hashed of it; names and texts that are withheld, and all other entries, by
    their digests alone: nobody learns anything else from it.

    Example: strokebook seal path 812 entry-812 --withhold by --withhold because
    """
    with opened(book_path) as book:
        if book.went_back is not None:
            raise BookDamaged(book.went_back)
        with new_folder(folder) as partial:
            write_chain(partial, book.path_lines(number, withhold))
            checksum = write_seal(partial, book, now())
        say_how_to_check(folder, checksum)
