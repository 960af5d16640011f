"""Acts of the invented shop floor that tell strokes: counts, resets, how counters count, quantities, hand strokes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from tests.shop_counters import START, STEP, STILL, Regime
from tests.shop_plant import COUNTERS, MOVED, PARTS, PRESSES
from upkeep.entries.counting import ConfigureCounter, Count, QuantityMade, Restart, UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Changeover, ChangeStage
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.planning import Order

if TYPE_CHECKING:
    from tests.shop_floor import Floor


def count(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """One counter is read."""
    yield reading(floor, COUNTERS[one % len(COUNTERS)], moment, other)


def counts(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Two counters are read, the second one perhaps long before."""
    yield reading(floor, COUNTERS[one % len(COUNTERS)], moment, other)
    yield reading(floor, COUNTERS[other % len(COUNTERS)], max(START, moment - STEP * (one % 60)), one)


def reading(floor: Floor, counter: str, moment: datetime, other: int) -> Count:
    """What a counter shows, now and then read a little wrongly, or so wrongly that only the lead may write it."""
    value = floor.counters.shown(counter, moment) + (other % 7 if other % 11 == 0 else 0)
    rolled = rolled_over(floor, counter, moment, value)
    if other % 97 == 0:
        return Count(at=moment, by="lea", press=counter, value=value + 3000, because="nobody looked for a week")
    return Count(at=moment, by="ana", press=counter, value=value, rolled_over=rolled)


def rolled_over(floor: Floor, counter: str, moment: datetime, value: int) -> bool:
    """Whether a counter shows less than it did before, as one does that has passed its last figure."""
    before = [shown for when, shown in _readings(floor, counter) if when <= moment]
    return bool(before) and value < before[-1] and floor.counters.regime(counter, moment).way != "countdown"


