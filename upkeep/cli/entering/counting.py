"""Counts and fittings: what a counter showed, and what sits where since then."""

from __future__ import annotations

from datetime import datetime
from functools import partial
from pathlib import Path

import click

from upkeep.answers.whereabouts.moves import came_to_count
from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.files import from_option, take_file
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    happened_option,
    moment_of,
    number,
    opened,
    say_written,
    write,
)
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongUsage, say
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Changeover, ChangeStage, Put, Unfit
from upkeep.entries.origin import IN_A_SHELL
from upkeep.errors import Contradicted
from upkeep.said import said
from upkeep.sources.drop import COUNTS

_count_option = click.option("--count", "figure", type=number, help="What the press counter shows at that moment.")
_no_count_option = click.option("--no-count", is_flag=True, help="Nobody read it: the strokes are shared by estimate.")


_rolled_over_option = click.option(
    "--rolled-over", is_flag=True, help="The counter has rolled over since the reading before."
)
_after_reset_option = click.option(
    "--after-reset", is_flag=True, help="The counter has been set back to zero since the reading before."
)


@click.command()
@click.argument("press", required=False)
@click.argument("value", type=number, required=False)
@_rolled_over_option
@_after_reset_option
@click.option("--earlier-wrong", is_flag=True, help="Read again and right: the earlier count it contradicts is wrong.")
@from_option
@happened_option
@by_option
@because_option
@book_option
def count(
    press: str | None, value: int | None, rolled_over: bool, after_reset: bool, earlier_wrong: bool,
    file: Path | None, at_text: str | None, by: str, because: str, book_path: Path,
) -> None:  # fmt: skip
    """Enter that the counter of PRESS (or of a module that has its own) shows VALUE.

    A count faster than the press can run is refused; the lead may enter it with --because, and is asked about it later.
    One that contradicts an earlier count names that entry; with --earlier-wrong it is kept as a question for the lead.

    --from FILE takes counts from a CSV file instead, with the columns press, at, count (local time of the plant) and,
    if it has it, confirmed (rolled-over or after-reset): the good lines go in, the bad ones are listed by number, and
    loading the same file twice changes nothing.

    Example: strokebook count P-07 1204300 --by ana
    """
    if file is not None:
        take_file(book_path, file, COUNTS, by)
        return
    if press is None or value is None:
        raise WrongUsage(said("Name the press and what its counter shows, or a file with --from."))
    counted = partial(
        Count, by=by, press=press, value=value, rolled_over=rolled_over, after_reset=after_reset, because=because
    )
    try:
        write(book_path, at_text, lambda book, at: [counted(at=at)])
    except Contradicted as refusal:
        if not earlier_wrong:
            raise
        earlier = refusal.entry
        write(book_path, at_text, lambda book, at: [counted(at=at, disputes=earlier)])


