"""A year played many times, against what can be worked out by hand, and against the exponential and Poisson
distributions.

Outside: with a Weibull shape of 1 a place that is renewed at each failure fails as a Poisson process does, its mean and
variance the strokes by the scale (renewal theory: D. R. Cox, Renewal Theory, Methuen 1962, chapter 3; from memory).
"""

from __future__ import annotations

from dataclasses import replace
from statistics import fmean, variance

from upkeep.planning.year.simulation import YearLine, YearPart, YearPlan, YearSpare, simulated

STEADY = ((0.0, 0.0), (1000.0, 0.0))
"""An item that stands, and one of 1,000 strokes a day without any scatter."""


def plan(*lines: YearLine, minutes: float = 480.0, **more: object) -> YearPlan:
    """A plan of one role."""
    return replace(YearPlan(STEADY, lines, {"tech": minutes}), **more)  # type: ignore[arg-type]


def weekly(line: str, minutes: float = 20, **more: object) -> YearLine:
    """A line of every five working days."""
    return replace(YearLine(line, "tech", minutes, 0, first=2, every=5), **more)  # type: ignore[arg-type]


def test_work_by_days_and_by_strokes_comes_back_as_it_should() -> None:
    """Weekly: 52 times; every 10,000 strokes at 1,000 a day: 26 times, the first after 4,000."""
    by_strokes = YearLine("b", "tech", 30, 1, left=4000.0, strokes=10_000.0)
    year = simulated(plan(weekly("a"), by_strokes), 3, 1)
    assert [sum(week) for week in zip(*year.weeks, strict=True)] == [52 * 20 + 26 * 30] * 3
    assert year.late == (0, 0, 0)


def test_whichever_comes_first_makes_a_line_due() -> None:
    """After 5 days or 3,000 strokes at 1,000 a day: every third day."""
    both = YearLine("a", "tech", 10, 1, first=5, every=5, left=3000.0, strokes=3000.0)
    year = simulated(plan(both, days=30), 1, 1)
    assert sum(map(sum, year.weeks)) == 10 * 10


def test_hours_that_do_not_suffice_make_work_late_and_law_goes_first() -> None:
    """20 minutes a day for three jobs of 20 minutes due on one day: the one that law asks for is done on it, the others
    on the next days; with a grace of one day the last is late each week where its days are fixed, and once where they
    go from the day it was done."""
    lines = [weekly("a", grace=1, fixed=True), weekly("b", grace=1, fixed=True), weekly("law", law=True, fixed=True)]
    year = simulated(plan(*lines, minutes=20), 1, 1)
    assert year.late == (52,)
    floating = [replace(line, fixed=False) for line in lines]
    assert simulated(plan(*floating, minutes=20), 1, 1).late == (1,)
    assert simulated(plan(*lines, minutes=60), 1, 1).late == (0,)
    alone = simulated(plan(lines[2], *lines[:2], minutes=20), 1, 1)
    assert alone == year


def test_a_job_longer_than_a_day_is_done_and_takes_the_next_days_hours() -> None:
    """90 minutes where a day has 60: begun on the day it is due; the other waits for the day after."""
    year = simulated(plan(weekly("long", 90), weekly("short", 20), minutes=60, days=5), 1, 1)
    assert sum(map(sum, year.weeks)) == 110
    assert year.late == (1,)


def test_without_memory_failures_are_those_of_a_poisson_process() -> None:
    """260,000 strokes at a scale of 52,000: 5 failures a year, and their variance is 5 as well; whatever it has done
    before, for it does not age."""
    part = YearPart(1, 40_000.0, 1.0, 52_000.0, None, "tech", 30)
    year = simulated(plan(parts=(part,)), 2000, 3)
    assert abs(fmean(year.failed) - 5) < 0.25
    assert abs(variance(year.failed) - 5) < 0.6


def test_replacing_in_time_prevents_failures_and_asks_for_work() -> None:
    """Of shape 6 hardly one in a thousand fails before a third of its scale."""
    part = YearPart(1, 0.0, 6.0, 100_000.0, None, "tech", 30)
    failing = simulated(plan(parts=(part,)), 200, 1)
    kept = simulated(plan(parts=(replace(part, replace_at=30_000.0),)), 200, 1)
    assert fmean(failing.failed) > 2
    assert fmean(kept.failed) < 0.1
    assert fmean(map(sum, zip(*kept.weeks, strict=True))) > fmean(map(sum, zip(*failing.weeks, strict=True)))


def test_a_part_waits_for_its_spare_and_does_not_wear_meanwhile() -> None:
    """None on the shelf, 45 working days until one comes, and 30 of wear: it waits 15 days each time."""
    part = YearPart(1, 0.0, 50.0, 30_000.0, None, "tech", 30, 0)
    empty = simulated(plan(parts=(part,), spares=(YearSpare(0, 0, 1, 45),)), 50, 1)
    full = simulated(plan(parts=(part,), spares=(YearSpare(50, 0, 1, 45),)), 50, 1)
    assert 5 * 14 < fmean(empty.waited) < 6 * 17
    assert full.waited == (0,) * 50
    assert fmean(full.failed) > fmean(empty.failed)


def test_the_same_seed_gives_the_same_year_and_policies_share_their_chances() -> None:
    """More people change nothing about what fails."""
    part = YearPart(1, 10_000.0, 2.0, 60_000.0, None, "tech", 30)
    now = plan(weekly("a"), parts=(part,), items=((0.0, 0.0), (1000.0, 600.0)))
    assert simulated(now, 20, 5) == simulated(now, 20, 5) != simulated(now, 20, 6)
    assert simulated(now, 20, 5).failed == simulated(replace(now, minutes={"tech": 60.0}), 20, 5).failed
