"""Gauges and set-ups as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from upkeep.said import listed, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.checks import CheckRow, Compared, Flip, GaugeDoubt, GaugeLine, GaugeReport, SetUp
from upkeep.wording.holds import hold_text
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph


def gauges_text(gauges: Iterable[GaugeLine]) -> str:
    """The register of gauges, those that are not valid first."""
    lines: list[str] = []
    for one in gauges:
        lines += paragraph(f"{one.id:<8}{one.title} ({one.gauge_class}), {one.place}: {text(one.note, ENGLISH)}", 0, 8)
    return "\n".join(lines or ["There are no gauges in this book."]) + "\n"


def gauge_text(one: GaugeReport, zone: Zone, names: Mapping[str, str]) -> str:
    """A gauge: whether it is valid, what vouches for it, who uses it, what it casts doubt on."""
    lines = paragraph(f"{one.id}  {one.title} ({one.gauge_class})  {zone.minute(one.at)}")
    note = text(one.note, ENGLISH)
    lines += paragraph(f"Held: {hold_text(one.held)}" if one.held else note[:1].upper() + note[1:])
    if one.held and not one.in_order:
        lines += paragraph(note)
    lines.append("")
    for care in one.cares:
        done = f"done {zone.minute(care.done_at)} by {care.done_by}" if care.done_at else "never done in this book"
        lines += paragraph(f"{care.title}: {done}. {sentence(care.reasons, zone, names)}", 0, 2)
    if not one.cares:
        lines.append("No task in this plant checks gauges.")
    since = f"since its last good check, {zone.minute(one.users_since)}" if one.users_since else "in this book"
    used = [f"{user.name} {grouped(user.entries)} (last {zone.minute(user.last_at)})" for user in one.users]
    lines += ["", *paragraph(f"Measured with it {since}: {', '.join(used) or 'nobody'}.", 0, 2)]
    for doubt in one.doubts:
        lines += ["", *_doubt(doubt, zone)]
    return "\n".join(lines) + "\n"


def _doubt(one: GaugeDoubt, zone: Zone) -> Iterator[str]:
    way = "high" if one.off > 0 else "low"
    yield from paragraph(
        f"FOUND TO READ {abs(one.off):g} TOO {way.upper()} {zone.minute(one.found_at)} by {one.found_by} (#{one.entry})"
    )
    since = f"its last good check {zone.minute(one.since)}" if one.since else "when it came into this book"
    until = f"its calibration {zone.minute(one.until)}" if one.until else "now (not calibrated since)"
    yield from paragraph(
        f"The error may have begun at any time: everything it measured from {since} to {until} is in doubt.", 0, 2
    )
    bad = [flip for flip in one.flips if not flip.good_now]
    good = [flip for flip in one.flips if flip.good_now]
    yield from paragraph(
        f"{grouped(one.results)} results, {grouped(one.passed)} passed, {grouped(one.unjudged)} without a limit. With "
        f"the error taken off, {grouped(len(bad))} of those passed would fail, {grouped(len(good))} of those failed "
        "would pass.",
        0,
        2,
    )
    for title, flips in (("Passed, but would fail", bad), ("Failed, but would pass", good)):
        if flips:
            yield title
            for flip in flips:
                yield from _flip(flip, zone)
    if one.tasks:
        yield "Work signed with its readings; in doubt until it is done again"
        for task in one.tasks:
            yield from paragraph(f"{task.line} {zone.minute(task.at)} by {task.by} (#{task.entry})", 2, 4)
    if one.people:
        yield from paragraph(f"Tell: {', '.join(one.people)}. Quality judges the risk for what was shipped.", 0, 2)


def _flip(one: Flip, zone: Zone) -> Iterator[str]:
    values = ", ".join(f"{value:g}" for value in one.values)
    where = "".join((f" on {one.press}" if one.press else "", f", order {one.order}" if one.order else ""))
    yield from paragraph(
        f"#{one.entry} {zone.minute(one.at)} {one.item}{where}: {one.point} {values} by {one.by}", 2, 4
    )
    if one.since is not None:
        yield from paragraph(
            f"suspect since {zone.minute(one.since)}: {text(one.since_why, ENGLISH) if one.since_why else ''}", 4, 6
        )


def set_up_text(one: SetUp, zone: Zone) -> str:
    """A set-up as one page."""
    until = f"to {zone.minute(one.until)}" if one.until else "on, still running"
    lines = paragraph(f"SET-UP  {one.item} {one.title}  on {one.press or 'no press'}")
    lines += paragraph(f"{zone.minute(one.since)} {until}")
    lines += paragraph(f"crimp {', '.join(one.crimps) or '-'}   order {', '.join(one.orders) or '-'}")
    for row in one.checks:
        lines += ["", *_check(row, zone)]
    lines += _compared("First piece and last piece", one.first_to_last)
    lines += _compared("As found and as left", one.found_to_left)
    if one.missing:
        lines += ["", *paragraph(text(said("Not in the book: {missing}.", missing=listed(one.missing)), ENGLISH))]
    return "\n".join(lines) + "\n"


def _check(one: CheckRow, zone: Zone) -> Iterator[str]:
    verdict = f"OUT: {', '.join(one.failed)}" if one.failed else "good" if one.limits or one.looks else "recorded"
    yield from paragraph(f"{one.occasion:<10}{zone.minute(one.at)}  {one.by}  #{one.entry}  {verdict}")
    limits = {key: (lower, upper) for key, lower, upper in one.limits}
    for key, values in one.points:
        told = ", ".join(f"{value:g}" for value in values)
        lower, upper = limits.get(key, (None, None))
        bounds = f"  ({'' if lower is None else f'{lower:g}'} to {'' if upper is None else f'{upper:g}'})"
        yield from paragraph(f"{key}  {told}{bounds if key in limits else ''}", 4, 8)
    if one.looks:
        yield from paragraph(", ".join(f"{key} {'good' if good else 'BAD'}" for key, good in one.looks), 4, 8)
    if one.broke:
        yield from paragraph(f"broke: {', '.join(one.broke)}" + (f"; by {one.table}" if one.table else ""), 4, 8)
    named = (("gauge", one.gauge), ("reel", one.reel), ("wire lot", one.wire), ("order", one.order))
    told = ", ".join(f"{what} {key}" for what, key in named if key)
    if told:
        yield from paragraph(
            told + (f" - not valid: {text(one.gauge_doubt, ENGLISH)}" if one.gauge_doubt else ""), 4, 8
        )
    if one.remark:
        yield from paragraph(f'"{one.remark}"', 4, 8)


def _compared(title: str, rows: Iterable[Compared]) -> Iterator[str]:
    for place, one in enumerate(rows):
        if place == 0:
            yield from ("", title)
        share = "" if one.share is None else f", {one.share:.0%} of the tolerance"
        yield from paragraph(
            f"{one.point}  {one.first:.4g} then {one.last:.4g} {one.unit}: moved {one.moved:+.3g}{share}", 4, 8
        )
