"""Admission of counts, one after another: the most frequent entries by far, so a press is looked up once for a run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from upkeep.counting.judgement import FASTEST, Counter, is_plausible
from upkeep.counting.marks import ConfigurationAt, Mark, Reading, mark_after
from upkeep.entries.counting import Count
from upkeep.entries.fitting import Fit, Unfit
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.keeping.recounting import Counted, Recounter
from upkeep.plant.model import Role

Confirmed = TypeVar("Confirmed", bound=Count | Fit | Unfit)


def with_fastest(entry: Confirmed, known: Known) -> Confirmed:
    """A figure that a counter came to by being set back or by rolling over, with the most strokes an hour its press can
    do: nobody knows what else it did meanwhile."""
    fastest = None
    if entry.press is not None and (entry.rolled_over or entry.after_reset):
        fastest = known.counter(entry.press).max_rate or FASTEST
    return entry if entry.fastest == fastest else replace(entry, fastest=fastest)


class RunAdmission:
    """Judges a run of counts, each by the one before it; what is known of a press by then it keeps."""

    def __init__(self, context: Context, counter: Recounter) -> None:
        self._known, self._counter = context.known, counter
        self._last: dict[str, Mark | None] = {}
        self._configurations: dict[str, ConfigurationAt] = {}

    def admitted(self, run: Sequence[Count], first: int) -> Counted:
        """The marks that counts make on their counters, numbered from ``first`` on.

        Raises :class:`Refused` for a count that its counter cannot show.
        """
        marks: dict[str, list[Mark]] = {}
        late: list[tuple[str, Reading]] = []
        for number, count in enumerate(run, first):
            before = self._last_mark(count.press)
            reading = Reading(
                count.at, count.value, number, count.rolled_over, count.after_reset, fastest=count.fastest
            )
            if before is not None and count.at < before.at:
                late.append((count.press, reading))
                continue
            self._check(count, before, reading)
            mark = mark_after(before, reading, self._configurations[count.press])
            self._last[count.press] = mark
            marks.setdefault(count.press, []).append(mark)
        return Counted(marks, late)

    def _last_mark(self, press: str) -> Mark | None:
        if press not in self._last:
            self._known.counter(press)
            self._configurations[press] = self._counter.configuration_at(press)
            self._last[press] = self._counter.last_mark(press)
        return self._last[press]

    def _check(self, count: Count, before: Mark | None, reading: Reading) -> None:
        configuration = self._configurations[count.press](before.at if before else count.at)
        counter = Counter(count.press, configuration, self._known.items[count.press].max_rate)
        last = before.reading if before else None
        if not (is_plausible(counter, last, reading) or self._is_vouched_for(count, counter, last, reading)):
            self._counter.check(counter, last, reading)

    def _is_vouched_for(self, count: Count, counter: Counter, last: Reading | None, reading: Reading) -> bool:
        """Whether the lead vouches, with a reason, for a count faster than the press can be; not for one backwards."""
        if not count.because or Role.LEAD not in self._known.person(count.by).roles:
            return False
        return is_plausible(counter._replace(max_rate=None), last, reading)
