"""Shares of faults: by item, module, cause and reel."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from upkeep.quality.repairs import Course
from upkeep.views.faults import FaultCase, Pareto, Share

_BY: tuple[tuple[str, Callable[[FaultCase], str | None]], ...] = (
    ("item", lambda fault: fault.item),
    ("module", lambda fault: fault.module),
    ("symptom", lambda fault: fault.listed),
    ("cause", lambda fault: fault.cause),
    ("reel", lambda fault: fault.reel),
)


def paretos(faults: Sequence[FaultCase]) -> tuple[Pareto, ...]:
    """The faults by each thing they can be shared by."""
    return tuple(_pareto(by, name_of, faults) for by, name_of in _BY)


def _pareto(by: str, name_of: Callable[[FaultCase], str | None], faults: Sequence[FaultCase]) -> Pareto:
    by_name: dict[str, list[FaultCase]] = defaultdict(list)
    for fault in faults:
        name = name_of(fault)
        if name is not None:
            by_name[name].append(fault)
    shares = [Share(name, len(cases), _minutes(cases)) for name, cases in by_name.items()]
    shares.sort(key=lambda share: (-share.faults, -(share.minutes or 0), share.name))
    return Pareto(by, tuple(shares), len(faults) - sum(share.faults for share in shares))


def _minutes(cases: Sequence[FaultCase]) -> float | None:
    known = [case.restoration for case in cases if case.restoration is not None]
    return sum(known) if known else None


def mean_restoration(ways: Iterable[Course]) -> tuple[int, float | None]:
    """How many faults have ended, and the mean of their minutes from report to end (None: none has)."""
    known = [way.restoration for way in ways if way.restoration is not None]
    return len(known), sum(known) / len(known) if known else None
