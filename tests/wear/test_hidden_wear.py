"""Wear that is dialled away shows in the settings, not in the height; invented figures."""

from __future__ import annotations

from upkeep.wear.drift import drift

DONE = (0, 20_000, 41_000, 60_000, 82_000, 100_000)
DIALLED = (4.0, 5.0, 5.0, 6.0, 7.0, 8.0)
FLAT = (1.201, 1.199, 1.2, 1.202, 1.198, 1.2)
RISING = (1.2, 1.204, 1.208, 1.213, 1.215, 1.22)
STEADY = (4.0, 5.0, 4.0, 5.0, 4.0, 4.0)


def flat() -> tuple[tuple[int, ...], tuple[float, ...]]:
    """Heights that do not move."""
    return DONE, FLAT


def test_a_setting_that_drifts_under_a_flat_height_raises_an_alarm() -> None:
    """It says by how much, over how many strokes, and what to look at."""
    found = drift("Dial", DONE, DIALLED, "step", flat)
    assert str(found.alarm).startswith("ALARM: Dial has drifted by 3.8")
    assert "over 100,000 strokes" in str(found.alarm)


def test_where_the_height_moves_too_nothing_is_hidden() -> None:
    """Its own trend tells of it."""
    found = drift("Dial", DONE, DIALLED, "step", lambda: (DONE, RISING))
    assert (found.alarm, "the setting is drifting." in str(found.why)) == (None, True)


def test_without_heights_a_drift_is_told_and_no_alarm_raised() -> None:
    """Nobody knows that the height stayed flat."""
    assert drift("Dial", DONE, DIALLED, "step", lambda: ((), ())).alarm is None


def test_a_setting_that_goes_to_and_fro_is_no_drift() -> None:
    """Nor are three values; nor several at the same strokes."""
    assert "no drift stands out from the scatter" in str(drift("Dial", DONE, STEADY, "step", flat).why)
    assert "values at set-up: 3, needed: 4" in str(drift("Dial", DONE[:3], DIALLED[:3], "step", flat).why)
    assert drift("Dial", (7,) * 4, DIALLED[:4], "step", flat).line is None


def test_a_setting_with_steps_is_said_to_move_late() -> None:
    """Positions of a cam."""
    found = drift("Cam", (*DONE, 120_000, 140_000, 160_000, 180_000), (1,) * 5 + (2,) * 5, "step", flat, (1, 2, 3))
    assert "It can only be set in steps (1, 2, 3)" in str(found.why)
    assert found.alarm


def test_a_drift_of_less_than_half_a_step_raises_no_alarm() -> None:
    """However sure it is: a tenth of a step over 100,000 strokes; of a setting in mm any drift counts."""
    little = tuple(4 + done / 1e6 for done in DONE)
    found = drift("Dial", DONE, little, "step", flat)
    assert found.alarm is None
    assert "by less than half a step or not surely enough yet" in str(found.why)
    assert drift("Shut height", DONE, little, "mm", flat).alarm
    assert drift("Dial", DONE, little, "mm", flat, (4.0, 4.5, 5.0)).alarm is None


def test_a_drift_that_is_not_sure_enough_is_told_and_raises_no_alarm() -> None:
    """One that steady settings show once in 50 runs: told, but the alarm is asked for at every set-up."""
    found = drift("Dial", DONE, (4.0, 4.0, 4.0, 5.0, 5.0, 5.0), "step", flat)
    assert (found.alarm, "not surely enough yet" in str(found.why)) == (None, True)
