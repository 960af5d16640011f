"""The figures a plant is led by as rows: a name, the figure with its base, what it means, what a standard calls it."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.compliance import Share
from upkeep.frozen import frozen
from upkeep.said import Figure, Join, Said, in_turn, listed, said, term
from upkeep.units.figures import three
from upkeep.units.quantities import in_strokes, in_time
from upkeep.views.overview.indicators import Age, Between, DataQuality, Indicators, Minutes, Overdue, Restored

_MINUTE = 60


@frozen
class FigureRow:
    """One figure: its name, what it is with its base and interval, and its definition."""

    name: Said
    figure: Said
    definition: Said


def share_said(share: Share) -> Said:
    """ "82 %, 41 of 50 (69 to 90 %)"; that nothing was due where nothing was asked for."""
    return _share(share, said("nothing was due"))


def _share(share: Share, nothing: Said) -> Said:
    if share.percent is None or share.low is None or share.high is None:
        return nothing
    return said(
        "{percent} %, {number} of {base} ({low} to {high} %)",
        percent=Figure(share.percent, ".0f"),
        number=share.number,
        base=share.base,
        low=Figure(share.low, ".0f"),
        high=Figure(share.high, ".0f"),
    )


def between_said(between: Between) -> Said:
    """ "400,000 strokes (155,000 to 1,470,000), faults: 3 in 1,200,000 strokes"; a bound below where none was seen."""
    base = said("faults: {n} in {strokes}", n=between.faults, strokes=in_strokes(between.strokes))
    if between.mean is None or between.high is None:
        return said("at least {low}; {base}", low=in_strokes(three(between.low, down=True)), base=base)
    return said(
        "{mean} ({low} to {high}); {base}",
        mean=in_strokes(three(between.mean)), low=three(between.low), high=three(between.high), base=base,
    )  # fmt: skip


def overdue_said(overdue: Overdue) -> Said:
    """ "2 of 353 lines: up to 7 days 1, 8 to 30 days 1, over 30 days 0"."""
    ages = listed(said("{age} {n}", age=term(age, "age"), n=overdue.by_age[age]) for age in Age)
    counted = said("{n} of {lines} lines: {ages}", n=overdue.number, lines=overdue.lines, ages=ages)
    over = said("past their strokes by {strokes} in all", strokes=in_strokes(overdue.strokes_over))
    return said("{counted}; {over}", counted=counted, over=over) if overdue.strokes_over else counted


def restored_said(restored: Restored) -> Said:
    """ "3 h 10 min of working time (14 h by the clock) over 3 faults"."""
    if restored.worked is None or restored.clock is None:
        return said("no fault ended in these days")
    return said(
        "{worked} of working time ({clock} by the clock); ended faults: {n}",
        worked=in_time(restored.worked * _MINUTE), clock=in_time(restored.clock * _MINUTE), n=restored.number,
    )  # fmt: skip


def hours_said(minutes: float) -> Said:
    """Minutes as hours, ``12.4 h``."""
    return said("{hours} h", hours=Figure(minutes / _MINUTE, ",.1f"))


def planned_said(minutes: Minutes) -> Said:
    """ "92 % planned: 540.0 h of work signed, 48.0 h of repairs"."""
    if minutes.planned_percent is None:
        return said("nothing was signed or repaired")
    figure = said(
        "{percent} % planned: {planned} of work signed, {repairs} of repairs",
        percent=Figure(minutes.planned_percent, ".0f"), planned=hours_said(minutes.planned),
        repairs=hours_said(minutes.repairs),
    )  # fmt: skip
    untimed = said("sign-offs without minutes: {n}", n=minutes.untimed)
    return said("{figure}; {untimed}", figure=figure, untimed=untimed) if minutes.untimed else figure


def _operators_said(minutes: Minutes) -> Said:
    if minutes.operators_percent is None:
        return said("nothing was signed")
    return said(
        "{percent} %, {by_operators} of {planned}",
        percent=Figure(minutes.operators_percent, ".0f"), by_operators=hours_said(minutes.by_operators),
        planned=hours_said(minutes.planned),
    )  # fmt: skip


def quality_said(quality: DataQuality) -> Iterator[Said]:
    """Counts taken in time, strokes in doubt, strokes nobody is known to have done."""
    in_time = _share(quality.in_time, said("none was taken"))
    yield said("counts in time: {share}", share=in_time)
    yield said("estimated within {n} of {strokes}", n=quality.in_doubt, strokes=in_strokes(quality.module_strokes))
    yield said("without a module: {n} of {strokes}", n=quality.unattributed, strokes=in_strokes(quality.press_strokes))


def indicator_rows(seen: Indicators) -> Iterator[FigureRow]:
    """Every figure but that of what was on time."""
    yield FigureRow(said("Overdue now"), overdue_said(seen.overdue), OVERDUE)
    yield FigureRow(
        said("Done as scheduled"), _share(seen.as_scheduled, said("no week was frozen and has ended")), SCHEDULED
    )
    yield FigureRow(said("Planned against unplanned"), planned_said(seen.minutes), PLANNED)
    yield FigureRow(said("Work by operators"), _operators_said(seen.minutes), OPERATORS)
    yield FigureRow(said("Mean strokes between faults"), between_said(seen.between), BETWEEN)
    yield FigureRow(said("Mean strokes between stops"), between_said(seen.between_stops), STOPS)
    yield FigureRow(said("Mean time to restoration"), restored_said(seen.restored), RESTORED)
    yield FigureRow(said("Inspections with a finding"), _share(seen.findings, said("none was made")), FINDINGS)
    if seen.quality is not None:
        yield FigureRow(said("Data quality"), said("{parts}", parts=listed(quality_said(seen.quality), Join.SEMICOLON)),
                        QUALITY)  # fmt: skip


OVERDUE = said(
    "Lines past their window or their hard stop at the moment of the page, of all lines in use, by the days since "
    "each became so; counted, not sampled, so without an interval."
)
SCHEDULED = said(
    "Jobs that a frozen week had on a shift and that were signed in that week, of all it had; nearest in EN "
    "15341: work orders performed as scheduled (name from memory)."
)
PLANNED = said(
    "Minutes of signed work as its tasks plan them, beside working time from taking a fault to fixing it; nearest "
    "in EN 15341: preventive maintenance hours in total maintenance hours (name from memory). Small repairs that "
    "nobody entered are missing."
)
OPERATORS = said(
    "Minutes of work signed by people whose first role is operator, of all signed; nearest in EN 15341: "
    "maintenance hours carried out by a user or operator (name from memory)."
)
BETWEEN = in_turn(
    said("Strokes of the presses (of the item, where one is named) by the faults reported."),
    said(
        "In brackets the 90 % interval, chi-squared with 2r and 2r + 2 degrees of freedom, for faults at a constant "
        "rate; EN 13306 and EN 15341 have it by time (mean operating time between failures, names from memory)."
    ),
)
STOPS = said("The same for faults that stopped something.")
RESTORED = said(
    "From the report of a fault to the release of what it stopped, or to its closing, in the shifts of the plant; "
    "of faults that ended in these days (EN 13306: mean time to restoration, name from memory)."
)
FINDINGS = said(
    "Inspections graded 2 or worse, or with a value out of its limits, of all that were graded or measured; none "
    "for months is no good sign by itself."
)
QUALITY = said(
    "In time: counts that come no more than the longest shift and an hour of working time after the count before, "
    "of all that told of strokes. Estimated: by how much the bounds of the strokes of all modules lie apart. "
    "Without a module: strokes of presses while none is known to have hung there."
)
