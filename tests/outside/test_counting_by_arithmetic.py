"""Strokes whose number plain arithmetic tells; the clock change is that of Directive 2000/84/EC, from memory."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.plants import book_of, item, plant, strokes

FASTEST_IN_A_DAY = 24 * 10_000
"""Strokes; what a press is taken to do at the most that says nothing of its rate (plant default, no source)."""


def test_strokes_are_shared_by_the_quantities_made(tmp_path: Path) -> None:
    """1,000 between two counts; 900 pieces in the first hour, 100 in the last: taken out at 10:00 it did 900."""
    book = book_of(
        tmp_path,
        """
        2026-03-02 06:00 count P-07 100 by ana
        2026-03-02 06:00 fit M-12 in P-07 by ana
        2026-03-02 07:00 quantity P-07 900 over 60 min by ana
        2026-03-02 10:00 unfit M-12 by ana
        2026-03-02 14:00 quantity P-07 100 over 60 min by ana
        2026-03-02 14:00 count P-07 1100 by ana
        """,
    )
    assert strokes(book, "M-12", "2026-03-02 14:00") == (0, 900, 1_000)


def test_strokes_are_shared_over_the_clock_change_by_the_hours_that_passed(tmp_path: Path) -> None:
    """The night of 24 October 2026 has nine hours from 22:00 to 06:00; the second 02:30 is five and a half after."""
    book = book_of(
        tmp_path,
        """
        2026-10-24 22:00 count P-07 0 by ana
        2026-10-24 22:00 fit M-12 in P-07 by ana
        2026-10-25 02:30+01:00 unfit M-12 by ana
        2026-10-25 06:00 count P-07 900 by ana
        """,
        more=[plant(zone="Europe/Berlin")],
    )
    assert strokes(book, "M-12", "2026-10-25 06:00") == (0, 550, 900)


@pytest.mark.parametrize("digits", [3, 4, 6, 9, 10])
def test_an_odometer_counts_the_sum_of_its_steps(tmp_path: Path, digits: int) -> None:
    """Eleven steps with rollovers: modulo arithmetic.

    A counter of three or four figures can have gone round once more within a day, unseen: the most holds that too.
    """
    random = Random(digits)
    steps = [random.randrange(10**digits // 3, 10**digits * 9 // 10) for _ in range(11)]
    lines, total = ["2026-03-02 06:00 count P-9 0 by ana"], 0
    for n, step in enumerate(steps, 1):
        rolled = " rolled-over" if total % 10**digits + step >= 10**digits else ""
        total += step
        lines.append(f"2026-03-{n + 2:02} 06:00 count P-9 {total % 10**digits}{rolled} by ana")
    press = item("P-9", kind="press", digits=digits, place="hall")
    low, best, high = strokes(book_of(tmp_path, "\n".join(lines), more=[press]), "P-9", "2026-03-13 06:00")
    assert (low, best) == (total, total)
    assert high == total if 10**digits > FASTEST_IN_A_DAY else high > total


def test_a_multiplier_is_taken_of_the_running_total(tmp_path: Path) -> None:
    """100 steps of 7 counts at 1.5 strokes each: 1,050; each step rounded on its own would be 1,000."""
    configured = '2026-03-02 05:00 configure-counter P-07 running digits 6 times 1.5 by tom because "one and a half"'
    counts = [f"2026-03-02 {6 + n // 60:02}:{n % 60:02} count P-07 {7 * n} by ana" for n in range(101)]
    assert strokes(book_of(tmp_path, "\n".join([configured, *counts])), "P-07", "2026-03-02 14:00") == (1_050,) * 3
