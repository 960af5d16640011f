"""Opening the screens."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from time import sleep

import click

from upkeep.cli.options import book_option, opened
from upkeep.cli.saying import READER, words
from upkeep.errors import StrokebookError
from upkeep.said import Clause, said

_PAUSE = 5
"""Seconds before a station that closed by itself is opened again."""


@click.command()
@click.option("--place", help="A station: the round of this press or place, which only a keeper closes.")
@click.option("--by", envvar="STROKEBOOK_BY", help="Who is at the screen; if left out, it is asked when needed.")
@click.option(
    "--look",
    type=click.Choice(["light", "dark", "plain"]),
    default="light",
    envvar="STROKEBOOK_LOOK",
    help="Ink on paper, light on dark, or the terminal's own two colours (or STROKEBOOK_LOOK).",
)
@book_option
def screens(place: str | None, by: str | None, look: str, book_path: Path) -> int:
    """Open the screens: what is due (lead), the round of one place (operator), the sign-off."""
    with opened(book_path):
        pass
    return open_screens(book_path, place, by, look)


def open_screens(book_path: Path, place: str | None = None, by: str | None = None, look: str = "light") -> int:
    """Runs the screens on a book until they are left; the exit code.  Those of a place open again by themselves."""
    from tui.app import run

    opened_so = partial(run, book_path, place=place, look=look, language=READER.language)
    if place is None:
        return opened_so(by=by)
    return kept_open(partial(opened_so, by=by), opened_so)


def kept_open(first: Callable[[], int], again: Callable[[], int], wait: Callable[[float], None] = sleep) -> int:
    """Runs a station until a keeper closes it.

    A fault of the program, or a book that is away for a time, is told in a sentence, and after a pause the station is
    opened again with nobody named.  A refusal at the first opening, an unknown place say, is raised.
    """
    opened, run = False, first
    while True:
        try:
            return run()
        except StrokebookError as refusal:
            if not opened:
                raise
            why = refusal.said
        except Exception as error:
            why = said("a fault of the program, {kind}: {error}", kind=type(error).__name__, error=str(error))
        opened, run = True, again
        again_soon = said("The station closed: {why}. It opens again in {n} seconds.", why=Clause(why), n=_PAUSE)
        click.echo(words(again_soon), err=True)
        wait(_PAUSE)