@click.command()
@click.argument("item")
@click.argument("inside")
@_count_option
@_no_count_option
@_rolled_over_option
@_after_reset_option
@click.option("--until", "until_text", help="When it came out again, if that is entered afterwards.")
@click.option("--until-count", "until_figure", type=number, help="What the counter showed when it came out.")
@click.option("--swap", is_flag=True, help="Take out whatever is in the way at the same moment.")
@happened_option
@by_option
@because_option
@book_option
def fit(
    item: str, inside: str, figure: int | None, no_count: bool, rolled_over: bool, after_reset: bool,
    until_text: str | None, until_figure: int | None, swap: bool,
    at_text: str | None, by: str, because: str, book_path: Path,
) -> None:  # fmt: skip
    """Put ITEM into INSIDE: a module on a press, a die set in a module, a part in a die set.

    With --until a whole stay is entered afterwards: what hung on a press whose strokes belong to nobody, though
    something else was fitted there since.

    Example: strokebook fit DS-031 M-12 --count 1206950 --by ben
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        changing = book.moves(at, by, because)
        where = changing.press_over(inside)
        _ask_count(item, where, figure, no_count)
        moves = changing.in_(item, inside, figure, swap=swap)
        if until_text is not None:
            until = moment_of(until_text, book.zone)
            moves.append(
                Unfit(
                    at=until,
                    by=by,
                    item=item,
                    count=until_figure,
                    press=where if until_figure else None,
                    because=because,
                )
            )
        return [*came_to_count(moves, rolled_over=rolled_over, after_reset=after_reset)]

    with opened(book_path) as book:
        at = moment_of(at_text, book.zone)
        moves = entries(book, at)
        to_mind = book.before_fitting(item, at)
        for note in to_mind:
            say(said("Note: {note}", note=note))
        say_written(book, book.write(moves, now, IN_A_SHELL, proven(book, by, entries=moves)), to_mind)


@click.command()
@click.argument("item")
@_count_option
@_no_count_option
@_rolled_over_option
@_after_reset_option
@click.option("--to", help="The place it goes to, if not its home.")
@happened_option
@by_option
@because_option
@book_option
def unfit(
    item: str, figure: int | None, no_count: bool, rolled_over: bool, after_reset: bool, to: str | None,
    at_text: str | None, by: str, because: str, book_path: Path,
) -> None:  # fmt: skip
    """Take ITEM out of what it sits in.

    Example: strokebook unfit M-12 --count 1206950 --to R-03 --by ben
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        changing = book.moves(at, by, because)
        _ask_count(item, changing.press_over(item), figure, no_count)
        return [*came_to_count([changing.out(item, figure, to)], rolled_over=rolled_over, after_reset=after_reset)]

    write(book_path, at_text, entries)


@click.command()
@click.argument("press")
@click.argument("stage", type=click.Choice([stage.value for stage in ChangeStage]))
@click.argument("item", required=False)
@click.option("--text", default="", help="Why it waits, or why it is given up.")
@happened_option
@by_option
@because_option
@book_option
def changeover(
    press: str, stage: str, item: str | None, text: str, at_text: str | None, by: str, because: str, book_path: Path
) -> None:
    """Say how far a change of tools on PRESS has come: begun (with the ITEM that goes in), paused, resumed, released,
    or given up.

    What is done in it goes in by its own commands: unfit, fit, check, sign. The answer says which step comes next. A
    press that ran while the change was paused makes void what was signed and measured in it before.

    \b
    strokebook changeover P-07 begun DS-102 --by ana
    strokebook changeover P-07 paused --text "waits for wire" --by ana
    """
    from upkeep.wording.changeover import step_said, waits_said

    told = partial(
        Changeover, by=by, press=press, stage=ChangeStage(stage), item=item, text=text.strip(), because=because
    )
    write(book_path, at_text, lambda book, at: [told(at=at)])
    with opened(book_path) as book:
        change = book.changing(now()).open_on(press)
        if change is not None:
            for sentence in waits_said(change, book.zone):
                say(sentence)
            say(said("Next: {step}.", step=step_said(change.next)))


@click.command()
@click.argument("item")
@click.argument("place")
@click.option("--in-pieces", is_flag=True, help="It was taken apart there.")
@happened_option
@by_option
@because_option
@book_option
def put(item: str, place: str, in_pieces: bool, at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Put ITEM, which sits in nothing, at PLACE: a rack, a bench, the toolroom, somebody outside the plant.

    What sits in something is taken out with 'unfit', which says where it goes.

    Example: strokebook put DS-031 TR-01 --in-pieces --by ben
    """
    write(
        book_path,
        at_text,
        lambda book, at: [Put(at=at, by=by, item=item, to=place, in_pieces=in_pieces, because=because)],
    )


def _ask_count(item: str, press: str | None, figure: int | None, no_count: bool) -> None:
    if press is not None and figure is None and not no_count:
        raise WrongUsage(
            said(
                "{item} moves on {press}: read the counter and give --count, or --no-count if nobody read it.",
                item=item,
                press=press,
            )
        )
    if press is None and figure is not None:
        raise WrongUsage(said("{item} is not moving on or off a press; leave out --count.", item=item))
