"""From where to where a number may lie."""

from __future__ import annotations

from upkeep.frozen import frozen


@frozen
class Interval:
    """The two ends of a confidence interval; ``high`` is infinite where the numbers say nothing about the upper end."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether `value` lies between the two ends; the ends belong to it."""
        return self.low <= value <= self.high
