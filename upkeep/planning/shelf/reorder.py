"""When to order, and how many: a level that lasts, at a stated service, until what was ordered comes.

Method.  Uses come one at a time and independently, so over the lead time they are Poisson with the mean the forecast
gives.  The reorder level is the least number that the uses of a lead time do not pass with the wanted chance.  Worked
example: 1.4 a week over 8 weeks are 11.2, the level at 95 % is 17 (20 at 99 %); 0.15 a week are 1.2, the level is 3.

Where it fails: parts that wear out together (a family started on one day) are used in bunches, and a lead time that
varies asks for more.  The weeks an order covers beside are a plant default, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from upkeep.frozen import frozen

COVERS_WEEKS = 4
"""An order brings so many weeks of use beside the level.  Plant default, no source."""

FARTHEST = 5 * 366
"""Days ahead beyond which no day to order by is named."""


def chance_at_most(number: int, mean: float) -> float:
    """The Poisson chance that no more than ``number`` are used where ``mean`` are expected."""
    if number < 0:
        return 0.0
    if mean <= 0:
        return 1.0
    logs = (k * math.log(mean) - mean - math.lgamma(k + 1) for k in range(number + 1))
    return min(1.0, math.fsum(map(math.exp, logs)))


def reorder_level(mean: float, service: float) -> int:
    """The least number that the uses of a lead time do not pass with a chance of at least ``service`` (0.95).

    ``mean`` uses are expected in it, none or more.  The quantile of the Poisson distribution.
    """
    if mean <= 0:
        return 0
    level, so_far = 0, math.exp(-mean)
    if so_far == 0.0:  # beyond what a float holds: the normal quantile is near, and the search begins below it
        level = max(0, math.floor(mean - 5 * math.sqrt(mean)))
        so_far = chance_at_most(level, mean)
    while so_far < service:
        level += 1
        so_far += math.exp(level * math.log(mean) - mean - math.lgamma(level + 1))
    return level


@frozen
class Coming:
    """So many that are expected on a day."""

    day: date
    number: int


@frozen
class Demand:
    """What is used in a week: by the forecast of what falls due, and as it was in the weeks before (None: nobody
    knows).  The higher of both is planned with: the forecast knows what is coming, the past what breaks."""

    due: float | None
    past: float | None

    @property
    def weekly(self) -> float:
        """What is planned with."""
        return max(self.due or 0.0, self.past or 0.0)


@frozen
class OrderPlan:
    """What to order of a spare.

    ``mean`` are the uses expected in the lead time, ``level`` the reorder level, ``position`` what lies there and what
    is coming.  ``order_by`` is the day by which to order ``number`` more (None: nothing is used); ``comes`` when that
    would be there; ``lasts_until`` the day until which what lies there is expected to last; ``chance_short`` the chance
    that it does not last until an order of today comes.
    """

    mean: float
    level: int
    position: int
    order_by: date | None
    number: int
    comes: date | None
    lasts_until: date | None
    chance_short: float

    def is_due(self, today: date) -> bool:
        """Whether to order today."""
        return self.order_by is not None and self.order_by <= today


def order_plan(
    stock: int, coming: Sequence[Coming], demand: Demand, *, lead_days: int, service: int, least: int, pack: int,
    today: date,
) -> OrderPlan:  # fmt: skip
    """When and how many to order.  ``service`` in percent, ``least`` kept whatever is expected, orders in whole
    ``pack``s."""
    weekly = demand.weekly
    mean = weekly * lead_days / 7
    by_chance = reorder_level(mean, service / 100)
    level = max(by_chance, least)
    position = max(0, stock) + sum(one.number for one in coming)
    order_by = _order_by(position, by_chance, least, weekly, today)
    wanted = math.ceil(level + weekly * COVERS_WEEKS) - min(position, level)
    number = math.ceil(max(1, wanted) / pack) * pack
    days = None if weekly <= 0 else math.floor(max(0, stock) / weekly * 7)
    return OrderPlan(
        mean=mean,
        level=level,
        position=position,
        order_by=order_by,
        number=0 if order_by is None else number,
        comes=None if order_by is None else order_by + timedelta(days=lead_days),
        lasts_until=None if days is None or days > FARTHEST else today + timedelta(days=days),
        chance_short=1 - chance_at_most(position, mean),
    )


def _order_by(position: int, by_chance: int, least: int, weekly: float, today: date) -> date | None:
    if position < least:
        return today
    if weekly <= 0:
        return None
    level = max(by_chance, least - 1)
    days = math.floor(max(0, position - level) / weekly * 7)
    return None if days > FARTHEST else today + timedelta(days=days)
