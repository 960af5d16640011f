"""A book from definition files, and their changes with a look at what they would move."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import click

from upkeep.book import Book, StateChange
from upkeep.cli.clock import now
from upkeep.cli.options import LISTED, because_option, book_option, by_option, opened, say_written, why_of
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongUsage, say, words
from upkeep.due.states import State
from upkeep.entries.occurrences import Strokes, occurrence_of
from upkeep.entries.origin import FROM_A_FILE, IN_A_SHELL
from upkeep.entries.signing import Defer
from upkeep.plant.definition import Defined, Definition
from upkeep.said import listed, said, term

_LATE = (State.OVERDUE, State.STOP)


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False, exists=True), required=False)
@click.option(
    "--from",
    "sheets",
    type=click.Path(path_type=Path, exists=True),
    help="A workbook, or a folder of CSV files, with the sheets of the plant.",
)
@click.option("--guide", "guided", is_flag=True, help="Be led through the first hour, question by question.")
@click.option("--yes", is_flag=True, help="Load what --from found without asking, where nothing is wrong.")
@click.option("--dry-run", is_flag=True, help="Show what would change, and for which lines; write nothing.")
@click.option(
    "--stagger", type=click.IntRange(1, 366), help="Spread lines that become overdue at once over this many days."
)
@by_option
@because_option
@book_option
def new(
    folder: Path | None, sheets: Path | None, guided: bool, yes: bool, dry_run: bool, stagger: int | None, by: str,
    because: str, book_path: Path,
) -> None:  # fmt: skip
    """Make a book from the definition files in FOLDER, or load them again after a change.

    The files are plant.toml, places.csv, people.csv, items.csv and tasks.toml, and crimps.toml where crimps are
    checked.  Nothing is loaded until all of them are right; loading the same files twice changes nothing.  A changed
    task needs a reason (--because); what was signed before is judged by the interval in force then.  --dry-run says
    how many lines would become overdue at once; --stagger defers them one after another (those by strokes over half an
    interval).

    With --from the sheets a plant has already are read as they are: presses, modules, die sets, people, tasks and
    last-done, as sheets of a workbook (.xlsx) or as CSV files.  What their columns are, and in which order days are
    written, is asked once and kept beside them.  Sheet, row and column of everything that is wrong are told, and so is
    all that is read otherwise than it is written; nothing is loaded before you say so.  Loading again changes what has
    changed and doubles nothing.

    --guide leads through the first hour: the sheets, what each counter shows in walking order, what hangs where, the
    first time of work without history, codes, labels, the first round.  It can be left and taken up again.

    Example: strokebook new --from tooling.xlsx --by lea
    """
    if guided:
        from upkeep.cli.first_day.guide import guide

        if folder is not None or sheets is not None:
            raise WrongUsage(said("--guide asks for the sheets itself: leave FOLDER and --from out."))
        guide(book_path, by)
        return
    if sheets is not None:
        from upkeep.cli.first_day.sheets import load_sheets

        if folder is not None:
            raise WrongUsage(said("--from takes the place of FOLDER: give one of them."))
        load_sheets(sheets, book_path, by, because, dry_run=dry_run, yes=yes)
        return
    if folder is None:
        raise WrongUsage(said("Name the folder of the definition files, or with --from the sheets of the plant."))
    from upkeep.plant.files import read_definitions

    definitions = read_definitions(folder)
    if not book_path.exists():
        say_definitions(book_path, definitions, frozenset())
        if not dry_run:
            with Book.create(book_path) as book:
                moment = now()
                say_written(book, book.load(definitions, moment, by, now, origin=FROM_A_FILE))
            say(
                said(
                    "What now: enter what sits where ('strokebook fit'), what each press counter shows ('strokebook "
                    "count') and when work was last done ('strokebook stated'). 'strokebook board' then shows what is "
                    "due."
                )
            )
        return
    with opened(book_path) as book:
        _change(book, definitions, dry_run, stagger, by, because)


def _change(
    book: Book, definitions: Sequence[Definition], dry_run: bool, stagger: int | None, by: str, because: str
) -> None:
    moment = now()
    gone = _gone_unsaid(book, definitions)
    _say_gone(gone)
    changed = tuple(definition for definition in book.changed(definitions) if definition not in gone)
    known = frozenset(
        (definition.what, definition.key) for definition in changed if book.defines(definition.what, definition.key)
    )
    say_definitions(book.path, changed, known)
    _say_left_out(book.left_out(definitions))
    if dry_run:
        _say_lines(book, book.preview(changed, moment, by, moment))
        return
    name = proven(book, by, entries=book.defining(changed, moment, by, because)) if changed else None
    written = book.load(changed, moment, by, now, because, FROM_A_FILE, name)
    say_written(book, written)
    late = [change.line for change in written.changes if change.after in _LATE]
    if stagger and late:
        deferrals = list(_staggered(book, late, stagger, by, because, moment))
        say_written(book, book.write(deferrals, now, IN_A_SHELL, name))


def _gone_unsaid(book: Book, definitions: Sequence[Definition]) -> list[Definition]:
    """The items that were scrapped since their files were written; all else the files say as the book does."""
    gone = []
    for definition in book.changed(definitions):
        item = book.known.items.get(definition.key) if definition.what == Defined.ITEM else None
        if item is not None and item.scrapped is not None and "scrapped" not in definition.content:
            said_there = replace(definition, content={**definition.content, "scrapped": str(item.scrapped)})
            gone += [definition] if not book.changed([said_there]) else []
    return gone


def _say_gone(gone: Sequence[Definition]) -> None:
    if gone:
        say(
            said(
                "Scrapped in the book, and the files do not say so: {items}. They stay scrapped; enter the day in the "
                "column 'scrapped'.",
                items=listed(definition.key for definition in gone),
            )
        )


def _staggered(book: Book, late: Sequence[str], days: int, by: str, because: str, moment: datetime) -> Iterator[Defer]:
    """One deferral for each late line, the first soon and the last at the end of the days."""
    for place, name in enumerate(late, 1):
        line = book.line(name, moment)
        if line.statutory or line.each_shift:
            continue
        later = (book.zone.day(moment) + timedelta(days=-(-days * place // len(late)))).isoformat()
        planned = occurrence_of(line.occurrence)
        if isinstance(planned, Strokes) and line.due_strokes is not None and line.strokes is not None:
            over = max(0, line.strokes - line.due_strokes)
            later = str(Strokes(planned.number + over + max(1, line.due_strokes * place // (2 * len(late)))))
        yield Defer(
            at=moment, by=by, task=line.task, item=line.item, occurrence=line.occurrence, to=later,
            risk="runs past the new interval until then", because=because,
        )  # fmt: skip


def say_definitions(path: Path, changed: Sequence[Definition], known: frozenset[tuple[str, str]]) -> None:
    """How many of each kind of thing are new and how many change, and which change."""
    if not changed:
        say(said("{path} already says all of this.", path=path))
        return
    tally = Counter((definition.what, (definition.what, definition.key) in known) for definition in changed)
    for (what, was_known), number in sorted(tally.items()):
        tallied = (
            said("{what}: {n} changed", what=term(what, "thing"), n=number)
            if was_known
            else said("{what}: {n} new", what=term(what, "thing"), n=number)
        )
        click.echo(f"  {words(tallied)}")
    for definition in changed:
        if (definition.what, definition.key) in known:
            changed_one = said("changed: {what} {id}", what=term(definition.what, "thing"), id=definition.key)
            click.echo(f"        {words(changed_one)}")


def _say_left_out(left_out: Sequence[tuple[str, str]]) -> None:
    """A row that vanished from a file ends nothing: who took it out is told what does."""
    if left_out:
        named = [said("{what} {id}", what=what, id=key) for what, key in left_out[:LISTED]]
        if len(left_out) > LISTED:
            named.append(said("{n} more", n=len(left_out) - LISTED))
        say(
            said(
                "In the book and no longer in the files: {what}. Taking a row out of a file ends nothing. Put it back; "
                "an item ends with a day in its column 'scrapped', a person with one in 'until', a task with "
                "on_request = true.",
                what=listed(named),
            )
        )


def _say_lines(book: Book, changes: Sequence[StateChange]) -> None:
    late = [change for change in changes if change.after in _LATE]
    say(
        said(
            "Lines that would change state: {changes}; lines overdue at once: {late}.",
            changes=len(changes),
            late=len(late),
        )
    )
    for change in late:
        click.echo(f"  {change.line}: {change.before} -> {change.after}. {why_of(book, change)}")
