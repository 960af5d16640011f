"""A book of 100,000 lines on a Monday morning: one line in twenty calls for somebody, every state occurs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from tests.plants import at, define, item, person, plant, task
from upkeep.book import Book
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Hold, Pause
from upkeep.entries.fitting import Fit
from upkeep.entries.planning import Define
from upkeep.entries.signing import Sign
from upkeep.plant.definition import Definition

LINES = 100_000
NOW = at("2026-03-30 09:00")

_BEGAN = at("2025-06-02 06:00")
_AGES = 300
"""Days over which the items came into the book."""
_HUNG = NOW - timedelta(days=20)
"""When the running presses got their modules."""
_FRIDAY = NOW - timedelta(days=3)

_KINDS = {"press": ("P", 200), "module": ("M", 100), "die set": ("DS", 25), "conductor punch": ("CP", 22.5)}
"""Short name of each kind, and how many lines of the board there are for one item of it."""
_RUNNING = 40
"""Presses that have a module on them and are read."""
_NEGLECTED = 12
"""Presses that nobody has looked after for weeks."""


def big_book(path: Path, lines: int = LINES) -> Path:
    """A new book of so many lines."""
    items = list(_items(lines))
    came = {one.key: _BEGAN + timedelta(days=number * 37 % _AGES) for number, one in enumerate(items)}
    old = {kind: [key for key in _keys(items, kind) if came[key] < _HUNG] for kind in ("press", "module", "die set")}
    with Book.create(path) as book:
        defined = [*((one, _BEGAN) for one in _plant()), *((one, came[one.key]) for one in items)]
        book.write(
            [Define(at=since, by="lea", what=one.what, key=one.key, content=one.text) for one, since in defined], NOW
        )
        for press, module in zip(old["press"][:_RUNNING], old["module"], strict=False):
            book.write(list(_run(press, module)), NOW)
        book.write(list(_looked_after(book, old["press"], old["module"])), NOW)
        book.write(list(_set_aside(*old["die set"][:2])), NOW)
    return path


def _keys(items: list[Definition], kind: str) -> list[str]:
    return [one.key for one in items if one.content["kind"] == kind]


def _plant() -> Iterator[Definition]:
    yield plant()
    yield define("place", "hall", title="Hall", area="press hall", route=1)
    yield define("place", "rack", title="Rack", area="toolroom", route=2)
    yield person("ana", "Ana", "operator", "maintenance technician")
    yield person("lea", "Lea", "maintenance lead", "quality technician")
    yield from _tasks()


def _items(lines: int) -> Iterator[Definition]:
    for kind, (short, lines_an_item) in _KINDS.items():
        place = "hall" if kind == "press" else "rack"
        for number in range(round(lines / lines_an_item)):
            yield item(f"{short}-{number:04d}", kind=kind, place=place, family=f"tab-{number % 8}")


def _tasks() -> Iterator[Definition]:
    """Ten tasks a kind (a press has eleven): bound to shifts or strokes, on a fixed day, and floating."""
    for kind, (short, _) in _KINDS.items():
        if kind in ("press", "module"):
            yield task(f"{short}-shift", kind, each_shift=True)
        else:
            yield task(f"{short}-wear", kind, strokes=50_000)
        yield task(f"{short}-year", kind, rule="FREQ=YEARLY", start="2026-04-30", early_days=7)
        for number in range(8):
            days = _AGES - 2 - 4 * number
            stop = {"stop_days": 28} if number == 7 else {}
            yield task(f"{short}-{days}", kind, every=f"{days} days", early_days=2, late_days=2 * number, **stop)
    yield task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO", start="2025-06-02", late_days=1)


def _run(press: str, module: str) -> Iterator[Entry]:
    """A module goes onto a press, which is read every morning from then on."""
    yield Count(at=_HUNG, by="lea", press=press, value=0)
    yield Fit(at=_HUNG, by="lea", item=module, inside=press)
    for day in range(1, 20):
        yield Count(at=_HUNG + timedelta(days=day), by="lea", press=press, value=9_000 * day)


def _looked_after(book: Book, presses: list[str], modules: list[str]) -> Iterator[Entry]:
    """On Friday all was signed that every shift and every week asks for; but on a few presses nothing."""
    signed = [f"{press}/{task_id}" for press in presses[_NEGLECTED:] for task_id in ("guard", "P-shift")]
    signed += [f"{module}/M-shift" for module in modules[_NEGLECTED:_RUNNING]]
    for name in signed:
        line = book.line(name, NOW)
        if line.state != "not required":
            yield Sign(at=_FRIDAY, by="lea", task=line.task, item=line.item, occurrence=line.occurrence)


def _set_aside(held: str, paused: str) -> Iterator[Entry]:
    yield Hold(at=_FRIDAY, by="lea", item=held, because="a crack in the ram")
    yield Pause(at=_FRIDAY, by="lea", item=paused, because="greased and put away")
