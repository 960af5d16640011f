"""Lives cut short, against two reference libraries and scipy: on random lives, and on data sets that one carries.

Libraries: lifelines 0.30 and reliability 0.9 from PyPI.  Both stop their search about 1e-5 from the top, so their
estimates are compared to 1e-4 and ours must have a likelihood at least as high; a direct search with scipy is compared
to 1e-6 and better.  Data sets (of `reliability`): "automotive" (Krivtsov and Case, SAE paper 1999-01-3220, 21 of 31
suspended), "electronics" (4,072 of 4,082 suspended), "mixture" and "defective_sample" (12,295 of 13,645 suspended).
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from math import exp, log
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import chi2, weibull_min

from tests import oracles
from upkeep.stats.lives import Lives, kaplan_meier
from upkeep.stats.weibull import bounds, fit, fit_with_shape, life_bounds, scale_bounds

SCRIPT = Path(__file__).with_name("lives_asked.py")


def random_lives(seed: int) -> Lives:
    """Some dozens of lives of a random Weibull distribution, up to 9 of 10 of them cut short."""
    chance = random.Random(seed)
    while True:
        scale, shape = 10 ** chance.uniform(0, 6), chance.choice([0.7, 1.5, 3, 6])
        longest = scale * chance.choice([0.3, 1, 2, 100])
        pairs = [
            (chance.weibullvariate(scale, shape), chance.uniform(0, longest)) for _ in range(chance.choice([8, 30, 90]))
        ]
        failures = tuple(life for life, cut in pairs if life <= cut)
        if len(failures) > 1:
            return Lives(failures, tuple(cut for life, cut in pairs if life > cut))


SAMPLES = [random_lives(seed) for seed in range(14)]
NUMBERED = pytest.mark.parametrize("lives", SAMPLES, ids=range(len(SAMPLES)))


@pytest.fixture(scope="module")
def answers() -> list[dict[str, Any]]:
    """What both libraries say about every sample, and about the data sets they carry."""
    if not oracles.are_there():
        pytest.skip(oracles.MISSING)
    said = oracles.asked(SCRIPT, {"lives": [[lives.failures, lives.suspensions] for lives in SAMPLES]})
    return [*said["asked"], *said["carried"].values()]


def asked_about(answers: list[dict[str, Any]]) -> Iterator[tuple[Lives, dict[str, Any]]]:
    """Each sample with what was said about it."""
    for answer in answers:
        failures, suspensions = answer["lives"]
        yield Lives(tuple(failures), tuple(suspensions)), answer


def test_fits_are_those_of_both_libraries_and_never_less_likely(answers: list[dict[str, Any]]) -> None:
    """Shape and scale as far as the libraries' own searches go, and the same likelihood or a higher one.

    The flattest likelihood (10 of 4,082 failed) lets `reliability` stop 0.7 % away at 1e-7 below the top.
    """
    for lives, said in asked_about(answers):
        ours = fit(lives)
        nearest = min((said["lifelines"], said["reliability"]), key=lambda found: -found[2])
        assert (ours.shape, ours.scale) == pytest.approx(tuple(nearest[:2]), rel=1e-4)
        for library in ("lifelines", "reliability"):
            likelihood = said[library][2]
            assert ours.log_likelihood == pytest.approx(likelihood, abs=1e-6)
            assert ours.log_likelihood >= likelihood - 1e-9 * abs(likelihood)


def test_survival_and_its_bounds_are_those_of_lifelines(answers: list[dict[str, Any]]) -> None:
    """Kaplan-Meier with bounds on the log(-log) scale, step by step; where nothing survives there are no bounds."""
    for lives, said in asked_about(answers):
        steps = kaplan_meier(lives)
        assert [step.age for step in steps] == pytest.approx([age for age, *_ in said["survival"]])
        for step, (_, survival, low, high) in zip(steps, said["survival"], strict=True):
            assert step.survival == pytest.approx(survival, abs=1e-12)
            if survival:
                assert (step.low, step.high) == pytest.approx((low, high), abs=1e-12)


def likelihood(lives: Lives, shape: float, scale: float) -> float:
    """The logarithm of the likelihood, by scipy's own distribution."""
    failing = weibull_min.logpdf(np.array(lives.failures), shape, scale=scale).sum()
    surviving = weibull_min.logsf(np.array(lives.suspensions), shape, scale=scale).sum()
    return float(failing + surviving)


