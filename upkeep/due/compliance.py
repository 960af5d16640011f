"""How planned work was answered: on time, late, not done - and what is not asked of anybody and so not counted.

An occurrence is judged by the interval and the window that were in force at that time, never by later ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from enum import StrEnum
from math import sqrt

from upkeep.due.facts import Done, How
from upkeep.frozen import frozen
from upkeep.said import said


class Verdict(StrEnum):
    """What became of one planned occurrence."""

    ON_TIME = "on time"
    LATE = "late"
    NOT_DONE = "not done"
    CANCELLED = "cancelled"
    STILL_OPEN = "still in time"
    NOT_USED = "count unchanged"
    NOT_READ = "count not read yet"
    NOT_FITTED = "on no press"
    RESTING = "in storage or out of use"


BASE = (Verdict.ON_TIME, Verdict.LATE, Verdict.NOT_DONE, Verdict.CANCELLED)
"""What counts in the denominator; the numerator is what was on time."""

DEFINITION = said(
    "On time: planned work done before its window closed, as a share of all planned work that fell due in these days "
    "and whose window has closed or that was done. Deferred work is judged by the window it had before; cancelled work "
    "counts as not done. Not counted: work of a shift in which the count did not move, or has not been read yet; work "
    "that fell due in storage or out of use; work that may still be in time. Each is judged by the interval and window "
    "in force then and counted for the area where the item was then."
)
"""The definition of the figure, printed with it."""


@frozen
class Planned:
    """One planned occurrence: how a sign-off names it, and its window [``opens``, ``closes``) without any deferral."""

    occurrence: str
    opens: datetime
    due: datetime
    closes: datetime

    def is_open_for(self, work: Done) -> bool:
        """Whether work was done in the window; bigger work that covers it reaches ahead as far as was declared."""
        return min(self.opens, self.due - timedelta(days=work.reach)) <= work.at < self.closes


def verdict_on(planned: Planned, answers: Sequence[Done], now: datetime) -> tuple[Verdict, Done | None]:
    """What became of an occurrence by ``now``, and what answered it.

    Work that names it answers it whenever it was done; work done in its window answers it whatever it names, since it
    was done when it was asked for.
    """
    done = [answer for answer in answers if answer.how is not How.CANCELLED]
    named = next((answer for answer in done if answer.occurrence == planned.occurrence), None)
    inside = next((answer for answer in done if planned.is_open_for(answer)), None)
    answer = named if named is not None and (inside is None or named.at < planned.closes) else inside
    if answer is not None:
        return (Verdict.ON_TIME if answer.at < planned.closes else Verdict.LATE), answer
    off = next(
        (answer for answer in answers if answer.how is How.CANCELLED and answer.occurrence == planned.occurrence), None
    )
    if off is not None:
        return Verdict.CANCELLED, off
    return (Verdict.STILL_OPEN if now < planned.closes else Verdict.NOT_DONE), None


@frozen
class Share:
    """A number of a base.  ``low`` and ``high`` are its 95 % interval in percent; None where the base is empty."""

    number: int
    base: int

    @property
    def percent(self) -> float | None:
        """The share in percent; None where the base is empty."""
        return 100 * self.number / self.base if self.base else None

    @property
    def low(self) -> float | None:
        """The lower end of the interval in percent."""
        return self._score(-1)

    @property
    def high(self) -> float | None:
        """The upper end of the interval in percent."""
        return self._score(1)

    def _score(self, side: int) -> float | None:
        """Wilson's score interval (E. B. Wilson, Journal of the American Statistical Association 22, 1927; from
        memory): it stays within 0 and 100 and holds for a small base."""
        if not self.base:
            return None
        n, p, z = self.base, self.number / self.base, _NORMAL_95
        middle = p + z * z / (2 * n)
        half = z * sqrt(p * (1 - p) / n + z * z / (4 * n * n))
        return 100 * min(1.0, max(0.0, (middle + side * half) / (1 + z * z / n)))


def verdict_between(closed: datetime | None, answer: Done | None) -> Verdict:
    """What became of the one occurrence open at a time: ``closed`` is when its window closed before it was answered."""
    if answer is None:
        return Verdict.STILL_OPEN if closed is None else Verdict.NOT_DONE
    if answer.how is How.CANCELLED:
        return Verdict.CANCELLED
    return Verdict.ON_TIME if closed is None else Verdict.LATE


_NORMAL_95 = 1.959963984540054
"""Between plus and minus this lie 95 % of a standard normal distribution."""
