"""Days on an invented shop floor: acts drawn at random, written into a book in any order, right and wrong ones alike.

An act is a handful of numbers, so that a failing day shrinks to the few acts that matter.  What they mean is worked out
against the book as it stands: who sits where, which entry is corrected, what a counter truly shows at that minute.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from typing import TypedDict

from hypothesis import strategies as st

from tests import shop_counting, shop_findings, shop_jobs, shop_planning, shop_shelf, shop_signing
from tests.shop_counters import START, STEP, Regime, TrueCounters
from tests.shop_plant import COUNTED, MOVED, PRESSES
from upkeep.book import Book
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Put, Unfit
from upkeep.entries.origin import NOT_KNOWN, Origin, Proof, WayIn
from upkeep.errors import NotFound, Refused, Unreadable
from upkeep.plant.model import FITS_IN

Act = tuple[str, int, int, int, int]

_WEIGHTS = {
    "count": 10, "counts": 3, "restart": 2, "reset": 2, "configure-counter": 2, "quantity": 5, "dispute": 1, "stop": 2,
    "turned": 2, "changeover": 2,
    "uncounted": 3,
    "rework": 2, "unknown": 1, "order": 1, "fit": 8, "unfit": 5, "put": 2, "swap": 3, "hang": 3, "sign": 8, "verify": 2,
    "looked-again": 1,
    "defer": 2, "cancel": 2, "fault": 1, "crash": 2, "hold": 1, "stated": 1, "note": 1, "release": 1, "pause": 2,
    "resume": 2, "strike": 5, "correct": 7, "define": 1, "check": 6, "out-of-tolerance": 1, "permit": 1, "retire": 1,
    "picture": 1, "disposition": 2, "restrict": 1, "listed-fault": 3, "repair": 9, "remark": 1,
    "happened": 2, "seen": 1, "given": 1, "withdrawn": 1, "wrong-codes": 1,
    "start": 2, "job": 3, "lock": 2, "handover": 1, "shelf": 4, "pieces": 3, "outside": 3,
    "absent": 1, "week": 4,
}  # fmt: skip
_KINDS = tuple(kind for kind, weight in _WEIGHTS.items() for _ in range(weight))
_NUMBER = st.integers(0, 4095)

ORIGINS = (
    NOT_KNOWN,
    Origin(WayIn.SHELL, None, Proof.NONE),
    Origin(WayIn.SCREEN, 'Press hall, "left"', Proof.CODE),
    Origin(WayIn.SHEET, "Office", Proof.PAPER, "lea"),
    Origin(WayIn.SERVICE),
)
"""The ways in which acts come into the book."""

acts = st.tuples(st.sampled_from(_KINDS), _NUMBER, _NUMBER, _NUMBER, _NUMBER)
"""One act: its kind, how much time passes, how late it is told, and two numbers that choose what it is about."""


class Shown(TypedDict, total=False):
    """What somebody read at a move, and how the counter came to it."""

    count: int
    press: str | None
    rolled_over: bool
    after_reset: bool


class Floor:
    """Writes acts into a book; what the book refuses is left out and counted."""

    def __init__(self, book: Book) -> None:
        self.book, self.now = book, START
        self.counters = TrueCounters()
        self.told: dict[int, Entry] = {}
        self.refused = 0

    def do(self, act: Act) -> None:
        """Does one act at its time."""
        kind, passed, late, one, other = act
        self.now += STEP * max(0, passed % 20 - 8)
        moment = self.now if late % 3 else max(START, self.now - STEP * (late // 3 % (8, 100, 400)[late % 5 % 3]))
        try:
            entries = list(_ACTS[kind](self, moment, one, other))
            if entries:
                written = self.book.write(entries, self.now, ORIGINS[(one + other) % len(ORIGINS)])
                self.told.update(zip(written.entries, entries, strict=True))
        except (Refused, NotFound, Unreadable):
            self.refused += 1

    def holders(self, key: str) -> list[str]:
        """Everything an item could go into."""
        kind = next(one.kind for one in self.book.items() if one.id == key)
        return [one.id for one in self.book.items() if one.kind is FITS_IN[kind]]

    def shown_on(self, key: str, moment: datetime, other: int) -> Shown:
        """The count somebody reads at a move, and perhaps of which press; often nobody reads it."""
        inside = dict(self.book.hanging(self.now))
        while key in inside:
            key = inside[key]
        if key not in COUNTED or other % 3 == 0:
            return {}
        count = self.counters.shown(key, moment)
        lower = shop_counting.rolled_over(self, key, moment, count)
        reset = lower and other % 4 == 1  # nobody can tell one from the other by the figure
        return {
            "count": count,
            "press": key if other % 2 else None,
            "after_reset": reset,
            "rolled_over": lower and not reset,
        }


def _fit(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    key = MOVED[one % len(MOVED)]
    holders = floor.holders(key)
    inside = holders[other % len(holders)]
    yield Fit(at=moment, by="ana", item=key, inside=inside, **floor.shown_on(inside, moment, other // 7))


def _unfit(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    inside = floor.book.hanging(floor.now)
    if inside:
        key = inside[one % len(inside)][0]
        to = "rack" if other % 5 == 0 else None
        yield Unfit(at=moment, by="ana", item=key, to=to, **floor.shown_on(key, moment, other))


def _put(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """What lies about is put into the rack, or onto the bench in pieces."""
    place = ("rack", "hall")[other % 2]
    yield Put(at=moment, by="ben", item=MOVED[one % len(MOVED)], to=place, in_pieces=other % 3 == 0)


def _swap(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Out with what is in the way, over with the item, all at one moment."""
    inside = dict(floor.book.hanging(floor.now))
    key = MOVED[one % len(MOVED)]
    holders = floor.holders(key)
    wanted = holders[other % len(holders)]
    for sitting, where in inside.items():
        if sitting == key or (where == wanted and floor.holders(sitting) == holders):
            yield Unfit(at=moment, by="ana", item=sitting)
    yield Fit(at=moment, by="ana", item=key, inside=wanted, **floor.shown_on(wanted, moment, other // 5))


def _hang(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A whole chain goes onto a press at once: part in set in module on press."""
    module, die_set = ("M-12", "M-44")[one % 2], ("DS-031", "DS-102")[other % 2]
    yield Fit(at=moment, by="ana", item=module, inside=PRESSES[one // 2 % 4])
    yield Fit(at=moment, by="ana", item=die_set, inside=module)
    yield Fit(at=moment, by="ana", item=("CP-a", "CP-b")[(one + other) % 2], inside=die_set)


def _unfit_turned(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """What hangs on a press comes out; its counter shows little since it rolled over, or was set back, just now."""
    on_presses = [(key, press) for key, press in floor.book.hanging(floor.now) if press in COUNTED]
    if on_presses:
        key, press = on_presses[one % len(on_presses)]
        old = floor.counters.regime(press, moment)
        floor.counters.begin(press, Regime(moment, other % 40, "running", old.digits, old.times))
        reset = other % 2 == 1
        yield Unfit(
            at=moment, by="ana", item=key, count=other % 40, press=press, after_reset=reset, rolled_over=not reset
        )


_ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "fit": _fit, "unfit": _unfit, "put": _put, "swap": _swap, "hang": _hang, "turned": _unfit_turned,
    **shop_counting.ACTS, **shop_signing.ACTS,
    **shop_findings.ACTS, **shop_jobs.ACTS, **shop_shelf.ACTS, **shop_planning.ACTS,
}  # fmt: skip


def do_all(book: Book, day: Sequence[Act]) -> Floor:
    """Does all acts of a day, one after another."""
    floor = Floor(book)
    for act in day:
        floor.do(act)
    return floor
