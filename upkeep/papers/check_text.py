"""Gauges and set-ups as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.plant.names import Names
from upkeep.said import Begun, Figure, Numeral, Said, Value, listed, minute, said, said_as, term
from upkeep.units.figures import decimals_of, exact, percent
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, InUnits, UnitName, measured
from upkeep.views.checks import (
    CheckRow,
    Compared,
    Flip,
    GaugeCalibration,
    GaugeCare,
    GaugeDoubt,
    GaugeLine,
    GaugeReport,
    SetUp,
)
from upkeep.wording.holds import hold_said
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, label, lines, text
from upkeep.wording.text import paragraph


def gauges_text(gauges: Iterable[GaugeLine], reader: Reader) -> str:
    """The register of gauges, those that are not valid first."""
    page: list[str] = []
    for gauge in gauges:
        about = said(
            "{title} ({class_}), {place}: {note}",
            title=gauge.title,
            class_=gauge.gauge_class,
            place=gauge.place,
            note=gauge.note,
        )
        page += paragraph(f"{gauge.id:<8}{text(about, reader)}", 0, 8)
    return "\n".join(page or lines(said("There are no gauges in this book."), reader)) + "\n"


def gauge_text(report: GaugeReport, zone: Zone, names: Names, reader: Reader) -> str:
    """A gauge: whether it is valid, what vouches for it, who uses it, what it casts doubt on."""
    page = [row for line in _gauge_head(report, zone) for row in lines(line, reader)]
    page.append("")
    for care in report.cares:
        why = sentence(care.reasons, zone, names, reader)
        page += paragraph(f"{text(_care(care, zone), reader)} {why}", 0, 2)
    if not report.cares:
        page += lines(said("No task in this plant checks gauges."), reader)
    for found in report.calibrations:
        page += lines(_certificate(found, report.unit, zone), reader, 0, 2)
    page += ["", *lines(_users(report, zone), reader, 0, 2)]
    for doubt in report.doubts:
        page += ["", *_doubt(doubt, zone, reader)]
    return "\n".join(page) + "\n"


def _gauge_head(report: GaugeReport, zone: Zone) -> Iterator[Said]:
    yield said(
        "{id}  {title} ({class_})  {at}",
        id=report.id,
        title=report.title,
        class_=report.gauge_class,
        at=minute(report.at, zone),
    )
    if not report.held:
        yield said("{note}", note=Begun(report.note))
        return
    yield said("Held: {why}", why=hold_said(report.held))
    if not report.in_order:
        yield report.note


def _care(care: GaugeCare, zone: Zone) -> Said:
    if not care.done_at:
        return said("{task}: never done in this book.", task=care.title)
    done = minute(care.done_at, zone)
    return said("{task}: done {at} by {by}.", task=care.title, at=done, by=care.done_by or "")


def _certificate(found: GaugeCalibration, unit: str, zone: Zone) -> Said:
    return said(
        "Certificate {certificate} of {laboratory}, {at} by {by} (#{entry}): as received {received}, as left {left}, "
        "uncertainty {uncertainty}, good until {day}.",
        certificate=found.certificate,
        laboratory=found.laboratory,
        at=minute(found.at, zone),
        by=found.by,
        entry=Numeral(found.entry),
        received=_error(found.received, unit),
        left=_error(found.left, unit),
        uncertainty=measured(found.uncertainty, unit) if unit else Figure(found.uncertainty),
        day=found.due,
    )


def _users(report: GaugeReport, zone: Zone) -> Said:
    used = [
        said("{name} {n} (last {at})", name=user.name, n=user.entries, at=minute(user.last_at, zone))
        for user in report.users
    ]
    users: Value = listed(used) if used else said("nobody")
    if report.users_since:
        since = minute(report.users_since, zone)
        return said("Measured with it since its last good check, {since}: {users}.", since=since, users=users)
    return said("Measured with it in this book: {users}.", users=users)


def _error(value: float, unit: str) -> Value:
    """An error with its sign, ``+0.004 mm``; without a unit where a gauge has several."""
    if not unit:
        return f"{'+' if value > 0 else ''}{exact(value)}"
    error = said("{value} {unit}", value=Amount(value, unit, signed=True), unit=UnitName(unit))
    return said("{error}", error=InUnits(error, unit))


def _doubt(doubt: GaugeDoubt, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(_found(doubt, zone), reader)
    span = said(
        "The error may have begun at any time: everything it measured from {since} to {until} is in doubt.",
        since=said("its last good check {at}", at=minute(doubt.since, zone))
        if doubt.since
        else said("when it came into this book"),
        until=said("its calibration {at}", at=minute(doubt.until, zone))
        if doubt.until
        else said("now (not calibrated since)"),
    )
    yield from lines(span, reader, 0, 2)
    bad = [flip for flip in doubt.flips if not flip.good_now]
    good = [flip for flip in doubt.flips if flip.good_now]
    counted = said(
        "{n} results, {passed} passed, {unjudged} without a limit. With the error taken off, {bad} of those passed "
        "would fail, {good} of those failed would pass.",
        n=doubt.results,
        passed=doubt.passed,
        unjudged=doubt.unjudged,
        bad=len(bad),
        good=len(good),
    )
    yield from lines(counted, reader, 0, 2)
    for title, flips in ((said("Passed, but would fail"), bad), (said("Failed, but would pass"), good)):
        if flips:
            yield from lines(title, reader)
            for flip in flips:
                yield from _flip(flip, zone, reader)
    yield from _to_do_again(doubt, zone, reader)


def _found(doubt: GaugeDoubt, zone: Zone) -> Said:
    values: dict[str, Value] = {
        "off": measured(abs(doubt.off), doubt.unit),
        "at": minute(doubt.found_at, zone),
        "by": doubt.found_by,
        "entry": Numeral(doubt.entry),
    }
    if doubt.off > 0:
        return said("FOUND TO READ {off} TOO HIGH {at} by {by} (#{entry})", **values)
    return said("FOUND TO READ {off} TOO LOW {at} by {by} (#{entry})", **values)


def _to_do_again(doubt: GaugeDoubt, zone: Zone, reader: Reader) -> Iterator[str]:
    if doubt.tasks:
        yield from lines(said("Work signed with its readings; in doubt until it is done again"), reader)
    for task in doubt.tasks:
        signed = said(
            "{line} {at} by {by} (#{entry})",
            line=task.line,
            at=minute(task.at, zone),
            by=task.by,
            entry=Numeral(task.entry),
        )
        yield from lines(signed, reader, 2, 4)
    if doubt.people:
        tell = said("Tell: {people}. Quality judges the risk for what was shipped.", people=listed(doubt.people))
        yield from lines(tell, reader, 0, 2)


def _flip(flip: Flip, zone: Zone, reader: Reader) -> Iterator[str]:
    where = said("{item}", item=flip.item)
    if flip.press:
        where = said("{where} on {press}", where=where, press=flip.press)
    if flip.order:
        where = said("{where}, order {order}", where=where, order=flip.order)
    result = said(
        "#{entry} {at} {where}: {point} {values} by {by}",
        entry=Numeral(flip.entry),
        at=minute(flip.at, zone),
        where=where,
        point=flip.point,
        values=listed(map(Figure, flip.values)),
        by=flip.by,
    )
    yield from lines(result, reader, 2, 4)
    if flip.since is not None:
        since = said("suspect since {since}: {why}", since=minute(flip.since, zone), why=flip.since_why or "")
        yield from lines(since, reader, 4, 6)


def set_up_text(set_up: SetUp, zone: Zone, reader: Reader) -> str:
    """A set-up as one page."""
    page = [row for line in _set_up_head(set_up, zone) for row in lines(line, reader)]
    for row in set_up.checks:
        page += ["", *check_rows(row, zone, reader)]
    page += _compared(said("First piece and last piece"), set_up.first_to_last, reader)
    page += _compared(said("As found and as left"), set_up.found_to_left, reader)
    if set_up.missing:
        page += ["", *lines(said("Not in the book: {missing}.", missing=listed(set_up.missing)), reader)]
    return "\n".join(page) + "\n"


def _set_up_head(set_up: SetUp, zone: Zone) -> Iterator[Said]:
    yield said(
        "SET-UP  {item} {title}  on {press}",
        item=set_up.item,
        title=set_up.title,
        press=set_up.press or said("no press"),
    )
    since = minute(set_up.since, zone)
    yield (
        said("{since} to {until}", since=since, until=minute(set_up.until, zone))
        if set_up.until
        else said("{since} on, still running", since=since)
    )
    yield said(
        "crimp {crimps}   order {orders}",
        crimps=listed(set_up.crimps) if set_up.crimps else "-",
        orders=listed(set_up.orders) if set_up.orders else "-",
    )


def check_rows(row: CheckRow, zone: Zone, reader: Reader) -> Iterator[str]:
    """One check: when, by whom, its verdict; below that its values with the limits of then, and what it names."""
    head = said(
        "{at}  {by}  #{entry}  {verdict}",
        at=minute(row.at, zone),
        by=row.by,
        entry=Numeral(row.entry),
        verdict=_verdict(row),
    )
    yield from paragraph(f"{label(term(row.occasion, 'occasion'), 10, reader)}{text(head, reader)}")
    for line in (*_points(row), *_beside(row)):
        yield from lines(line, reader, 4, 8)


def _verdict(row: CheckRow) -> Said:
    if row.failed:
        return said("OUT: {points}", points=listed(row.failed))
    return said_as("check", "good") if row.limits or row.looks else said("recorded")


def _points(row: CheckRow) -> Iterator[Said]:
    limits, units = {key: (lower, upper) for key, lower, upper in row.limits}, dict(row.units)
    for key, values in row.points:
        unit = units.get(key, "")
        form = f".{decimals_of(values)}f"  # 1.180 beside 1.181: the step of the gauge
        readings = said("{values}", values=listed(Amount(value, unit, form) for value in values))
        if unit:
            readings = said("{values} {unit}", values=readings, unit=UnitName(unit))
        if limits.get(key, (None, None)) != (None, None):
            yield said(
                "{point}  {readings}  ({limits})", point=key, readings=readings, limits=_bounds(*limits[key], unit)
            )
        else:
            yield said("{point}  {readings}", point=key, readings=readings)


def _bounds(lower: float | None, upper: float | None, unit: str) -> Said:
    if lower is None:
        return said("at most {upper}", upper=Amount(upper or 0.0, unit))
    if upper is None:
        return said("at least {lower}", lower=Amount(lower, unit))
    return said("{low} to {high}", low=Amount(lower, unit), high=Amount(upper, unit))


def _beside(row: CheckRow) -> Iterator[Said]:
    if row.looks:
        good, bad = said_as("look", "good"), said_as("look", "BAD")
        looks = [said("{look} {answer}", look=key, answer=good if well else bad) for key, well in row.looks]
        yield said("{looks}", looks=listed(looks))
    if row.broke:
        broke = said("broke: {how}", how=listed(map(term, row.broke)))
        yield said("{broke}; by {table}", broke=broke, table=row.table) if row.table else broke
    named = listed(_named(row))
    if named.values:
        yield (
            said("{named} - not valid: {why}", named=named, why=row.gauge_doubt)
            if row.gauge_doubt
            else said("{named}", named=named)
        )
    if row.remark:
        yield said('"{remark}"', remark=row.remark)


def _named(row: CheckRow) -> Iterator[Said]:
    if row.gauge:
        yield said("gauge {gauge}", gauge=row.gauge)
    if row.reel:
        yield said("reel {reel}", reel=row.reel)
    if row.wire:
        yield said("wire lot {wire}", wire=row.wire)
    if row.order:
        yield said("order {order}", order=row.order)


def _compared(title: Said, rows: Iterable[Compared], reader: Reader) -> Iterator[str]:
    for place, row in enumerate(rows):
        if place == 0:
            yield from ("", *lines(title, reader))
        moved = said(
            "{point}  {first} then {last} {unit}: moved {moved} {unit}",
            point=row.point,
            first=Amount(row.first, row.unit, f",.{row.decimals}f"),
            last=Amount(row.last, row.unit, f",.{row.decimals}f"),
            unit=UnitName(row.unit),
            moved=Amount(row.moved, row.unit, f",.{row.decimals}f", signed=True),
        )
        if row.share is not None:
            moved = said("{moved}, {share} of the tolerance", moved=moved, share=percent(row.share))
        yield from lines(moved, reader, 4, 8)
