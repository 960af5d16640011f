"""Admission of what is told about counters, quantities, reworks and orders."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from upkeep.book import checks
from upkeep.book.judging import Judge, line_name
from upkeep.book.known import Known
from upkeep.book.recounting import Recounter
from upkeep.counting.judgement import SLACK_STROKES
from upkeep.counting.marks import NONE, WAYS
from upkeep.entries.kinds import Besides, Entry, Made, Order, Restart, Rework, Terms, UnknownLife
from upkeep.errors import Refused
from upkeep.plant.model import PARTS, Item, Kind, Role
from upkeep.store.projections import Projections
from upkeep.units.quantities import grouped, strokes

BESIDES = ("hand", "uncounted", "set-up", "dry")
"""Strokes that the counter did not count as they wear."""

LONGEST_RUN_MINUTES = 7 * 24 * 60
MAY_REWORK = (Role.TECHNICIAN.value, Role.LEAD.value, Role.QUALITY.value)
MAY_SET_COUNTERS = (Role.TECHNICIAN.value, Role.LEAD.value)


class CountAdmission:
    """Judges such entries against the book; ``notes`` are told to the writer."""

    def __init__(self, rows: Projections, known: Known, counter: Recounter) -> None:
        self._rows, self._known, self._counter = rows, known, counter
        self.notes: list[str] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        match entry:
            case Restart() | Terms():
                self._check_counter(entry)
            case Made():
                self._check_made(entry)
            case Besides():
                return self._with_items(entry)
            case Rework():
                self._check_rework(entry)
            case UnknownLife():
                self._check_reason(entry, f"the life of {self._known.item(entry.item).id} is unknown")
            case Order():
                self._check_order(entry)
            case _:
                raise TypeError(type(entry).__name__)
        return entry

    def _check_reason(self, entry: Entry, what: str) -> None:
        if not entry.because:
            raise Refused(f"Say why {what}; the reason stays in the book.")

    def _check_counter(self, entry: Restart | Terms) -> None:
        counter = self._known.counter(entry.press)
        if counter.digits == 0:
            raise Refused(f"{counter.id} has no counter.")
        person = self._known.person(entry.by)
        if isinstance(entry, Restart):
            self._check_reason(entry, f"the counter of {counter.id} shows another figure (set back, replaced)")
            self._check_figures(entry)
            return
        checks.check_role(person, MAY_SET_COUNTERS, f"how the counter of {counter.id} counts")
        self._check_reason(entry, f"the counter of {counter.id} counts otherwise")
        ways = [way for way in WAYS if way != NONE]
        if entry.way not in ways:
            raise Refused(f"{entry.way!r} is no way a counter counts; {', '.join(ways)} are.")
        if not 3 <= entry.digits <= 10 or not 0.01 <= entry.times <= 1000:
            raise Refused("A counter has 3 to 10 figures, and 0.01 to 1,000 strokes to each count.")

    def _check_figures(self, entry: Restart) -> None:
        digits = self._counter.terms_at(entry.press)(entry.at).digits
        if digits is not None and entry.now >= 10**digits:
            raise Refused(
                f"{grouped(entry.now)} has more figures than the counter of {entry.press} ({digits}). If the new one "
                "has more, write its terms first."
            )

    def _check_made(self, entry: Made) -> None:
        press = self._known.press(entry.press)
        if entry.item is not None:
            self._check_die_set(entry.item)
        if not 1 <= entry.minutes <= LONGEST_RUN_MINUTES or entry.pieces > 10**9:
            raise Refused("Quantities are written for a run of 1 minute to 7 days.")
        self._check_pace(entry, press)

    def _check_pace(self, entry: Made, press: Item) -> None:
        """Where there is no counter the pieces are the strokes, and no press makes more than it can."""
        most = None if press.max_rate is None else press.max_rate * entry.minutes / 60 + SLACK_STROKES
        if press.digits == 0 and most is not None and entry.pieces > most:
            raise Refused(
                f"{press.id}: {grouped(entry.pieces)} pieces in {entry.minutes} minutes are more than it can make "
                f"({grouped(press.max_rate or 0)} an hour). Nothing was changed; look at the quantity and the minutes "
                "again."
            )

    def _check_die_set(self, key: str) -> None:
        item = self._known.item(key)
        if item.kind is not Kind.DIE_SET:
            raise Refused(f"{item.id} is a {item.kind}; name the die set that made the pieces.")

    def _with_items(self, entry: Besides) -> Besides:
        item = self._known.item(entry.item)
        if entry.way not in BESIDES:
            raise Refused(f"{entry.way!r} is no way; strokes besides the counter are {', '.join(BESIDES)}.")
        if not 1 <= entry.strokes <= 100_000:
            raise Refused("Write 1 to 100,000 strokes.")
        weight = entry.weight
        if weight is None:
            weight = float(self._known.facts.weights.get(entry.way, 1.0))
        if not 0 <= weight <= 10:
            raise Refused("A stroke weighs 0 to 10.")
        on = tuple(dict.fromkeys(entry.on or self._counter.contents_at(item.id, entry.at)))
        for one in on:
            self._known.item(one)
        return replace(entry, weight=weight, on=on)

    def _check_rework(self, entry: Rework) -> None:
        item = self._known.item(entry.item)
        if item.kind not in PARTS:
            raise Refused(f"{item.id} is a {item.kind}; parts are reworked.")
        if item.scrapped:
            raise Refused(f"{item.id} was scrapped on {item.scrapped}; it is not reworked.")
        checks.check_role(self._known.person(entry.by), MAY_REWORK, f"the rework of {item.id}")
        self._check_reason(entry, f"{item.id} was reworked, and how it measured before and after")
        last = self._rows.last_rework(item.id)
        done = last.times if last and entry.corrects is None else 0
        if item.max_reworks is not None and done >= item.max_reworks:
            raise Refused(
                f"{item.id} was reworked {done} times; {item.max_reworks} is the most. Scrap it and fit a new one."
            )
        if item.life is not None and entry.granted > item.life:
            raise Refused(f"{grouped(entry.granted)} is more than the life of a new part ({strokes(item.life)}).")

    def _check_order(self, entry: Order) -> None:
        self._known.press(entry.press)
        self._check_die_set(entry.item)
        try:
            date.fromisoformat(entry.day)
        except ValueError:
            raise Refused(f"{entry.day!r} is no day; write it like 2026-03-09.") from None
        if not 1 <= entry.pieces <= 10**9:
            raise Refused("An order is for 1 piece or more.")
        judge = Judge(self._rows, self._known)
        on = self._counter.contents_at(entry.item, entry.at)
        self.notes += beyond(judge, on, entry.pieces, f"order {entry.order} ({grouped(entry.pieces)} pieces)")


def beyond(judge: Judge, items: list[str], pieces: int, what: str) -> Iterator[str]:
    """What so many pieces more would run over: each stroke limit of a die set and its parts that they pass.

    The strokes done so far count with their upper bound.
    """
    for key in items:
        item = judge.known.item(key)
        for task in judge.known.tasks_on(item):
            line = judge.line(item, task)
            if line.strokes is None or line.due_strokes is None:
                continue
            left = max(0, line.due_strokes - line.strokes.high)
            if pieces > left:
                yield (
                    f"{what} is {strokes(pieces - left)} beyond the limit of {line_name(key, task.id)}: "
                    f"{grouped(left)} left. Change the set, plan a stop at {grouped(left)}, or do the task before."
                )
