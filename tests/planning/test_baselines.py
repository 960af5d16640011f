"""The first time of work without history, spread over weeks: all of it, early what is risky, inside the hours."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from upkeep.planning.baselines import FirstWork, OpenWeek, spread

MONDAY = date(2026, 3, 9)


def week(place: int, **free: int) -> OpenWeek:
    """A week of five working days, and what each role has left in it."""
    return OpenWeek(tuple(MONDAY + timedelta(days=7 * place + day) for day in range(5)), free)


works = st.lists(
    st.builds(
        FirstWork,
        line=st.uuids().map(str),
        item=st.sampled_from([f"DS-{n:03}" for n in range(30)]),
        role=st.sampled_from(["technician", "operator"]),
        minutes=st.integers(1, 120),
        rank=st.tuples(st.integers(0, 3)),
    ),
    max_size=80,
)


@given(works, st.integers(1, 9), st.integers(0, 3000))
def test_every_line_has_one_day_and_no_week_that_fits_is_over_its_hours(
    work: list[FirstWork], weeks: int, free: int
) -> None:
    """Work of one item on one day; the same answer twice."""
    calendar = [week(place, technician=free, operator=free) for place in range(weeks)]
    planned = spread(work, calendar)
    assert sorted(one.work.line for one in planned) == sorted(one.line for one in work)
    assert spread(list(reversed(work)), calendar) == planned
    assert all(one.day in calendar[one.week].days for one in planned)
    assert all(len({one.day for one in planned if one.work.item == item}) == 1 for item in {w.item for w in work})
    minutes: Counter[tuple[int, str]] = Counter()
    for one in planned:
        minutes[one.week, one.work.role] += one.work.minutes
    over = {place for (place, _), sum_ in minutes.items() if sum_ > free}
    assert all(any(not one.fits for one in planned if one.week == place) for place in over)


def test_what_is_riskiest_comes_first_and_the_weeks_are_level() -> None:
    """Twelve sets of an hour each over four weeks: three a week, those of rank 0 in the first."""
    work = [FirstWork(f"DS-{n}/look", f"DS-{n}", "technician", 60, (0 if n >= 9 else 1, n)) for n in range(12)]
    planned = spread(work, [week(place, technician=600) for place in range(4)])
    assert Counter(one.week for one in planned) == {0: 3, 1: 3, 2: 3, 3: 3}
    assert {one.work.item for one in planned if one.week == 0} == {"DS-9", "DS-10", "DS-11"}
    assert len({one.day for one in planned}) == 12


def test_what_does_not_fit_is_told_and_planned_all_the_same() -> None:
    """Half an hour a week is not enough for an hour."""
    work = [FirstWork(f"DS-{n}/look", f"DS-{n}", "technician", 60, (n,)) for n in range(3)]
    planned = spread(work, [week(place, technician=30) for place in range(2)])
    assert [one.fits for one in planned] == [False, False, False]
    assert {one.week for one in planned} == {0, 1}
