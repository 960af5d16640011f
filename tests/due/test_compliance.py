"""Shares of planned work, and their interval."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from upkeep.due.compliance import Share


def test_what_is_open_counts_in_the_base() -> None:
    """41 on time, 5 late, 4 not done: 82 % of what was due, not 89 % of what was done.  Example figures."""
    assert Share(41, 50).percent == 82


def test_nothing_due_is_no_share() -> None:
    """Neither 0 % nor 100 %."""
    empty = Share(0, 0)
    assert (empty.percent, empty.low, empty.high) == (None, None, None)


@given(st.integers(1, 5000).flatmap(lambda base: st.tuples(st.integers(0, base), st.just(base))))
def test_the_interval_is_the_score_interval_of_scipy(of: tuple[int, int]) -> None:
    """scipy.stats.binomtest(...).proportion_ci(0.95, "wilson"), the reference implementation."""
    low, high = binomtest(*of).proportion_ci(0.95, method="wilson")
    share = Share(*of)
    assert share.low == pytest.approx(100 * low, abs=1e-9)
    assert share.high == pytest.approx(100 * high, abs=1e-9)
