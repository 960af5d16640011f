"""Mending what was written: corrections, strikes, and lines typed elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TextIO

import click

from upkeep.book import Book, HistoryLine, Proven, Written
from upkeep.cli.clock import now
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    happened_option,
    moment_of,
    number,
    opened,
    say_cautions,
    say_written,
    write,
)
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongUsage, say
from upkeep.entries.bookkeeping import Begin, Strike
from upkeep.entries.entry import Entry
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.origin import FROM_A_FILE, IN_A_SHELL, NOT_KNOWN, Origin, Proof
from upkeep.entries.signing import Sign
from upkeep.entries.text import entry_of, line_of, read_line, words_of
from upkeep.errors import AlreadySigned, Unreadable
from upkeep.plant.line_names import LineName
from upkeep.said import Moment, Numeral, Said, Value, in_lines, said
from upkeep.units.instants import Zone


@click.command()
@click.argument("entry", type=number)
@click.argument("words", nargs=-1, required=True)
@happened_option
@by_option
@because_option
@book_option
def correct(entry: int, words: tuple[str, ...], at_text: str | None, by: str, because: str, book_path: Path) -> None:
    """Replace entry number ENTRY with WORDS, for a reason; both stay visible.

    WORDS are those of the entry's line of text, without time and name; the time stays the same unless --at gives
    another.

    Example: strokebook correct 812 count P-07 1209410 --because "figures swapped" --by ana
    """
    with opened(book_path) as book:
        old = book.entry(entry)
        at = old.at if at_text is None else moment_of(at_text, book.zone)
        new = entry_of(" ".join(words), at=at, by=by, corrects=entry, because=because)
        say_written(book, book.write([new], now, IN_A_SHELL, proven(book, by, entries=[new])))


@click.command()
@click.argument("entry", type=number)
@by_option
@because_option
@book_option
def strike(entry: int, by: str, because: str, book_path: Path) -> None:
    """Strike entry number ENTRY, which was never true; it stays visible but no longer counts."""
    write(book_path, None, lambda book, at: [Strike(at=at, by=by, entry=entry, because=because)])


@click.command()
@click.argument("entry", type=number)
@click.argument("figure", type=number, required=False)
@click.option("--right", is_flag=True, help="The earlier reading stands; the counts kept against it are struck.")
@by_option
@because_option
@book_option
def settle(entry: int, figure: int | None, right: bool, by: str, because: str, book_path: Path) -> None:
    """Settle which is wrong: the reading of entry number ENTRY, or the counts kept against it.

    FIGURE is what the counter showed then. It takes the place of the wrong one, and the counts kept against it count;
    without it the reading is taken out.

    Example: strokebook settle 812 1209410 --because "read again: figures swapped" --by lea
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        return book.settled(entry, figure, earlier_stands=right, at=at, by=by, because=because)

    write(book_path, None, entries)


@click.command()
@click.argument("lines", type=click.File(encoding="utf-8", errors="replace"))
@click.option(
    "--merge", is_flag=True, help="From a terminal that was offline: what others have already signed becomes an extra."
)
@click.option("--by", envvar="STROKEBOOK_BY", help="Who enters them, in a plant that goes by codes: a person's id.")
@book_option
def enter(lines: TextIO, merge: bool, by: str | None, book_path: Path) -> None:
    """Enter the lines of the file LINES (- for standard input), one entry each; all or none.

    A line reads like: 2026-03-02 06:00 count P-07 1204300 by ana

    Each is recorded as of now, whenever it happened, and comes from a file, with no proof of the name. Only an empty
    book, or one that a keeper has just restored, takes lines that say when they were written (recorded 2026-03-02
    06:05) and how they came in: in that way an export gives the same book again, with the same salts and links.

    With --merge they are written in the order in which they happened. Of two sign-offs of one occurrence the one done
    first counts, whichever was entered first; the other is kept as an extra, and none is lost. The times of writing
    given there are left out: they are recorded as of now. What the book was told before is passed over, so the same
    file
    twice changes nothing.

    In a plant that goes by codes everybody enters what they signed themselves; a keeper also enters again what was
    lost, and the names in it stay marked as not proven.
    """
    with opened(book_path) as book:
        as_they_say = book.takes_lines_as_they_say()
        entries = _read(lines, book, as_they_say=as_they_say, merge=merge)
        origin = NOT_KNOWN if as_they_say else FROM_A_FILE
        if not merge:
            say_cautions(book.cautions(entries))
        name = _proven(book, by, () if merge or as_they_say else entries)
        written = _merged(book, entries, origin, name) if merge else book.write(entries, now, origin, name)
        say_written(book, written)


def _proven(book: Book, by: str | None, entries: Sequence[Entry]) -> Proven | None:
    """Who enters the lines; nobody is asked in a plant that takes names alone."""
    if not book.naming.asks_for_proof:
        return None
    if by is None:
        raise WrongUsage(said("Names are proven in this plant: say with --by who enters these lines."))
    return proven(book, by, entries=entries)


