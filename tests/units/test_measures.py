"""What is measured is read in the units of the plant, and typed in any of them; it is kept in that of its point."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.said import said
from upkeep.units.measures import SHOWN, UNITS, converted, measured, read_in, shown_in, typed_like
from upkeep.wording.sentences import Reader, text

INCHES, BOTH = shown_in(["in", "psi", "lbf"]), shown_in(["mm", "in", "bar", "psi"])

NIST = {"in": Decimal("25.4"), "psi": Decimal("6.894757") / 100, "lbf": Decimal("4.4482216152605")}
"""NIST Special Publication 811, 2008 edition, Appendix B.8: inch to millimetre (exact), pound-force per square inch to
kilopascal (here in bar, 100 kPa), pound-force to newton (4.448 222; more figures as the definition gives them)."""


@pytest.mark.parametrize("unit", NIST)
def test_the_factors_are_those_of_the_handbook(unit: str) -> None:
    assert UNITS[unit][1] == NIST[unit]


@pytest.mark.parametrize(
    ("value", "unit", "units", "read"),
    [
        (1.92, "mm", {}, "1.92 mm"),
        (1.92, "mm", INCHES, "0.07559 in"),
        (1.92, "mm", BOTH, "1.92 mm (0.07559 in)"),
        (5.5, "bar", INCHES, "79.8 psi"),  # 5.5 bar is about 80 psi, common practice
        (60.0, "N", INCHES, "13.5 lbf"),
        (60.0, "N", BOTH, "60 N"),
        (12.0, "um", INCHES, "0.00047 in"),
        (3.0, "turns", INCHES, "3 turns"),
        (1234.5, "N", {}, "1,234.5 N"),
    ],
)
def test_a_value_is_read_in_the_units_of_the_plant(
    value: float, unit: str, units: dict[str, tuple[str, ...]], read: str
) -> None:
    assert text(said("{value}", value=measured(value, unit)), Reader(units=units)) == read


def test_no_number_is_both_a_count_and_a_height() -> None:
    """In a language that has a comma before decimals, thousands are grouped by a space; a height has a point."""
    told = said("{n} strokes, {height}", n=1921, height=measured(1.921, "mm"))
    assert text(told, Reader()) == "1,921 strokes, 1.921 mm"
    assert text(told, Reader("es")) == "1\u00a0921 strokes, 1.921 mm"


@pytest.mark.parametrize(
    ("typed", "unit", "units", "value"),
    [
        ("1.920", "mm", {}, 1.92),
        ("1,920", "mm", {}, 1.92),
        ("0.0756 in", "mm", {}, 1.92),
        ("0.0756in", "mm", BOTH, 1.92),
        ("0.0756", "mm", INCHES, 1.92),
        ("1.920 MM", "mm", INCHES, 1.92),
        ("80 psi", "bar", {}, 5.52),
        ("13.5", "N", INCHES, 60.1),
        ("-0.008", "mm", {}, -0.008),
        ("1.92", "mm", BOTH, None),  # both are read: which of them?
        ("80 psi", "mm", {}, None),
        ("1.92 ell", "mm", {}, None),
        ("1.2.3", "mm", {}, None),
        ("", "mm", {}, None),
    ],
)
def test_a_value_is_typed_in_any_unit_of_its_kind(
    typed: str, unit: str, units: dict[str, tuple[str, ...]], value: float | None
) -> None:
    assert read_in(typed, unit, units) == value


def test_whoever_has_to_name_the_unit_is_told() -> None:
    assert str(typed_like("mm", BOTH)) == "a number with its unit, mm or in"
    assert str(typed_like("mm", INCHES)).startswith("a number in in,")


@given(st.integers(0, 10_000_000), st.integers(0, 3), st.sampled_from(SHOWN), st.sampled_from(SHOWN))
def test_what_is_shown_in_another_unit_and_typed_again_is_the_same(
    figures: int, decimals: int, unit: str, other: str
) -> None:
    """To the step the value was written with: nothing is lost by reading it elsewhere."""
    if UNITS[unit][0] != UNITS[other][0]:
        return
    value = figures / 10**decimals
    there, kept = converted(value, unit, other, decimals)
    back = read_in(f"{there:.{kept}f} {other}", unit)
    assert back is not None
    assert round(back, decimals) == pytest.approx(value, abs=0.6 * 10**-decimals)
