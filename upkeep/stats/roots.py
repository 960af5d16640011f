"""Where a function passes through nothing: the two searches that the fits of this floor need."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

_ROUNDS = 200
_CLOSE = 1e-12


def falling_root(value_and_slope: Callable[[float], tuple[float, float]], start: float) -> float:
    """The x above 0 at which a falling function is 0; it must be above 0 near 0 and below 0 far out.

    Newton's steps from `start`, kept between the nearest x known to lie below and above the root.
    """
    x, low, high = start, 0.0, inf
    for _ in range(_ROUNDS):
        value, slope = value_and_slope(x)
        step = value / slope
        if abs(step) <= _CLOSE * x:
            return x - step
        low, high = (x, high) if value > 0 else (low, x)
        x -= step
        if not low < x < high:
            x = 2 * low if high == inf else (low + high) / 2
    return x


def end_of(above: Callable[[float], float], inside: float, step: float) -> float:
    """The x on the side of `step` from `inside` at which `above` falls to 0; it must be above 0 at `inside`.

    Walks outward with doubled steps until it is past the end, then closes in by false position, halving the weight of
    an end that stays (the Illinois rule).
    """
    near, over = inside, above(inside)
    far, under = inside + step, above(inside + step)
    while under > 0:
        step *= 2
        near, over = far, under
        far, under = far + step, above(far + step)
    kept = 0  # rounds in a row that left the near end (below 0) or the far end (above 0) where it was
    for _ in range(_ROUNDS):
        middle = (near * under - far * over) / (under - over)
        height = above(middle)
        if abs(height) <= _CLOSE or abs(far - near) <= _CLOSE * max(1.0, abs(middle)):
            return middle
        if height > 0:
            near, over, kept = middle, height, max(1, kept + 1)
            under = under / 2 if kept > 1 else under
        else:
            far, under, kept = middle, height, min(-1, kept - 1)
            over = over / 2 if kept < -1 else over
    return middle
