"""What stands out in how work was signed."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import (
    book_option,
    by_option,
    happened_option,
    json_option,
    moment_of,
    number,
    opened,
    say_json,
    seen_option,
    write,
)
from upkeep.cli.proving import proven
from upkeep.cli.saying import reader_of
from upkeep.papers.hints_text import hints_text


@click.command()
@seen_option
@by_option
@json_option
@book_option
def hints(at_text: str | None, by: str, as_json: bool, book_path: Path) -> None:
    """What stands out in how work was signed in the last seven days; for the maintenance lead alone.

    Sign-offs that came faster than work goes, work signed while the press cannot have stood for it, readings that are
    always the same, a signature at another place than the item, each with its arithmetic; and a few sign-offs drawn by
    chance (recheck_percent), for somebody else to look at again: everybody who has the book draws the same ones.

    A hint accuses nobody; it says what was seen and asks. Nothing is looked for until the plant names the agreement
    with those who sign in plant.toml, as hints_agreed = "works agreement of 2026-02-01".

    What they saw is entered with 'looked-again', and told here alone.

    Example: strokebook hints --by lea
    """
    with opened(book_path) as book:
        at = moment_of(at_text, book.zone)
        seen = book.signing_hints(by, at)  # whoever may not see it hears so before a code is asked for
        proven(book, by)
        if as_json:
            say_json(seen)
        else:
            click.echo(hints_text(seen, book.zone, reader_of(book)), nl=False)


@click.command()
@click.argument("entry")
@click.option("--agrees/--differs", required=True, help="Whether the work is as it was signed.")
@click.option("--text", required=True, help="What you saw, in your words.")
@happened_option
@by_option
@book_option
def looked_again(entry: str, agrees: bool, text: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Say what you saw at the work of sign-off ENTRY, which was drawn for another look ('hints').

    By anybody but who did it, once. The lead alone reads what was seen.

    Example: strokebook looked-again 812 --differs --text "slides dry" --by tom
    """
    from upkeep.entries.signing import LookedAgain

    sign_off = number(entry.removeprefix("#"))
    write(
        book_path, at_text,
        lambda _, at: [LookedAgain(at=at, by=by, entry=sign_off, agrees=agrees, text=text)],
    )  # fmt: skip


globals()["looked-again"] = looked_again
