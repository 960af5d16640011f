"""Where one set-up ends and the next begins, on plain values."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.quality.set_ups import FIRST, FITTED, SETTINGS, Event, begun, span_of

START = at("2026-03-02 06:00")
KINDS = st.tuples(st.sampled_from((FITTED, SETTINGS, FIRST)), st.sampled_from((None, "A-1", "A-2")))
EVENTS = st.lists(KINDS, max_size=12).map(
    lambda kinds: [
        (START + timedelta(hours=n), what, None if what == FITTED else order) for n, (what, order) in enumerate(kinds)
    ]
)


@given(EVENTS, st.integers(-2, 15))
def test_every_moment_lies_in_one_set_up(events: list[Event], hour: int) -> None:
    """Between two beginnings, or before the first or after the last one."""
    moment, beginnings = START + timedelta(hours=hour), list(begun(events))
    since, until = span_of(beginnings, START - timedelta(days=1), moment)
    assert since <= max(moment, START - timedelta(days=1))
    assert until is None or moment < until
    assert not [one for one in beginnings if since < one and (until is None or one < until)]


@given(EVENTS)
def test_a_fitting_always_begins_one_and_no_two_begin_without_a_first_piece_or_fitting(events: list[Event]) -> None:
    """Settings written down again before the first piece are the same set-up."""
    beginnings = set(begun(events))
    assert {moment for moment, what, _ in events if what == FITTED} <= beginnings
    made_since = True
    for moment, what, _ in events:
        if moment in beginnings:
            assert made_since or what == FITTED
        made_since = what == FIRST
