"""Opening the screens."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import book_option, opened


@click.command()
@click.option("--place", help="Open the round of this press or place.")
@click.option("--by", envvar="STROKEBOOK_BY", help="Who is at the screen; if left out, it is asked when needed.")
@book_option
def screens(place: str | None, by: str | None, book_path: Path) -> int:
    """Open the screens: what is due (lead), the round of one place (operator), the sign-off."""
    with opened(book_path):
        pass
    return open_screens(book_path, place, by)


def open_screens(book_path: Path, place: str | None = None, by: str | None = None) -> int:
    """Runs the screens on a book until they are left; the exit code."""
    from tui.app import run

    return run(book_path, place=place, by=by)
