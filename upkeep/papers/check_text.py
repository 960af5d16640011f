"""Gauges and set-ups as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.plant.names import Names
from upkeep.said import listed, said
from upkeep.units.figures import exact, percent, to_step
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.checks import CheckRow, Compared, Flip, GaugeDoubt, GaugeLine, GaugeReport, SetUp
from upkeep.wording.holds import hold_text
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph


def gauges_text(gauges: Iterable[GaugeLine], reader: Reader) -> str:
    """The register of gauges, those that are not valid first."""
    lines: list[str] = []
    for gauge in gauges:
        lines += paragraph(
            f"{gauge.id:<8}{gauge.title} ({gauge.gauge_class}), {gauge.place}: {text(gauge.note, reader)}", 0, 8
        )
    return "\n".join(lines or ["There are no gauges in this book."]) + "\n"


def gauge_text(report: GaugeReport, zone: Zone, names: Names, reader: Reader) -> str:
    """A gauge: whether it is valid, what vouches for it, who uses it, what it casts doubt on."""
    lines = paragraph(f"{report.id}  {report.title} ({report.gauge_class})  {zone.minute(report.at)}")
    note = text(report.note, reader)
    lines += paragraph(f"Held: {hold_text(report.held, reader)}" if report.held else note[:1].upper() + note[1:])
    if report.held and not report.in_order:
        lines += paragraph(note)
    lines.append("")
    for care in report.cares:
        done = f"done {zone.minute(care.done_at)} by {care.done_by}" if care.done_at else "never done in this book"
        lines += paragraph(f"{care.title}: {done}. {sentence(care.reasons, zone, names, reader)}", 0, 2)
    if not report.cares:
        lines.append("No task in this plant checks gauges.")
    for found in report.calibrations:
        lines += paragraph(
            f"Certificate {found.certificate} of {found.laboratory}, {zone.minute(found.at)} by {found.by} "
            f"(#{found.entry}): as received {_error(found.received)}, as left {_error(found.left)}, uncertainty "
            f"{exact(found.uncertainty)}, good until {found.due}.", 0, 2,
        )  # fmt: skip
    since = f"since its last good check, {zone.minute(report.users_since)}" if report.users_since else "in this book"
    used = [f"{user.name} {grouped(user.entries)} (last {zone.minute(user.last_at)})" for user in report.users]
    lines += ["", *paragraph(f"Measured with it {since}: {', '.join(used) or 'nobody'}.", 0, 2)]
    for doubt in report.doubts:
        lines += ["", *_doubt(doubt, zone, reader)]
    return "\n".join(lines) + "\n"


def _error(value: float) -> str:
    """An error with its sign, as the certificate gives it: "+0.004"."""
    return f"{'+' if value > 0 else ''}{exact(value)}"


def _doubt(doubt: GaugeDoubt, zone: Zone, reader: Reader) -> Iterator[str]:
    way = "high" if doubt.off > 0 else "low"
    yield from paragraph(
        f"FOUND TO READ {exact(abs(doubt.off))} TOO {way.upper()} {zone.minute(doubt.found_at)} "
        f"by {doubt.found_by} (#{doubt.entry})"
    )
    since = f"its last good check {zone.minute(doubt.since)}" if doubt.since else "when it came into this book"
    until = f"its calibration {zone.minute(doubt.until)}" if doubt.until else "now (not calibrated since)"
    yield from paragraph(
        f"The error may have begun at any time: everything it measured from {since} to {until} is in doubt.", 0, 2
    )
    bad = [flip for flip in doubt.flips if not flip.good_now]
    good = [flip for flip in doubt.flips if flip.good_now]
    yield from paragraph(
        f"{grouped(doubt.results)} results, {grouped(doubt.passed)} passed, {grouped(doubt.unjudged)} without a limit. "
        f"With the error taken off, {grouped(len(bad))} of those passed would fail, "
        f"{grouped(len(good))} of those failed would pass.",
        0,
        2,
    )
    for title, flips in (("Passed, but would fail", bad), ("Failed, but would pass", good)):
        if flips:
            yield title
            for flip in flips:
                yield from _flip(flip, zone, reader)
    if doubt.tasks:
        yield "Work signed with its readings; in doubt until it is done again"
        for task in doubt.tasks:
            yield from paragraph(f"{task.line} {zone.minute(task.at)} by {task.by} (#{task.entry})", 2, 4)
    if doubt.people:
        yield from paragraph(f"Tell: {', '.join(doubt.people)}. Quality judges the risk for what was shipped.", 0, 2)


def _flip(flip: Flip, zone: Zone, reader: Reader) -> Iterator[str]:
    values = ", ".join(map(exact, flip.values))
    where = "".join((f" on {flip.press}" if flip.press else "", f", order {flip.order}" if flip.order else ""))
    yield from paragraph(
        f"#{flip.entry} {zone.minute(flip.at)} {flip.item}{where}: {flip.point} {values} by {flip.by}", 2, 4
    )
    if flip.since is not None:
        yield from paragraph(
            f"suspect since {zone.minute(flip.since)}: {text(flip.since_why, reader) if flip.since_why else ''}", 4, 6
        )


def set_up_text(set_up: SetUp, zone: Zone, reader: Reader) -> str:
    """A set-up as one page."""
    until = f"to {zone.minute(set_up.until)}" if set_up.until else "on, still running"
    lines = paragraph(f"SET-UP  {set_up.item} {set_up.title}  on {set_up.press or 'no press'}")
    lines += paragraph(f"{zone.minute(set_up.since)} {until}")
    lines += paragraph(f"crimp {', '.join(set_up.crimps) or '-'}   order {', '.join(set_up.orders) or '-'}")
    for row in set_up.checks:
        lines += ["", *_check(row, zone, reader)]
    lines += _compared("First piece and last piece", set_up.first_to_last)
    lines += _compared("As found and as left", set_up.found_to_left)
    if set_up.missing:
        lines += ["", *paragraph(text(said("Not in the book: {missing}.", missing=listed(set_up.missing)), reader))]
    return "\n".join(lines) + "\n"


def _check(row: CheckRow, zone: Zone, reader: Reader) -> Iterator[str]:
    verdict = f"OUT: {', '.join(row.failed)}" if row.failed else "good" if row.limits or row.looks else "recorded"
    yield from paragraph(f"{row.occasion:<10}{zone.minute(row.at)}  {row.by}  #{row.entry}  {verdict}")
    limits, units = {key: (lower, upper) for key, lower, upper in row.limits}, dict(row.units)
    for key, values in row.points:
        lower, upper = limits.get(key, (None, None))
        bounds = f"  ({'' if lower is None else exact(lower)} to {'' if upper is None else exact(upper)})"
        readings = f"{', '.join(map(exact, values))} {units.get(key, '')}".rstrip()
        yield from paragraph(f"{key}  {readings}{bounds if key in limits else ''}", 4, 8)
    if row.looks:
        yield from paragraph(", ".join(f"{key} {'good' if good else 'BAD'}" for key, good in row.looks), 4, 8)
    if row.broke:
        yield from paragraph(f"broke: {', '.join(row.broke)}" + (f"; by {row.table}" if row.table else ""), 4, 8)
    named = (("gauge", row.gauge), ("reel", row.reel), ("wire lot", row.wire), ("order", row.order))
    readings = ", ".join(f"{what} {key}" for what, key in named if key)
    if readings:
        yield from paragraph(
            readings + (f" - not valid: {text(row.gauge_doubt, reader)}" if row.gauge_doubt else ""), 4, 8
        )
    if row.remark:
        yield from paragraph(f'"{row.remark}"', 4, 8)


def _compared(title: str, rows: Iterable[Compared]) -> Iterator[str]:
    for place, row in enumerate(rows):
        if place == 0:
            yield from ("", title)
        share = "" if row.share is None else f", {percent(row.share)} of the tolerance"
        yield from paragraph(
            f"{row.point}  {to_step(row.first, row.decimals)} then {to_step(row.last, row.decimals)} {row.unit}: "
            f"moved {row.moved:+,.{row.decimals}f} {row.unit}{share}",
            4,
            8,
        )
