"""The history of the demo plant: a quarter of a year of counts, tool changes and signatures, from one seed.

The generator keeps its own truth of what every press has done and writes down what people would: through the book's
door, with the book's own rules in force.  No clock is read; the same seed gives the same history.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import groupby
from random import Random

from demo_plant.bad_bellmouth import BadBellmouth
from demo_plant.care import do_rounds, waiting_sets
from demo_plant.checking import Checks
from demo_plant.chipped_punch import ChippedPunch
from demo_plant.crew import Crew
from demo_plant.day import Day
from demo_plant.floor import Floor, ShiftPlan
from demo_plant.incidents import Incidents
from demo_plant.measuring import Wear
from demo_plant.mended_faults import MendedFaults
from demo_plant.notebook import Notebook, minutes
from demo_plant.shift_work import work
from demo_plant.shop import Shop, first_fittings
from demo_plant.slug_jumps import release_jumps
from demo_plant.tool_changes import change_die_set, change_module
from demo_plant.worn_punches import WornPunches
from upkeep.book import Book, Progress, Watch, nobody
from upkeep.entries.fitting import Fit
from upkeep.entries.jobs import Handover
from upkeep.entries.signing import Stated
from upkeep.plant.model import Item, Kind, Role
from upkeep.units.shifts import ShiftSpan

_STROKES_AN_HOUR = {"Sample shop": (250, 500), "": (700, 1400)}
"""Slowest and fastest pace of a press, in the sample shop and elsewhere.  Invented for the demo."""

_IDLE = {"Sample shop": 0.4, "": 0.04}
"""Share of the shifts on which a press does not run."""

_PRODUCTIVE_HOURS = 7.2
_CHANGES = 0.12
"""Share of the shifts of a press on which its tools are changed."""

_BENCH_CHANGES = 0.4
"""Share of the days on which a die set is changed in a module on the bench."""

_COMES = "sven"
"""Who came after the last shift."""

_WALK = timedelta(hours=3)
"""How long the first walk takes: every counter read, everything that hangs somewhere written down."""


def write_history(book: Book, *, days: int = 90, end: datetime, seed: int = 7, watch: Watch = nobody) -> int:
    """Writes the ``days`` before ``end`` into a book with the demo plant's definitions; gives the number of entries."""
    rng = Random(seed)
    begin = end - timedelta(days=days)
    shifts = list(_whole_shifts(book, begin + _WALK, end))
    by_day = [list(group) for _, group in groupby(shifts, key=_day_of)]
    floor = _floor(book, rng, len(shifts), end)
    incidents = Incidents(floor, len(by_day), ChippedPunch(), BadBellmouth())
    _walk(floor, begin)
    _note_handover(floor, book, end)
    for number, day in enumerate(by_day):
        _live(floor, book, number, day, incidents)
        watch(Progress("days", number + 1, len(by_day)))
    floor.notebook.write(end)
    return floor.notebook.written


def _whole_shifts(book: Book, begin: datetime, end: datetime) -> Iterator[ShiftSpan]:
    return (shift for shift in book.calendar.between(begin, end) if shift.start >= begin)


def _day_of(shift: ShiftSpan) -> date:
    return shift.day


def _floor(book: Book, rng: Random, shifts: int, end: datetime) -> Floor:
    areas = {place.id: place.area for place in book.places()}
    items = {item.id: item for item in book.items()}
    presses = [item for item in items.values() if item.kind is Kind.PRESS]
    rates = {press.id: rng.uniform(*_STROKES_AN_HOUR[_shop_of(press, areas)]) for press in presses}
    totals = {press.id: rng.randint(10_000, 90_000) * 10 for press in presses}
    rolls_over = next(press.id for press in presses if press.digits == 6)
    totals[rolls_over] = max(1, 10**6 - int(rates[rolls_over] * _PRODUCTIVE_HOURS * shifts / 4))
    shop = Shop(items, totals)
    tasks = {task.id: task for task in book.tasks()}
    idle = {press.id: _IDLE[_shop_of(press, areas)] for press in presses}
    crew = Crew(book.people())
    wear, notebook = Wear(shop, rng), Notebook(book, end, clerk=crew.alone(Role.LEAD))
    checks = Checks(shop, wear, notebook, book.known.crimps, seed=sum(totals.values()))
    worn_punches = WornPunches(shop, sum(totals.values()))
    faults = MendedFaults(crew, notebook, Random(sum(totals.values())))
    return Floor(rng, shop, crew, wear, notebook, tasks, rates, idle, checks, worn_punches, faults)


def _shop_of(press: Item, areas: dict[str, str]) -> str:
    area = areas.get(press.place or "", "")
    return area if area in _IDLE else ""


def _walk(floor: Floor, begin: datetime) -> None:
    """What the first walk writes down: every count, and everything that sits in something."""
    lead, at = floor.crew.alone(Role.LEAD), begin + minutes(10)
    for press in floor.shop.of_kind(Kind.PRESS):
        floor.notebook.note(floor.read(press, at, lead))
        at += minutes(2)
    for item, inside in first_fittings(floor.shop.items.values()):
        on_press = floor.shop.items[inside].kind is Kind.PRESS
        count = floor.shop.shown(inside) if on_press else None
        floor.notebook.note(Fit(at=at, by=lead, item=item, inside=inside, count=count))
        floor.shop.inside[item] = inside
        at += minutes(0.5)
    for place, gauge in enumerate(floor.shop.of_kind(Kind.GAUGE)):
        done = (begin - timedelta(days=30 + 23 * place)).date().isoformat()
        floor.notebook.note(Stated(at=at, by=lead, task="gauge-calibration", item=gauge, done=done))
    floor.notebook.write(begin + _WALK)


def _note_handover(floor: Floor, book: Book, end: datetime) -> None:
    """The shift that ended last before ``end`` is accepted, among what else is written in those minutes."""
    ended = book.calendar.before(end)
    if ended is not None and ended.start >= book.entry(0).at:
        at = min(end, ended.end + minutes(8))
        floor.notebook.note(
            Handover(at=at, by=_COMES, shift=ended.key, side="accepted", text="walked through together")
        )


def _live(floor: Floor, book: Book, number: int, shifts: list[ShiftSpan], incidents: Incidents) -> None:
    """One shift day: what the board asks in the morning, then the shifts, then all of it into the book."""
    floor.notebook.begin_day(shifts[0])
    day = Day(book, shifts, [_planned(floor, shift, shifts) for shift in shifts])
    asked = day.asked()
    floor.shop.waiting = waiting_sets(asked)
    release_jumps(floor, day)
    incidents.happen(number, day)
    do_rounds(floor, asked, day, incidents.postponed)
    for shift, plan in zip(shifts, day.plans, strict=True):
        work(floor, shift, plan)
    floor.notebook.write(shifts[-1].end)


def _planned(floor: Floor, shift: ShiftSpan, shifts: list[ShiftSpan]) -> ShiftPlan:
    plan = ShiftPlan(is_last=shift is shifts[-1])
    for press in floor.shop.of_kind(Kind.PRESS):
        if floor.rng.random() < floor.idle[press]:
            plan.idle.add(press)
        elif floor.rng.random() < _CHANGES:
            plan.changes[press] = floor.rng.choice((change_die_set, change_module))
    plan.on_the_bench = shift is shifts[0] and floor.rng.random() < _BENCH_CHANGES
    return plan
