"""What the commands share: which book, which moment, who writes, and how an answer is said."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import fields
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.progress import watch_of
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongValue, reader_of, say, words
from upkeep.errors import ClockAhead, NotProven, Refused, Unreadable
from upkeep.said import Numeral, Quoted, Said, in_turn, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import figure_of
from upkeep.wording.cautions import caution_for
from upkeep.wording.sentences import Reader, languages
from upkeep.wording.text import paragraph

if TYPE_CHECKING:
    from upkeep.book import StateChange, Written
    from upkeep.entries.entry import Entry
    from upkeep.views.signing import Caution

DEFAULT_BOOK = "strokebook.db"


book_option = click.option(
    "--book",
    "book_path",
    type=click.Path(path_type=Path, dir_okay=False),
    envvar="STROKEBOOK_BOOK",
    default=DEFAULT_BOOK,
    help="The book's file (or STROKEBOOK_BOOK).",
)
by_option = click.option("--by", envvar="STROKEBOOK_BY", required=True, help="Who is writing: a person's id.")
happened_option = click.option("--at", "at_text", help="When it happened, if not now: '2026-03-02 06:00'.")
seen_option = click.option("--at", "at_text", help="As the book stood at that moment: '2026-03-02 06:00'.")
known_option = click.option(
    "--known-at", "known_text", help="As it was known at that moment: without what was written later."
)
language_option = click.option("--language", type=click.Choice(languages()), help="The paper's language, if not yours.")
_AS_TABLE = "upkeep.cli.as_table"


def _wants_table(context: click.Context, _: click.Parameter, value: bool) -> None:
    context.meta[_AS_TABLE] = value


def _wants_values(context: click.Context, _: click.Parameter, value: bool) -> bool:
    return value or bool(context.meta.get(_AS_TABLE))


def json_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--json``, and ``--csv`` for the same as a table: the command is told to answer with values (``as_json``),
    and :func:`say_json` prints them in either way."""
    as_table = click.option(
        "--csv",
        is_flag=True,
        expose_value=False,
        is_eager=True,
        callback=_wants_table,
        help="The same as a table (CSV).",
    )
    as_json = click.option("--json", "as_json", is_flag=True, callback=_wants_values, help="Print JSON, for scripts.")
    return as_json(as_table(command))


json_alone_option = click.option("--json", "as_json", is_flag=True, help="Print JSON, for scripts.")
"""``--json`` of a command that writes its table to a file of its own."""

because_option = click.option("--because", default="", help="The reason, in your words.")


def number(text: str) -> int:
    """A whole number as people write it, 4812 or 4,812; wrong usage where it is none."""
    figure = figure_of(text)
    if figure is None:
        raise WrongValue(said("{text} is not a number; write it like 4812 or 4,812.", text=Quoted(text)))
    return figure


MOST = 1_000_000
"""How many lines or entries somebody may ask for by number."""

_FIRST_YEAR, _LAST_YEAR = 1000, 9000
"""Between these a calendar has room on both sides for all that is counted from a moment."""


def moment_of(text: str | None, zone: Zone) -> datetime:
    """The moment a person named, or this one; raises :class:`Unreadable` also where it is out of all reason."""
    if text is None:
        return now()
    moment = zone.read(text)
    if not _FIRST_YEAR <= moment.year <= _LAST_YEAR:
        raise Unreadable(
            said(
                "{text} is too far away; give a year from {first} to {last}.",
                text=Quoted(text),
                first=Numeral(_FIRST_YEAR),
                last=Numeral(_LAST_YEAR),
            )
        )
    return moment


def seen(at_text: str | None, known_text: str | None, zone: Zone) -> tuple[datetime, datetime | None]:
    """The moment to show and the moment of knowledge; the second alone stands for both."""
    known_at = None if known_text is None else moment_of(known_text, zone)
    return (known_at if at_text is None and known_at is not None else moment_of(at_text, zone)), known_at


@contextmanager
def opened(path: Path) -> Iterator[Book]:
    """The book at a path, closed afterwards; what it waits for shows on a terminal, and stderr says where the book can
    only be read, or did not prove clean."""
    with Book.open(path, watch_of(path)) as book:
        if book.cannot_write is not None:
            say(said("The book can only be read now: {why}", why=book.cannot_write), err=True)
        if book.on_network is not None:
            say(said("WARNING: {finding}", finding=book.on_network), err=True)
        if book.unproven is not None:
            say(said("WARNING: {finding}", finding=book.unproven), err=True)
        told = click.get_current_context().find_root().params
        if told.get("unproven"):
            book.write_all_the_same()
        if told.get("clock_is_right"):
            book.write_all_the_same(clock=True)
        try:
            yield book
        except ClockAhead as question:
            raise Refused(in_turn(question.said, said("If it is: strokebook --clock-is-right COMMAND ..."))) from None
        except NotProven:
            raise Refused(
                said(
                    "Nothing was written. Whoever has compared the book with the last printed list may write into it "
                    "all the same: strokebook --unproven COMMAND ..."
                )
            ) from None


