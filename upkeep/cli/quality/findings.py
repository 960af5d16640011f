"""What may not run, and what the lead should know of an item."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import because_option, book_option, by_option, happened_option, write
from upkeep.entries.faults import Happened, Hold, Pause, Release, Resume
from upkeep.entries.lives import Remark
from upkeep.plant.line_names import LineName
from upkeep.plant.model import TOLD


@click.command()
@click.argument("item")
@happened_option
@by_option
@because_option
@book_option
def hold(item: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Hold ITEM: it must not run until somebody releases it."""
    write(book_path, at_text, lambda book, at: [Hold(at=at, by=by, item=item, because=because)])


@click.command()
@click.argument("item")
@happened_option
@by_option
@because_option
@book_option
def release(item: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Release the held ITEM; only the lead and quality may."""
    write(book_path, at_text, lambda book, at: [Release(at=at, by=by, item=item, because=because)])


@click.command()
@click.argument("item")
@happened_option
@by_option
@because_option
@book_option
def pause(item: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Put ITEM into storage or out of use; its lines are paused."""
    write(book_path, at_text, lambda book, at: [Pause(at=at, by=by, item=item, because=because)])


@click.command()
@click.argument("item")
@happened_option
@by_option
@because_option
@book_option
def resume(item: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Bring ITEM back from storage; its lines continue."""
    write(book_path, at_text, lambda book, at: [Resume(at=at, by=by, item=item, because=because)])


@click.command()
@click.argument("item")
@click.argument("event", type=click.Choice([event.replace(" ", "-") for event in TOLD]))
@happened_option
@by_option
@because_option
@book_option
def happened(item: str, event: str, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Tell that something happened to ITEM that asks for work before it runs again, by the tasks that wait for it.

    A press was moved, its guard taken off for work; an item came back from outside the plant.

    Example: strokebook happened P-07 guard-removed --because "feed repaired" --by tom
    """
    what = event.replace("-", " ")
    write(book_path, at_text, lambda book, at: [Happened(at=at, by=by, item=item, what=what, because=because)])


@click.command()
@click.argument("what", metavar="ITEM[/TASK]")
@click.argument("text")
@happened_option
@by_option
@book_option
def remark(what: str, text: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Tell the lead something about ITEM, or about TASK on it; it stays in its
    history and changes nothing on the board.

    What must not run is held ('hold'); what is broken is reported ('fault').

    Example: strokebook remark M-12 "hums since the new belt" --by ana
    """
    item, task = LineName.read(what)
    write(book_path, at_text, lambda book, at: [Remark(at=at, by=by, item=item, task=task or None, text=text)])
