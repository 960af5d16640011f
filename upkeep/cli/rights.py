"""Who may do what."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import book_option, json_option, moment_of, opened, say_json, seen_option
from upkeep.cli.saying import reader_of
from upkeep.papers import rights_text


@click.command()
@seen_option
@json_option
@book_option
def rights(at_text: str | None, as_json: bool, book_path: Path) -> None:
    """Who may do what in this plant: each act that asks for a role, the roles that have it, and the people.

    The keepers of the book are those who may restore it; they are named in plant.toml, two people at least.
    """
    with opened(book_path) as book:
        table = book.rights(moment_of(at_text, book.zone))
        if as_json:
            say_json(table)
        else:
            click.echo(rights_text.rights_text(table, reader_of(book)), nl=False)
