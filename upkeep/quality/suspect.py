"""Suspect windows: which strokes lie between the last good check of a characteristic and the one that failed.

A pull test that passes says nothing about a burr: only a check of the same characteristic on the same item begins a
window, and only one made with a gauge that was valid then and was not found to read wrong since.  Where the strokes at
an edge had to be guessed, the window takes in all they may be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from itertools import pairwise

from upkeep.counting.marks import NOTHING, Band, Done, Total
from upkeep.counting.strokes import Stay, difference
from upkeep.frozen import frozen
from upkeep.said import Said, said


@frozen
class CheckResult:
    """One check of the characteristic: when, its entry, whether it was good, its gauge, and why that gauge does not
    count (None: it counts)."""

    at: datetime
    entry: int
    good: bool
    gauge: str | None = None
    doubt: Said | None = None


@frozen
class Start:
    """Where a window begins and why; ``entry`` is the good check it begins at, None where it begins at something else.

    ``passed`` are the good checks on the way back whose gauge does not count.
    """

    at: datetime
    entry: int | None
    why: Said
    passed: tuple[CheckResult, ...] = ()


@frozen
class Stretch:
    """Suspect strokes on one press over [since, until), with the running totals of the press at both ends, and those
    told by pieces made while its counter stood still."""

    press: str
    since: datetime
    until: datetime
    start_total: Total
    end_total: Total
    by_pieces: Done = NOTHING

    @property
    def strokes(self) -> Band:
        """How many, as low, best and high; the high is what has to be looked at."""
        return (difference(self.start_total, self.end_total) + self.by_pieces).band


def start_of(results: Iterable[CheckResult], begun: datetime, part: tuple[str, datetime] | None = None) -> Start:
    """Where the window of a failed check begins.

    ``results`` are the checks of the characteristic before it, newest first; ``begun`` is when the item came into the
    book; ``part`` the part the characteristic belongs to and since when it sits there: what was made before it is not
    its work.
    """
    passed: list[CheckResult] = []
    for result in results:
        if part is not None and result.at < part[1]:
            break
        if result.good and not result.doubt:
            return Start(result.at, result.entry, said("its last good check"), tuple(passed))
        if result.good:
            passed.append(result)
    if part is not None:
        return Start(part[1], None, said("{part} was fitted, with no good check since", part=part[0]), tuple(passed))
    return Start(begun, None, said("no earlier good check of it in this book"), tuple(passed))


def end_of(
    found_at: datetime, later: Iterable[CheckResult], stay: Stay | None, until: datetime
) -> tuple[datetime, Said]:
    """Where the window ends and why: at the next good check, where the item left the press, else ``until``.

    ``later`` are the checks after the failed one in order, ``stay`` where the item hung when it failed.
    """
    good = next((result.at for result in later if result.good and not result.doubt), None)
    left = stay.end if stay is not None and stay.end is not None and stay.end >= found_at else None
    if left is not None and (good is None or left <= good):
        return left, said("taken off the press")
    if good is not None:
        return good, said("measured good again")
    if stay is None or (stay.end is not None and stay.end < found_at):
        return found_at, said("the failed check; it was not on a press")
    return until, said("it is still on that press")


def stretches(
    stays: Sequence[Stay],
    start: datetime,
    end: datetime,
    total_at: Callable[[str, datetime], Total],
    judged: Iterable[tuple[str, datetime]] = (),
    by_pieces: Callable[[datetime, datetime], Done] = lambda since, until: NOTHING,
) -> list[Stretch]:
    """The suspect strokes press by press, in order; stretches without a stroke are left out.

    ``judged`` are the stretches that somebody has judged, by press and beginning: they stay as they were judged,
    wherever the window begins by now.  ``by_pieces`` are the strokes of the item over [since, until) told by pieces
    made while a counter stood still.
    """
    found = []
    for stay in stays:
        ended = end if stay.end is None else min(stay.end, end)
        kept = sorted({since for press, since in judged if press == stay.press and stay.start <= since < ended})
        begins = [since for since in [max(stay.start, start)] if since < min([ended, *kept])]
        for since, until in pairwise([*begins, *kept, ended]):
            first = stay.start_total if since == stay.start else total_at(stay.press, since)
            last = stay.end_total if stay.end_total is not None and until == stay.end else total_at(stay.press, until)
            stretch = Stretch(stay.press, since, until, first, last, by_pieces(since, until))
            if stretch.strokes.high > 0:
                found.append(stretch)
    return found
