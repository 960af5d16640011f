"""What the findings of a task allow to say of it: whether it finds anything, and whether it finds too much.

A task that found nothing in n times says little while n is small: where other work finds something in a share p of
cases, nothing is found in n times with the chance (1 - p) to the power n.
"""

from __future__ import annotations

from enum import StrEnum

from upkeep.stats.passes import clopper_pearson

RARE = 0.05
"""A chance below which it is no accident that nothing was found (a usual choice, no source)."""

MUCH = 0.2
"""A share of findings from which on a task is too late or mends what should not break; plant default, no source."""


class Advice(StrEnum):
    """What the numbers allow to say of a task."""

    NEVER_FINDS = "never finds anything"
    FINDS_TOO_MUCH = "finds too much"
    NOTHING_TO_SAY = "too few to say"
    FINDS = "finds something now and then"


def chance_of_none(times: int, share: float) -> float:
    """The chance that nothing is found in so many times where each finds something with a share of 0 to 1.

    Raises ValueError for another share.
    """
    if not 0 <= share <= 1:
        raise ValueError("a share lies between 0 and 1")
    return float((1 - share) ** times)


def advice_on(findings: int, times: int, others: float | None) -> Advice:
    """What so many findings in so many times say; ``others`` is the share with which other work finds something (None:
    there is none)."""
    if findings and clopper_pearson(findings, times).low > MUCH:
        return Advice.FINDS_TOO_MUCH
    if findings:
        return Advice.FINDS
    never = others is not None and chance_of_none(times, others) < RARE
    return Advice.NEVER_FINDS if never else Advice.NOTHING_TO_SAY
