"""Shares of causes from few own counts and a guess made before there were any."""

from __future__ import annotations

from collections.abc import Sequence


def ordered_shares(prior: Sequence[float], counts: Sequence[int], weight: float) -> tuple[float, ...]:
    """The expected share of each cause, in the order given, under a Dirichlet prior; they add up to 1.

    `prior` says how the causes stand to each other before anything was counted (any scale), `weight` how many counts
    that guess is worth: (count + weight * prior) / (all counts + weight), with the prior scaled to add up to 1.
    Raises ValueError where a number is below 0, the prior is all 0, or neither counts nor weight are there.
    """
    if min((*prior, *counts, weight), default=0) < 0:
        raise ValueError("priors, counts and the weight of the prior are 0 or above")
    whole, counted = sum(prior), sum(counts)
    if not whole or not counted + weight:
        raise ValueError("shares take a prior above 0, and counts or a weight for the prior")
    return tuple(
        (count + weight * before / whole) / (counted + weight) for before, count in zip(prior, counts, strict=True)
    )
