"""Control charts of a characteristic: checks as points, each rule that is broken named in words.

Wear is a slow slope.  Charts find what moves a process besides it; the slope itself is followed over strokes.

How good they are, by simulation (tests/quality/test_chart_rates.py), with limits from the points themselves: a steady
process breaks a rule on 16 of 100 charts of 20 points, single or means, and on 45 of 50 points; the moving average,
which has one rule, on 3 and 9.  A shift of two scatters of a point in the last ten of 25 is told in 8 of 10 cases, one
of one scatter in a third.  With known limits all six rules call once in 70 points, and 9 points after a shift of one
scatter (tests/outside/test_run_lengths.py).  A chart therefore holds nothing: it tells where to look.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from statistics import fmean

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import said
from upkeep.stats.charts import A2, Chart, ewma, individuals, xbar_r
from upkeep.stats.few import TooFew

KINDS = ("xbar", "single", "ewma")
"""Means and ranges of the checks; single values with moving ranges; the moving average that finds slow drift."""


@frozen
class Measured:
    """The readings of one check as they are charted: as measured, or as deviations from nominal."""

    entry: int
    at: datetime
    crimp: str | None
    values: tuple[float, ...]


@frozen
class Broken:
    """A point of a chart at which a run rule is broken."""

    place: int
    entry: int
    at: datetime
    rule: str


@frozen
class Drawn:
    """One chart: its centre and limits, its points, and where rules are broken."""

    title: str
    centre: float
    low: float
    high: float
    points: tuple[float, ...]
    broken: tuple[Broken, ...]


@frozen
class Control:
    """The charts of one kind; ``settled`` says whether there are enough points for limits made from them.

    ``left_out`` are checks of another size than the others, which a chart of means and ranges cannot take.
    """

    kind: str
    size: int
    settled: bool
    drawn: tuple[Drawn, ...]
    left_out: int


def control(checks: Sequence[Measured], kind: str | None) -> Control:
    """The charts of some checks, in order; of means and ranges where no kind is asked for and there are subgroups.

    Raises :class:`Refused` where there are too few points, or where single readings have no range.
    """
    size, fitting = _of_one_size(checks)
    chosen = kind or ("xbar" if size > 1 else "single")
    try:
        if chosen == "xbar":
            return _xbar(fitting, size, len(checks) - len(fitting))
        return _of_means(checks, chosen, size)
    except TooFew as few:
        raise Refused(said("No chart: {few}. Limits from fewer would mean nothing.", few=few.said)) from None


def _of_one_size(checks: Sequence[Measured]) -> tuple[int, list[Measured]]:
    """The size most checks have (the larger of two), and the checks of that size."""
    sizes = Counter(len(check.values) for check in checks)
    size = max(sizes, key=lambda count: (sizes[count], count), default=1)
    return size, [check for check in checks if len(check.values) == size]


def _xbar(checks: Sequence[Measured], size: int, left_out: int) -> Control:
    if size not in A2:
        raise Refused(
            said(
                "A chart of means and ranges needs checks of 2 to 10 readings; these have {size}. Use "
                "'single' instead.",
                size=size,
            )
        )
    charts = xbar_r([check.values for check in checks])
    means, ranges = _drawn("means", charts.means, checks), _drawn("ranges", charts.ranges, checks)
    return Control("xbar", size, charts.means.settled, (means, ranges), left_out)


def _of_means(checks: Sequence[Measured], kind: str, size: int) -> Control:
    means = [fmean(check.values) for check in checks]
    charts = individuals(means)
    if kind == "ewma":
        # The scatter from one check to the next: that of all values would hold the drift that is looked for.
        chart = ewma(means, sigma=(charts.values.high - charts.values.centre) / 3)
        return Control(kind, size, chart.settled, (_drawn("moving average", chart, checks),), 0)
    values, ranges = _drawn("values", charts.values, checks), _drawn("moving ranges", charts.ranges, checks[1:])
    return Control(kind, size, charts.values.settled, (values, ranges), 0)


def _drawn(title: str, chart: Chart, checks: Sequence[Measured]) -> Drawn:
    broken = tuple(
        Broken(broken.index, checks[broken.index].entry, checks[broken.index].at, broken.rule.value)
        for broken in chart.breaks
    )
    return Drawn(title, chart.centre, chart.low, chart.high, chart.points, broken)
