"""The way of a fault on plain values: states, times, what is missing, repeats, watch, who has to know."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.plant.model import Kind
from upkeep.plant.values.facts import PlantFacts
from upkeep.quality.repairs import Course, Earlier, Step, calls, course, missing, proofs_wanted, repeat_of, watch_of
from upkeep.quality.symptoms import named
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar, ShiftRule

REPORTED = at("2026-03-02 06:00")
FACTS = PlantFacts()
STAGES = ("taken", "checked", "fixed", "verified", "analysed")


def after(minutes: float) -> datetime:
    """So many minutes after the report."""
    return REPORTED + timedelta(minutes=minutes)


def step(stage: str, minutes: int, entry: int = 1, **told: object) -> Step:
    """A step of an entry."""
    return Step(entry, after(minutes), "tom", stage, **told)  # type: ignore[arg-type]


def way_of(*steps: Step, stopped: bool = True, released: int | None = None) -> Course:
    """The course of a fault."""
    return course(REPORTED, stopped, steps, None if released is None else after(released))


def test_the_three_times_of_a_fault_are_counted_from_their_own_beginning() -> None:
    """Response and restoration from the report, repair from the moment somebody took it."""
    way = way_of(step("taken", 12), step("fixed", 45), step("verified", 50), released=58)
    assert (way.response, way.repair, way.restoration) == (12, 33, 58)
    assert way.state == "released"


def test_what_nobody_wrote_is_not_known() -> None:
    """Fixed without being taken: no response time and no repair time."""
    way = way_of(step("fixed", 45))
    assert (way.response, way.repair, way.restoration) == (None, None, None)
    assert way.state == "fixed"


def test_fixed_again_it_has_to_be_verified_again() -> None:
    """The proof of an earlier fix says nothing of a later one."""
    way = way_of(step("taken", 1), step("fixed", 5), step("verified", 9, 2), step("fixed", 20, 3))
    assert (way.state, way.verified) == ("fixed", None)
    assert tuple(map(str, missing(way, ("guard",), None))) == ("verified (guard)",)


def test_the_check_that_found_it_is_the_last_one_answered_no_before_the_fix() -> None:
    """Answers after the fix prove it and found nothing."""
    answers = [
        step("checked", 3, 1, what=("air",), yes=False), step("checked", 4, 2, what=("speed",), yes=True),
        step("fixed", 9, 3, cause="air-low"), step("checked", 12, 4, what=("clean",), yes=False),
    ]  # fmt: skip
    assert way_of(*answers).found_by == "air"
    assert way_of(answers[1]).found_by is None


def test_a_crimp_symptom_asks_for_a_pull_test_and_a_gauge_for_its_block() -> None:
    """Common practice, no source: hand cycle, first piece and guard before anything runs again."""
    assert proofs_wanted(named("not-fed"), Kind.MODULE) == ("hand-cycle", "first-piece", "guard")
    assert proofs_wanted(named("pull-low"), Kind.DIE_SET) == ("hand-cycle", "first-piece", "guard", "pull")
    assert proofs_wanted(named("parts"), Kind.GAUGE) == ("block",)


@given(st.lists(st.tuples(st.sampled_from(STAGES), st.integers(0, 500)), max_size=12))
def test_what_is_missing_shrinks_to_nothing_only_with_a_fix_and_a_proof_after_it(told: list[tuple[str, int]]) -> None:
    """By hand, for any steps: the last fix has a proof behind it."""
    steps = [step(stage, minutes, entry) for entry, (stage, minutes) in enumerate(sorted(told, key=lambda t: t[1]))]
    way = way_of(*steps)
    stages = [one.stage for one in steps]
    proven = "fixed" in stages and "verified" in stages[len(stages) - stages[::-1].index("fixed") :]
    assert (missing(way, ("guard",), None) == ()) == proven


# Repeats


def earlier(*told: tuple[float, int | None]) -> list[Earlier]:
    """Faults so many days before, with so many strokes since; the last is the one asked about."""
    now = at("2026-06-01 06:00")
    return [Earlier(number, now - timedelta(days=days), done) for number, (days, done) in enumerate(told, 1)]


@pytest.mark.parametrize(
    ("told", "within"),
    [
        ([(14, 90_000), (3, 30_000), (0, 0)], "within 14 days"),
        ([(14.01, 90_000), (3, 30_000), (0, 0)], None),
        ([(200, 20_000), (90, 9_000), (0, 0)], "within 20,000 strokes"),
        ([(200, 20_001), (90, 9_000), (0, 0)], None),
        ([(200, None), (90, None), (0, None)], None),
        ([(3, 10), (0, 0)], None),
    ],
)
def test_three_times_within_14_days_or_20000_strokes_ask_for_the_cause(
    told: list[tuple[float, int | None]], within: str | None
) -> None:
    """Plant defaults, no source; on the edge it still counts, beyond it does not, and a gauge does no strokes."""
    found = repeat_of(earlier(*told), at("2026-06-01 06:00"), FACTS, False)
    assert (str(found.within) if found else None) == within


def test_the_plant_sets_how_often_is_too_often() -> None:
    """Two within a day."""
    facts = PlantFacts(repeat_times=2, repeat_days=1, repeat_strokes=0)
    assert repeat_of(earlier((1, 5), (0, 1)), at("2026-06-01 06:00"), facts, False) is not None
    assert repeat_of(earlier((2, 5), (0, 1)), at("2026-06-01 06:00"), facts, False) is None


# Watch


def test_a_repair_is_watched_for_its_strokes_then_passed() -> None:
    """1,000 strokes, a plant default without source."""
    assert (watch_of(999, None, 1000).state, watch_of(1000, None, 1000).state) == ("watched", "passed")


def test_it_came_back_only_within_the_watch() -> None:
    """A fault with the very stroke that ends the watch is a new one."""
    assert (watch_of(5000, (7, 999), 1000).state, watch_of(5000, (7, 999), 1000).again) == ("came back", 7)
    assert (watch_of(5000, (7, 1000), 1000).state, watch_of(5000, (7, 1000), 1000).again) == ("passed", None)


# Calls


def called(symptom: str, minutes: float, stopped: bool = True, released: int | None = None) -> list[str]:
    """Who has to know so many minutes after the report."""
    return [one.to for one in calls(way_of(stopped=stopped, released=released), named(symptom), after(minutes))]


def test_safety_and_quality_are_called_at_once() -> None:
    """Whether or not it stands still."""
    assert called("guard", 0) == ["safety officer"]
    assert called("pull-low", 0, stopped=False) == ["quality"]


def test_what_stands_still_calls_the_lead_after_half_an_hour_and_the_manager_after_two() -> None:
    """Plant defaults, no source."""
    assert called("not-fed", 30) == []
    assert called("not-fed", 31) == ["lead"]
    assert called("not-fed", 121) == ["lead", "manager"]
    assert called("not-fed", 500, stopped=False) == []


def test_nobody_is_called_once_it_has_ended() -> None:
    """Released, it is over."""
    assert called("guard", 200, released=150) == []


def test_the_time_of_the_plant_counts_and_no_weekend() -> None:
    """Stopped on Friday at 21:50: ten minutes before the weekend, twenty after it."""
    days = ("MO", "TU", "WE", "TH", "FR")
    shifts = [ShiftRule("early", "06:00", "14:00", days), ShiftRule("late", "14:00", "22:00", days)]
    calendar = ShiftCalendar(Zone("UTC"), shifts)
    friday = datetime(2026, 3, 6, 21, 50, tzinfo=UTC)
    assert calendar.worked_by(friday, timedelta(minutes=30)) == datetime(2026, 3, 9, 6, 20, tzinfo=UTC)
    assert calendar.worked_by(friday, timedelta(minutes=10)) == datetime(2026, 3, 6, 22, tzinfo=UTC)
    assert ShiftCalendar(Zone("UTC"), []).worked_by(friday, timedelta(hours=2)) == friday + timedelta(hours=2)