def write(path: Path, at_text: str | None, make: Callable[[Book, datetime], Sequence[Entry]]) -> Written:
    """Writes what ``make`` gives for the moment it happened, and says what that moved; gives what was written."""
    from upkeep.entries.origin import IN_A_SHELL

    with opened(path) as book:
        entries = make(book, moment_of(at_text, book.zone))
        say_cautions(book.cautions(entries))
        name = proven(book, entries[0].by, entries=entries) if entries else None
        written = book.write(entries, now, IN_A_SHELL, name)
        say_written(book, written)
        return written


def say_page(book: Book, page: str, reader: Reader | None = None) -> None:
    """Prints a page with names on it, and how far they can be relied on."""
    from upkeep.papers.frame.naming import with_names

    click.echo(with_names(page, book.facts.signed_with, reader or reader_of(book)), nl=False)


def say_cautions(cautions: Iterable[Caution]) -> None:
    """Tells what to mind before some work is done, ahead of its signature."""
    for caution in cautions:
        say(caution_for(caution))


def say_written(book: Book, written: Written, told: Sequence[Said] = ()) -> None:
    """Tells the numbers of new entries, what the book gives to mind (but for what was ``told`` before) and the lines
    whose state they changed."""
    numbers = written.entries
    if not numbers:
        say(said("Nothing to write: the book already says so."))
        return
    first, last = Numeral(numbers[0]), Numeral(numbers[-1])
    say(
        said("Written as #{first}.", first=first)
        if len(numbers) == 1
        else said("Written as #{first} to #{last}.", first=first, last=last)
    )
    for note in (note for note in written.notes if note not in told):
        say(said("Note: {note}", note=note))
    for change in written.changes[:LISTED]:
        moved = said(
            "{line}: {before} -> {after}. {why}",
            line=change.line,
            before=term(change.before, "state"),
            after=term(change.after, "state"),
            why=why_of(book, change),
        )
        click.echo("\n".join(paragraph(words(moved), 2, 4)))
    if len(written.changes) > LISTED:
        say(said("  ... {n} more in all; see 'strokebook board'.", n=Numeral(len(written.changes) - LISTED)))


def why_of(book: Book, change: StateChange) -> str:
    """Why a line stands as an entry made it stand."""
    from upkeep.wording.reasons import sentence

    return sentence(change.reasons, book.zone, book.names, reader_of(book))


LISTED = 12
"""Changed lines told after a write; the board has them all."""


EVERYTHING = 10**9
"""More rows than any book has."""


def shown_at_most(limit: int | None, as_json: bool, page: int) -> int:
    """How many rows are asked for: those somebody said, else a page to read, or everything for a program."""
    return limit or (EVERYTHING if as_json else page)


def say_json(value: object) -> None:
    """Prints a view as JSON: moments in UTC, days as dates, states as their words; or as a table, if asked for."""
    if click.get_current_context().meta.get(_AS_TABLE):
        _say_tables(json.loads(json.dumps(value, default=plain)))
        return
    click.echo(json.dumps(value, default=plain, ensure_ascii=False, indent=1))


def _say_tables(value: Any) -> None:
    """The table of an answer; below it those of the lists of objects in it, each after its name."""
    from upkeep.cli.tabling import csv_text, tables

    for name, rows in tables(value).items():
        click.echo((f"\n# {name}\n" if name else "") + csv_text(rows), nl=False)


def plain(value: object) -> object:
    """A view's value as JSON knows it."""
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%dT%H:%M:%SZ")
    if isinstance(value, date | Path):
        return str(value)
    if isinstance(value, Said):
        return str(value)  # JSON is for programs, whoever reads: English
    if hasattr(value, "__dataclass_fields__"):
        return fields_of(value)
    raise TypeError(type(value).__name__)


def fields_of(view: Any) -> dict[str, Any]:
    """The fields of a view by name."""
    return {field.name: getattr(view, field.name) for field in fields(view)}
