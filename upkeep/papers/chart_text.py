"""Charts, capability and pulls in words - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from upkeep.papers.plots import Level, Plot, Series, chart_text
from upkeep.quality.capability import Pulled
from upkeep.quality.control import Drawn
from upkeep.said import Join, Said, listed, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.charts import CapabilityReport, Charted, PullReport
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph

_ROWS = 14
"""Rows of a chart in a terminal: two of them stand on one page."""

_KINDS = {
    "xbar": "Means and ranges of checks of {size} readings",
    "single": "Single values and moving ranges, each point the mean of a check",
    "ewma": "Exponentially weighted moving average (weight 0.3) of the means of the checks",
}
_WEAR = "A slow drift to one side is mostly wear: follow it over strokes, and do not adjust the process for it."
_MOMENT = "Pieces made one after the other show the process at that moment, not over the day."


def chart_page(one: Charted, zone: Zone) -> str:
    """The charts in words: limits, and every point that breaks a rule."""
    what = "deviation from nominal" if one.of_nominal else one.point
    crimps = ", ".join(one.crimps) or "no crimp named"
    lines = paragraph(f"{one.item} {one.point}: {what} in {one.unit or 'its unit'}  ({crimps})")
    lines += paragraph(_KINDS[one.control.kind].format(size=one.control.size))
    lines += paragraph(
        f"{grouped(len(one.checks))} checks, {zone.minute(one.checks[0].at)} to {zone.minute(one.checks[-1].at)}"
    )
    if one.lower is not None or one.upper is not None:
        lines += paragraph(f"limits of the drawing {_side(one.lower)} to {_side(one.upper)}; these are not those below")
    for drawn, plot in zip(one.control.drawn, plots_of(one), strict=True):
        lines += ["", *_drawn(drawn, zone), *chart_text(plot, height=_ROWS).rstrip("\n").split("\n")]
    lines.append("")
    if not one.control.settled:
        lines += paragraph("Fewer than 20 points: the limits are still provisional.")
    if one.control.left_out:
        lines += paragraph(f"Left out: {one.control.left_out} of another number of readings.")
    lines += _left_out(one.left_out)
    return "\n".join([*lines, *paragraph(_WEAR), *paragraph(_MOMENT)]) + "\n"


def plots_of(one: Charted) -> tuple[Plot, ...]:
    """The charts as plots: points in order of the checks, those that break a rule marked, centre and limits."""
    return tuple(_plot(drawn, one) for drawn in one.control.drawn)


def _plot(drawn: Drawn, one: Charted) -> Plot:
    first = len(one.checks) - len(drawn.points) + 1  # ranges of single values begin at the second
    places = tuple(float(place) for place in range(first, first + len(drawn.points)))
    bad = sorted({broken.place for broken in drawn.broken})
    series = [Series(drawn.title, places, drawn.points)]
    if bad:
        series.append(
            Series("breaks a rule", tuple(places[k] for k in bad), tuple(drawn.points[k] for k in bad), mark="x")
        )
    levels = (Level("upper limit", drawn.high), Level("centre", drawn.centre), Level("lower limit", drawn.low))
    what = "deviation from nominal" if one.of_nominal else one.point
    title = f"{one.item} {one.point}: {drawn.title}"
    return Plot(title, "check", f"{what} ({one.unit})" if one.unit else what, tuple(series), levels)


def _side(limit: float | None) -> str:
    return "-" if limit is None else f"{limit:g}"


def _drawn(one: Drawn, zone: Zone) -> Iterator[str]:
    yield from paragraph(f"{one.title}: centre {one.centre:.5g}, limits {one.low:.5g} to {one.high:.5g}")
    for place, found in groupby(one.broken, key=lambda broken: broken.place):
        broken = list(found)
        where = f"#{broken[0].entry} {zone.minute(broken[0].at)} {one.points[place]:.5g}"
        yield from paragraph(f"{where}: {'; '.join(each.rule for each in broken)}", 2, 4)
    if not one.broken:
        yield "  no rule broken"


def _left_out(told: tuple[Said, ...]) -> list[str]:
    if not told:
        return []
    return paragraph(text(said("Left out: {left_out}.", left_out=listed(told, Join.SEMICOLON)), ENGLISH))


def capability_text(one: CapabilityReport, zone: Zone) -> str:
    """A capability with its number of readings and its lower bound."""
    found = one.found
    lines = paragraph(
        f"{one.item} {one.point} on {one.crimp or 'no crimp'}, limits {_side(one.lower)} to {_side(one.upper)}"
    )
    lines += paragraph(
        f"{grouped(found.n)} readings of {grouped(one.checks)} checks, {zone.minute(one.since)} to "
        f"{zone.minute(one.until)}: mean {found.mean:.5g}, standard deviation {found.scatter:.3g} {one.unit}"
    )
    lines += paragraph(f"Cpk {found.cpk:.2f}; with 95 % confidence at least {found.low:.2f} (n = {found.n})")
    lines += _left_out(one.left_out)
    lines += paragraph(f"This holds for a stable, normally distributed process: look at the chart first. {_MOMENT}")
    return "\n".join(lines) + "\n"


def pulls_text(one: PullReport, zone: Zone) -> str:
    """What the last pulls say and what they leave open."""
    lines = paragraph(f"{one.item} pull force on {one.crimp or 'no crimp'} {one.size}")
    if one.table:
        lines += paragraph(f"smallest force by {one.table}")
    lines += ["", *paragraph(f"The last check, {zone.minute(one.until)}"), *_pulled(one.last)]
    if one.checks > 1:
        lines += [
            "",
            *paragraph(f"All of {grouped(one.checks)} checks since {zone.minute(one.since)}"),
            *_pulled(one.all),
        ]
    lines += ["", *_left_out(one.left_out)]
    lines += paragraph(
        "Pull force hardly shows an overcrimp, and shows no burr, insulation or oxide: height, look and pull go "
        f"together. {_MOMENT}"
    )
    return "\n".join(lines) + "\n"


def _pulled(one: Pulled) -> Iterator[str]:
    bound = "no pull force is set for it" if one.minimum is None else f"at least {one.minimum:g} N"
    yield from paragraph(f"{one.n} pulls, {one.bad} below ({bound}), the smallest {one.smallest:g} N", 2, 4)
    yield from paragraph("broke: " + ", ".join(f"{how} {number}" for how, number in one.broke), 2, 4)
    good = "All good, they" if not one.bad else "They"
    yield from paragraph(
        f"{good} do not exclude, with 95 % confidence, that {one.not_excluded:.0%} of all pieces are bad; "
        f"{one.to_exclude} good pulls exclude 5 %.",
        2, 4,
    )  # fmt: skip
    if one.bound is None or one.scatter is None or one.k is None:
        yield from paragraph("No bound: that takes two pulls with different results.", 2, 4)
        return
    beside = ""
    if one.minimum is not None:
        beside = " - above the smallest force" if one.bound >= one.minimum else " - BELOW the smallest force"
    yield from paragraph(
        f"99 % of the pieces hold at least {one.bound:.4g} N, with 95 % confidence and normal scatter: mean "
        f"{one.mean:.4g} - k {one.k:.2f} x {one.scatter:.3g}{beside}",
        2, 4,
    )  # fmt: skip
