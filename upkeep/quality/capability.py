"""What some readings say about a process: its capability, and what a few good pulls leave open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from statistics import fmean, stdev

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import Figure, Said, said
from upkeep.stats.capability import LEAST_VALUES, Capability, bissell_low, cpk
from upkeep.stats.few import TooFew
from upkeep.stats.passes import not_excluded, passes_to_exclude
from upkeep.stats.tolerance import k_factor
from upkeep.units.figures import decimals_of

LEVEL, COVER = 0.95, 0.99
"""The confidence of every bound here, and the share of pieces a tolerance bound covers (common practice, no source)."""

_GOOD, _TRIED = 1.67, 0.05
"""A capability often asked for, to show what a small sample of it says; a bad share often asked to be excluded."""


@frozen
class Capable:
    """A capability with the number of readings behind it and its one-sided lower 95 % bound.

    It is the performance index of ISO 22514 (Ppk): its scatter is that of all readings over the days they were taken,
    not that within subgroups, which Cpk is made from.  ``cpk`` is the same number under the name it first had in
    ``--json``.  ``decimals`` are those that were read.
    """

    n: int
    mean: float
    scatter: float
    cpk: float
    low: float
    ppk: float
    decimals: int


@frozen
class Pulled:
    """What some pulls say.

    ``not_excluded`` is the largest bad share that they leave possible at 95 %; ``to_exclude`` how many pulls, all good,
    exclude 5 % bad.  ``bound`` is mean - k * scatter, which 99 % of the pieces exceed with 95 % confidence; None below
    two pulls, or where all are the same.  ``minimum`` None: nobody says what they have to bear.
    """

    n: int
    bad: int
    minimum: float | None
    smallest: float
    mean: float
    scatter: float | None
    k: float | None
    bound: float | None
    not_excluded: float
    to_exclude: int
    broke: tuple[tuple[str, int], ...]
    decimals: int


@frozen
class Proves:
    """What so many pulls leave open: with 95 % confidence they do not exclude that the share ``not_excluded`` of all
    pieces is bad; ``to_exclude`` good ones in all, with the same bad ones among them, exclude 5 %."""

    n: int
    bad: int
    not_excluded: float
    to_exclude: int


USUAL_PULLS = (1, 2, 3, 5, 10, 25, 30, 59, 100)
"""How many good pulls are looked up, where nobody names a number."""


def proofs(good: int | None, bad: int = 0) -> tuple[Proves, ...]:
    """What so many pulls prove; None: what each of the usual numbers of good ones does.

    The bound is that of Clopper and Pearson, The Use of Confidence or Fiducial Limits, Biometrika 26 (1934), one-sided.
    """
    asked = [count + bad for count in (USUAL_PULLS if good is None else (good,))]
    return tuple(Proves(n, bad, not_excluded(n, LEVEL, bad), passes_to_exclude(_TRIED, LEVEL, bad)) for n in asked)


def capable(values: Sequence[float], lower: float | None, upper: float | None) -> Capable:
    """The capability of some readings; raises :class:`Refused` with the reason where they are too few."""
    if lower is None and upper is None:
        raise Refused(said("No capability: there are no limits to compare the scatter with."))
    try:
        index: Capability = cpk(values, lower, upper, LEVEL)
    except TooFew as few:
        raise Refused(_too_few(len(values), few)) from None
    return Capable(index.n, fmean(values), stdev(values), index.cpk, index.low, index.cpk, decimals_of(values))


def _too_few(n: int, few: TooFew) -> Said:
    if n >= LEAST_VALUES or n < 2:
        return said("No capability: {few}.", few=few.said)
    low = bissell_low(_GOOD, n, LEVEL)
    return said(
        "No capability from {n} readings: a measured Ppk of {good} could then just as well be {low} "
        "(one-sided 95 % bound, Bissell's approximation). At least {least} readings are needed.",
        n=n,
        good=Figure(_GOOD),
        low=Figure(low, ".2f"),
        least=LEAST_VALUES,
    )


def pulled(forces: Sequence[float], broke: Sequence[str], minimum: float | None) -> Pulled:
    """What some pulls say; raises :class:`Refused` where there are none."""
    if not forces:
        raise Refused(said("No piece was pulled."))
    bad = 0 if minimum is None else sum(force < minimum for force in forces)
    n, mean = len(forces), fmean(forces)
    scatter = stdev(forces) if n > 1 and len(set(forces)) > 1 else None
    k = None if scatter is None else k_factor(n, COVER, LEVEL)
    return Pulled(
        n=n,
        bad=bad,
        minimum=minimum,
        smallest=min(forces),
        mean=mean,
        scatter=scatter,
        k=k,
        bound=None if k is None or scatter is None else mean - k * scatter,
        not_excluded=not_excluded(n, LEVEL, bad),
        to_exclude=passes_to_exclude(_TRIED, LEVEL),
        broke=tuple(sorted(Counter(broke).items())),
        decimals=decimals_of(forces),
    )
