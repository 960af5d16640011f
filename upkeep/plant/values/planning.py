"""What a plant says about planning its work: time beside the work itself, a reserve, and money where it names any."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from typing import Any

from upkeep.frozen import frozen


@frozen
class PlanningFacts:
    """How work is planned.

    ``between_stops`` are the minutes from one job to the next, ``set_up`` those once a stop of a place before its first
    job, ``reserve`` the percent of everybody's hours kept for breakdowns, ``share`` the percent of a shift that a role
    has for planned work (100 where nothing is said).  A line carried over ``carries`` times asks for a decision.
    ``currency`` with ``hour_cost`` (an hour of work) and ``wear_cost`` (a part worn out in use): money is told only
    where a plant gives it.  All minutes and percents are plant defaults, no source.
    """

    between_stops: int = 3
    set_up: int = 5
    reserve: int = 20
    share: Mapping[str, int] = field(default_factory=dict)
    carries: int = 3
    currency: str = ""
    hour_cost: float | None = None
    wear_cost: float | None = None

    @property
    def has_money(self) -> bool:
        """Whether anything can be told in money."""
        return bool(self.currency) and (self.hour_cost is not None or self.wear_cost is not None)


def planning_from(content: Mapping[str, Any]) -> PlanningFacts:
    """What the plant's definition says of planning."""
    return PlanningFacts(**content)


@frozen
class Away:
    """Days on which somebody does not work, the first and the last included."""

    first: date
    last: date

    def holds(self, day: date) -> bool:
        """Whether a day is one of them."""
        return self.first <= day <= self.last


def away_from(text: str) -> Away:
    """Days away from their text: ``2026-12-21`` or ``2026-12-21/2026-12-24`` (ISO 8601, both included)."""
    first, _, last = text.partition("/")
    away = Away(date.fromisoformat(first), date.fromisoformat(last or first))
    if away.last < away.first:
        raise ValueError("the last day is before the first")
    return away
