"""More lives in print: fans, patients, factors of failure rates, an age for replacing, and the handbook's example asked
through a book.

* Diesel fans: W. Nelson, Applied Life Data Analysis (1982), data as in the documentation of a general statistics
  package (read); the estimates from memory, and agreed with an independent search.
* Ovarian cancer: Edmunson and others (1979), data and ``survreg`` estimates of R's package survival, from memory.
* Factors of the mean time between failures, two-sided 90 %: NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1,
  table, from memory.
* Age replacement: a worked example of a public reliability library, scale 1,000, shape 2.5, costs 1 and 5; it prints
  493.19, which comes from a grid; 493.05 is found by brute force.
* NIST/SEMATECH e-Handbook, 8.4.1.3: the example of test_published_lives.py, in hundreds of strokes.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import gamma, log
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item
from upkeep.plant.model import Kind
from upkeep.stats.lives import Lives
from upkeep.stats.replacement import age_replacement
from upkeep.stats.weibull import fit, scale_bounds

RUNNING_FANS = {
    **{460: 1, 1560: 1, 1660: 1, 1850: 5, 2030: 3, 2200: 1, 3000: 4, 3200: 1, 3750: 2, 4150: 4, 4300: 4, 4850: 4},
    **{5000: 3, 6100: 3, 6300: 1, 6450: 2, 6700: 1, 7450: 1, 7800: 2, 8100: 2, 8200: 1, 8500: 3, 8750: 2, 9400: 1},
    **{9900: 1, 10100: 3, 11500: 1},
}
FANS = Lives(
    (450, 1150, 1150, 1600, 2070, 2070, 2080, 3100, 3450, 4600, 6100, 8750),
    tuple(hours for hours, fans in RUNNING_FANS.items() for _ in range(fans)),
)

PATIENTS = Lives(
    (59, 115, 156, 431, 464, 475, 563, 638, 268, 329, 353, 365),
    (421, 448, 477, 744, 769, 770, 803, 855, 1040, 1106, 1129, 1206, 1227, 377),
)


def test_diesel_fans_have_the_published_estimates() -> None:
    """12 of 70 failed: shape 1.0584, scale 26,296.8 hours."""
    assert len(FANS.failures) + len(FANS.suspensions) == 70
    fitted = fit(FANS)
    assert fitted.shape == pytest.approx(1.0584, abs=5e-5)
    assert fitted.scale == pytest.approx(26_296.8, abs=0.05)


def test_patients_have_the_estimates_of_r() -> None:
    """Intercept 7.111, scale 0.902 (of the logarithms), log-likelihood -98.0."""
    fitted = fit(PATIENTS)
    assert log(fitted.scale) == pytest.approx(7.111, abs=5e-4)
    assert 1 / fitted.shape == pytest.approx(0.902, abs=5e-4)
    assert fitted.log_likelihood == pytest.approx(-98.0, abs=0.05)


@pytest.mark.parametrize(("n", "low", "high"), [(1, 0.2108, 19.4958), (3, 0.3869, 3.6689), (10, 0.5895, 1.8432)])
def test_the_factors_of_a_mean_time_between_failures(n: int, low: float, high: float) -> None:
    """Of the hours run per failure: the lower bound on 2r + 2 degrees of freedom, the upper one on 2r."""
    found = scale_bounds(Lives((1.0,) * n), shape=1, level=0.90)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-4)


def test_without_a_failure_the_hours_run_bound_the_scale() -> None:
    """10,000 unit hours by -ln 0.05: at least 3,338."""
    assert scale_bounds(Lives((), (10_000.0,)), shape=1, level=0.95).low == pytest.approx(3338, abs=0.5)


def test_the_age_for_replacing_of_a_worked_example() -> None:
    """At 493.05, for 0.0034620 a unit."""
    found = age_replacement(2.5, 5)
    assert found.age_over_scale is not None
    assert 1000 * found.age_over_scale == pytest.approx(493.05, abs=0.02)
    to_failure = 5 / (1000 * gamma(1 + 1 / 2.5))
    assert (1 - found.saving) * to_failure == pytest.approx(0.0034620, abs=5e-8)


WORN = (54, 187, 216, 240, 244, 335, 361, 373, 375, 386)
GONE_AT = 500
HUNDRED = 100


def handbook_book() -> Iterator[str]:
    """Twenty punches on as many presses: ten retired as worn, ten gone for another reason at 50,000 strokes."""
    for n, hundreds in enumerate((*WORN, *[GONE_AT] * 10)):
        end = "worn" if n < len(WORN) else "other"
        yield f"2026-03-02 06:00 count P-{n} 0 by ana"
        yield f"2026-03-02 06:00 fit M-{n} in P-{n} by ana"
        yield f"2026-03-02 06:00 fit D-{n} in M-{n} by ana"
        yield f"2026-03-02 06:00 fit X-{n} in D-{n} by ana"
        yield f"2026-03-12 06:00 count P-{n} {hundreds * HUNDRED} by ana"
        yield f"2026-03-12 06:00 unfit X-{n} by ana"
        yield f'2026-03-12 07:00 retire X-{n} {end} by tom because "end of the test"'


def test_the_handbooks_example_through_fit_unfit_retire_and_lives(tmp_path: Path) -> None:
    """Shape 1.7208, scale 606.528 hundreds of strokes."""
    items = [
        define_one
        for n in range(20)
        for define_one in (
            item(f"P-{n}", kind="press", digits=7, place="hall"),
            item(f"M-{n}", kind="module", place="rack"),
            item(f"D-{n}", kind="die set", family="lab", place="rack"),
            item(f"X-{n}", kind="conductor punch"),
        )
    ]
    crimp = define("crimp", "CR-1", title="Test", family="lab", points=[])
    with book_of(tmp_path, "\n".join(handbook_book()), more=(*items, crimp)) as book:
        ((_, report),) = book.wear(at("2026-03-13 06:00")).lives("lab", Kind.CONDUCTOR_PUNCH).reports
    assert report.curve is not None
    assert report.curve.weibull.shape == pytest.approx(1.7208, abs=5e-5)
    assert report.curve.weibull.scale == pytest.approx(60_652.8, abs=0.05)
