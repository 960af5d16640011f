"""Charts of checks on plain values: what does not depend on where zero lies, and what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.errors import Refused
from upkeep.quality.control import KINDS, Control, Measured, control

HUNDREDTHS = st.integers(0, 400).map(lambda n: n / 128)
"""Steps that a computer keeps exactly, so that shifting them changes no last digit."""
ROWS = st.lists(st.lists(HUNDREDTHS, min_size=4, max_size=4).map(tuple), min_size=8, max_size=20)


def measured(rows: Sequence[Sequence[float]]) -> list[Measured]:
    """Checks, one an hour."""
    start = at("2026-03-02 06:00")
    return [Measured(n, start + timedelta(hours=n), "T-05", tuple(row)) for n, row in enumerate(rows)]


def broken(found: Control) -> list[list[tuple[int, str]]]:
    """Where which rule is broken, chart by chart."""
    return [[(one.place, one.rule) for one in drawn.broken] for drawn in found.drawn]


@given(ROWS, st.sampled_from(KINDS), st.integers(-8, 8))
def test_where_zero_lies_changes_no_verdict(rows: list[tuple[float, ...]], kind: str, shift: int) -> None:
    """So the deviation from nominal breaks the same rules as the height itself, and ranges are the same."""
    plain = control(measured(rows), kind)
    moved = control(measured([[value + shift for value in row] for row in rows]), kind)
    assert broken(plain) == broken(moved)
    assert moved.drawn[0].centre == pytest.approx(plain.drawn[0].centre + shift)
    assert [drawn.points for drawn in plain.drawn[1:]] == [
        pytest.approx(drawn.points, abs=1e-9) for drawn in moved.drawn[1:]
    ]


@given(ROWS, st.sampled_from(KINDS))
def test_a_chart_has_its_centre_within_its_limits_and_a_point_for_each_check(
    rows: list[tuple[float, ...]], kind: str
) -> None:
    """Moving ranges lie between two checks, so there is one fewer."""
    found = control(measured(rows), kind)
    for drawn in found.drawn:
        assert drawn.low <= drawn.centre <= drawn.high
        assert len(drawn.points) == len(rows) - (drawn.title == "moving ranges")


def test_a_check_of_another_size_is_left_out_of_means_and_ranges_and_counted() -> None:
    """The size most checks have decides; a chart of single values takes all."""
    rows = [*[(1.0, 1.1)] * 9, (1.0,), (1.0, 1.1, 1.2)]
    assert (control(measured(rows), None).size, control(measured(rows), "xbar").left_out) == (2, 2)
    assert control(measured(rows), "single").left_out == 0


@pytest.mark.parametrize(
    ("rows", "kind", "said"),
    [
        ([(1.0, 1.1)] * 7, None, "at least 8"),
        ([(1.0,)] * 9, "xbar", "2 to 10 readings"),
        ([], None, "there are only 0"),
    ],
)
def test_what_says_nothing_is_refused(rows: list[tuple[float, ...]], kind: str | None, said: str) -> None:
    """Too few points for limits, no range in a single reading."""
    with pytest.raises(Refused, match=said):
        control(measured(rows), kind)
