"""A book made again from the lines of its export: entries as they stand, proven by the chain, and never judged anew.

Rules of admission are for what is written from now on; what was once taken is read, appended and followed along the
chain, and the tables are made from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import TypeVar

from upkeep.entries.bookkeeping import Begin
from upkeep.entries.entry import Entry
from upkeep.entries.kind import Filed
from upkeep.entries.kinds import filed
from upkeep.entries.planning import Define
from upkeep.errors import BookDamaged
from upkeep.frozen import frozen
from upkeep.keeping.definitions import Known
from upkeep.keeping.refill import refill
from upkeep.progress import MANY
from upkeep.said import Numeral, Said, said
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import DefinitionRow
from upkeep.units.instants import utc_text

T = TypeVar("T")


@frozen
class Exported:
    """One line of an export: where it stands, its entry, and the link of the chain that stands on it.

    Attributes:
        line: The number of the line in the text.
        entry: What it says, with the salt that stands on it.
        link: The link in hexadecimal; None: the export gives none, as those of earlier programs.
    """

    line: int
    entry: Entry
    link: str | None


def bring_back(file: BookFile, exported: Iterable[Exported]) -> None:
    """Fills a new, empty file with the entries of an export and makes its tables.

    Raises :class:`BookDamaged` at the first line that does not follow from those before it.
    """
    with file.writing():
        returning = _Returning(EntryStore(file))
        for lines in _batches(iter(exported), MANY):
            returning.take(lines)
        if not returning.numbered:
            raise BookDamaged(said("There is no entry in this text."))
    refill(file)


class _Returning:
    """Appends the lines of an export, in their order."""

    def __init__(self, entries: EntryStore) -> None:
        self._entries = entries
        self._places: list[Filed] = []
        self._defined: dict[tuple[str, str], DefinitionRow] = {}
        self._known: Known | None = None

    @property
    def numbered(self) -> int:
        """How many entries there are."""
        return len(self._places)

    def take(self, lines: Sequence[Exported]) -> None:
        """Appends some lines and follows them along the chain."""
        first = self.numbered
        self._entries.append([self._placed(line) for line in lines])
        for line, link in zip(lines, self._entries.links(first), strict=True):
            if line.link is not None and line.link != link:
                raise _departed(line, said("it is not what was written: its link does not fit it"))

    def _placed(self, line: Exported) -> tuple[Entry, str, Filed]:
        entry, number = line.entry, self.numbered
        if entry.salt is None:
            raise _departed(line, said("it carries no salt, so it is no line of an export"))
        if isinstance(entry, Begin) != (number == 0):
            raise _departed(line, said("a book begins with entry #0 and has only the one"))
        place = self._filing(line)
        self._places.append(place)
        day = self._so_far().shift_day(entry.at, isinstance(entry, Define | Begin))
        if isinstance(entry, Define):
            kept = self._defined.get((entry.what, entry.key))
            since = kept.since if kept else utc_text(entry.at)
            self._defined[entry.what, entry.key] = DefinitionRow(entry.what, entry.key, entry.content, since, number)
            self._known = None
        return entry, day, place

    def _filing(self, line: Exported) -> Filed:
        place = filed(line.entry)
        if place.about is None:
            return place
        if place.about >= self.numbered:
            raise _departed(line, said("it is about an entry that comes later"))
        target = self._places[place.about]
        return Filed(target.item, target.task, place.about)

    def _so_far(self) -> Known:
        """What was defined by the lines so far."""
        if self._known is None:
            self._known = Known(self._defined.values())
        return self._known


def _departed(line: Exported, why: Said) -> BookDamaged:
    return BookDamaged(
        said("Line {line} does not follow from the lines before it: {why}.", line=Numeral(line.line), why=why)
    )


def _batches(things: Iterator[T], size: int) -> Iterator[list[T]]:
    while batch := list(islice(things, size)):
        yield batch