def dispute(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A count that cannot be true beside an earlier reading of the same counter is kept, as a question."""
    counter = COUNTERS[one % len(COUNTERS)]
    earlier = [n for n, told in floor.told.items() if isinstance(told, Count | Restart) and told.press == counter]
    if earlier:
        against = earlier[other % len(earlier)]
        yield Count(at=moment, by="ana", press=counter, value=other * 7, disputes=against)


def stop(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A counter stops counting; two readings later people make pieces on that press, and read the same figure again."""
    counter = COUNTERS[one % len(COUNTERS)]
    old = floor.counters.regime(counter, moment)
    shown = floor.counters.shown(counter, moment)
    floor.counters.begin(counter, Regime(moment, shown, STILL, old.digits, old.times))
    yield reading(floor, counter, moment, 1)
    if counter in PRESSES:
        minutes = 15 * (1 + other % 32)
        made = moment + timedelta(minutes=minutes)
        if made <= floor.now:
            yield QuantityMade(
                at=made, by="ana", press=counter, pieces=minutes * (1 + other // 32 % 20), minutes=minutes
            )
            yield reading(floor, counter, made, 1)


def _readings(floor: Floor, counter: str) -> list[tuple[datetime, int]]:
    """What a counter showed, as far as counts and resets told so; corrections are not looked at."""
    told = floor.told.values()
    found = [(one.at, one.value) for one in told if isinstance(one, Count) and one.press == counter]
    found += [(one.at, one.now) for one in told if isinstance(one, Restart) and one.press == counter]
    return sorted(found)


def restart(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody reads a counter, and sets it back or exchanges it."""
    counter = COUNTERS[one % len(COUNTERS)]
    old = floor.counters.regime(counter, moment)
    shown = floor.counters.shown(counter, moment)
    begins = 9000 if old.way == "countdown" else (0, 0, other % 900)[other % 3]
    way = "running" if old.way == STILL else old.way
    floor.counters.begin(counter, Regime(moment, begins, way, old.digits, old.times))
    seen = None if one % 3 == 0 else shown  # or nobody knows what it showed
    yield Restart(at=moment, by="tom", press=counter, shown=seen, now=begins, because="set back")


def reset(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody set a counter back an hour or more ago and told nobody; now it is read."""
    counter = COUNTERS[one % len(COUNTERS)]
    since = max(START, moment - STEP * (4 + other % 8))
    old = floor.counters.regime(counter, since)
    way = "running" if old.way == STILL else old.way
    floor.counters.begin(counter, Regime(since, 0, way, old.digits, old.times))
    value = floor.counters.shown(counter, moment)
    yield Count(at=moment, by="ana", press=counter, value=value, after_reset=True)


def configure_counter(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A counter is read for the last time, and counts otherwise from now on."""
    counter = COUNTERS[one % len(COUNTERS)]
    way = ("running", "resettable", "countdown")[other % 3]
    times, digits = (1.0, 1.0, 10.0, 0.5)[other // 3 % 4], 4 + other // 12 % 3
    shown = floor.counters.shown(counter, moment)
    begins = 9500 if way == "countdown" else shown % 10**digits
    if other % 5:
        yield Restart(at=moment, by="tom", press=counter, shown=shown, now=begins, because="a new counter")
    floor.counters.begin(counter, Regime(moment, begins, way, digits, times))
    yield ConfigureCounter(
        at=moment, by="tom", press=counter, way=way, digits=digits, times=times, because="a new counter",
    )  # fmt: skip


def quantity(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Pieces made on a press: with a counter they share its strokes, without one they are all that is known."""
    press = (*PRESSES, "P-05", "P-05", "P-09")[one % 7]
    minutes = 15 * (1 + other % 32)
    if floor.now - timedelta(minutes=minutes) < START:
        return
    pieces = minutes * (0, 1, 3, 10, 20)[other // 32 % 5]
    die_set = (None, "DS-031", "DS-102")[other % 3]
    order = ("A-1", "A-2")[other % 2] if other % 7 == 0 else None
    yield QuantityMade(at=moment, by="ana", press=press, pieces=pieces, minutes=minutes, item=die_set, order=order)


def uncounted(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Strokes by hand, uncounted, at set-up or dry, of one item alone or of all that it contains."""
    way = ("hand", "stood-still", "set-up", "dry")[other % 4]
    item = (*MOVED, "P-07")[one % 9]
    yield UncountedStrokes(
        at=moment, by="ana", item=item, way=way, strokes=1 + other % 300,
        weight=(None, 0.5, 2.0)[other // 4 % 3], on=(item,) if other % 5 == 0 else (),
    )  # fmt: skip


def rework(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A part was reground."""
    by = (None, "lea")[other % 2]
    yield Rework(
        at=moment, by="tom", item=PARTS[one % 4], granted=300 + other % 1500, granted_by=by,
        before=(("height", (12.1,)),) * (other % 3), because="reground 0.1 mm",
    )  # fmt: skip


def unknown(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Nobody knows what a thing has done."""
    yield UnknownLife(at=moment, by="ana", item=MOVED[one % 8], because="found in a drawer")


def order(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """An order is planned."""
    yield Order(
        at=moment, by="ana", order=("A-1", "A-2")[one % 2], pieces=1 + other, item=("DS-031", "DS-102")[one // 2 % 2],
        press=PRESSES[other % 4], day=f"2026-03-{1 + other % 28:02d}",
    )  # fmt: skip


def changeover(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A change of tools begins, waits, goes on, or ends."""
    stage = tuple(ChangeStage)[one % 5]
    item = ("DS-031", "DS-102", "M-12", "M-44")[other % 4] if stage is ChangeStage.BEGUN else None
    text = "not today" if stage is ChangeStage.GIVEN_UP else ""
    yield Changeover(at=moment, by="ana", press=PRESSES[other % 3], stage=stage, item=item, text=text)


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "count": count, "counts": counts, "restart": restart, "reset": reset, "quantity": quantity, "dispute": dispute,
    "stop": stop, "configure-counter": configure_counter, "changeover": changeover,
    "uncounted": uncounted, "rework": rework, "unknown": unknown, "order": order,
}  # fmt: skip
"""Each act takes the floor, the moment it tells of and two numbers that choose what it is about."""
