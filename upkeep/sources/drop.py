"""Counts, quantities and orders from CSV files: the good lines go in, the bad ones come back with number and reason.

Comma or semicolon stands between the columns; moments are local time of the plant.  A line that somebody told the book
before is passed over, so the same file twice changes nothing, even where the entry was corrected or struck meanwhile.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from operator import itemgetter
from pathlib import Path
from typing import Any

from upkeep.book import Book
from upkeep.book.door import Clock, asked
from upkeep.entries.counting import Count, QuantityMade
from upkeep.entries.entry import Entry
from upkeep.entries.origin import FROM_A_FILE, Proven
from upkeep.entries.planning import Order
from upkeep.errors import NotFound, Refused, StrokebookError, Unreadable
from upkeep.frozen import frozen
from upkeep.keeping.definitions import Known
from upkeep.progress import Progress, Watch, nobody, watched
from upkeep.said import Numeral, Quoted, Said, either, listed, said
from upkeep.sources.tables import columns_of, rows_of
from upkeep.units.quantities import figure_of

Row = dict[str, str]
Numbered = tuple[int, Entry]

_OF_THE_LINE = (Refused, NotFound, Unreadable)
"""What is wrong with a line; anything else is wrong with the book, and no line is to blame for it."""


@frozen
class FileKind:
    """What the lines of a file tell: ``word`` is the kind of entry, ``noun`` what people call several of them.

    ``fact`` is what makes two entries the same, beginning with the item they are filed under; where it names no moment
    (``timeless``), an entry of any time may have said it.
    """

    word: str
    noun: Said
    columns: tuple[str, ...]
    optional: tuple[str, ...]
    read: Callable[[Row, Known, str, datetime], Entry]
    fact: Callable[[Any], tuple[Any, ...]]
    timeless: bool = False


@frozen
class Taken:
    """What became of a file: lines written, lines the book said already, and problems with their line numbers.

    ``notes`` are what the book gave to mind about lines it wrote.
    """

    noun: Said
    written: int
    known: int
    problems: tuple[Said, ...]
    notes: tuple[Said, ...] = ()

    def outcome(self, name: str) -> Said:
        """The outcome in one sentence."""
        return said(
            "{file}: {noun} entered: {written}; already known: {known}; refused: {refused}.",
            file=name,
            written=self.written,
            noun=self.noun,
            known=self.known,
            refused=len(self.problems),
        )


def kind_of(file: Path) -> FileKind:
    """What a file tells, by the columns its first line names; raises :class:`Unreadable` where that is not clear."""
    named = columns_of(file)
    fitting = [kind for kind in KINDS if set(kind.columns) <= set(named)]
    if len(fitting) == 1:
        return fitting[0]
    counts, quantities, orders = (
        said("{columns} for {noun}", columns=listed(kind.columns), noun=kind.noun) for kind in KINDS
    )
    raise Unreadable(
        said(
            "the first line does not say what is in the file. It must name the columns {counts}; or "
            "{quantities}; or {orders}.",
            counts=counts,
            quantities=quantities,
            orders=orders,
        )
    )


def take(
    book: Book,
    file: Path,
    kind: FileKind,
    by: str,
    recorded_at: datetime | Clock,
    watch: Watch = nobody,
    proven: Proven | None = None,
) -> Taken:
    """Writes what a file tells into the book, stamped as :meth:`Book.write` does.

    Raises :class:`Unreadable` where the file as a whole cannot be read; then nothing was written.  Where the book
    fails on the way, what was written stays, and the same file may be taken again.  ``watch`` is told how
    many lines were read; ``proven`` is how the name of ``by`` was proven.
    """
    numbered: list[Numbered] = []
    problems: list[tuple[int, Said]] = []
    plant, moment = book.known, asked(recorded_at)
    rows = list(rows_of(file, kind.columns, kind.optional))
    for number, row in watched(rows, "lines", len(rows), watch):
        try:
            numbered.append((number, kind.read(row, plant, by, moment)))
        except StrokebookError as error:
            problems.append((number, error.said))
    once = {kind.fact(entry): (number, entry) for number, entry in reversed(numbered)}
    writing = _Writing(book, kind, recorded_at, len(once), watch, proven)
    writing.write(sorted(once.values(), key=lambda numbered_entry: (numbered_entry[1].at, numbered_entry[0])))
    wrong = [
        said("line {line}: {why}", line=Numeral(number), why=why)
        for number, why in sorted([*problems, *writing.refused], key=itemgetter(0))
    ]
    watch(Progress("entered", writing.written, writing.written))
    known = len(numbered) - writing.written - len(writing.refused)
    return Taken(kind.noun, writing.written, known, tuple(wrong), tuple(dict.fromkeys(writing.notes)))


@dataclass(slots=True)
class _Writing:
    """Writes the entries of one kind that the book does not know yet, in their order; keeps those it refuses with the
    reason."""

    book: Book
    kind: FileKind
    recorded_at: datetime | Clock
    of: int
    watch: Watch
    proven: Proven | None
    judged: int = 0
    written: int = 0
    refused: list[tuple[int, Said]] = field(default_factory=list)
    notes: list[Said] = field(default_factory=list)

    def write(self, numbered: list[Numbered]) -> None:
        """Writes all at once where all are good; else halves are tried, so that one bad line costs no other."""
        self.watch(Progress("checking", self.judged, self.of))
        try:
            entries = [entry for _, entry in numbered]
            written = self.book.write_fresh(entries, self._fresh, self.recorded_at, FROM_A_FILE, self.proven)
            self.judged += len(entries)
            self.written += len(written.entries)
            self.notes += written.notes
        except _OF_THE_LINE as error:
            for half in _halves(numbered):
                self.write(half)
            if len(numbered) == 1:
                self.judged += 1
                self.refused.append((numbered[0][0], error.said))

    def _fresh(self, entries: Sequence[Entry]) -> list[Entry]:
        """The entries that nobody has told the book before."""
        known = self._known(entries)
        return [entry for entry in entries if self.kind.fact(entry) not in known]

    def _known(self, entries: Sequence[Entry]) -> set[tuple[Any, ...]]:
        """What the book was told before about the items of some entries, in the time they are about."""
        if not entries:
            return set()
        moments = [entry.at for entry in entries]
        since, until = (None, None) if self.kind.timeless else (min(moments), max(moments))
        items = sorted({self.kind.fact(entry)[0] for entry in entries})
        return {
            self.kind.fact(entry)
            for item in items
            for entry in self.book.entries_of(item, self.kind.word, since, until)
        }


def _halves(numbered: list[Numbered]) -> Iterator[list[Numbered]]:
    half = len(numbered) // 2
    if half:
        yield numbered[:half]
        yield numbered[half:]


_CONFIRMED = ("rolled-over", "after-reset")
"""How a counter came to a lower figure: what somebody who looked at it may confirm."""


def _count(row: Row, plant: Known, by: str, _: datetime) -> Count:
    press, value = plant.counter(row["press"]).id, _figures(row["count"], said("count"))
    confirmed = row["confirmed"].strip().lower().replace(" ", "-")
    if confirmed not in ("", *_CONFIRMED):
        raise Unreadable(
            said(
                "{text} confirms nothing of a count; leave it empty or write {ways}.",
                text=Quoted(row["confirmed"]),
                ways=either(_CONFIRMED),
            )
        )
    return Count(
        at=plant.zone.read(row["at"]),
        by=by,
        press=press,
        value=value,
        rolled_over=confirmed == "rolled-over",
        after_reset=confirmed == "after-reset",
    )


def _quantity(row: Row, plant: Known, by: str, _: datetime) -> QuantityMade:
    return QuantityMade(
        at=plant.zone.read(row["at"]),
        by=by,
        press=plant.press(row["press"]).id,
        pieces=_figures(row["pieces"], said("number of pieces")),
        minutes=_figures(row["minutes"], said("number of minutes")),
        item=plant.item(row["item"]).id if row["item"] else None,
        order=row["order"] or None,
    )


def _order(row: Row, plant: Known, by: str, recorded_at: datetime) -> Order:
    return Order(
        at=recorded_at,
        by=by,
        order=row["order"],
        pieces=_figures(row["pieces"], said("number of pieces")),
        item=plant.item(row["item"]).id,
        press=plant.press(row["press"]).id,
        day=_day(row["day"]),
    )


def _figures(text: str, what: Said) -> int:
    figure = figure_of(text)
    if figure is None or len(str(figure)) > 15:
        raise Unreadable(said("{text} is not a {what}; write it like 4812 or 4,812.", text=Quoted(text), what=what))
    return figure


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise Unreadable(said("{text} is not a date; write it like 2026-03-09.", text=Quoted(text))) from None


COUNTS = FileKind(
    "count",
    said("counts"),
    ("press", "at", "count"),
    ("confirmed",),
    _count,
    lambda count: (count.press, count.at, count.value),
)
QUANTITIES = FileKind(
    "quantity", said("quantities"), ("press", "at", "pieces", "minutes"), ("item", "order"), _quantity,
    lambda made: (made.press, made.at, made.pieces, made.minutes, made.item, made.order),
)  # fmt: skip
ORDERS = FileKind(
    "order", said("orders"), ("order", "pieces", "item", "press", "day"), (), _order,
    lambda order: (order.item, order.order, order.pieces, order.press, order.day), timeless=True,
)  # fmt: skip

KINDS = (COUNTS, QUANTITIES, ORDERS)
"""All that files may tell."""
