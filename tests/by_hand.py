"""Strokes worked out by hand from the lines of a book: the slow, plain way, without any of the engine's counting.

It reads the exported text, lists every moment at which anything moved, looks up for each piece of time where an item
hung, and adds up what the press did meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise

from upkeep.entries.kinds import Count, Entry, Fit, Strike, Unfit
from upkeep.entries.text import read_line
from upkeep.units.instants import Zone


@dataclass(frozen=True)
class Piece:
    """An item hung on a press over [start, end); ``end`` None: to the end of what is told."""

    press: str
    start: datetime
    end: datetime | None


class ByHand:
    """What the lines of a book say about strokes; ``figures`` is how many figures each press's counter shows."""

    def __init__(self, lines: Iterable[str], zone: Zone, figures: Mapping[str, int | None]) -> None:
        told = {number: read_line(line, zone) for number, line in enumerate(lines, 1)}
        self.counted = {number: entry for number, entry in told.items() if is_told(number, told)}
        self.figures = figures
        self.moves = sorted(
            (entry.at, isinstance(entry, Fit), number, entry.item, entry.inside if isinstance(entry, Fit) else None)
            for number, entry in self.counted.items()
            if isinstance(entry, Fit | Unfit)
        )
        self.totals = {press: self._running(press) for press in figures}

    def _running(self, press: str) -> list[tuple[datetime, int]]:
        """The running total of a press at each of its readings."""
        shown = []
        for number, entry in self.counted.items():
            if isinstance(entry, Count) and entry.press == press:
                shown.append((entry.at, number, entry.value, entry.rolled_over))
            elif isinstance(entry, Fit | Unfit) and entry.count is not None and entry.press == press:
                shown.append((entry.at, number, entry.count, False))
        around = int("1" + "0" * (self.figures[press] or 0))
        running: list[tuple[datetime, int]] = []
        before = 0
        for moment, _, value, rolled in sorted(shown):
            done = value - before + (around if rolled else 0)
            running.append((moment, running[-1][1] + done if running else 0))
            before = value
        return running

    def total(self, press: str, moment: datetime, until: datetime) -> tuple[int, int, int]:
        """What a press had done at a moment, going by the readings up to ``until``: least, best, most."""
        readings = [reading for reading in self.totals[press] if reading[0] <= until]
        earlier = [reading for reading in readings if reading[0] <= moment]
        later = [reading for reading in readings if reading[0] > moment]
        if not earlier:
            return 0, 0, 0
        least = earlier[-1][1]
        if not later or earlier[-1][0] == moment:
            return least, least, least
        most = later[0][1]
        share = (moment - earlier[-1][0]) / (later[0][0] - earlier[-1][0])
        return least, least + round((most - least) * share), most

    def press_of(self, item: str, moment: datetime) -> str | None:
        """The press an item hangs on from a moment on, through whatever it sits in."""
        key: str | None = item
        while key is not None and key not in self.figures:
            told = [inside for at, _, _, moved, inside in self.moves if moved == key and at <= moment]
            key = told[-1] if told else None
        return key

    def pieces(self, item: str) -> list[Piece]:
        """Where an item hung, piece by piece; pieces that touch on one press are one."""
        if item in self.figures:
            return [Piece(item, datetime(1, 1, 2, tzinfo=UTC), None)]
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

    def strokes(self, item: str, until: datetime) -> tuple[int, int, int]:
        """The strokes of an item up to a moment, going by what was read until then: least, best, most."""
        if item in self.figures:
            return self.total(item, until, until)
        return self.between(item, self.moves[0][0] if self.moves else until, until, until)

    def between(self, item: str, start: datetime, end: datetime, until: datetime) -> tuple[int, int, int]:
        """The strokes of an item over [start, end), going by the readings up to ``until``."""
        least = best = most = 0
        for piece in self.pieces(item):
            first = max(piece.start, start)
            last = end if piece.end is None else min(piece.end, end)
            if first < last or (first == last == piece.start):
                before, after = self.total(piece.press, first, until), self.total(piece.press, last, until)
                least += max(0, after[0] - before[2])
                best += after[1] - before[1]
                most += after[2] - before[0]
        return least, best, most

    def first_shown(self, item: str, start: datetime, strokes: int, until: datetime) -> datetime | None:
        """The first reading, or end of a piece, by which an item had done so many strokes (best) since ``start``."""
        shown: set[datetime] = set()
        for piece in self.pieces(item):
            read = {moment for moment, _ in self.totals[piece.press] if piece.start <= moment}
            shown |= {moment for moment in read if piece.end is None or moment <= piece.end}
            if piece.end is not None:
                shown.add(piece.end)
        reached = (moment for moment in sorted(shown) if self.between(item, start, moment, until)[1] >= strokes)
        return next((moment for moment in reached if moment >= start), None)

    def by_nobody(self, press: str, items: Iterable[str], until: datetime) -> int:
        """The strokes a press did (best) while none of some items hung on it."""
        done = self.total(press, until, until)[1]
        for item in items:
            for piece in self.pieces(item):
                if piece.press == press and piece.start <= until:
                    end = until if piece.end is None else min(piece.end, until)
                    done -= self.total(press, end, until)[1] - self.total(press, piece.start, until)[1]
        return done


def is_told(number: int, told: Mapping[int, Entry]) -> bool:
    """Whether an entry counts: it was not struck, and nothing that was not struck itself has replaced it."""
    return not any(_takes(later, told) and _target(told[later]) == number for later in told if later > number)


def _takes(number: int, told: Mapping[int, Entry]) -> bool:
    strikes = (later for later in told if later > number and isinstance(told[later], Strike))
    return not any(_target(told[later]) == number and _takes(later, told) for later in strikes)


def _target(entry: Entry) -> int | None:
    return entry.entry if isinstance(entry, Strike) else entry.corrects
