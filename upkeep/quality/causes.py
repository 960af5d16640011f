"""Likely causes of a symptom: the table's order, moved by what this plant's own records confirmed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from statistics import median

from upkeep.frozen import frozen
from upkeep.quality.symptoms import ADJUSTED, DEFAULT, Cause, Symptom, causes
from upkeep.said import said
from upkeep.stats.shares import ordered_shares

TABLE_WEIGHT = 4
"""How many records of the plant's own the order of the table is worth.  Plant default, no source."""

ESTIMATOR = said(
    "Share = (confirmed + {weight} x table) / (all confirmed + {weight}). The table gives its first cause the weight "
    "1, the second 1/2, the third 1/3 and so on, scaled to 1: it counts as much as {weight} records (a Dirichlet "
    "prior; weights are plant defaults, no source).",
    weight=TABLE_WEIGHT,
)


@frozen
class Confirmed:
    """What one repaired fault confirmed: its cause, the check that found it (None: none did), and the minutes from
    taken to fixed (None: nobody wrote when it was taken)."""

    cause: str
    check: str | None
    minutes: float | None


@frozen
class Likely:
    """A cause with its expected share, how many of the ``of`` records that found one confirmed it, which checks found
    it (the most frequent first, with how often), and the median of its minutes (None: none known)."""

    cause: Cause
    share: float
    confirmed: int
    of: int
    found_by: tuple[tuple[str, int], ...]
    minutes: float | None


def likely(symptom: Symptom, records: Sequence[Confirmed]) -> tuple[Likely, ...]:
    """The causes of a symptom, the likeliest first.

    The prior is the order of the table, 1/rank, worth :data:`TABLE_WEIGHT` records; causes that the plant confirmed
    though the table does not name them rank after its own.  Records that say ``adjusted`` confirm no cause and are left
    out.  Causes of equal share keep the order of the table.
    """
    confirmed = [record for record in records if record.cause != ADJUSTED]
    counts = Counter(record.cause for record in confirmed)
    ranked = [*symptom.causes, *_unlisted(symptom, counts)]
    if not ranked:
        return ()
    prior = [1 / rank for rank in range(1, len(ranked) + 1)]
    shares = ordered_shares(prior, [counts[cause.id] for cause in ranked], TABLE_WEIGHT)
    likely_causes = [
        Likely(
            cause,
            share,
            counts[cause.id],
            len(confirmed),
            *_how_found(record for record in confirmed if record.cause == cause.id),
        )
        for cause, share in zip(ranked, shares, strict=True)
    ]
    return tuple(sorted(likely_causes, key=lambda likely_cause: -likely_cause.share))


def _unlisted(symptom: Symptom, counts: Counter[str]) -> list[Cause]:
    """Confirmed causes that the table does not name under the symptom, in the order of the list."""
    named = {cause.id for cause in symptom.causes}
    return [Cause(key, title, DEFAULT) for key, title in causes().items() if counts[key] and key not in named]


def _how_found(records: Iterable[Confirmed]) -> tuple[tuple[tuple[str, int], ...], float | None]:
    kept = list(records)
    checks = Counter(record.check for record in kept if record.check is not None)
    minutes = [record.minutes for record in kept if record.minutes is not None]
    by_check = sorted(checks.items(), key=lambda pair: (-pair[1], pair[0]))
    return tuple(by_check), median(minutes) if minutes else None
