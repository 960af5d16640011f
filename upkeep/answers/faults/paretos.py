"""Shares of faults: by item, module, cause and reel."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from upkeep.quality.repairs import Course
from upkeep.views.faults import FaultCase, Pareto, Share

_BY: tuple[tuple[str, Callable[[FaultCase], str | None]], ...] = (
    ("item", lambda one: one.item),
    ("module", lambda one: one.module),
    ("symptom", lambda one: one.listed),
    ("cause", lambda one: one.cause),
    ("reel", lambda one: one.reel),
)


def paretos(faults: Sequence[FaultCase]) -> tuple[Pareto, ...]:
    """The faults by each thing they can be shared by."""
    return tuple(_pareto(by, name_of, faults) for by, name_of in _BY)


def _pareto(by: str, name_of: Callable[[FaultCase], str | None], faults: Sequence[FaultCase]) -> Pareto:
    found: dict[str, list[FaultCase]] = defaultdict(list)
    for one in faults:
        name = name_of(one)
        if name is not None:
            found[name].append(one)
    shares = [Share(name, len(cases), _minutes(cases)) for name, cases in found.items()]
    shares.sort(key=lambda one: (-one.faults, -(one.minutes or 0), one.name))
    return Pareto(by, tuple(shares), len(faults) - sum(one.faults for one in shares))


def _minutes(cases: Sequence[FaultCase]) -> float | None:
    known = [one.restoration for one in cases if one.restoration is not None]
    return sum(known) if known else None


def mean_restoration(ways: Iterable[Course]) -> tuple[int, float | None]:
    """How many faults have ended, and the mean of their minutes from report to end (None: none has)."""
    known = [one.restoration for one in ways if one.restoration is not None]
    return len(known), sum(known) / len(known) if known else None
