"""The shelf of the demo plant, which came into its book on the last day: what lay there was counted in, and since then
it is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from demo_plant.codes import proof_of
from demo_plant.notebook import Notebook, minutes
from upkeep.book import Book
from upkeep.entries.entry import Entry
from upkeep.entries.origin import FROM_A_FILE, Proven
from upkeep.entries.shelf.moves import Buy, Issue, Receive
from upkeep.entries.shelf.outside import ComeBack, SendOut
from upkeep.plant.definition import Definition
from upkeep.plant.model import Kind

_LOADED_BY, _STORES, _FITTER = "yara", "benno", "uwe"
_BATCHES = ("B-0611", "B-0702")
"""Two batches of each kind of part; invented."""

_LAY_THERE = {"SP-SPRING": 3, "SP-FINGER": 2, "SP-FILTER": 5, "SP-GREASE": 24, "SP-WIPES": 100, "SP-TIP": 1}
"""How many of what is counted were found on the shelf."""

_FEW = {Kind.CONDUCTOR_PUNCH: 6, Kind.INSULATION_PUNCH: 3, Kind.CONDUCTOR_ANVIL: 3, Kind.INSULATION_ANVIL: 3,
        Kind.CUT_OFF_BLADE: 3}  # fmt: skip
"""How many of the parts that sit in nothing were put on the shelf."""


def write_shelf(book: Book, spares: Sequence[Definition], end: datetime) -> None:
    """Writes what lay on the shelf, what is on order and out for rework, and the first kit."""
    at = end - minutes(14)
    lead = Proven(_LOADED_BY, proof_of(book, _LOADED_BY))
    book.load(spares, at=at, by=_LOADED_BY, recorded_at=end, origin=FROM_A_FILE, proven=lead)
    notebook = Notebook(book, end, clerk=_LOADED_BY)
    for entry in (*_counted_in(book, end - minutes(12)), *_since(book, end)):
        notebook.note(entry, end - entry.at)
    notebook.write(end)


def _counted_in(book: Book, at: datetime) -> Iterator[Entry]:
    """What was found there, each piece with its batch."""
    for spare in book.known.spares.values():
        if spare.part is None:
            yield Receive(at=at, by=_STORES, spare=spare.id, number=_LAY_THERE[spare.id], because="found on the shelf")
            continue
        free = _free(book, spare.part, at)
        half = (len(free) + 1) // 2
        for batch, pieces in zip(_BATCHES, (free[:half], free[half:]), strict=True):
            if pieces:
                yield Receive(
                    at=at, by=_STORES, spare=spare.id, number=len(pieces), batch=batch, pieces=tuple(pieces),
                    because="found on the shelf",
                )  # fmt: skip


def _free(book: Book, kind: Kind, end: datetime) -> list[str]:
    """The first parts of a kind that are still in their bags."""
    used = {item for item, _ in book.hanging(end)}
    new = (item.id for item in book.items() if item.kind is kind and "bag" in item.title and item.id not in used)
    return [item for item in new if not book.life(item, end).since_new[2]][: _FEW[kind]]


def _since(book: Book, end: datetime) -> Iterator[Entry]:
    day = book.zone.day(end)
    yield Buy(at=end - minutes(10), by=_STORES, spare="SP-FILTER", number=10, expected=str(day + timedelta(days=9)),
              text="order 118")  # fmt: skip
    used = [item.id for item in book.items() if item.kind is Kind.CONDUCTOR_PUNCH and "bag" in item.title][-2:]
    for item, due in zip(used, (12, 2), strict=True):
        yield SendOut(at=end - minutes(9), by=_STORES, item=item, to="the grinder",
                      expected=str(day + timedelta(days=due)), text="re-polish the radii")  # fmt: skip
    yield ComeBack(at=end - minutes(7), by=_STORES, item=used[1], text="delivery note 881: polished, 0.01 taken off")
    line = next((one for one in book.board(end, limit=400).rows if one.task == "thorough-clean"), None)
    if line is not None:
        yield Issue(at=end - minutes(5), by=_FITTER, spare="SP-WIPES", number=4, line=line.line)
