"""Whether a gauge counted at a moment, on plain values."""

from __future__ import annotations

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from tests.plants import at
from upkeep.quality.gauges import Care, doubt_of, state_said, valid_at
from upkeep.units.instants import Zone

UTC = Zone("UTC")
MOMENTS = st.integers(0, 500_000).map(lambda minutes: at("2026-01-01 00:00") + timedelta(minutes=minutes))


def test_a_gauge_counts_until_the_first_of_its_tasks_is_overdue() -> None:
    """The block check of today ends before the calibration of the year."""
    cares = [Care("Calibrate", at("2027-01-01 00:00")), Care("Block", at("2026-03-03 00:00"))]
    state = valid_at(at("2026-03-02 12:00"), cares, [], UTC)
    assert (state.valid, state.until) == (True, at("2026-03-03 00:00"))
    assert str(state_said(state, at("2026-03-02 12:00"), UTC)) == "valid, due today"
    late = valid_at(at("2026-03-03 00:00"), cares, [], UTC)
    assert (late.valid, str(late.why), late.wrong) == (False, "Block: overdue since 2026-03-03", False)


def test_a_gauge_that_was_never_calibrated_does_not_count() -> None:
    """Not knowing is said."""
    state = valid_at(at("2026-03-02 12:00"), [Care("Calibrate", None)], [], UTC)
    assert str(state_said(state, at("2026-03-02 12:00"), UTC)).startswith("not valid: Calibrate: never done")


def test_a_plant_that_asks_nothing_of_gauges_takes_them_as_they_are() -> None:
    """There is nothing to judge them by."""
    assert valid_at(at("2026-03-02 12:00"), [], [], UTC).valid


@given(st.lists(MOMENTS), st.lists(MOMENTS), MOMENTS, MOMENTS)
def test_a_doubt_reaches_from_the_good_check_before_to_the_calibration_after(
    good: list[datetime], mended: list[datetime], found: datetime, moment: datetime
) -> None:
    """By hand: no good check lies between the doubted reading and the finding, no calibration between it and now."""
    doubt = doubt_of((found, 5), 0.008, "mm", [(one, 1) for one in good], [(one, 9) for one in mended])
    checked_since = any(moment <= one <= found for one in good)
    calibrated = any(found <= one <= moment for one in mended)
    assert doubt.takes_in(moment) == (not checked_since and not calibrated)


def test_a_reading_on_the_minute_of_the_finding_is_in_doubt() -> None:
    """The finding is the last reading of the bad gauge."""
    found = at("2026-03-02 12:00")
    assert doubt_of((found, 5), 0.008, "mm", [], []).takes_in(found)
    assert doubt_of((found, 5), 0.008, "mm", [], [(found, 6)]).takes_in(found - timedelta(minutes=1))
