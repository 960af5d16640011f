"""The answers to a line in order, so that what may answer one occurrence is found without going through all of them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import timedelta

from upkeep.due.compliance import Planned
from upkeep.due.facts import Done


class InOrder:
    """Work and cancellations of a line, by the occurrence they name and by their moments.

    ``loose`` are those of them, in order, that may answer an occurrence they do not name.
    """

    def __init__(self, answers: Sequence[Done], loose: Sequence[Done]) -> None:
        self._naming: dict[str, list[Done]] = {}
        for answer in answers:
            self._naming.setdefault(answer.occurrence, []).append(answer)
        self._loose, self._moments = loose, [answer.at for answer in loose]
        self._reach = timedelta(days=max((answer.reach for answer in loose), default=0))

    def for_one(self, planned: Planned) -> list[Done]:
        """What names an occurrence, and what was done about when it was asked for; in order."""
        first = bisect_left(self._moments, min(planned.opens, planned.due - self._reach))
        last = bisect_left(self._moments, planned.closes)
        naming = self._naming.get(planned.occurrence, [])
        inside = [answer for answer in self._loose[first:last] if answer.occurrence != planned.occurrence]
        return sorted((*naming, *inside), key=lambda answer: (answer.at, answer.entry))
