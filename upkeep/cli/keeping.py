"""Keeping the book: proof, backup, restore, export."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.book import Book, ProofReport
from upkeep.cli.options import book_option, json_option, opened, say_json
from upkeep.errors import BookDamaged, BookUnavailable
from upkeep.units.quantities import grouped


@click.command()
@json_option
@book_option
def prove(as_json: bool, book_path: Path) -> None:
    """Re-play the whole book, compare everything computed, follow the chain.

    Names the first entry that differs.
    """
    with opened(book_path) as book:
        report = book.prove()
    if as_json:
        say_json(report)
    else:
        click.echo(_told(report))
    if not report.clean:
        raise BookDamaged(
            f"{book_path} does not say what its entries say. Keep this file, restore the last good backup."
        )


def _told(report: ProofReport) -> str:
    if report.clean:
        return (
            f"Clean: {grouped(report.entries)} entries re-played, {grouped(report.rows)} computed rows equal, "
            f"chain whole.\nLast link: {report.hash}"
        )
    first = f"First entry that differs: #{report.first_entry}\n" if report.first_entry else ""
    return first + "\n".join(report.differences)


@click.command()
@click.argument("target", type=click.Path(path_type=Path, dir_okay=False))
@book_option
def backup(target: Path, book_path: Path) -> None:
    """Copy the book to TARGET while others go on writing, and prove the copy."""
    with opened(book_path) as book:
        book.backup(target)
    click.echo(f"Copied to {target}. {_proven(target)}")


@click.command()
@click.argument("source", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@book_option
def restore(source: Path, book_path: Path) -> None:
    """Make the backup SOURCE the book again, under a name where no file is.

    What was written after the backup is not in it: enter those counts and sign-offs again.
    """
    if book_path.exists():
        raise BookUnavailable(f"{book_path} is there. Move it aside first: restoring never overwrites a book.")
    told = _proven(source)
    with Book.open_copy(source) as book:
        book.backup(book_path)
        last = book.last_moment()
        until = book.zone.show(last) if last else "the beginning"
    click.echo(f"{book_path} is the book again, up to {until}. {told}")


def _proven(path: Path) -> str:
    with Book.open_copy(path) as book:
        report = book.prove()
    if not report.clean:
        raise BookDamaged(f"{path} does not prove clean: {report.differences[0]} Use an older backup.")
    return f"Proven clean: {grouped(report.entries)} entries."


@click.command()
@book_option
def export(book_path: Path) -> None:
    """Print every entry as its one line of text, in the order written."""
    with opened(book_path) as book:
        click.echo(f"# {book.facts.name}; moments are local time in {book.zone.name}")
        for line in book.export():
            click.echo(line)
