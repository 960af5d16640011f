"""What is under way: jobs on lines, and locks on presses."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    happened_option,
    json_option,
    moment_of,
    number,
    opened,
    say_cautions,
    say_json,
    say_page,
    seen_option,
    write,
)
from upkeep.cli.saying import reader_of, say
from upkeep.entries.jobs import GiveUp, GoOn, Interrupt, Lock, Start, Unlock
from upkeep.papers import handover_text
from upkeep.plant.line_names import LineName
from upkeep.wording.jobs import LOCK_CAUTION


@click.command()
@click.argument("line")
@happened_option
@by_option
@book_option
def start(line: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Begin a job on LINE (item/task); the line then says who has it. Its sign-off ends it.

    Example: strokebook start DS-031/inspect-die --by tom
    """

    def begun(book: Book, at: datetime) -> list[Start]:
        item, task = LineName.read(line)
        say_cautions(book.cautions_for([(item, task)]))
        return [Start(at=at, by=by, item=item, task=task)]

    write(book_path, at_text, begun)


@click.command()
@click.argument("job", type=number)
@click.option("--step", type=click.IntRange(0, 99), help="The last step that is done.")
@click.option("--left", default="", help="Where the parts lie, and how they were left.")
@because_option
@happened_option
@by_option
@book_option
def interrupt(
    job: int, step: int | None, left: str, because: str, at_text: str | None, by: str, book_path: Path
) -> None:
    """Leave your JOB (its number) for a while: what it waits for, how far it is, where its parts lie.

    If the press counts meanwhile, the job begins at step 1 again.

    Example: strokebook interrupt 812 --step 4 --left "bench 2, in pieces" --because "waits for a punch" --by tom
    """
    write(book_path, at_text, lambda book, at: [Interrupt(at=at, by=by, job=job, step=step, left=left,
                                                          because=because)])  # fmt: skip


@click.command("go-on")
@click.argument("job", type=number)
@happened_option
@by_option
@book_option
def go_on(job: int, at_text: str | None, by: str, book_path: Path) -> None:
    """Go on with JOB (its number): your own that waited, or somebody else's that you take over.

    Example: strokebook go-on 812 --by ben
    """

    def on(book: Book, at: datetime) -> list[GoOn]:
        say_cautions(book.cautions_for((one.item, one.task) for one in book.jobs(at) if one.number == job))
        return [GoOn(at=at, by=by, job=job)]

    write(book_path, at_text, on)


@click.command("give-up")
@click.argument("job", type=number)
@because_option
@happened_option
@by_option
@book_option
def give_up(job: int, because: str, at_text: str | None, by: str, book_path: Path) -> None:
    """End your JOB (its number) without its work being done; its line stays as it is.

    Example: strokebook give-up 812 --because "wrong module" --by tom
    """
    write(book_path, at_text, lambda book, at: [GiveUp(at=at, by=by, job=job, because=because)])


@click.command()
@seen_option
@json_option
@book_option
def jobs(at_text: str | None, as_json: bool, book_path: Path) -> None:
    """Every job under way: who has it, since when, what it waits for."""
    with opened(book_path) as book:
        found = book.jobs(moment_of(at_text, book.zone))
        say_json(found) if as_json else say_page(book, handover_text.jobs_text(found, book.zone, reader_of(book)))


@click.command()
@click.argument("press")
@click.argument("point")
@happened_option
@by_option
@book_option
def lock(press: str, point: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Tell that your own lock hangs on PRESS at POINT; the press is not released until every lock has come off.

    Example: strokebook lock P-07 "air valve" --by tom
    """
    say(LOCK_CAUTION)
    write(book_path, at_text, lambda book, at: [Lock(at=at, by=by, item=press, point=point)])


@click.command()
@click.argument("lock", type=number)
@click.option("--witness", help="Who saw it come off, where its owner is away.")
@because_option
@happened_option
@by_option
@book_option
def unlock(
    lock: int, witness: str | None, because: str, at_text: str | None, by: str, book_path: Path
) -> None:  # fmt: skip
    """Tell that your own LOCK (its number) came off.

    Nobody else takes it off the list. Where its owner is away, the plant's own procedure decides; the lead then
    enters that the lock came off, with a witness and the reason.

    Example: strokebook unlock 812 --by tom
    """
    write(book_path, at_text, lambda book, at: [Unlock(at=at, by=by, lock=lock, witness=witness, because=because)])


@click.command()
@seen_option
@json_option
@book_option
def locks(at_text: str | None, as_json: bool, book_path: Path) -> None:
    """Every lock that hangs on a press: whose, where, since when."""
    with opened(book_path) as book:
        found = book.locks(moment_of(at_text, book.zone))
        say_json(found) if as_json else say_page(book, handover_text.locks_text(found, book.zone, reader_of(book)))


globals()["go-on"] = go_on
globals()["give-up"] = give_up
