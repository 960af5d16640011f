"""What a plot of wear or of lives shows, and how far it is drawn.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at
from tests.stories.test_wear_advice import END, twelve
from tests.stories.test_wear_trends import day, point, run
from upkeep.papers.wear_plots import life_plot, trend_plot
from upkeep.wording.sentences import ENGLISH


def test_a_trend_is_drawn_from_the_first_value_to_a_little_past_where_it_meets_its_limit(tmp_path: Path) -> None:
    """The line rises through the values; its limits lie on either side of it, and where to plan stands upright."""
    with run(tmp_path) as book:
        wear = point(book, "CP-a", f"{day(7)} 15:00")
        plot = trend_plot("CP-a", wear, ENGLISH)
    measured, line, high, low = plot.series
    ahead = wear.trend.ahead
    assert ahead is not None
    assert measured.x == tuple(float(40_000 * number) for number in range(8))
    assert (line.x[0], len(line.x)) == (0, 61)
    assert line.x[-1] == pytest.approx(1.08 * max(280_000, ahead.mean))
    assert line.y[-1] > 1.24 > line.y[0]
    assert all(below < on < above for below, on, above in zip(low.y, line.y, high.y, strict=True))
    assert [(level.at, level.upright) for level in plot.levels] == [(1.23, False), (1.24, False), (ahead.safe, True)]


def test_lives_are_drawn_as_shares_in_percent_with_a_tenth_across_and_its_strokes_upright(tmp_path: Path) -> None:
    """Both go on to the longest life; the steps begin at none worn and never fall."""
    with twelve(tmp_path) as book:
        found = book.wear(at(END)).lives("tab")
        ((name, report),) = found.reports
        plot = life_plot(found, name, report, ENGLISH)
    curve, steps = plot.series
    assert report.curve is not None
    assert [(level.at, level.upright) for level in plot.levels] == [(10.0, False), (report.curve.worn_by, True)]
    assert curve.x[-1] == steps.x[-1] >= max(life.strokes[1] for life in found.lives)
    assert (curve.y[0], steps.y[0]) == (0, 0)
    assert curve.y[-1] == pytest.approx(95, abs=5)
    assert list(steps.y) == sorted(steps.y)
    assert len(steps.x) == 1 + len(report.steps) + 1
