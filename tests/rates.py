"""How often something happens in random cases from a fixed seed, and how far chance may move that."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from random import Random

ERRORS = 3
"""Standard errors by which a share found in random cases may miss the one it is to have."""


def share(cases: int, happens: Callable[[Random], bool | None], seed: int = 1) -> float:
    """In which share of so many random cases it happens."""
    random = Random(seed)
    return sum(bool(happens(random)) for _ in range(cases)) / cases


def error(wanted: float, cases: int) -> float:
    """By how much a share found in so many cases may miss the wanted one."""
    return ERRORS * sqrt(wanted * (1 - wanted) / cases)


def at_most(found: float, wanted: float, cases: int) -> bool:
    """Whether a share found in so many cases speaks for one that is not above the wanted one."""
    return found <= wanted + error(wanted, cases)


def at_least(found: float, wanted: float, cases: int) -> bool:
    """Whether a share found in so many cases speaks for one that is not below the wanted one."""
    return found >= wanted - error(wanted, cases)
