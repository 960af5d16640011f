"""A book from definition files."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.options import book_option, by_option, now, say_written
from upkeep.plant.definition import Definition


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False, exists=True))
@click.option("--dry-run", is_flag=True, help="Show what would change; write nothing.")
@by_option
@book_option
def new(folder: Path, dry_run: bool, by: str, book_path: Path) -> None:
    """Make a book from the definition files in FOLDER, or load them again after a change.

    The files are plant.toml, places.csv, people.csv, items.csv and tasks.toml.  Nothing is loaded until all of them
    are right; loading the same files twice changes nothing.
    """
    from upkeep.plant.files import read_definitions

    definitions = read_definitions(folder)
    existed = book_path.exists()
    if dry_run and not existed:
        _say_changes(book_path, definitions, frozenset())
        return
    with Book.open(book_path) if existed else Book.create(book_path) as book:
        changed = book.changed(definitions)
        known = frozenset((one.what, one.key) for one in changed if book.defines(one.what, one.key))
        _say_changes(book_path, changed, known)
        if not dry_run:
            moment = now()
            say_written(book, book.load(definitions, moment, by, moment))


def _say_changes(path: Path, changed: tuple[Definition, ...], known: frozenset[tuple[str, str]]) -> None:
    if not changed:
        click.echo(f"{path} already says all of this.")
        return
    told = Counter((one.what, (one.what, one.key) in known) for one in changed)
    for (what, was_known), number in sorted(told.items()):
        click.echo(f"  {number:>5,} {what} {'changed' if was_known else 'new'}")
    for one in changed:
        if (one.what, one.key) in known:
            click.echo(f"        changed: {one.what} {one.key}")
