"""Fitting lives of which some were cut short, against a reference library, one fit after the other."""

from __future__ import annotations

import importlib
import random
import sys
import warnings
from collections.abc import Iterator
from timeit import repeat
from typing import Any

from tests import oracles
from tests.benchmarks.measuring import Measured, best
from upkeep.stats.lives import Lives
from upkeep.stats.weibull import fit

_LIVES = 50
_FITS = 5


def measured() -> Iterator[Measured]:
    """One fit of 50 lives, about half of them suspended; nothing where the reference library is not installed.

    Raises AssertionError where the two do not find the same distribution: then their times cannot be compared.
    """
    if not oracles.are_there():
        print(f"lives: not measured, {oracles.MISSING}", file=sys.stderr)
        return
    reference = _reference()
    samples = [_sample(seed) for seed in range(_FITS)]
    for lives in samples:
        ours, theirs = fit(lives), reference(lives)
        assert abs(ours.shape / theirs.rho_ - 1) < 1e-3, (ours, theirs.rho_)
        assert abs(ours.scale / theirs.lambda_ - 1) < 1e-3, (ours, theirs.lambda_)
    mine, baseline = best(
        lambda: min(repeat(lambda: [fit(lives) for lives in samples], number=1, repeat=20)) / _FITS,
        lambda: min(repeat(lambda: [reference(lives) for lives in samples], number=1, repeat=1)) / _FITS,
        3,
    )
    yield Measured(f"a Weibull fit of {_LIVES} lives, half of them suspended", mine, baseline, "lifelines", 1 / 500)


def _reference() -> Any:
    """The library's fit, found in the folder that is searched only here."""
    warnings.simplefilter("ignore")
    sys.path.append(str(oracles.FOLDER))
    try:
        fitter = importlib.import_module("lifelines").WeibullFitter
    finally:
        sys.path.remove(str(oracles.FOLDER))
    return lambda lives: fitter().fit(
        [*lives.failures, *lives.suspensions], [True] * len(lives.failures) + [False] * len(lives.suspensions)
    )


def _sample(seed: int) -> Lives:
    chance = random.Random(seed)
    pairs = [(chance.weibullvariate(300_000, 2.5), chance.uniform(0, 600_000)) for _ in range(_LIVES)]
    failures = tuple(life for life, cut in pairs if life <= cut)
    return Lives(failures, tuple(cut for life, cut in pairs if life > cut))
