"""Charts, capability and pulls in words - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from upkeep.papers.plots import Level, Plot, Series, chart_text
from upkeep.quality.capability import Proves, Pulled
from upkeep.quality.control import Control, Drawn
from upkeep.said import Figure, Join, Numeral, Said, Value, in_turn, listed, minute, said, term
from upkeep.units.figures import decimals_of, percent, to_step
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, InUnits, UnitName, drawn_in, measured
from upkeep.views.charts import CapabilityReport, Charted, PullReport
from upkeep.wear.wording import figures
from upkeep.wording.sentences import Reader, lines, text

_ROWS = 14
"""Rows of a chart in a terminal: two of them stand on one page."""

_N = "N"
"""The unit of pull forces."""

_WEAR = said("A slow drift to one side is mostly wear: follow it over strokes, and do not adjust the process for it.")
_MOMENT = said("Pieces made one after the other show the process at that moment, not over the day.")


def chart_page(charted: Charted, zone: Zone, reader: Reader) -> str:
    """The charts in words: limits, and every point that breaks a rule."""
    page = [row for sentence in _head(charted, zone) for row in lines(sentence, reader)]
    for drawn, plot in zip(charted.control.drawn, plots_of(charted, zone, reader), strict=True):
        plain = chart_text(plot, height=_ROWS).rstrip("\n").split("\n")
        page += ["", *_drawn(drawn, charted, zone, reader), *plain]
    page.append("")
    if not charted.control.settled:
        page += lines(said("Fewer than 20 points: the limits are still provisional."), reader)
    if charted.control.left_out:
        page += lines(said("Left out: {n} with another number of readings.", n=charted.control.left_out), reader)
    page += _left_out(charted.left_out, reader)
    return "\n".join([*page, *lines(_WEAR, reader), *lines(_MOMENT, reader)]) + "\n"


def _head(charted: Charted, zone: Zone) -> Iterator[Said]:
    yield said(
        "{item} {point}: {what} in {unit}  ({crimps})",
        item=charted.item,
        point=charted.point,
        what=_what(charted),
        unit=UnitName(charted.unit) if charted.unit else said("its unit"),
        crimps=listed(charted.crimps) if charted.crimps else said("no crimp named"),
    )
    yield _kind(charted.control)
    yield said(
        "{n} checks, {first} to {last}",
        n=len(charted.checks),
        first=minute(charted.checks[0].at, zone),
        last=minute(charted.checks[-1].at, zone),
    )
    if charted.lower is not None or charted.upper is not None:
        yield said(
            "limits of the drawing: {limits}, which are not those below",
            limits=_limits(charted.lower, charted.upper, charted.unit),
        )


def _what(charted: Charted) -> Said:
    return said("deviation from nominal") if charted.of_nominal else said("{point}", point=charted.point)


def _kind(control: Control) -> Said:
    match control.kind:
        case "xbar":
            return said("Means and ranges of checks of {size} readings", size=control.size)
        case "single":
            return said("Single values and moving ranges, each point the mean of a check")
    return said("Exponentially weighted moving average (weight 0.3) of the means of the checks")


def plots_of(charted: Charted, zone: Zone, reader: Reader) -> tuple[Plot, ...]:
    """The charts as plots: points in order of the checks with their days, those that break a rule marked, centre and
    limits."""
    return tuple(_plot(drawn, charted, zone, reader) for drawn in charted.control.drawn)


def _plot(drawn: Drawn, charted: Charted, zone: Zone, reader: Reader) -> Plot:
    first = len(charted.checks) - len(drawn.points) + 1  # ranges of single values begin at the second
    places = tuple(float(place) for place in range(first, first + len(drawn.points)))
    bad = sorted({broken.place for broken in drawn.broken})
    points = drawn_in(drawn.points, charted.unit, reader.units)
    series = [Series(text(term(drawn.title, "chart"), reader), places, points)]
    if bad:
        x, y = tuple(places[k] for k in bad), tuple(points[k] for k in bad)
        series.append(Series(text(said("breaks a rule"), reader), x, y, mark="x"))
    title = said("{item} {point}: {chart}", item=charted.item, point=charted.point, chart=term(drawn.title, "chart"))
    what = _what(charted)
    heights = said("{what} ({unit})", what=what, unit=UnitName(charted.unit)) if charted.unit else what
    days = tuple((place, zone.day(charted.checks[int(place) - 1].at).isoformat()) for place in places)
    levels = tuple(_levels(drawn, charted, reader))
    along = text(said("checks by their day"), reader)
    return Plot(text(title, reader), along, text(heights, reader), tuple(series), levels, days)


def _levels(drawn: Drawn, charted: Charted, reader: Reader) -> Iterator[Level]:
    told = drawn.low, drawn.centre, drawn.high
    low, centre, high = (_value(value, charted) for value in told)
    at = drawn_in(told, charted.unit, reader.units)
    yield Level(text(said("upper limit {value}", value=high), reader), at[2])
    yield Level(text(said("centre {value}", value=centre), reader), at[1], form="middle")
    yield Level(text(said("lower limit {value}", value=low), reader), at[0])


def _value(value: float, charted: Charted) -> Value:
    return _stepped(value, decimals_of(value for check in charted.checks for value in check.values), charted.unit)


def _stepped(value: float, decimals: int, unit: str) -> Value:
    """A value to a step of so many decimals, with its unit."""
    step = round(value, decimals) + 0.0
    return measured(step, unit, f",.{decimals}f") if unit else to_step(value, decimals)


def _limits(lower: float | None, upper: float | None, unit: str) -> Said:
    low, high = ("-" if limit is None else Amount(limit, unit) for limit in (lower, upper))
    if not unit:
        return said("{low} to {high}", low=low, high=high)
    limits = said("{low} to {high} {unit}", low=low, high=high, unit=UnitName(unit))
    return said("{limits}", limits=InUnits(limits, unit))


def _drawn(drawn: Drawn, charted: Charted, zone: Zone, reader: Reader) -> Iterator[str]:
    head = said(
        "{chart}: centre {centre}, limits {low} to {high}",
        chart=term(drawn.title, "chart"),
        centre=_value(drawn.centre, charted),
        low=_value(drawn.low, charted),
        high=_value(drawn.high, charted),
    )
    yield from lines(head, reader)
    for place, broken_here in groupby(drawn.broken, key=lambda broken: broken.place):
        broken = list(broken_here)
        sentence = said(
            "#{entry} {at} {value}: {rules}",
            entry=Numeral(broken[0].entry),
            at=minute(broken[0].at, zone),
            value=_value(drawn.points[place], charted),
            rules=listed((term(each.rule) for each in broken), Join.SEMICOLON),
        )
        yield from lines(sentence, reader, 2, 4)
    if not drawn.broken:
        yield from lines(said("no rule broken"), reader, 2)


def _left_out(left_out: tuple[Said, ...], reader: Reader) -> list[str]:
    if not left_out:
        return []
    return lines(said("Left out: {left_out}.", left_out=listed(left_out, Join.SEMICOLON)), reader)


def capability_text(report: CapabilityReport, zone: Zone, reader: Reader) -> str:
    """A capability with its number of readings and its lower bound."""
    page = [row for sentence in _capability(report, zone) for row in lines(sentence, reader)]
    page += _left_out(report.left_out, reader)
    stable = said("This holds for a stable, normally distributed process: look at the chart first.")
    page += lines(in_turn(stable, _MOMENT), reader)
    return "\n".join(page) + "\n"


def _capability(report: CapabilityReport, zone: Zone) -> Iterator[Said]:
    capable = report.found
    yield said(
        "{item} {point} on {crimp}, limits {limits}",
        item=report.item,
        point=report.point,
        crimp=report.crimp or said("no crimp"),
        limits=_limits(report.lower, report.upper, report.unit),
    )
    yield said(
        "{n} readings of {checks} checks, {since} to {until}: mean {mean}, standard deviation {scatter}",
        n=capable.n,
        checks=report.checks,
        since=minute(report.since, zone),
        until=minute(report.until, zone),
        mean=_stepped(capable.mean, capable.decimals, report.unit),
        scatter=_figures(capable.scatter, report.unit),
    )
    yield said(
        "Ppk {ppk}; with 95 % confidence at least {low} (n = {n})",
        ppk=Figure(capable.ppk, ".2f"),
        low=Figure(capable.low, ".2f"),
        n=capable.n,
    )
    yield said(
        "Ppk, the performance index of ISO 22514, goes by the scatter of all readings over the days they were taken."
    )


def pulls_text(report: PullReport, zone: Zone, reader: Reader) -> str:
    """What the last pulls say and what they leave open."""
    head = said(
        "{item} pull force on {crimp} {size}",
        item=report.item,
        crimp=report.crimp or said("no crimp"),
        size=report.size,
    )
    page = lines(head, reader)
    if report.table:
        page += lines(said("smallest force by {table}", table=report.table), reader)
    page += ["", *lines(said("The last check, {at}", at=minute(report.until, zone)), reader)]
    page += _pulled(report.last, reader)
    if report.checks > 1:
        since = said("All of {n} checks since {since}", n=report.checks, since=minute(report.since, zone))
        page += ["", *lines(since, reader), *_pulled(report.all, reader)]
    page += ["", *_left_out(report.left_out, reader)]
    hidden = said(
        "Pull force hardly shows an overcrimp, and shows no burr, insulation or oxide: height, look and pull go "
        "together."
    )
    return "\n".join([*page, *lines(in_turn(hidden, _MOMENT), reader)]) + "\n"


def proofs_text(proves: tuple[Proves, ...], reader: Reader) -> str:
    """How many good pulls prove what, one number a row."""
    head = said("What pulls prove, with 95 % confidence:")
    page = [row for sentence in (head, *map(_proves, proves)) for row in lines(sentence, reader, 0, 4)]
    needed = proves[0]
    if needed.bad:
        more = said(
            "With {bad} bad among them it takes {n} pulls to exclude that 5 % are bad.",
            bad=needed.bad,
            n=needed.to_exclude,
        )
    else:
        more = said("To exclude that 5 % are bad it takes {n} good ones, and none bad.", n=needed.to_exclude)
    return "\n".join([*page, "", *lines(in_turn(more, _MOMENT), reader)]) + "\n"


def _proves(one: Proves) -> Said:
    share = percent(one.not_excluded)
    if not one.bad:
        return said("{n} good: up to {share} of all pieces may still be bad", n=one.n, share=share)
    return said("{n} pulls, {bad} bad: up to {share} of all pieces may be bad", n=one.n, bad=one.bad, share=share)


def _figures(value: float, unit: str) -> Value:
    """A scatter with three figures that count, and its unit."""
    return measured(float(figures(value)), unit) if unit else figures(value)


def _pulled(pulled: Pulled, reader: Reader) -> Iterator[str]:
    for sentence in _pulled_said(pulled):
        yield from lines(sentence, reader, 2, 4)


def _pulled_said(pulled: Pulled) -> Iterator[Said]:
    least = None if pulled.minimum is None else measured(pulled.minimum, _N)
    yield said(
        "{n} pulls, {bad} below ({bound}), the smallest {smallest}",
        n=pulled.n,
        bad=pulled.bad,
        bound=said("no pull force is set for it") if least is None else said("at least {force}", force=least),
        smallest=measured(pulled.smallest, _N),
    )
    broke = listed(said("{how} {n}", how=term(how, "pull test"), n=number) for how, number in pulled.broke)
    yield said("broke: {broke}", broke=broke)
    not_excluded = said(
        "do not exclude, with 95 % confidence, that {share} of all pieces are bad; {n} good pulls exclude 5 %.",
        share=percent(pulled.not_excluded),
        n=pulled.to_exclude,
    )
    yield (said("They {open}", open=not_excluded) if pulled.bad else said("All good, they {open}", open=not_excluded))
    yield _bound(pulled)


def _bound(pulled: Pulled) -> Said:
    if pulled.bound is None or pulled.scatter is None or pulled.k is None:
        return said("No bound: that takes two pulls with different results.")
    bound = said(
        "99 % of the pieces hold at least {bound}, with 95 % confidence and normal scatter: mean {mean} - k {k} x "
        "{scatter}",
        bound=_stepped(pulled.bound, pulled.decimals, _N),
        mean=_stepped(pulled.mean, pulled.decimals, _N),
        k=Figure(pulled.k, ".2f"),
        scatter=_figures(pulled.scatter, _N),
    )
    if pulled.minimum is None:
        return bound
    if pulled.bound >= pulled.minimum:
        return said("{bound} - above the smallest force", bound=bound)
    return said("{bound} - BELOW the smallest force", bound=bound)
