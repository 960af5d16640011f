"""Days on an invented shop floor: acts drawn at random, written into a book in any order, right and wrong ones alike.

An act is a handful of numbers, so that a failing day shrinks to the few acts that matter.  What they mean is worked out
against the book as it stands: who sits where, which entry is corrected, what a counter truly shows at that minute.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from hypothesis import strategies as st

from tests.plants import at, book_of, define, item, person, plant, task
from upkeep.book import Book
from upkeep.entries import kinds
from upkeep.entries.kinds import Entry
from upkeep.errors import NotFound, Refused
from upkeep.plant.definition import Definition
from upkeep.plant.model import FITS_IN, Kind

START = at("2026-03-01 00:00")
STEP = timedelta(minutes=15)
WORD_LINES = 400

PRESSES = ("P-03", "P-07", "P-08")
RATES = {"P-03": 900, "P-07": 1500, "P-08": 400}
"""Strokes an hour while a press runs."""
FIGURES = {"P-03": 4, "P-07": 5, "P-08": 6}
"""Short counters, so that they roll over within days."""
MODULUS = {press: int(f"1{'0' * figures}") for press, figures in FIGURES.items()}
SHOWN_FIRST = {"P-03": 9_700, "P-07": 95_000, "P-08": 10}

MOVED = ("M-12", "M-44", "DS-031", "DS-102", "CP-a", "CP-b", "IP-1", "CB-1", "CP-new")
"""The last of them comes into the book in the middle of it, or never."""
TASKS = (
    task("clean", "module", each_shift=True),
    task("wipe", "press", each_shift=True),
    task("inspect", "die set", strokes=2000, stop_at=110, graded=True, second_signature="quality technician"),
    task("look", "conductor punch", strokes=900, strokes_for={"CP-b": 500}, late_strokes=50, graded=True, stop_at=105),
    task("grease", "press", every="3 days", early_days=1, late_days=1, stop_days=3),
    task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO,TH", early_days=1, second_signature="maintenance lead"),
    task("rework", "die set", after_grade=2, late_days=1),
    task("service", "module", every="5 days", strokes=3000, combine="last", stop_at=120, stop_days=9),
    task("feed", "module", rule="FREQ=DAILY;INTERVAL=2", strokes=1500, combine="first"),
)

Act = tuple[str, int, int, int, int]

_WEIGHTS = {
    "count": 14, "counts": 3, "fit": 8, "unfit": 5, "swap": 3, "sign": 6, "verify": 2, "fault": 1, "hold": 1,
    "release": 1, "pause": 1, "resume": 1, "strike": 5, "correct": 6, "define": 1, "hang": 2,
}  # fmt: skip
_KINDS = tuple(kind for kind, weight in _WEIGHTS.items() for _ in range(weight))
_NUMBER = st.integers(0, 4095)

acts = st.tuples(st.sampled_from(_KINDS), _NUMBER, _NUMBER, _NUMBER, _NUMBER)
"""One act: its kind, how much time passes, how late it is told, and two numbers that choose what it is about."""


OPENING: tuple[Act, ...] = (
    ("hang", 0, 0, 0, 0),
    ("hang", 0, 0, 1, 1),
    *(("count", 0, 0, press, 0) for press in range(3)),
)
"""Most days begin with two modules on presses, sets and punches in them, and every press read."""


def days(shortest: int, longest: int) -> st.SearchStrategy[list[Act]]:
    """Days of so many acts, most of them with the opening before them."""
    return st.builds(
        lambda opened, day: [*(OPENING if opened else ()), *day],
        st.sampled_from((True, True, True, False)),
        st.lists(acts, min_size=shortest, max_size=longest),
    )


def shop(folder: Path) -> Path:
    """The file of a book with the plant of this floor and nothing done yet."""
    presses = [item(key, digits=FIGURES[key]) for key in PRESSES]
    with book_of(folder, tasks=TASKS, more=presses) as book:
        book.backup(folder / "shop.book")
    return folder / "shop.book"


def opened_copy(shop_file: Path) -> Book:
    """A fresh copy of the shop's book, opened."""
    copy = shop_file.with_name("day.book")
    for rest in copy.parent.glob("day.book*"):
        rest.unlink()
    shutil.copyfile(shop_file, copy)
    book = Book.open(copy)
    # Thousands of writes; that each one survives a power cut is for the torture tests.
    book._file.connection.execute("PRAGMA synchronous = OFF")
    return book


