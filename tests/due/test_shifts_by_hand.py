"""Work of every shift against a wall kept by hand: missed shifts, work signed late, nights, clock changes, a bigger
task that covers a smaller one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

import pytest

from tests.plants import book_of, task
from tests.shifts_by_hand import DAYS, Shift, Signed, Wall, shifts_of
from upkeep.book import Book
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.signing import Sign
from upkeep.errors import AlreadySigned, Refused

TASKS = [
    task("clean", "module", each_shift=True),
    task("deep", "module", each_shift=True, covers=["clean"]),
]
THREE = [("early", "06:00", "14:00"), ("late", "14:00", "22:00"), ("night", "22:00", "06:00")]
PATTERNS = [THREE, [("day", "07:00", "16:30"), ("night", "19:00", "04:00")], [("only", "05:30", "13:00")], THREE]
WEEKS = [DAYS, DAYS[:5], ("SU", "MO", "WE", "FR", "SA")]
CLOCKS = [("Europe/Berlin", date(2026, 3, 27)), ("Europe/Berlin", date(2026, 10, 23)), ("UTC", date(2026, 3, 2))]
"""Clocks go forward on 2026-03-29, and back on 2026-10-25."""
LONG = 9
STILL = timedelta(minutes=7)
TOLD_WITHIN = timedelta(hours=72)
"""Later only the lead may."""


@dataclass
class Plant:
    """A book and the walls of its two tasks."""

    book: Book
    clean: Wall
    deep: Wall
    random: Random
    total: int = 10_000

    def write(self, entry: Entry, at: datetime) -> None:
        """Writes an entry at a moment."""
        self.book.write([entry], at)

    def work_a_shift(self, shift: Shift, before: list[Shift]) -> None:
        """A shift: signed at some moments or not, for itself or one before, and counted when it ends."""
        step = (shift.end - shift.start) / 4
        for quarter in range(3):
            now = shift.start + quarter * step + STILL
            self.compare(now)
            if self.random.random() < 0.4:
                self.sign(now, before)
        shift.ran = self.random.random() < 0.7
        for other in (*self.clean.shifts, *self.deep.shifts):
            if other.name == shift.name:
                other.ran = shift.ran
        self.total += 500 * shift.ran
        self.write(Count(at=shift.end, by="ana", press="P-07", value=self.total), shift.end)
        self.compare(shift.end)

    def sign(self, now: datetime, before: list[Shift]) -> None:
        """Work is signed as the form has it, for a shift that was missed, or told after the shift it was done in."""
        name = self.random.choice(("clean", "clean", "deep"))
        wall = self.clean if name == "clean" else self.deep
        running, at = wall.running(now), now
        occurrence = self.book.occurrence_signed(f"M-12/{name}", now)
        assert occurrence == wall.answered_by_signing(now)
        missed = [shift.name for shift in before[-4:] if shift.ran and now < shift.start + TOLD_WITHIN]
        if missed and self.random.random() < 0.4:
            occurrence = self.random.choice(missed)
            if self.random.random() < 0.5:
                at = next(shift.end for shift in before if shift.name == occurrence) - STILL
        elif running is None or occurrence != running.name:
            return  # the running one is answered: nobody cleans ahead
        signed = Sign(at=at, by="ana", item="M-12", task=name, occurrence=occurrence, recorded_at=now)
        done = {work.shift for work in wall.works if wall is self.deep or not work.covers}
        if occurrence in done or not wall.may_name(occurrence, at, now):
            with pytest.raises(AlreadySigned if occurrence in done else Refused):
                self.write(signed, now)
            return
        self.write(signed, now)
        wall.works.append(Signed(occurrence, at, now))
        if wall is self.deep:
            self.clean.works.append(Signed(occurrence, at, now, covers=True))

    def compare(self, now: datetime) -> None:
        """The board is the wall."""
        for name, wall in (("clean", self.clean), ("deep", self.deep)):
            line = self.book.line(f"M-12/{name}", now)
            by_hand = wall.open(now).name, wall.state(now), wall.missed(now)
            assert (line.occurrence, line.state.value, line.missed) == by_hand, (name, now, wall.works)


@pytest.mark.parametrize("seed", range(4))
def test_which_shift_is_open_answered_and_missed(tmp_path: Path, seed: int, *, long: bool) -> None:
    """On the board through it all, in the form of a sign-off, and in the figures afterwards."""
    for number in range(seed, seed + (160 if long else 4), 4):
        random = Random(number)
        patterns, days = PATTERNS[number % len(PATTERNS)], random.choice(WEEKS)
        zone, first = CLOCKS[number % len(CLOCKS)]
        shifts = shifts_of(patterns, days, first, 30, ZoneInfo(zone))
        plan = [{"name": name, "start": start, "end": end, "days": list(days)} for name, start, end in patterns]
        began = shifts[0].start.astimezone(ZoneInfo(zone))
        (tmp_path / str(number)).mkdir()
        fitted = f"""
            {began:%Y-%m-%d %H:%M} count P-07 10000 by ana
            {began:%Y-%m-%d %H:%M} fit M-12 in P-07 at 10000 by ana
        """
        begins = f"{began - timedelta(days=1):%Y-%m-%d %H:%M}"
        book = book_of(tmp_path / str(number), fitted, zone, tasks=TASKS, begins=begins, shifts=plan)
        worked = [shift for shift in shifts if shift.end <= shifts[0].start + timedelta(days=LONG)]
        run = Plant(book, Wall(shifts), Wall([Shift(s.name, s.start, s.end) for s in shifts]), random)
        with book:
            for place, shift in enumerate(worked):
                run.work_a_shift(shift, worked[:place])
            figures_agree(run, worked)
            assert book.prove().clean


def figures_agree(run: Plant, worked: list[Shift]) -> None:
    """So much on time, and what was not: late or not done, with its shift."""
    now = worked[-1].end
    page = run.book.figures(now, first=worked[0].start.date() - timedelta(days=1))
    by_hand = {
        (f"M-12/{name}", shift.name): wall.verdict(shift, now)
        for name, wall in (("clean", run.clean), ("deep", run.deep))
        for shift in worked
    }
    told = {(one.line, one.occurrence): one.verdict.value for one in page.late if one.line.startswith("M-12/")}
    assert told == {key: verdict for key, verdict in by_hand.items() if verdict in ("late", "not done")}
    assert page.on_time.number == sum(verdict == "on time" for verdict in by_hand.values())


def test_the_wall_knows_the_hours_of_a_night_in_which_the_clock_changes() -> None:
    """Berlin: seven hours on 2026-03-28, nine on 2026-10-24 (EU Directive 2000/84/EC: at 01:00 UTC)."""
    zone = ZoneInfo("Europe/Berlin")
    for day, hours in ((date(2026, 3, 28), 7), (date(2026, 10, 24), 9), (date(2026, 3, 2), 8)):
        night = shifts_of(THREE, DAYS, day, 1, zone)[-1]
        assert (night.end - night.start) == timedelta(hours=hours)
        assert night.end.tzinfo is UTC
