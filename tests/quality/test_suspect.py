"""Where a suspect window begins and ends, and that no stroke in it is left out: against strokes counted by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from upkeep.counting.marks import NOTHING, PARTS, Total
from upkeep.counting.strokes import Stay
from upkeep.quality.suspect import CheckResult, end_of, start_of, stretches
from upkeep.said import said

BEGUN = datetime(2026, 3, 1, tzinfo=UTC)


def hour(number: float) -> datetime:
    """A moment so many hours after the item came into the book."""
    return BEGUN + timedelta(hours=number)


def result(number: float, good: bool, doubt: str = "") -> CheckResult:
    """A check at an hour."""
    return CheckResult(hour(number), int(number * 10), good, "G-1", said("{doubt}", doubt=doubt) if doubt else None)


results = st.lists(
    st.builds(result, st.integers(1, 99), st.booleans(), st.sampled_from(("", "", "overdue"))), max_size=12
)


@given(found=results)
def test_a_window_begins_at_the_newest_good_check_whose_gauge_counts(found: list[CheckResult]) -> None:
    """Or where the item came into the book; every good check passed over on the way back is told."""
    newest_first = sorted(found, key=lambda one: one.at, reverse=True)
    start = start_of(newest_first, BEGUN)
    counting = [one for one in found if one.good and not one.doubt]
    assert start.at == max((one.at for one in counting), default=BEGUN)
    passed_over = [one for one in newest_first if one.good and one.doubt and one.at > start.at]
    assert set(passed_over) <= set(start.passed)
    assert all(one.doubt for one in start.passed)


@given(found=results, fitted=st.integers(1, 99))
def test_a_part_fitted_later_than_the_last_good_check_begins_it(found: list[CheckResult], fitted: int) -> None:
    """What was made before it sat there is not its work; a good check after it begins the window as always."""
    newest_first = sorted(found, key=lambda one: one.at, reverse=True)
    start = start_of(newest_first, BEGUN, ("CP-b", hour(fitted)))
    since = [one.at for one in found if one.good and not one.doubt and one.at >= hour(fitted)]
    assert start.at == max(since, default=hour(fitted))


@given(after=results, left=st.none() | st.integers(50, 99), found=st.integers(1, 60))
def test_a_window_ends_at_the_next_good_check_or_where_the_item_came_off(
    after: list[CheckResult], left: int | None, found: int
) -> None:
    """Whatever comes first; while it still runs the window is open to this moment."""
    later = sorted((one for one in after if one.at >= hour(found)), key=lambda one: one.at)
    end_total = None if left is None else exactly(10)
    stay = Stay("DS", "P", hour(0), None if left is None else hour(left), exactly(0), end_total, NOTHING)
    end, why = end_of(hour(found), later, stay, hour(100))
    good = [one.at for one in later if one.good and not one.doubt]
    off = [hour(left)] if left is not None and left >= found else []
    expected = min([*good[:1], *off], default=hour(100) if left is None else hour(found))
    assert end == expected
    assert why


def exactly(strokes: int) -> Total:
    """The total of a press at a reading."""
    return Total(strokes, strokes, strokes * PARTS, strokes, strokes)


strokes_of_hours = st.lists(st.integers(0, 50), min_size=100, max_size=100)
cuts = st.lists(st.integers(0, 100), min_size=2, max_size=8, unique=True).map(sorted)


@given(done=strokes_of_hours, edges=cuts, start=st.integers(0, 90), length=st.integers(1, 60))
def test_the_lines_together_hold_every_stroke_of_the_window_and_no_other(
    done: list[int], edges: list[int], start: int, length: int
) -> None:
    """An item hangs on a press between every second pair of edges; its strokes are counted hour by hour."""
    hung = [(edges[place], edges[place + 1]) for place in range(0, len(edges) - 1, 2)]

    def total_at(press: str, instant: datetime) -> Total:
        return exactly(sum(done[: int((instant - BEGUN).total_seconds() // 3600)]))

    stays = [
        Stay("DS", f"P-{place}", hour(a), hour(b), total_at("", hour(a)), total_at("", hour(b)), NOTHING)
        for place, (a, b) in enumerate(hung)
    ]
    end = min(start + length, 100)
    lines = stretches(stays, hour(start), hour(end), total_at)
    by_hand = sum(done[h] for a, b in hung for h in range(max(a, start), min(b, end)))
    assert sum(line.strokes.best for line in lines) == by_hand
    assert all(line.strokes.best > 0 for line in lines)


@given(low=st.integers(0, 50), doubt=st.integers(0, 50), after=st.integers(0, 100))
def test_a_guessed_edge_widens_the_line_to_all_it_may_be(low: int, doubt: int, after: int) -> None:
    """The high is from the least the press may have done at the start to the most at the end."""
    guessed = Total(low, low + doubt, (low + doubt // 2) * PARTS, low, low + doubt)
    stay = Stay("DS", "P", hour(0), hour(10), guessed, exactly(low + doubt + after), NOTHING)
    lines = stretches([stay], hour(0), hour(10), lambda press, instant: guessed)
    assert sum(line.strokes.high for line in lines) == doubt + after
