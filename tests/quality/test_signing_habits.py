"""What stands out in how work was signed, against sums done another way."""

from __future__ import annotations

from datetime import timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.quality.signing_habits import (
    BURST,
    SAME_VALUES,
    Running,
    Signature,
    bursts,
    from_afar,
    is_drawn,
    same_values,
    while_running,
)

NOON = at("2026-03-02 12:00")


def signed(entry: int, seconds: float, by: str = "ana", **told: object) -> Signature:
    """A sign-off that was entered so many seconds after noon."""
    moment = NOON + timedelta(seconds=seconds)
    return Signature(entry, by, "M-12", "clean", moment, moment, **told)  # type: ignore[arg-type]


def test_fourteen_cleans_in_forty_seconds_stand_out_once() -> None:
    entered = [signed(number, 40 * number / 13) for number in range(14)]
    (burst,) = bursts(entered)
    assert (len(burst.signatures), burst.seconds) == (14, 40)


def test_a_round_walked_minute_by_minute_does_not_stand_out() -> None:
    assert list(bursts(signed(number, 60 * number) for number in range(14))) == []
    assert list(bursts(signed(number, 3 * number) for number in range(BURST - 1))) == []


def test_two_people_at_once_are_no_burst_of_one() -> None:
    entered = [signed(number, number, "ana" if number % 2 else "ben") for number in range(2 * BURST - 2)]
    assert list(bursts(entered)) == []


@given(st.lists(st.integers(0, 25), min_size=1, max_size=40))
def test_a_burst_is_every_longest_run_of_short_gaps(gaps: list[int]) -> None:
    """By brute force: each stretch of neighbours is tried, and the longest ones kept."""
    moments = [sum(gaps[:place]) for place in range(len(gaps))]
    found = [[one.entry for one in burst.signatures] for burst in bursts(map(signed, range(len(gaps)), moments))]
    fits = [
        list(range(start, end))
        for start in range(len(moments))
        for end in range(start + BURST, len(moments) + 1)
        if all(moments[place + 1] - moments[place] <= 10 for place in range(start, end - 1))
    ]
    longest = [run for run in fits if not any(set(run) < set(other) for other in fits)]
    assert found == longest


@pytest.mark.parametrize(
    ("strokes", "minutes", "stood"),
    [(1000, 60, 45.0), (4000, 60, 0.0), (5000, 60, 0.0), (3600, 60, 6.0), (0, 60, 60.0), (400, 7, 1.0)],
)
def test_a_press_can_have_stood_for_what_its_strokes_leave(strokes: int, minutes: int, stood: float) -> None:
    """At 4,000 an hour, 1,000 strokes take 15 min: of an hour 45 min are left."""
    assert Running(strokes, minutes * 60, 4000).stood_at_most == pytest.approx(stood)


def test_work_that_takes_longer_than_the_press_can_have_stood_stands_out() -> None:
    flat_out, idle = Running(3900, 3600, 4000), Running(1000, 3600, 4000)
    assert [one.entry for one in while_running([
        signed(1, 0, minutes=5, running=flat_out), signed(2, 0, minutes=5, running=idle),
        signed(3, 0, minutes=1, running=flat_out), signed(4, 0, minutes=5), signed(5, 0, running=flat_out),
    ])] == [1]  # fmt: skip


def test_readings_that_never_differ_stand_out_and_one_that_does_ends_it() -> None:
    alike = [signed(number, number, readings=(("height", (1.203, 1.203)),)) for number in range(SAME_VALUES // 2)]
    (found,) = same_values(alike)
    assert (found.item, found.point, found.value, found.readings) == ("M-12", "height", 1.203, SAME_VALUES)
    other = signed(99, 99, readings=(("height", (1.204,)),))
    assert list(same_values([*alike, other])) == []
    assert list(same_values([other, *alike[1:]])) == []


def test_two_people_who_read_the_same_do_not_stand_out() -> None:
    taken = [signed(number, number, "ana" if number % 2 else "ben", readings=(("height", (1.2,)),))
             for number in range(2 * SAME_VALUES - 2)]  # fmt: skip
    assert list(same_values(taken)) == []


def test_a_signature_away_from_the_item_stands_out_where_both_are_known() -> None:
    near = ("P-07", "hall", "Hall A")
    entered = [
        signed(1, 0, station="Hall B", near=near), signed(2, 0, station="Hall A", near=near),
        signed(3, 0, station="P-07", near=near), signed(4, 0, near=near), signed(5, 0, station="Hall B"),
    ]  # fmt: skip
    assert [one.entry for one in from_afar(entered)] == [1]


def test_five_of_a_hundred_are_drawn_the_same_ones_each_time() -> None:
    """Of 20,000 links 1,000 are expected, with a standard deviation of 31 (binomial): six of those are allowed."""
    chance = Random(5)
    links = [chance.randbytes(32).hex() for _ in range(20_000)]
    drawn = [link for link in links if is_drawn(link, 5)]
    assert abs(len(drawn) - 1000) < 6 * 31
    assert drawn == [link for link in links if is_drawn(link, 5)]
    assert not any(is_drawn(link, 0) for link in links)
    assert all(is_drawn(link, 100) for link in links)
    assert set(drawn) <= {link for link in links if is_drawn(link, 10)}


def test_moments_are_compared_as_they_were_entered_not_as_they_happened() -> None:
    """Work told late was done at other times, and typed in one after another."""
    typed = [
        Signature(number, "ana", "M-12", "clean", NOON - timedelta(hours=number), NOON + timedelta(seconds=number))
        for number in range(BURST)
    ]
    assert len(list(bursts(typed))) == 1
