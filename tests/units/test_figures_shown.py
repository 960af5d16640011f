"""How numbers are shown: limits as given, values to the step they are read in, estimates as far as they are known."""

from __future__ import annotations

import pytest

from upkeep.said import Figure, said
from upkeep.units.figures import chance_text, decimals_of, estimate, exact, percent, three, to_step


@pytest.mark.parametrize(
    ("number", "shown"),
    [(1.285, "1.285"), (1.1555, "1.1555"), (135.855, "135.855"), (5.0, "5"), (1000000.2, "1,000,000.2"), (0.1, "0.1"),
     (0.00001, "0.00001"), (-0.045, "-0.045"), (1200.0, "1,200"), (1e21, "1,000,000,000,000,000,000,000"), (0.0, "0")],
)  # fmt: skip
def test_a_limit_is_shown_as_it_was_given(number: float, shown: str) -> None:
    """Three decimals of a crimp height stay, and none is told in powers of ten."""
    assert exact(number) == shown
    assert str(said("{limit}", limit=Figure(number))) == shown


def test_a_value_is_shown_to_the_step_it_was_read_in() -> None:
    """The mean of readings to 0.001 mm is told to 0.001 mm; noise of the arithmetic is no decimal."""
    assert decimals_of((135.714, 135.715, 135.71)) == 3
    assert to_step(135.7144, 3) == "135.714"
    assert decimals_of((1.923 - 1.92,)) == 3
    assert to_step(-0.0001, 3) == "0.000"
    assert decimals_of((205.0, 198.0)) == 0


@pytest.mark.parametrize(
    ("value", "half", "shown"),
    [(1_268_538, 160_000, 1_270_000), (60_653, 28_600, 61_000), (340_826, 46_117, 341_000), (34_048, 90, 34_048),
     (812.4, 3.2, 812), (1_268_538, 0, 1_270_000), (1_268_538, float("inf"), 1_270_000)],
)  # fmt: skip
def test_an_estimate_shows_two_figures_of_half_its_interval(value: float, half: float, shown: int) -> None:
    """And three figures of itself where nothing says how sure it is."""
    assert estimate(value, half) == shown


def test_what_nobody_may_run_past_is_rounded_down() -> None:
    """295,900 safe strokes are told as 295,000, not as 296,000."""
    assert estimate(295_900, 46_000, down=True) == 295_000
    assert three(295_999, down=True) == 295_000
    assert three(0) == 0


def test_shares_and_chances_are_told_one_way() -> None:
    """A space before the sign; no chance is called none or certain that is not."""
    assert percent(0.4507) == "45 %"
    assert percent(0.0214, 1) == "2.1 %"
    told = {share: str(chance_text(share)) for share in (0.0, 0.001, 0.05, 0.9999, 1.0)}
    assert told == {0.0: "0 %", 0.001: "less than 1 %", 0.05: "5 %", 0.9999: "more than 99 %", 1.0: "100 %"}
