"""The written form of numbers and ages."""

from __future__ import annotations

import pytest

from upkeep.units.quantities import figure_of, grouped, span_text, strokes


def test_numbers_are_grouped_by_thousands() -> None:
    assert [grouped(number) for number in (0, 999, 1000, 1204300, -4500)] == [
        "0",
        "999",
        "1,000",
        "1,204,300",
        "-4,500",
    ]


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("0", 0),
        ("1204300", 1204300),
        ("1,204,300", 1204300),
        ("4,812", 4812),
        ("1 210 000", 1210000),
        ("1.210.000", 1210000),
        ("1\u00a0210\u00a0000", 1210000),
        ("1'210'000", 1210000),
    ],
)
def test_a_figure_is_read_as_it_is_printed(text: str, number: int) -> None:
    assert figure_of(text) == number


@pytest.mark.parametrize(
    "text", ["", "12,04,300", "1.204", "1,204.300", "1 204,300", "1,2", ",100", "-5", "1 00", "\u0663", "1" * 19]
)
def test_any_other_text_is_no_figure(text: str) -> None:
    assert figure_of(text) is None


def test_strokes_carry_their_unit() -> None:
    assert [strokes(number) for number in (0, 1, 2, 192400)] == [
        "0 strokes",
        "1 stroke",
        "2 strokes",
        "192,400 strokes",
    ]


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0, "0 s"),
        (59.9, "59 s"),
        (60, "1 min"),
        (3599, "59 min"),
        (3600, "1 h"),
        (18600, "5 h 10 min"),
        (86400, "24 h"),
        (2 * 86400 - 60, "47 h 59 min"),
        (2 * 86400, "2 days"),
        (3 * 86400 + 7200, "3 days"),
        (1500 * 86400, "1,500 days"),
        (-600, "-10 min"),
    ],
)
def test_an_age_is_given_in_the_unit_people_use(seconds: float, text: str) -> None:
    assert span_text(seconds) == text