def true_strokes(press: str, moment: datetime) -> int:
    """What a press has truly done since the start: it runs two hours in three, and not at all on every seventh day."""
    minutes = int((moment - START).total_seconds()) // 60
    days, rest = divmod(minutes, 24 * 60)
    blocks, into = divmod(rest, 180)
    running = (days - (days + 6) // 7) * 8 * 120
    if days % 7:
        running += blocks * 120 + min(into, 120)
    return running * RATES[press] // 60


def shown(press: str, moment: datetime) -> int:
    """What its counter shows then."""
    return (SHOWN_FIRST[press] + true_strokes(press, moment)) % MODULUS[press]


class Floor:
    """Writes acts into a book; what the book refuses is left out and counted."""

    def __init__(self, book: Book) -> None:
        self.book, self.now = book, START
        self.told: dict[int, Entry] = {}
        self.refused = 0

    def do(self, act: Act) -> None:
        """Does one act at its time."""
        kind, passed, late, one, other = act
        self.now += STEP * max(0, passed % 20 - 8)
        moment = self.now if late % 3 else max(START, self.now - STEP * (late // 3 % (8, 100, 400)[late % 5 % 3]))
        try:
            entries = list(getattr(self, f"_{kind}")(moment, one, other))
            if entries:
                written = self.book.write(entries, self.now)
                self.told.update(zip(written.entries, entries, strict=True))
        except (Refused, NotFound):
            self.refused += 1

    # Counts

    def _reading(self, press: str, moment: datetime, other: int) -> kinds.Count:
        value = shown(press, moment) + (other % 7 if other % 11 == 0 else 0)
        before = [value for when, value in self._readings(press) if when <= moment]
        return kinds.Count(
            at=moment, by="ana", press=press, value=value, rolled_over=bool(before) and value < before[-1]
        )

    def _readings(self, press: str) -> list[tuple[datetime, int]]:
        """What the counter showed, as far as counts told so; corrections are not looked at."""
        counts = (one for one in self.told.values() if isinstance(one, kinds.Count) and one.press == press)
        return sorted((one.at, one.value) for one in counts)

    def _count(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield self._reading(PRESSES[one % 3], moment, other)

    def _counts(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield self._reading(PRESSES[one % 3], moment, other)
        yield self._reading(PRESSES[other % 3], max(START, moment - STEP * (one % 60)), one)

    def _shown_on(self, key: str, moment: datetime, other: int) -> tuple[int | None, str | None]:
        press = self._press_of(key)
        if press is None or other % 3 == 0:
            return None, None
        return shown(press, moment), press if other % 2 else None

    def _press_of(self, key: str) -> str | None:
        inside = dict(self.book.hanging(self.now))
        while key in inside:
            key = inside[key]
        return key if key in PRESSES else None

    # Moves

    def _holders(self, key: str) -> list[str]:
        kind = next((one.kind for one in self.book.items() if one.id == key), Kind.CONDUCTOR_PUNCH)
        return [one.id for one in self.book.items() if one.kind is FITS_IN[kind]]

    def _fit(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        key = MOVED[one % len(MOVED)]
        holders = self._holders(key)
        inside = holders[other % len(holders)]
        count, press = self._shown_on(inside, moment, other // 7)
        yield kinds.Fit(at=moment, by="ana", item=key, inside=inside, count=count, press=press)

    def _unfit(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        inside = self.book.hanging(self.now)
        if inside:
            key = inside[one % len(inside)][0]
            count, press = self._shown_on(key, moment, other)
            yield kinds.Unfit(
                at=moment, by="ana", item=key, count=count, press=press, to="rack" if other % 5 == 0 else None
            )

    def _swap(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        """Out with what is in the way, over with the item, all at one moment."""
        inside = dict(self.book.hanging(self.now))
        key = MOVED[one % len(MOVED)]
        holders = self._holders(key)
        wanted = holders[other % len(holders)]
        same = self._holders(key)
        for sitting, where in inside.items():
            if sitting == key or (where == wanted and self._holders(sitting) == same):
                yield kinds.Unfit(at=moment, by="ana", item=sitting)
        count, press = self._shown_on(wanted, moment, other // 5)
        yield kinds.Fit(at=moment, by="ana", item=key, inside=wanted, count=count, press=press)

    def _hang(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        """A whole chain goes onto a press at once: part in set in module on press."""
        module, die_set = ("M-12", "M-44")[one % 2], ("DS-031", "DS-102")[other % 2]
        yield kinds.Fit(at=moment, by="ana", item=module, inside=PRESSES[one % 3])
        yield kinds.Fit(at=moment, by="ana", item=die_set, inside=module)
        yield kinds.Fit(at=moment, by="ana", item=("CP-a", "CP-b")[other % 2], inside=die_set)

    # Signatures

    def _sign(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        lines = self.book.board(self.now, limit=WORD_LINES).rows
        line = lines[one % len(lines)]
        graded = any(found.id == line.task and found.graded for found in self.book.tasks())
        yield kinds.Sign(
            at=moment, by=("ana", "lea", "tom")[other % 3], task=line.task, item=line.item,
            occurrence="extra" if other % 7 == 0 else line.occurrence, grade=other // 8 % 5 if graded else None,
        )  # fmt: skip

    def _verify(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        waiting = [line.unverified for line in self.book.board(self.now, limit=WORD_LINES).rows if line.unverified]
        if waiting:
            yield kinds.Verify(at=moment, by="lea", entry=waiting[one % len(waiting)])

    def _fault(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield kinds.Fault(at=moment, by="ben", item=MOVED[one % len(MOVED)], symptom="burr", stopped=other % 3 == 0)

    def _hold(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield kinds.Hold(at=moment, by="ben", item=MOVED[one % len(MOVED)], because="a crack")

    def _release(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        held = self.book.holds()
        if held:
            yield kinds.Release(at=moment, by="lea", item=held[one % len(held)][0], because="looked at")

    def _pause(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield kinds.Pause(at=moment, by="lea", item=MOVED[one % len(MOVED)], because="in the store")

    def _resume(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield kinds.Resume(at=moment, by="lea", item=MOVED[one % len(MOVED)])

    # Corrections

    def _some_entry(self, one: int) -> int:
        """Often one of the last few, so that chains of strikes and corrections come about."""
        told = [number for number, entry in self.told.items() if not isinstance(entry, kinds.Define)] or [1]
        return told[-1 - one // 2 % min(len(told), 6 if one % 2 else 60)]

    def _strike(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        yield kinds.Strike(at=moment, by="lea", entry=self._some_entry(one), because="never was")

    def _correct(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        number = self._some_entry(one)
        old = self.told.get(number)
        if old is None or isinstance(old, kinds.Verify | kinds.Strike | kinds.Define):
            return
        told = replace(old, recorded_at=None, corrects=number, because="told wrongly", by="lea")
        if other % 3 == 0:
            told = replace(told, at=max(START, old.at + STEP * (other % 60 - 30)))
        yield self._retold(told, other // 3)

    def _retold(self, told: Entry, other: int) -> Entry:
        match told:
            case kinds.Count() if other % 2:
                press = PRESSES[other % 3]
                return replace(told, press=press, value=shown(press, told.at))
            case kinds.Count():
                return replace(
                    told, value=max(0, told.value + other % 9 - 4), rolled_over=told.rolled_over ^ (other % 5 == 0)
                )
            case kinds.Fit() if other % 2:
                key = MOVED[other % len(MOVED)]
                return replace(told, item=key, inside=self._holders(key)[other % len(self._holders(key))])
            case kinds.Fit() | kinds.Unfit() if told.count is not None and told.press is not None:
                return replace(told, count=None if other % 3 else shown(told.press, told.at))
            case kinds.Sign() if told.grade is not None:
                return replace(told, grade=other % 5)
            case kinds.Fault() | kinds.Hold() | kinds.Pause():
                return replace(told, item=MOVED[other % len(MOVED)])
        return told

    # Definitions

    def _define(self, moment: datetime, one: int, other: int) -> Iterator[Entry]:
        found = self._changed(one, other)
        for definition in self.book.changed([found]):
            yield kinds.Define(at=self.now, by="lea", what=definition.what, key=definition.key, content=definition.text)

    def _changed(self, one: int, other: int) -> Definition:
        early = {"name": "early", "start": "06:00", "end": "14:00", "days": ["MO", "WE", "FR"]}
        long_day = {"name": "day", "start": "05:30", "end": "18:00", "days": ["MO", "TU", "WE", "TH", "FR", "SA"]}
        press = PRESSES[other % 3]
        changes = (
            lambda: plant(shifts=[early, long_day] if other % 2 else [early]),
            lambda: plant(closed=[f"2026-03-{1 + other % 28:02d}"]),
            lambda: plant(zone=("Europe/Berlin", "America/New_York", "Asia/Kolkata")[other % 3]),
            lambda: replaced_task(TASKS[other % len(TASKS)], one),
            lambda: item("DS-031", family=f"tab-{other % 3}"),
            lambda: item("CB-1", scrapped="2026-03-05"),
            lambda: item("CP-new", kind="conductor punch", place="rack"),
            lambda: item(press, digits=FIGURES[press] + other % 2, max_rate=4000 - other % 2000),
            lambda: item(("M-12", "M-44")[other % 2], place=("rack", "hall")[one % 2]),
            lambda: person("tom", "Tom", "maintenance technician", until="2026-03-04"),
            lambda: define("place", "rack", title="Rack", area="toolroom", route=other % 9),
        )
        return changes[one % len(changes)]()


def replaced_task(old: Definition, one: int) -> Definition:
    """The task with another interval, or asking less of a signature than before."""
    content = dict(old.content)
    if one % 2 and "strokes" in content:
        content["strokes"] = 400 + one % 2000
    elif one % 3 == 0:
        content["second_signature"] = None
    elif one % 5 == 0 and "every" in content:
        content["every"] = f"{1 + one % 9} days"
    else:
        content["graded"] = content["applies_to"] == Kind.DIE_SET and not content.get("graded", False)
    return Definition("task", old.key, content)


def do_all(book: Book, day: Sequence[Act]) -> Floor:
    """Does all acts of a day, one after another."""
    floor = Floor(book)
    for act in day:
        floor.do(act)
    return floor
