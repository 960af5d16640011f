"""A small shop's book over years: counts at every shift, sets that come and go, work signed, holds, checks, faults.

The entries are appended as they are and the tables made from them in one go: ten years by the door would take minutes.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from tests.plants import at, define, item, person, plant, task
from upkeep.book import Book
from upkeep.entries.checking import Check
from upkeep.entries.counting import Count, QuantityMade
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault, Hold, Pause, Release, Resume
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.kinds import filed
from upkeep.entries.planning import Define
from upkeep.entries.signing import Sign
from upkeep.plant.definition import Definition
from upkeep.store.entries import EntryStore

ENDS = date(2026, 3, 2)
"""A Monday; its early shift is under way at the end."""

PRESSES, MODULES, SETS = 8, 12, 16
_HEIGHT = {"id": "crimp-height", "title": "Height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 1}


def long_book(path: Path, years: int) -> Path:
    """A new book with so many years behind it."""
    began = ENDS - timedelta(days=365 * years)
    with Book.create(path) as book:
        start = at(f"{began} 05:00")
        book.write([Define(at=start, by="lea", what=d.what, key=d.key, content=d.text) for d in _plant()], start)
        store, shift_day = EntryStore(book._file), book.calendar.shift_day
        with book._file.writing():
            store.append([(one, shift_day(one.at).isoformat(), filed(one)) for one in _history(began)])
        book.refill()
    return path


def _plant() -> Iterator[Definition]:
    yield plant()
    yield define("place", "hall", title="Hall", area="press hall", route=1)
    yield define("place", "rack", title="Rack", area="toolroom", route=2)
    yield person("ana", "Ana", "operator", "set-up technician", "maintenance technician")
    yield person("lea", "Lea", "maintenance lead", "quality technician")
    for number in range(PRESSES):
        yield item(f"P-{number:02d}", kind="press", place="hall", max_rate=3000)
    for number in range(MODULES):
        yield item(f"M-{number:02d}", kind="module", place="rack")
    for number in range(SETS):
        yield item(f"DS-{number:02d}", kind="die set", place="rack", family="tab")
    yield task("clean", "press", each_shift=True)
    yield task("check", "press", rule="FREQ=WEEKLY;BYDAY=MO", start="2015-01-05")
    yield task("grease", "module", every="14 days", strokes=60_000)
    yield task("wash", "module", every="90 days")
    yield task("inspect", "die set", strokes=120_000, graded=True)
    yield task("wipe", "die set", after=["fitting"])


def _history(began: date) -> Iterator[Entry]:
    """Every working day until the last, in order of time."""
    shown = [1_000 * number for number in range(PRESSES)]
    for number in range((ENDS - began).days):
        day = began + timedelta(days=number)
        if day.weekday() < 5:
            yield from sorted(_day(day, number, shown), key=lambda one: one.at)


def _day(day: date, number: int, shown: list[int]) -> Iterator[Entry]:
    for press in range(PRESSES):
        name = f"P-{press:02d}"
        yield Count(at=_at(day, 5, press), by="ana", press=name, value=shown[press])
        module, die_set = (f"M-{(press + number) % MODULES:02d}", f"DS-{(press + number) % SETS:02d}")
        yield Fit(at=_at(day, 5, 30, press), by="ana", item=die_set, inside=module)
        yield Fit(at=_at(day, 5, 40, press), by="ana", item=module, inside=name)
        yield Sign(at=_at(day, 6, press), by="ana", item=name, task="clean", occurrence=f"{day}/early")
        yield Sign(at=_at(day, 6, 30, press), by="ana", item=die_set, task="wipe", occurrence="extra")
        shown[press] += 4_000 + 10 * press
        yield QuantityMade(
            at=_at(day, 13, press), by="ana", press=name, pieces=4_000, minutes=420, item=die_set, order="o-1"
        )
        yield Count(at=_at(day, 14, press), by="ana", press=name, value=shown[press])
        yield Unfit(at=_at(day, 15, press), by="ana", item=module)
        yield Unfit(at=_at(day, 15, 30, press), by="ana", item=die_set)
    yield from _now_and_then(day, number)


def _now_and_then(day: date, number: int) -> Iterator[Entry]:
    module, die_set = f"M-{number % MODULES:02d}", f"DS-{number % SETS:02d}"
    yield Sign(at=_at(day, 16), by="ana", item=module, task="grease", occurrence=day.isoformat())
    yield Check(
        at=_at(day, 16, 10), by="ana", item=die_set, occasion="as-found", points=(("crimp-height", (1.2,)),),
        limits=(("crimp-height", 1.15, 1.25),),
    )  # fmt: skip
    if number % 7 == 0:
        yield Sign(at=_at(day, 16, 20), by="ana", item=die_set, task="inspect", occurrence=day.isoformat(), grade=1)
        yield Hold(at=_at(day, 16, 30), by="lea", item=die_set, because="burr on the cut-off")
        yield Release(at=_at(day, 17), by="lea", item=die_set, because="stoned, looked at")
        yield Fault(at=_at(day, 17, 10), by="ana", item=module, symptom="stiff ram")
    if number % 30 == 0:
        yield Pause(at=_at(day, 18), by="lea", item=module, because="on the rack")
        yield Resume(at=_at(day, 18, 30), by="lea", item=module)


def _at(day: date, hour: int, minute: int = 0, second: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, second, tzinfo=UTC)
