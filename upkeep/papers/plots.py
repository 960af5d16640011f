"""Plots, drawn from values: as plain characters for a terminal, and as SVG or PNG for a report.

One :class:`Plot` says what is shown; both ways of drawing show the same.  Series differ by their marks and strokes,
never by colour alone.  Text is drawn as it stands, nothing in it is markup; the same plot gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import pairwise
from math import floor, log10
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from upkeep.errors import Refused, Unreadable
from upkeep.papers.board_text import WIDTH, printable

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Form = Literal["points", "line", "dashes", "dots", "steps"]
"""How a series is drawn: marks alone, or a line without marks; steps keep each value until the next."""

HEIGHT = 20
"""Rows of a plot in a terminal."""

_PALE = 0.45
_STROKES = {"line": "-", "dashes": "--", "dots": ":", "steps": "-"}
_KINDS = {".svg": "svg", ".png": "png"}
_LOOKS: Any = {
    "svg.fonttype": "none",  # texts stay texts
    "svg.hashsalt": "strokebook",
    "text.parse_math": False,
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
}
_MARKS_OF_MATPLOTLIB = frozenset("ox+*sd^v")


@dataclass(frozen=True, slots=True)
class Series:
    """One series: its name for the key (empty: not in it), its values, its form, and the character that draws it in a
    terminal."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    form: Form = "points"
    mark: str = "o"


@dataclass(frozen=True, slots=True)
class Level:
    """A straight line across the plot: at a height, or (``upright``) at a place along it."""

    name: str
    at: float
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """What is shown: a title, what the axes are in, series drawn one over the other, and levels."""

    title: str
    x_title: str
    y_title: str
    series: tuple[Series, ...]
    levels: tuple[Level, ...] = ()

    def span(self, upright: bool) -> tuple[float, float]:
        """The lowest and highest value of an axis (``upright``: of the one the heights are on), a little apart."""
        values = [value for one in self.series for value in (one.y if upright else one.x)]
        values += [level.at for level in self.levels if level.upright != upright]
        low, high = min(values), max(values)
        if low == high:
            return low - (abs(low) or 1) / 10, high + (abs(high) or 1) / 10
        room = (high - low) / 20 if upright else 0.0
        return low - room, high + room


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
    for one in sorted(plot.series, key=lambda one: one.form == "points"):  # a point is not drawn over
        x, y = _stepped(one) if one.form == "steps" else (one.x, one.y)
        figure.draw(figure.signal(list(x), list(y), marker=one.mark).lines(one.form != "points"))
    for axis, upright in (("x", False), ("y", True)):
        low, high = plot.span(upright)
        ticks = ticks_of(low, high, 6 if upright else max(2, width // 20))
        ruler = figure.ruler(axis)
        ruler.lim(low, high)
        ruler.ticks([value for value, _ in ticks], [text for _, text in ticks])
    drawn = figure.build().string(colorless=True).rstrip("\n").split("\n")
    figure.clear()
    lines = [printable(plot.title), printable(plot.y_title), *(line.rstrip() for line in drawn)]
    return "\n".join([*lines, printable(plot.x_title).rjust(width), *_key(plot)]) + "\n"


def _key(plot: Plot) -> Iterator[str]:
    for one in plot.series:
        if one.name:
            yield f"  {one.mark}  {printable(one.name)}"
    for level in plot.levels:
        yield f"  {'┊' if level.upright else '┈'}  {printable(level.name)}"


def _stepped(one: Series) -> tuple[list[float], list[float]]:
    corners = [(one.x[0], one.y[0])]
    for (_, before), (x, y) in pairwise(zip(one.x, one.y, strict=True)):
        corners += [(x, before), (x, y)]
    return [x for x, _ in corners], [y for _, y in corners]


def save_figure(plot: Plot, path: Path) -> None:
    """Writes the plot to a file: SVG with its texts as text, or PNG, as the name ends.

    Raises :class:`Unreadable` for another ending and :class:`Refused` where the file cannot be written.
    """
    kind = _KINDS.get(path.suffix.lower())
    if kind is None:
        raise Unreadable(f"{path.name!r} names no kind of picture; end it with {' or '.join(_KINDS)}.")
    drawn = figure_bytes(plot, kind)
    try:
        path.write_bytes(drawn)
    except OSError as error:
        raise Refused(f"{path} cannot be written: {error.strerror}.") from error


def figure_bytes(plot: Plot, kind: str) -> bytes:
    """The plot as the bytes of a picture (``kind`` "svg" or "png"), without a moment of making in it."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    out = BytesIO()
    with rc_context(_LOOKS):
        figure = Figure(figsize=(7.2, 4.4), dpi=150, layout="constrained")
        FigureCanvasAgg(figure)
        axes = figure.add_subplot()
        _draw(axes, plot)
        metadata = {"Date": None, "Creator": "Strokebook"} if kind == "svg" else {"Software": "Strokebook"}
        figure.savefig(out, format=kind, metadata=metadata)
    return out.getvalue()


def _draw(axes: Axes, plot: Plot) -> None:
    handles: list[Any] = []
    for one in plot.series:
        style: dict[str, Any] = {"color": "black"}
        if one.form == "points":
            mark = one.mark if one.mark in _MARKS_OF_MATPLOTLIB else "."
            style |= {"linestyle": "none", "marker": mark, "markersize": 5, "markerfacecolor": "none"}
        else:
            drawn = "steps-post" if one.form == "steps" else "default"
            wide = 2.2 if one.form == "steps" else 1.1
            style |= {"linestyle": _STROKES[one.form], "drawstyle": drawn, "linewidth": wide}
        handles += axes.plot(one.x, one.y, **style)
    for number, level in enumerate(plot.levels):
        draw = axes.axvline if level.upright else axes.axhline
        handles.append(draw(level.at, color=str(_PALE), linewidth=1.4, linestyle=("-", "-.", (0, (1, 2)))[number % 3]))
    _name(axes, plot, handles)


def _name(axes: Axes, plot: Plot, handles: Sequence[Any]) -> None:
    for upright, axis, limit in ((False, axes.xaxis, axes.set_xlim), (True, axes.yaxis, axes.set_ylim)):
        low, high = plot.span(upright)
        limit(low, high)
        ticks = ticks_of(low, high)
        axis.set_ticks([value for value, _ in ticks], [text for _, text in ticks])
    axes.set_title(plot.title, loc="left")
    axes.set_xlabel(plot.x_title)
    axes.set_ylabel(plot.y_title)
    names = [*(one.name for one in plot.series), *(level.name for level in plot.levels)]
    named = [(handle, name) for handle, name in zip(handles, names, strict=True) if name]
    axes.legend(*zip(*named, strict=True), loc="upper center", bbox_to_anchor=(0.5, -0.13), ncols=2, frameon=False)
    axes.grid(visible=True, color="0.9", linewidth=0.6)
    axes.set_axisbelow(True)
