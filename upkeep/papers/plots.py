"""What a plot shows, and the plot in plain characters for a terminal; ``plot_files`` draws the same for a report.

Series differ by their marks and strokes, never by colour alone.  Text is drawn as it stands, nothing in it is markup.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import floor, log10
from typing import Literal

from upkeep.frozen import frozen
from upkeep.wording.text import WIDTH, visible

Form = Literal["points", "line", "dashes", "dots", "steps"]
"""How a series is drawn: marks alone, or a line without marks; steps keep each value until the next."""

LevelForm = Literal["limit", "middle", "mark"]
"""What a level is: a limit, alike on both sides; the middle between them; anything else worth a line."""

HEIGHT = 20
"""Rows of a plot in a terminal."""


@frozen
class Series:
    """One series: its name for the key (empty: not in it), its values, its form, and the character that draws it in a
    terminal."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    form: Form = "points"
    mark: str = "o"


@frozen
class Level:
    """A straight line across the plot: at a height, or (``upright``) at a place along it."""

    name: str
    at: float
    upright: bool = False
    form: LevelForm = "limit"


@frozen
class Plot:
    """What is shown: a title, what the axes are in, series drawn one over the other, and levels.

    ``x_names`` are names of places along it, such as days; without them the places are numbers.  ``source`` says which
    plant it comes from and as of when.
    """

    title: str
    x_title: str
    y_title: str
    series: tuple[Series, ...]
    levels: tuple[Level, ...] = ()
    x_names: tuple[tuple[float, str], ...] = ()
    source: str = ""

    def span(self, upright: bool) -> tuple[float, float]:
        """The lowest and highest value of an axis (``upright``: of the one the heights are on), a little apart.

        So no point lies on the frame, half of it cut off.
        """
        low, high = self._values(upright)
        if low == high:
            return low - (abs(low) or 1) / 10, high + (abs(high) or 1) / 10
        room = (high - low) / (20 if upright else 40)
        return low - room, high + room

    def _values(self, upright: bool) -> tuple[float, float]:
        values = [value for series in self.series for value in (series.y if upright else series.x)]
        values += [level.at for level in self.levels if level.upright != upright]
        return min(values), max(values)

    def ticks(self, upright: bool, most: int) -> list[tuple[float, str]]:
        """The values marked on an axis, at most about so many, and how they are written."""
        if upright or not self.x_names:
            low, high = self._values(upright)
            return ticks_of(*(self.span(upright) if upright or low == high else (low, high)), most)
        step = -(-len(self.x_names) // most)
        return list(self.x_names[::step])


def ticks_of(low: float, high: float, most: int = 6) -> list[tuple[float, str]]:
    """Round values within a span and how they are written: thousands grouped, as many decimals as their step has."""
    rough = (high - low) / most
    power = 10.0 ** floor(log10(rough))
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough)
    decimals = max(0, -floor(log10(step) + 1e-9))
    first, last = -floor(-low / step), floor(high / step)
    return [(number * step, f"{number * step:,.{decimals}f}") for number in range(first, last + 1)]


def chart_text(plot: Plot, width: int = WIDTH, height: int = HEIGHT) -> str:
    """The plot in plain characters with its title above and its key below; no colour."""
    import plotext

    plotext.terminal.limit(False, False)
    figure = plotext.figure
    figure.clear()
    figure.plot_size(width, height)
    for level in plot.levels:
        figure.line(level.at, "vertical" if level.upright else "horizontal", style="dotted")
    for series in sorted(plot.series, key=lambda series: series.form == "points"):  # a point is not drawn over
        x, y = stepped(series) if series.form == "steps" else (series.x, series.y)
        figure.draw(figure.signal(list(x), list(y), marker=series.mark).lines(series.form != "points"))
    for axis, upright in (("x", False), ("y", True)):
        low, high = plot.span(upright)
        ticks = plot.ticks(upright, 6 if upright else max(2, width // 20))
        ruler = figure.ruler(axis)
        ruler.lim(low, high)
        ruler.ticks([value for value, _ in ticks], [text for _, text in ticks])
    drawn = figure.build().string(colorless=True).rstrip("\n").split("\n")
    figure.clear()
    lines = [visible(plot.title), visible(plot.y_title), *(line.rstrip() for line in drawn)]
    return "\n".join([*lines, visible(plot.x_title).rjust(width), *_key(plot)]) + "\n"


def _key(plot: Plot) -> Iterator[str]:
    for series in plot.series:
        if series.name:
            yield f"  {series.mark}  {visible(series.name)}"
    for level in plot.levels:
        yield f"  {'┊' if level.upright else '┈'}  {visible(level.name)}"
    if plot.source:
        yield visible(plot.source)


def stepped(series: Series) -> tuple[list[float], list[float]]:
    """The corners of a series that keeps each value until the next: their places and their heights."""
    corners = [(series.x[0], series.y[0])]
    for (_, before), (x, y) in pairwise(zip(series.x, series.y, strict=True)):
        corners += [(x, before), (x, y)]
    return [x for x, _ in corners], [y for _, y in corners]
