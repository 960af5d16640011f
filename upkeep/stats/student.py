"""Student's t: the chance of a value further out, and the value that leaves a given chance beyond it.

Both by the regularised incomplete beta function on plain floats (DLMF: the NIST Digital Library of Mathematical
Functions), since a library for it takes longer to load than a whole answer may.  Chances are right to 12 figures up to
1,000 degrees of freedom and to 9 at 1,000,000, down to chances of 1e-12; quantiles to one figure more.
"""

from __future__ import annotations

from math import exp, gamma, log, log1p, pi, sqrt
from statistics import NormalDist

_TERMS = 10_000
"""Far more than the fraction needs."""

_CLOSE = 1e-15
_ROUNDS = 60
_LAST_STEP = 1e-9
"""Newton's steps shrink to their squares: after one so short nothing is left to correct."""

_GAMMA_FITS = 100.0


def chance_beyond(t: float, freedom: float) -> float:
    """The chance that Student's t with so many degrees of freedom is above `t`, 0 to 1.

    Half of I_x(freedom / 2, 1 / 2) at x = freedom / (freedom + t^2), for t above 0: NIST/SEMATECH e-Handbook of
    Statistical Methods, 1.3.6.6.4 (the distribution), and DLMF 8.17 (the integral).
    """
    squared = t * t / freedom
    if squared == 0:
        return 0.5
    tail = _beta_share(freedom / 2, 0.5, -log1p(squared), -log1p(1 / squared)) / 2
    return tail if t > 0 else 1 - tail


def t_quantile(level: float, freedom: float) -> float:
    """The value that Student's t with so many degrees of freedom stays below with the chance `level`.

    `level` lies between 0 and 1, both excluded.  Newton's steps for the logarithm of the chance over the logarithm of
    the value, from the normal quantile: there the curve is close to a straight line far out, and bends one way only,
    so that no step after the first passes the answer.
    """
    if level == 0.5:
        return 0.0
    beyond = min(level, 1 - level)
    value = -NormalDist().inv_cdf(beyond)
    for _ in range(_ROUNDS):
        tail = chance_beyond(value, freedom)
        step = log(tail / beyond) * tail / (value * _density(value, freedom))
        value *= exp(step)
        if abs(step) < _LAST_STEP:
            break
    return value if level > 0.5 else -value


def _density(t: float, freedom: float) -> float:
    """The density of Student's t: NIST/SEMATECH e-Handbook, 1.3.6.6.4."""
    return _gamma_ratio(freedom / 2) / sqrt(pi * freedom) * exp(-(freedom + 1) / 2 * log1p(t * t / freedom))


def _beta_share(a: float, b: float, log_x: float, log_rest: float) -> float:
    """I_x(a, b), the regularised incomplete beta function, one of a and b being 1/2.

    x and 1 - x come as logarithms, so that the one near 1 keeps its digits.  On the side where the continued fraction
    converges fast, the other by symmetry (DLMF 8.17.4).
    """
    x = exp(log_x)
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta_share(b, a, log_rest, log_x)
    beta = sqrt(pi) / _gamma_ratio(max(a, b))
    return exp(a * log_x + b * log_rest) / (a * beta) / _fraction(a, b, x)


def _gamma_ratio(z: float) -> float:
    """Gamma(z + 1/2) / Gamma(z).

    Where the functions themselves overflow, or would lose figures to one another, by the series of DLMF 5.11.13.
    """
    if z < _GAMMA_FITS:
        return gamma(z + 0.5) / gamma(z)
    u = 1 / z
    return sqrt(z) * (1 - u / 8 * (1 - u / 16 * (1 + u * 5 / 8 * (1 - u * 21 / 160 * (1 + u * 19 / 8)))))


def _fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of I_x(a, b): DLMF 8.17.22, from the top down by the method of Lentz (DLMF 3.10(iii))."""
    value, above, below = 1.0, 1.0, 0.0
    for term in range(1, _TERMS):
        m = term // 2
        if term % 2:
            part = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            part = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        above, below = 1 + part / above, 1 / (1 + part * below)
        value *= above * below
        if abs(above * below - 1) < _CLOSE:
            break
    return value
