"""Measuring two things side by side and saying how many times the one costs what the other costs.

A figure in milliseconds tells of the machine and of what else runs on it; a ratio against a baseline from the same run
tells of the program.  Both sides are measured in turn, so that a busy minute slows both.
"""

from __future__ import annotations

import gc
import resource
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import median

Timed = Callable[[], float]
"""Does one thing and gives the seconds it took."""

HEADS = ("what", "ours", "baseline", "ratio", "aim")


@dataclass(frozen=True, slots=True)
class Measured:
    """What something took (seconds), what its baseline took in the same run, and the aim for the ratio of the two.

    ``aim`` is the most the ratio should be; None: there is none.  ``shown`` is how they are told where they are no
    seconds.
    """

    what: str
    ours: float
    baseline: float
    against: str
    aim: float | None = None
    shown: Callable[[float], str] | None = None

    @property
    def ratio(self) -> float:
        """How many times the baseline ours took; below 1 it was faster."""
        return self.ours / self.baseline

    @property
    def missed(self) -> bool:
        """Whether the ratio is above its aim."""
        return self.aim is not None and self.ratio > self.aim

    def cells(self) -> tuple[str, ...]:
        """The texts of its row in the table."""
        aim = "none" if self.aim is None else _ratio_text(self.aim)
        shown = self.shown or duration
        baseline = f"{shown(self.baseline)} {self.against}"
        return (
            self.what,
            shown(self.ours),
            baseline,
            _ratio_text(self.ratio),
            f"{aim}, missed" if self.missed else aim,
        )


def _ratio_text(ratio: float) -> str:
    return f"{ratio:.2f}" if ratio >= 0.095 else f"1/{1 / ratio:,.0f}"


def duration(seconds: float) -> str:
    """A duration with the unit in which it has one to three figures before the point."""
    for unit, size in (("s", 1.0), ("ms", 1e-3)):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}" if seconds < 999 * size else f"{seconds / size:,.0f} {unit}"
    return f"{seconds * 1e6:.3g} us"


def megabytes(size: float) -> str:
    """A number of bytes in MB."""
    return f"{size / 1e6:.0f} MB"


def timed(done: Callable[[], object]) -> float:
    """The seconds one call takes; the collector of unused objects waits meanwhile, as in timeit."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        start = time.perf_counter()
        done()
        return time.perf_counter() - start
    finally:
        if collecting:
            gc.enable()


def worked(done: Callable[[], object]) -> float:
    """The processor seconds that the programs take which one call starts and waits for: others may work meanwhile."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def best(ours: Timed, baseline: Timed, rounds: int) -> tuple[float, float]:
    """The least that each side took over several rounds: what it costs when nothing disturbs it."""
    mine, theirs = _in_turn(ours, baseline, rounds)
    return min(mine), min(theirs)


def middle(ours: Timed, baseline: Timed, rounds: int) -> tuple[float, float]:
    """The median of each side: for what waits on a disk, whose best is luck."""
    mine, theirs = _in_turn(ours, baseline, rounds)
    return median(mine), median(theirs)


def _in_turn(ours: Timed, baseline: Timed, rounds: int) -> tuple[list[float], list[float]]:
    mine, theirs = [], []
    for number in range(rounds):
        if number % 2:
            theirs.append(baseline())
            mine.append(ours())
        else:
            mine.append(ours())
            theirs.append(baseline())
    return mine, theirs


def as_text(rows: Iterable[Sequence[str]]) -> str:
    """The table for a terminal."""
    table = [HEADS, *rows]
    widths = [max(len(row[column]) for row in table) for column in range(len(HEADS))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in table
    )


def as_markdown(rows: Iterable[Sequence[str]]) -> str:
    """The table for a document."""
    lines = [HEADS, ["---"] * len(HEADS), *rows]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)