def highest_with_scale(lives: Lives, scale: float) -> float:
    """The highest likelihood of any shape for that scale, by scipy's bounded search around the best fit."""
    middle = log(fit(lives).shape)
    found = minimize_scalar(
        lambda shape: -likelihood(lives, exp(shape), scale),
        bounds=(middle - 4, middle + 2),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return float(-found.fun)


@NUMBERED
def test_fits_are_where_scipy_finds_the_slope_of_the_likelihood_to_be_nothing(lives: Lives) -> None:
    """The profile's slope, written out with numpy, and scipy's root search."""
    failed, ages = np.log(lives.failures), np.log((*lives.failures, *lives.suspensions))

    def slope(shape: float) -> float:
        weights = np.exp(shape * (ages - ages.max()))
        return float(1 / shape + failed.mean() - (weights * ages).sum() / weights.sum())

    shape = brentq(slope, 1e-3, 1e3, xtol=1e-14, rtol=1e-13)
    scale = (np.sum(np.exp(shape * ages)) / len(failed)) ** (1 / shape)
    ours = fit(lives)
    assert (ours.shape, ours.scale) == pytest.approx((shape, scale), rel=1e-9)
    assert ours.log_likelihood == pytest.approx(likelihood(lives, shape, scale), rel=1e-10)


@NUMBERED
def test_bounds_are_where_the_best_likelihood_has_fallen_by_half_a_chi_square_quantile(lives: Lives) -> None:
    """Shape, scale and the age of 10 % failed, each at both ends, with scipy's distribution and its searches."""
    fallen = fit(lives).log_likelihood - chi2.ppf(0.95, 1) / 2
    found = bounds(lives)
    for shape in (found.shape.low, found.shape.high):
        assert likelihood(lives, shape, fit_with_shape(lives, shape).scale) == pytest.approx(fallen, abs=1e-7)
    for scale in (found.scale.low, found.scale.high):
        assert highest_with_scale(lives, scale) == pytest.approx(fallen, abs=1e-6)
    life = life_bounds(lives, 0.1)
    for age in (life.low, life.high):
        best = minimize_scalar(
            lambda shape, age=age: -likelihood(lives, exp(shape), age * (-log(0.9)) ** (-1 / exp(shape))),
            bounds=(log(fit(lives).shape) - 4, log(fit(lives).shape) + 2),
            method="bounded",
            options={"xatol": 1e-10},
        )
        assert -best.fun == pytest.approx(fallen, abs=1e-6)


@NUMBERED
def test_with_a_known_shape_the_scale_is_the_likeliest_one(lives: Lives) -> None:
    """One parameter: scipy's bounded search finds no better one."""
    ours = fit_with_shape(lives, 2.0)
    best = minimize_scalar(
        lambda scale: -likelihood(lives, 2.0, exp(scale)),
        bounds=(log(ours.scale) - 3, log(ours.scale) + 3),
        method="bounded",
        options={"xatol": 1e-10},
    )
    assert log(ours.scale) == pytest.approx(best.x, abs=1e-6)
    assert ours.log_likelihood == pytest.approx(-best.fun, rel=1e-10)


@NUMBERED
def test_bounds_of_the_scale_are_chi_square_quantiles_of_the_summed_powers(lives: Lives) -> None:
    """2 * sum / chi-square with twice the failures (and two more at the low end), by scipy's chi-square."""
    total = sum(age**1.7 for age in (*lives.failures, *lives.suspensions))
    failed = len(lives.failures)
    low = (2 * total / chi2.ppf(0.95, 2 * failed + 2)) ** (1 / 1.7)
    high = (2 * total / chi2.ppf(0.05, 2 * failed)) ** (1 / 1.7)
    found = scale_bounds(lives, 1.7, level=0.9)
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)
