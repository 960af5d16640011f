"""Charts, capability and pulls in words - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from upkeep.papers.plots import Level, Plot, Series, chart_text
from upkeep.quality.capability import Pulled
from upkeep.quality.control import Drawn
from upkeep.said import Join, Said, listed, said
from upkeep.units.figures import decimals_of, exact, percent, to_step
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.charts import CapabilityReport, Charted, PullReport
from upkeep.wear.wording import figures
from upkeep.wording.sentences import Reader, text
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


def chart_page(charted: Charted, zone: Zone, reader: Reader) -> str:
    """The charts in words: limits, and every point that breaks a rule."""
    what = "deviation from nominal" if charted.of_nominal else charted.point
    crimps = ", ".join(charted.crimps) or "no crimp named"
    lines = paragraph(f"{charted.item} {charted.point}: {what} in {charted.unit or 'its unit'}  ({crimps})")
    lines += paragraph(_KINDS[charted.control.kind].format(size=charted.control.size))
    lines += paragraph(
        f"{grouped(len(charted.checks))} checks, "
        f"{zone.minute(charted.checks[0].at)} to {zone.minute(charted.checks[-1].at)}"
    )
    if charted.lower is not None or charted.upper is not None:
        lines += paragraph(
            f"limits of the drawing {_side(charted.lower)} to {_side(charted.upper)}{_beside(charted.unit)}; "
            "these are not those below"
        )
    for drawn, plot in zip(charted.control.drawn, plots_of(charted, zone), strict=True):
        lines += ["", *_drawn(drawn, charted, zone), *chart_text(plot, height=_ROWS).rstrip("\n").split("\n")]
    lines.append("")
    if not charted.control.settled:
        lines += paragraph("Fewer than 20 points: the limits are still provisional.")
    if charted.control.left_out:
        lines += paragraph(f"Left out: {charted.control.left_out} of another number of readings.")
    lines += _left_out(charted.left_out, reader)
    return "\n".join([*lines, *paragraph(_WEAR), *paragraph(_MOMENT)]) + "\n"


def plots_of(charted: Charted, zone: Zone) -> tuple[Plot, ...]:
    """The charts as plots: points in order of the checks with their days, those that break a rule marked, centre and
    limits."""
    return tuple(_plot(drawn, charted, zone) for drawn in charted.control.drawn)


def _plot(drawn: Drawn, charted: Charted, zone: Zone) -> Plot:
    first = len(charted.checks) - len(drawn.points) + 1  # ranges of single values begin at the second
    places = tuple(float(place) for place in range(first, first + len(drawn.points)))
    bad = sorted({broken.place for broken in drawn.broken})
    series = [Series(drawn.title, places, drawn.points)]
    if bad:
        series.append(
            Series("breaks a rule", tuple(places[k] for k in bad), tuple(drawn.points[k] for k in bad), mark="x")
        )
    what = "deviation from nominal" if charted.of_nominal else charted.point
    title = f"{charted.item} {charted.point}: {drawn.title}"
    heights = f"{what} ({charted.unit})" if charted.unit else what
    days = tuple((place, zone.day(charted.checks[int(place) - 1].at).isoformat()) for place in places)
    levels = tuple(_levels(drawn, charted))
    return Plot(title, "checks by their day", heights, tuple(series), levels, days)


def _levels(drawn: Drawn, charted: Charted) -> Iterator[Level]:
    decimals, unit = decimals_of(value for check in charted.checks for value in check.values), _beside(charted.unit)
    yield Level(f"upper limit {to_step(drawn.high, decimals)}{unit}", drawn.high)
    yield Level(f"centre {to_step(drawn.centre, decimals)}{unit}", drawn.centre, form="middle")
    yield Level(f"lower limit {to_step(drawn.low, decimals)}{unit}", drawn.low)


def _side(limit: float | None) -> str:
    return "-" if limit is None else exact(limit)


def _beside(unit: str) -> str:
    return f" {unit}" if unit else ""


def _drawn(drawn: Drawn, charted: Charted, zone: Zone) -> Iterator[str]:
    decimals, unit = decimals_of(value for check in charted.checks for value in check.values), _beside(charted.unit)
    centre, low, high = (to_step(value, decimals) for value in (drawn.centre, drawn.low, drawn.high))
    yield from paragraph(f"{drawn.title}: centre {centre}{unit}, limits {low} to {high}{unit}")
    for place, broken_here in groupby(drawn.broken, key=lambda broken: broken.place):
        broken = list(broken_here)
        where = f"#{broken[0].entry} {zone.minute(broken[0].at)} {to_step(drawn.points[place], decimals)}{unit}"
        yield from paragraph(f"{where}: {'; '.join(each.rule for each in broken)}", 2, 4)
    if not drawn.broken:
        yield "  no rule broken"


def _left_out(left_out: tuple[Said, ...], reader: Reader) -> list[str]:
    if not left_out:
        return []
    return paragraph(text(said("Left out: {left_out}.", left_out=listed(left_out, Join.SEMICOLON)), reader))


def capability_text(report: CapabilityReport, zone: Zone, reader: Reader) -> str:
    """A capability with its number of readings and its lower bound."""
    capable = report.found
    lines = paragraph(
        f"{report.item} {report.point} on {report.crimp or 'no crimp'}, "
        f"limits {_side(report.lower)} to {_side(report.upper)}{_beside(report.unit)}"
    )
    lines += paragraph(
        f"{grouped(capable.n)} readings of {grouped(report.checks)} checks, {zone.minute(report.since)} to "
        f"{zone.minute(report.until)}: mean {to_step(capable.mean, capable.decimals)}{_beside(report.unit)}, "
        f"standard deviation {figures(capable.scatter)}{_beside(report.unit)}"
    )
    lines += paragraph(f"Ppk {capable.ppk:.2f}; with 95 % confidence at least {capable.low:.2f} (n = {capable.n})")
    lines += paragraph(
        "Ppk, the performance index of ISO 22514, goes by the scatter of all readings over the days they were taken."
    )
    lines += _left_out(report.left_out, reader)
    lines += paragraph(f"This holds for a stable, normally distributed process: look at the chart first. {_MOMENT}")
    return "\n".join(lines) + "\n"


def pulls_text(report: PullReport, zone: Zone, reader: Reader) -> str:
    """What the last pulls say and what they leave open."""
    lines = paragraph(f"{report.item} pull force on {report.crimp or 'no crimp'} {report.size}")
    if report.table:
        lines += paragraph(f"smallest force by {report.table}")
    lines += ["", *paragraph(f"The last check, {zone.minute(report.until)}"), *_pulled(report.last)]
    if report.checks > 1:
        lines += [
            "",
            *paragraph(f"All of {grouped(report.checks)} checks since {zone.minute(report.since)}"),
            *_pulled(report.all),
        ]
    lines += ["", *_left_out(report.left_out, reader)]
    lines += paragraph(
        "Pull force hardly shows an overcrimp, and shows no burr, insulation or oxide: height, look and pull go "
        f"together. {_MOMENT}"
    )
    return "\n".join(lines) + "\n"


def _pulled(pulled: Pulled) -> Iterator[str]:
    bound = "no pull force is set for it" if pulled.minimum is None else f"at least {exact(pulled.minimum)} N"
    yield from paragraph(
        f"{pulled.n} pulls, {pulled.bad} below ({bound}), the smallest {exact(pulled.smallest)} N", 2, 4
    )
    yield from paragraph("broke: " + ", ".join(f"{how} {number}" for how, number in pulled.broke), 2, 4)
    good = "All good, they" if not pulled.bad else "They"
    yield from paragraph(
        f"{good} do not exclude, with 95 % confidence, that {percent(pulled.not_excluded)} of all pieces are bad; "
        f"{pulled.to_exclude} good pulls exclude 5 %.",
        2, 4,
    )  # fmt: skip
    if pulled.bound is None or pulled.scatter is None or pulled.k is None:
        yield from paragraph("No bound: that takes two pulls with different results.", 2, 4)
        return
    beside = ""
    if pulled.minimum is not None:
        beside = " - above the smallest force" if pulled.bound >= pulled.minimum else " - BELOW the smallest force"
    yield from paragraph(
        f"99 % of the pieces hold at least {to_step(pulled.bound, pulled.decimals)} N, with 95 % confidence and normal "
        f"scatter: mean {to_step(pulled.mean, pulled.decimals)} N - k {pulled.k:.2f} x "
        f"{figures(pulled.scatter)} N{beside}",
        2, 4,
    )  # fmt: skip
