"""The likeliest Weibull distribution by scipy: its own density, and searches between two ends that cannot stop short.

A search that walks to the top from a start may end below it, on one processor and not on another; none is used here.
"""

from __future__ import annotations

from collections.abc import Callable
from math import log

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import weibull_min

from upkeep.stats.lives import Lives


def likelihood(lives: Lives, shape: float, scale: float) -> float:
    """The logarithm of the likelihood of a shape and a scale."""
    failing = weibull_min.logpdf(np.array(lives.failures), shape, scale=scale).sum()
    surviving = weibull_min.logsf(np.array(lives.suspensions), shape, scale=scale).sum()
    return float(failing + surviving)


def likeliest(lives: Lives) -> tuple[float, float, float]:
    """The likeliest shape and scale, and the logarithm of their likelihood.

    The shape is the root of the slope of the profile likelihood (Meeker and Escobar, Statistical Methods for
    Reliability Data, 1998, 8.2), written out with numpy; the slope only ever falls.
    """
    failed, ages = np.log(lives.failures), np.log((*lives.failures, *lives.suspensions))

    def slope(shape: float) -> float:
        weights = np.exp(shape * (ages - ages.max()))
        return float(1 / shape + failed.mean() - (weights * ages).sum() / weights.sum())

    shape = brentq(slope, 1e-3, 1e3, xtol=1e-14, rtol=1e-13)
    scale = float((np.sum(np.exp(shape * ages)) / len(failed)) ** (1 / shape))
    return shape, scale, likelihood(lives, shape, scale)


def highest(of: Callable[[float], float], middle: float) -> float:
    """The highest value that a function with a single peak takes for an argument from middle / 55 to middle * 7."""
    found = minimize_scalar(
        lambda at: -of(float(np.exp(at))),
        bounds=(log(middle) - 4, log(middle) + 2),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return float(-found.fun)
