"""What was written after a backup: from the newer book file, damaged or not, or from the text of an export.

A restored book ends where the backup ends, and its next entry is a note that says so.  The entries behind that are made
ready to be entered again: in their order, with the moments at which they were written, and with the numbers they refer
to moved on by the one entry that the note is.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from upkeep.book import Book
from upkeep.book.bringing_back import Exported
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.entry import Entry
from upkeep.entries.lives import Picture
from upkeep.entries.row import START
from upkeep.entries.signing import Cancel, Defer, Sign, Verify
from upkeep.entries.text import line_of
from upkeep.errors import BookDamaged, Refused, StrokebookError, Unreadable
from upkeep.frozen import frozen
from upkeep.said import Numeral, Quoted, Said, said
from upkeep.sources.exported import exported_lines
from upkeep.units.instants import Zone

_BOOK_BEGINS = b"SQLite format 3\0"
_OF_ENTRY = re.compile(r"([a-z-]+)\.(\d+)\Z")


@frozen
class Lost:
    """The entries written after a backup, ready to be entered again; ``ends`` says why there may be more (None: all
    that the newer file holds is here)."""

    entries: tuple[Entry, ...]
    ends: Said | None = None


def written_after(backup: Book, last: int, link: str, newer: Path) -> Lost:
    """The entries of a newer file behind entry ``last`` of a backup, whose link of the chain is ``link``.

    Nothing beside the newer file is written.  Raises :class:`Refused` where it is no later state of that backup, and
    :class:`BookDamaged` where nothing of it can be read.
    """
    try:
        with newer.open("rb") as file:
            is_book = file.read(len(_BOOK_BEGINS)) == _BOOK_BEGINS
    except OSError as error:
        raise Unreadable(said("{newer} cannot be read: {why}.", newer=newer, why=str(error.strerror))) from None
    lost = _of_book(last, link, newer) if is_book else _of_export(backup, last, newer)
    return Lost(tuple(_moved_on(entry, last) for entry in lost.entries), lost.ends)


def _of_book(last: int, link: str, newer: Path) -> Lost:
    """Reads a copy, with what was not yet moved from the write-ahead log; every entry given is proven by the chain."""
    entries: list[Entry] = []
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "newer.book"
        shutil.copyfile(newer, copy)
        log = newer.with_name(f"{newer.name}-wal")
        if log.is_file():
            shutil.copyfile(log, copy.with_name(f"{copy.name}-wal"))
        try:
            with Book.open_entries(copy) as book:
                entries += (recorded.entry for recorded in book.written_after(last, link))
        except StrokebookError:
            return Lost(tuple(entries), _torn(newer, last, len(entries)))
    return Lost(tuple(entries))


def _torn(newer: Path, last: int, entries: int) -> Said:
    if not entries:
        raise BookDamaged(
            said(
                "What {newer} holds after entry #{entry} does not follow from this backup: the file is "
                "damaged there, or is a different book. Restore without --newer, and enter what is on paper.",
                newer=newer,
                entry=last,
            )
        )
    return said(
        "{newer} is damaged after entry #{entry}; what was written after that has to be found on paper.",
        newer=newer,
        entry=last + entries,
    )


def _of_export(backup: Book, last: int, newer: Path) -> Lost:
    """Reads the text of an export, whose first lines must be the entries of the backup."""
    kept = [recorded.entry for recorded in backup.written_after(-1, START.hex())]
    entries: list[Entry] = []
    number = 0
    try:
        for number, read in enumerate(exported_lines(newer), 1):
            if number > last + 1:
                entries.append(read.entry)
            elif read.entry != kept[number - 1]:
                raise _departs(newer, read, number - 1, kept[number - 1], backup.zone)
    except BookDamaged as error:
        if number <= last:
            raise Refused(said("{newer} is not an export of this book. {why}", newer=newer, why=error.said)) from None
        ends = said(
            "{newer} can be read up to entry #{last}. {why}", newer=newer, last=Numeral(number - 1), why=error.said
        )
        return Lost(tuple(entries), ends)
    return Lost(tuple(entries))


def _departs(newer: Path, read: Exported, number: int, kept: Entry, zone: Zone) -> Refused:
    return Refused(
        said(
            "{newer} is not a later state of this backup: line {line} says {there}, entry #{entry} of "
            "the backup says {here}.",
            newer=newer,
            line=Numeral(read.line),
            there=Quoted(line_of(read.entry, zone)[:80]),
            entry=Numeral(number),
            here=Quoted(line_of(kept, zone)[:80]),
        )
    )


def _moved_on(entry: Entry, last: int) -> Entry:
    """The entry with the numbers behind the backup's last one moved on by one."""

    def moved(number: int) -> int:
        return number + 1 if number > last else number

    if entry.corrects is not None:
        entry = replace(entry, corrects=moved(entry.corrects))
    if isinstance(entry, Picture) and entry.of is not None:
        return replace(entry, of=moved(entry.of))
    if isinstance(entry, Verify | Strike):
        return replace(entry, entry=moved(entry.entry))
    if isinstance(entry, Sign | Defer | Cancel) and (named := _OF_ENTRY.match(entry.occurrence)):
        return replace(entry, occurrence=f"{named[1]}.{moved(int(named[2]))}")
    return entry


def lines_again(lost: Lost, zone: Zone) -> Iterator[str]:
    """The lines to be entered again, each with the moment at which it was written."""
    for entry in lost.entries:
        yield line_of(entry, zone)