def _read(lines: TextIO, book: Book, *, as_they_say: bool, merge: bool) -> list[Entry]:
    """The entries on the lines of a file; the line with which a book begins says in which zone the others are."""
    entries: list[Entry] = []
    wrong, zone = [], book.zone
    for place, line in enumerate(lines, 1):
        if not line.strip() or line.startswith("#"):
            continue
        try:
            entry = read_line(line, zone, None if as_they_say else _UNSAID)
            if isinstance(entry, Begin):
                zone = Zone(entry.zone)
                entry = read_line(line, zone)
            entries.append(entry if as_they_say else _typed_now(entry, merge=merge))
        except Unreadable as error:
            wrong.append(said("line {line}: {why}", line=Numeral(place), why=error.said))
    if wrong:
        raise Unreadable(in_lines([*wrong, said("Nothing was written; correct these lines and enter the file again.")]))
    return entries


_UNSAID = datetime.min.replace(tzinfo=UTC)
"""The moment of writing of a line that names none."""


def _typed_now(entry: Entry, *, merge: bool) -> Entry:
    """The entry of a line typed into a living book; raises :class:`Unreadable` where it says what only the book knows:
    when it was written (another terminal's list that is merged does, and it is left out), that its name was proven."""
    if entry.recorded_at != _UNSAID and not merge:
        raise Unreadable(
            said(
                "when an entry was written (recorded) is for the book to say; only a book that a keeper has just "
                "restored takes it from a line. Leave it out: the time it happened stays."
            )
        )
    if entry.origin.proof not in (Proof.NOT_KNOWN, Proof.NONE):
        raise Unreadable(
            said(
                "no line can prove a name (proof {proof}). Leave it out; what was signed by hand on a printed sheet is "
                "entered with 'sheet'.",
                proof=entry.origin.proof,
            )
        )
    origin = replace(FROM_A_FILE, station=entry.origin.station, entered_by=entry.origin.entered_by)
    return replace(entry, origin=origin, recorded_at=None)


def _merged(book: Book, entries: Sequence[Entry], origin: Origin, name: Proven | None) -> Written:
    """Writes the entries that the book does not know in order of time; of two sign-offs of one occurrence the work done
    later is kept as an extra."""
    fresh = sorted((entry for entry in entries if not _is_known(book, entry)), key=lambda entry: entry.at)
    say_cautions(book.cautions(fresh))
    made_extra: list[Entry] = []
    while True:
        try:
            return book.write([*made_extra, *fresh], now, origin, name)
        except AlreadySigned as taken:
            places = _places_for(taken, fresh)
            before = book.answer_to(taken.line, taken.occurrence)
            if before is not None and fresh[places[0]].at < before.at:
                made_extra.append(_as_extra(book, before, fresh[places[0]]))
            else:
                last = fresh[places[-1]]
                assert isinstance(last, Sign)
                fresh[places[-1]] = extra = replace(last, occurrence=EXTRA)
                by = said("{name} (#{entry})", name=taken.name, entry=Numeral(before.entry)) if before else taken.name
                say(_kept_as_extra(by, taken.when, line_of(extra, book.zone)))


def _is_known(book: Book, entry: Entry) -> bool:
    """Whether the book was told this before, if only as an extra."""
    told = {words_of(known) for known in book.told_by(entry.by, entry.at)}
    return words_of(entry) in told or (isinstance(entry, Sign) and words_of(replace(entry, occurrence=EXTRA)) in told)


def _as_extra(book: Book, before: HistoryLine, first: Entry) -> Entry:
    """The sign-off that is in the book, corrected to an extra because work was done before it."""
    old = book.entry(before.entry)
    assert isinstance(old, Sign)
    name = book.known.person(first.by).name
    say(_kept_as_extra(name, Moment(first.at, book.zone), before.text))
    because = f"{name} was first, {book.zone.minute(first.at)}"
    return replace(
        old, occurrence=EXTRA, corrects=before.entry, because=because, recorded_at=None, origin=FROM_A_FILE, salt=None
    )


def _kept_as_extra(name: Value, moment: Moment, line: str) -> Said:
    return said("{name} was first, {moment}; this one is kept as an extra: {line}", name=name, moment=moment, line=line)


def _places_for(taken: AlreadySigned, entries: Sequence[Entry]) -> list[int]:
    """Where the sign-offs of an occurrence that is taken stand among entries, in order."""
    places = [
        place
        for place, entry in enumerate(entries)
        if isinstance(entry, Sign)
        and (str(LineName(entry.item, entry.task)), entry.occurrence) == (taken.line, taken.occurrence)
    ]
    if not places:
        raise taken
    return places
