"""Strokes worked out by hand from the lines of a book: the slow, plain way, without any of the engine's counting.

It reads the exported text, lists every moment at which anything moved, looks up for each piece of time where an item
hung, and adds up what the press did meanwhile.  Where a count was not taken it goes through the time between two counts
minute by minute: what was made in each minute, else whether a shift ran, else that a minute passed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from math import ceil, floor
from typing import Any

from upkeep.book import Book
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import ConfigureCounter, Count, QuantityMade, Restart, UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.text import read_line
from upkeep.plant.model import Kind, ShiftRule
from upkeep.units.instants import Zone
from upkeep.units.shifts import DAY_CODES

MINUTE = timedelta(minutes=1)
BEGINNING = datetime(1, 1, 2, tzinfo=UTC)


@dataclass(frozen=True)
class Piece:
    """An item hung on a press over [start, end); ``end`` None: to the end of what is told."""

    press: str
    start: datetime
    end: datetime | None


class WorkingTime:
    """Whether some shift runs in a minute: looked up on the wall clock of that minute."""

    def __init__(self, zone: Zone, shifts: Iterable[ShiftRule], days_off: Collection[date] = ()) -> None:
        self._zone, self._shifts, self._days_off = zone, tuple(shifts), frozenset(days_off)
        self.runs = lru_cache(maxsize=None)(self._runs)

    def _runs(self, minute: datetime) -> bool:
        wall = self._zone.local(minute)
        now, today = f"{wall:%H:%M}", wall.date()
        yesterday = today - timedelta(days=1)
        for shift in self._shifts:
            over_midnight = shift.end <= shift.start
            begun_today = self._begins(shift, today) and shift.start <= now and (over_midnight or now < shift.end)
            if begun_today or (over_midnight and self._begins(shift, yesterday) and now < shift.end):
                return True
        return False

    def _begins(self, shift: ShiftRule, day: date) -> bool:
        return DAY_CODES[day.weekday()] in shift.days and day not in self._days_off


class ByHand:
    """What the lines of a book say about strokes; ``figures`` is how many figures each counter is defined with.

    A press with 0 has no counter.  ``presses`` are those of the counters that belong to presses.
    """

    def __init__(
        self, lines: Iterable[str], zone: Zone, figures: Mapping[str, int | None], presses: Collection[str],
        working: WorkingTime,
    ) -> None:  # fmt: skip
        told = {number: read_line(line, zone) for number, line in enumerate(lines)}
        self.counted = {number: entry for number, entry in told.items() if is_told(number, told)}
        self.figures, self.presses, self.working = figures, presses, working
        self.moves = sorted(
            (entry.at, isinstance(entry, Fit), number, entry.item, entry.inside if isinstance(entry, Fit) else None)
            for number, entry in self.counted.items()
            if isinstance(entry, Fit | Unfit)
        )
        running = {press: list(self._running(press)) for press in presses}
        self.totals = {press: [(moment, total) for moment, total, _, _ in told] for press, told in running.items()}
        self.bounds = {press: [(at, least, most) for at, _, least, most in told] for press, told in running.items()}
        self.made = {press: self._by_minute(press) for press in presses}

    # What a press did

    def _running(self, press: str) -> Iterator[tuple[datetime, int, int, int]]:
        """The running total of a press at its readings, to the nearest stroke, and the least and the most it can be;
        half a stroke is not done yet."""
        total, before, since = Fraction(0), None, None
        told = least = most = 0
        for moment, _, entry in self._readings(press):
            was = told
            if isinstance(entry, QuantityMade):
                total += entry.pieces
            elif before is not None and since is not None:
                total += self._step(press, before, since, entry)
            told = _half_down(total)
            fewest, most_of_it = told - was, told - was
            if since is not None:
                fewest, most_of_it = self._may_be(press, since, entry, told - was)
            least, most = least + fewest, most + most_of_it
            before = entry.now if isinstance(entry, Restart) else _figure(entry)
            since = moment
            yield moment, told, least, most

    def _may_be(self, press: str, since: datetime, entry: Entry, step: int) -> tuple[int, int]:
        """The fewest and the most strokes from a reading to the next one that showed so many, hour by hour."""
        hours = Fraction((entry.at - since) // MINUTE, 60)
        if isinstance(entry, Restart) and entry.shown is None:
            return 0, max(step, floor((entry.fastest or 0) * hours))
        fastest = entry.fastest if isinstance(entry, Count | Fit | Unfit) else None
        if isinstance(entry, Count | Fit | Unfit) and fastest is not None:
            _, digits, times = self._terms(press, since)
            most = floor(fastest * hours)
            if entry.after_reset:
                return step, max(step, most)
            if entry.rolled_over and digits:
                turn = _half_down(Fraction(int("1" + "0" * digits)) * times)
                turned = step
                while turned + turn <= most:
                    turned += turn
                return step, turned
        return step, step

    def _readings(self, press: str) -> list[tuple[datetime, int, Entry]]:
        found: list[tuple[datetime, int, Entry]] = []
        for number, entry in self.counted.items():
            made = isinstance(entry, QuantityMade) and self.figures[press] == 0
            seen = (
                isinstance(entry, Restart)
                or (isinstance(entry, Count) and entry.disputes is None)
                or (isinstance(entry, Fit | Unfit) and entry.count is not None)
            )
            if (made or seen) and getattr(entry, "press", None) == press:
                found.append((entry.at, number, entry))
        return sorted(found, key=lambda one: one[:2])

    def _step(self, press: str, before: int, since: datetime, entry: Entry) -> Fraction:
        """Strokes from a figure to the next reading, the way the counter counted when it showed the first."""
        if isinstance(entry, Restart) and entry.shown is None:
            return Fraction(floor(Fraction((entry.at - since) // MINUTE, 60) * (entry.rate or 0)))
        way, digits, times = self._terms(press, since)
        figure = _figure(entry)
        if isinstance(entry, Count | Fit | Unfit) and entry.after_reset:
            return figure * times
        if way == "countdown":
            return (before - figure) * times
        if isinstance(entry, Count | Fit | Unfit) and entry.rolled_over:
            figure += int("1" + "0" * digits) if digits else 0
        return (figure - before) * times

    def _terms(self, press: str, since: datetime) -> tuple[str, int | None, Fraction]:
        """How a counter counted at a moment: its way, its figures, strokes to a count."""
        way, digits, times = "running", self.figures[press], Fraction(1)
        terms = sorted((one.at, number) for number, one in self.counted.items() if isinstance(one, ConfigureCounter))
        for moment, number in terms:
            one = self.counted[number]
            if isinstance(one, ConfigureCounter) and one.press == press and moment <= since:
                way, digits, times = one.way, one.digits, Fraction(repr(one.times))
        return way, digits, times

    def _by_minute(self, press: str) -> dict[datetime, Fraction]:
        """The pieces made on a press in each minute."""
        made: dict[datetime, Fraction] = {}
        for entry in self.counted.values():
            if isinstance(entry, QuantityMade) and entry.press == press:
                for minute in range(1, entry.minutes + 1):
                    moment = entry.at - minute * MINUTE
                    made[moment] = made.get(moment, Fraction(0)) + Fraction(entry.pieces, entry.minutes)
        return made

    def share(self, press: str, start: datetime, moment: datetime, end: datetime) -> Fraction:
        """The part of the strokes between two readings that was done by a moment."""
        minutes = [start + n * MINUTE for n in range((end - start) // MINUTE)]
        done = (moment - start) // MINUTE
        made = [self.made[press].get(minute, Fraction(0)) for minute in minutes]
        if sum(made):
            return Fraction(sum(made[:done])) / sum(made)
        ran = [self.working.runs(minute) for minute in minutes]
        if sum(ran):
            return Fraction(sum(ran[:done]), sum(ran))
        return Fraction(done, len(minutes))

    def total(self, press: str, moment: datetime, until: datetime) -> Fraction:
        """What a press had done at a moment at best, going by the readings up to ``until``; not rounded.

        Of several readings at one moment the last one says what was done by then, since all they tell lies in one step.
        """
        readings = list(dict(reading for reading in self.totals[press] if reading[0] <= until).items())
        if self.figures[press] == 0 and readings:
            return self._by_pieces(press, moment, dict(readings))
        earlier = [reading for reading in readings if reading[0] <= moment]
        later = [reading for reading in readings if reading[0] > moment]
        if not earlier:
            return Fraction(0)
        least = earlier[-1][1]
        if not later or earlier[-1][0] == moment or later[0][1] == least:
            return Fraction(least)
        return least + (later[0][1] - least) * self.share(press, earlier[-1][0], moment, later[0][0])

    def _by_pieces(self, press: str, moment: datetime, totals: dict[datetime, int]) -> Fraction:
        """The same of a press without a counter: totals by the moment at which runs ended, none before the first began.

        Runs that ended at one moment count together: of ``totals`` each moment has the last.
        """
        first = min(totals)
        begun = min(minute for minute in self.made[press] if minute < first)
        totals = {begun: 0, **totals}
        if moment <= begun:
            return Fraction(0)
        before = max(end for end in totals if end <= moment)
        later = [end for end in totals if end > moment]
        if before == moment or not later or totals[min(later)] == totals[before]:
            return Fraction(totals[before])
        share = self.share(press, before, moment, min(later))
        return totals[before] + (totals[min(later)] - totals[before]) * share

    # Where an item hung

    def press_of(self, item: str, moment: datetime) -> str | None:
        """The press an item hangs on from a moment on, through whatever it sits in."""
        key: str | None = item
        while key is not None and key not in self.presses:
            told = [inside for at, _, _, moved, inside in self.moves if moved == key and at <= moment]
            key = told[-1] if told else None
        return key

    def pieces(self, item: str) -> list[Piece]:
        """Where an item hung, piece by piece; pieces that touch on one press are one."""
        if item in self.presses:
            return [Piece(item, BEGINNING, None)]
        moments: list[datetime | None] = [*sorted({move[0] for move in self.moves}), None]
        found: list[Piece] = []
        for start, end in pairwise(moments):
            assert start is not None
            press = self.press_of(item, start)
            if press is None:
                continue
            if found and found[-1].press == press and found[-1].end == start:
                found[-1] = Piece(press, found[-1].start, end)
            else:
                found.append(Piece(press, start, end))
        return found

    # What an item did

    def strokes(self, item: str, until: datetime) -> tuple[int, int, int]:
        """The strokes of an item up to a moment, going by what was read until then: least, best, most."""
        return self.between(item, BEGINNING, until, until)

    def between(self, item: str, start: datetime, end: datetime, until: datetime) -> tuple[int, int, int]:
        """The strokes of an item over [start, end), going by the readings up to ``until``: least, best, most."""
        besides = sum(number for moment, number in self.besides(item) if start <= moment < end)
        over: dict[str, list[tuple[datetime, datetime]]] = {}
        best = Fraction(0)
        for piece in self.pieces(item):
            first = max(piece.start, start)
            last = end if piece.end is None else min(piece.end, end)
            if first < last:
                best += self.total(piece.press, last, until) - self.total(piece.press, first, until)
                over.setdefault(piece.press, []).append((first, last))
        least, most = self._bounds(over, until)
        by_pieces, at_most = self.by_pieces(item, start, end, until)
        best, most = best + by_pieces, most + at_most
        return max(0, least + besides), max(0, _half_down(best) + besides), max(0, most + besides)

    def _bounds(self, over: Mapping[str, list[tuple[datetime, datetime]]], until: datetime) -> tuple[int, int]:
        """Least and most over spans on presses: of each step from one reading to the next all of it, if it hung there
        at all; none of it, if it was away at all."""
        least = most = 0
        for press, spans in over.items():
            readings = self._readings_until(press, until)
            for moment, fewest, total in readings[:1]:  # several counts at the first moment: what rose between them
                there = any(start < moment <= end for start, end in spans)
                least, most = least + fewest * there, most + total * there
            for (since, fewest_before, before), (moment, fewest, after) in pairwise(readings):
                within = sum(
                    (max(MINUTE * 0, min(end, moment) - max(start, since)) for start, end in spans), MINUTE * 0
                )
                most += after - before if within else 0
                least += fewest - fewest_before if within == moment - since else 0
        return least, most

    # What was made while a counter stood still

    def made_still(self, press: str, until: datetime) -> list[QuantityMade]:
        """The pieces made on a press while its counter stood still: it showed so before they were begun and after they
        were finished; or after the last reading, of a counter already known to stand still."""
        if self.figures[press] == 0:
            return []
        told = [reading for reading in self.totals[press] if reading[0] <= until]
        most = [reading for reading in self.bounds[press] if reading[0] <= until]
        made = [(e.at, n, e) for n, e in self.counted.items() if isinstance(e, QuantityMade) and e.press == press]
        found, known = [], set()
        for finished, _, entry in sorted(made, key=lambda one: one[:2]):
            begun = [place for place, (at, _) in enumerate(told) if at <= finished - entry.minutes * MINUTE]
            read = [place for place, (at, _) in enumerate(told) if at >= finished]
            by_then = [place for place, (at, _) in enumerate(told) if at <= finished]
            if not begun or not entry.pieces or finished > until:
                continue
            last = by_then[-1] if told[by_then[-1]][0] == finished or not read else read[0]
            still = told[begun[-1]][1] == told[last][1]
            sure = most[begun[-1]][2] - told[begun[-1]][1] == most[last][2] - told[last][1]
            if still and sure and (read or told[last][1] in known):
                known.add(told[last][1])
                found.append(entry)
        return found

    def by_pieces(self, item: str, start: datetime, end: datetime, until: datetime) -> tuple[Fraction, int]:
        """Best and most strokes of an item by such pieces, minute by minute, less what people told of it themselves."""
        best, most = Fraction(0), 0
        pieces = self.pieces(item)
        for press in {piece.press for piece in pieces}:
            told = self._told_still(item)
            for entry in self.made_still(press, until):
                minutes = [entry.at - n * MINUTE for n in range(1, entry.minutes + 1)]
                there = [m for m in minutes if any(_covers(p, m) and p.press == press for p in pieces)]
                whole = left = Fraction(entry.pieces * len(there), entry.minutes)
                for one in told:
                    if one[0] > minutes[-1] and self._stands_at(press, one[0], entry, until):
                        used = min(left, one[1])
                        one[1], left = one[1] - used, left - used
                within = [m for m in there if start <= m < end]
                if left and within:
                    best += left * len(within) / len(there)
                    most += entry.pieces - floor(whole - left)
        return best, most

    def _told_still(self, item: str) -> list[list[Any]]:
        told = [entry for entry in self.counted.values() if isinstance(entry, UncountedStrokes) and item in entry.on]
        told = sorted((entry for entry in told if entry.way == "stood-still"), key=lambda entry: entry.at)
        return [[entry.at, Fraction(_besides(entry))] for entry in told]

    def _stands_at(self, press: str, moment: datetime, entry: QuantityMade, until: datetime) -> bool:
        """Whether the counter stood at a moment as it did when pieces were made."""
        told = [(at, total, least, most) for (at, total), (_, least, most) in zip(
            self.totals[press], self.bounds[press], strict=True) if at <= until]  # fmt: skip
        then = [one[1:] for one in told if one[0] <= entry.at - entry.minutes * MINUTE][-1]
        before = [one for one in told if one[0] <= moment][-1]
        later = [one[1:] for one in told if one[0] > moment][:1]
        return before[1] == then[0] and (before[0] == moment or all(one == before[1:] for one in later))

    def _readings_until(self, press: str, until: datetime) -> list[tuple[datetime, int, int]]:
        """Each moment at which a press was read, with the least and the most it had done then; without a counter its
        first runs began at 0."""
        totals = {moment: (least, most) for moment, least, most in self.bounds[press] if moment <= until}
        if self.figures[press] == 0 and totals:
            totals[min(minute for minute in self.made[press] if minute < min(totals))] = 0, 0
        return sorted((moment, least, most) for moment, (least, most) in totals.items())

    def besides(self, item: str) -> list[tuple[datetime, int]]:
        """The strokes of an item that the counter did not count as they wore, each with its moment."""
        written = (entry for entry in self.counted.values() if isinstance(entry, UncountedStrokes) and item in entry.on)
        return [(entry.at, _besides(entry)) for entry in written]

    def moments(self, item: str) -> list[datetime]:
        """The moments at which something is known of an item: readings while it hung there, and ends of its pieces."""
        known: set[datetime] = set()
        for piece in self.pieces(item):
            read = {moment for moment, _ in self.totals[piece.press] if piece.start <= moment}
            known |= {moment for moment in read if piece.end is None or moment <= piece.end}
            if piece.end is not None:
                known.add(piece.end)
        return sorted(known)

    def by_nobody(self, press: str, items: Iterable[str], until: datetime) -> int:
        """The strokes a press did (best) while none of some items hung on it."""
        done = Fraction(0)
        for item in items:
            for piece in self.pieces(item):
                if piece.press == press and piece.start <= until:
                    end = until if piece.end is None else min(piece.end, until)
                    done += self.total(press, end, until) - self.total(press, piece.start, until)
        return _half_down(self.total(press, until, until)) - _half_down(done)


def _covers(piece: Piece, minute: datetime) -> bool:
    return piece.start <= minute and (piece.end is None or minute < piece.end)


def _half_down(number: Fraction) -> int:
    """The nearest whole number; half is not done yet."""
    return ceil(number - Fraction(1, 2))


def _figure(entry: Entry) -> int:
    match entry:
        case Count():
            return entry.value
        case Restart():
            return entry.now if entry.shown is None else entry.shown
        case Fit() | Unfit():
            return entry.count or 0
    return 0


def _besides(entry: UncountedStrokes) -> int:
    """A stroke not counted adds what it weighs; one that the counter counted takes away what it weighs less than 1."""
    weight = 1.0 if entry.weight is None else entry.weight
    counted = entry.way in ("set-up", "dry")
    return round(entry.strokes * (weight - 1)) if counted else round(entry.strokes * weight)


def hand_of(book: Book) -> ByHand:
    """The strokes of a whole book, to be worked out from its exported lines and what its plant says of counters."""
    items = {one.id: one for one in book.items()}
    presses = [one.id for one in items.values() if one.kind is Kind.PRESS]
    working = WorkingTime(book.zone, book.facts.shifts, book.facts.days_off)
    return ByHand(book.export(), book.zone, {key: one.digits for key, one in items.items()}, presses, working)


def is_told(number: int, told: Mapping[int, Entry]) -> bool:
    """Whether an entry counts: it was not struck, and nothing that was not struck itself has replaced it."""
    return not any(_takes(later, told) and _target(told[later]) == number for later in told if later > number)


def _takes(number: int, told: Mapping[int, Entry]) -> bool:
    strikes = (later for later in told if later > number and isinstance(told[later], Strike))
    return not any(_target(told[later]) == number and _takes(later, told) for later in strikes)


def _target(entry: Entry) -> int | None:
    return entry.entry if isinstance(entry, Strike) else entry.corrects
