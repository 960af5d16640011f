"""How many spares the work to come uses: what wears out, and what planned work takes, by the days ahead.

Method.  A part in use is replaced when its life is used up: the chance that this comes within the days looked at, and
one more for each further life the strokes beyond it make up.  Planned work takes its parts each time it falls due.
Where it fails: parts that break before their life is over; the past knows those.
"""

from __future__ import annotations

from datetime import date
from itertools import islice

from upkeep.planning.forecast import Ahead


def worn_out_within(left: int, life: int, ahead: Ahead, days: int) -> float:
    """How many times a part is expected to be used up within so many working days.

    ``left`` strokes of it are left, a new one does ``life``.
    """
    if days <= 0:
        return float(left <= 0)
    last = next(islice(ahead.sums(), days - 1, None))
    return max(ahead.chance_within(left, days), float(left <= 0)) + max(0.0, last.mean - max(0, left)) / life


def times_within(first: date, every_days: float, until: date) -> int:
    """How often work falls due by a day: first on ``first``, then every so many days (0: once)."""
    if first > until:
        return 0
    return 1 if every_days <= 0 else 1 + int((until - first).days / every_days)
