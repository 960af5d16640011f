"""Items that leave this book for another plant's, and such that come from there."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.clock import now
from upkeep.cli.options import because_option, book_option, by_option, opened, say_written
from upkeep.cli.outputs import put
from upkeep.cli.proving import proven
from upkeep.cli.saying import say
from upkeep.entries.lives import Retire
from upkeep.entries.origin import FROM_A_FILE, IN_A_SHELL
from upkeep.said import Numeral, said
from upkeep.seals.line import read_seal


@click.command("transfer-out")
@click.argument("item")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--to", "to_plant", required=True, help="The plant it goes to.")
@by_option
@because_option
@book_option
def transfer_out(item: str, file: Path, to_plant: str, by: str, because: str, book_path: Path) -> None:
    """ITEM leaves for another plant with all that sits in it; FILE goes with it, with strokes, history and seal.

    It has left this book for good: it can never be fitted here again. Its history stays.

    Example: strokebook transfer-out DS-012 ds-012.json --to "plant B" --because "presses merged" --by yara
    """
    from upkeep.sources.transferred import transfer_of

    with opened(book_path) as book:
        book.known.item(item)
        transfer = transfer_of(book, item, now())
        reason = f"to {to_plant}" + (f": {because}" if because else "")
        moment = now()
        entries = [
            Retire(at=moment, by=by, item=one.definition["id"], end="other", because=reason) for one in transfer.items
        ]
        name = proven(book, by, entries=entries)
        put(file, transfer.model_dump_json(indent=1).encode(), replacing=False)
        try:
            say_written(book, book.write(entries, now, IN_A_SHELL, name))
        except BaseException:
            file.unlink()
            raise
        say(said("{file}: written; items that leave: {n}. Send it with them.", file=file, n=len(entries)))


@click.command("transfer-in")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--place", required=True, help="Where it belongs in this plant.")
@click.option("--rename", multiple=True, help="Another id here, OLD=NEW; again for others.")
@by_option
@because_option
@book_option
def transfer_in(file: Path, place: str, rename: tuple[str, ...], by: str, because: str, book_path: Path) -> None:
    """Items come from another plant with FILE, which 'transfer-out' made there.

    What they did there counts with its highest number, and is marked as stated, not verified, with the seal of the
    other plant's book. Keep FILE: its checksum stands in the book.

    Example: strokebook transfer-in ds-012.json --place R-03 --because "presses merged" --by yara
    """
    from upkeep.sources.transferred import entering, is_press, read_transfer, renamed_by

    transfer, checksum = read_transfer(file)
    with opened(book_path) as book:
        entries = list(entering(book, transfer, checksum, now(), by, place, because, renamed_by(rename)))
        name = proven(book, by, entries=entries)
        say_written(book, book.write(entries, now, FROM_A_FILE, name))
        seal = read_seal(transfer.seal)
        say(said("From {plant}, stated, not verified; that book ended with #{entry} then.", plant=transfer.plant,
                 entry=Numeral(seal.entry)))  # fmt: skip
        if is_press(transfer):
            say(said("Read its counter where it stands now ('strokebook count')."))


globals()["transfer-out"], globals()["transfer-in"] = transfer_out, transfer_in
"""A command is looked up by its name, and these have a hyphen."""
