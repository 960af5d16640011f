"""The ten things of the manager's page in words: each a figure with its base, what stands behind it, what to decide.

Text, PDF and the page for the browser are made from here, so they say the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from upkeep.frozen import frozen
from upkeep.papers.figures.indicator_rows import between_said, hours_said, overdue_said, restored_said, share_said
from upkeep.said import Figure, Join, Said, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes, in_time
from upkeep.views.overview.indicators import LineOver
from upkeep.views.overview.manager import Blocked, ManagerPage, Topic
from upkeep.wording.occurrences import occurrence_said


@frozen
class ManagerRow:
    """One thing: its name and figure, at most a few lines behind it, and what somebody must decide (None: nothing).

    ``series`` has a value for each of the eight weeks (None: not known) of what ``weekly`` names; ``definition`` says
    what the figure means, and stands in a footnote.
    """

    number: int
    name: Said
    figure: Said
    details: tuple[Said, ...]
    decide: Said | None
    weekly: Said
    series: tuple[float | None, ...]
    definition: Said


def manager_rows(page: ManagerPage) -> tuple[ManagerRow, ...]:
    """The ten, in their order."""
    zone = Zone(page.zone)
    makers = (_statutory, _stops, _overdue, _on_time, _faults, _blocked, _hours, _gauges, _changes, _counts)
    rows = []
    for number, (topic, make) in enumerate(zip(Topic, makers, strict=True), 1):
        name, figure, details, decide, weekly, definition = make(page, zone)
        rows.append(ManagerRow(number, name, figure, tuple(details), decide, weekly, page.trend[topic], definition))
    return tuple(rows)


Made = tuple[Said, Said, Iterable[Said], Said | None, Said, Said]


def _statutory(page: ManagerPage, zone: Zone) -> Made:
    late = page.statutory.late
    figure = said("{n} of {lines} lines; it must be 0", n=len(late), lines=page.statutory.lines)
    decide = said(
        "Who does what law or safety asks for, today: {lines}; until then the plant's own procedure and local law "
        "decide whether it may run.",
        lines=listed(one.line for one in late),
    )
    return (
        said("Late by law or for safety"), figure, _overs(late, zone), decide if late else None,
        said("occurrences not on time"), STATUTORY,
    )  # fmt: skip


def _stops(page: ManagerPage, zone: Zone) -> Made:
    stops = page.stops
    figure = said(
        "{n} past of {lines} lines; permits in the week: {permits}; hold lists open: {lists}, {strokes}",
        n=len(stops.past), lines=stops.lines, permits=len(stops.permits), lists=stops.lists_open,
        strokes=in_strokes(stops.strokes_waiting),
    )  # fmt: skip
    permits = (
        said("permit for {item}: {strokes}, by {by} (#{entry})", item=one.item, strokes=in_strokes(one.strokes),
             by=one.by, entry=Figure(one.entry, "d"))
        for one in stops.permits
    )  # fmt: skip
    decide = said("Stop or a deviation permit, signed: {lines}", lines=listed(one.line for one in stops.past))
    lists = said("Who judges the product on {n} open hold lists", n=stops.lists_open)
    return (
        said("Hard stops passed and overridden"), figure, (*_overs(stops.past, zone), *permits),
        decide if stops.past else lists if stops.lists_open else None, said("deviation permits"), STOPS,
    )  # fmt: skip


def _overdue(page: ManagerPage, zone: Zone) -> Made:
    oldest = page.overdue.oldest
    old = [one.line for one in oldest if one.since is not None and (page.at - one.since).days > 7]
    decide = said("Do it, put it off with a reason, or change the interval: {lines}", lines=listed(old))
    return (
        said("Overdue by age"), overdue_said(page.overdue), _overs(oldest, zone), decide if old else None,
        said("occurrences not on time"), OVERDUE,
    )  # fmt: skip


def _on_time(page: ManagerPage, zone: Zone) -> Made:
    areas = sorted(
        page.by_area.items(), key=lambda one: (one[1].percent if one[1].percent is not None else 101, one[0])
    )
    details = (said("{area}: {share}", area=area, share=share_said(share)) for area, share in areas)
    return (
        said("Done on time"), share_said(page.on_time), details, None, said("percent on time"),
        ON_TIME,
    )  # fmt: skip


def _faults(page: ManagerPage, zone: Zone) -> Made:
    faults = page.faults
    figure = said("{n} in the week, {stopped} of them stopped something; open now: {open}", n=faults.week,
                  stopped=faults.stopped, open=faults.open)  # fmt: skip
    details = [
        said("strokes between faults: {between}", between=between_said(faults.between)),
        said("to restoration: {restored}", restored=restored_said(faults.restored)),
    ]
    if faults.repeated:
        again = (
            said("{item} {symptom} {n} times", item=one.item, symptom=term(one.symptom), n=one.times)
            for one in faults.repeated
        )
        details.insert(0, said("came back in 8 weeks: {repeated}", repeated=listed(again, Join.SEMICOLON)))
    worst = faults.repeated[0] if faults.repeated else None
    decide = (
        said("Who finds the cause behind {item}: {symptom}", item=worst.item, symptom=term(worst.symptom))
        if worst
        else None
    )
    return said("Faults and stops"), figure, details, decide, said("faults"), FAULTS


def _blocked(page: ManagerPage, zone: Zone) -> Made:
    by_why = {why: [job for job in page.blocked if job.why is why] for why in Blocked}
    told = listed(said("{why} {n}", why=term(why, "waits for"), n=len(jobs)) for why, jobs in by_why.items() if jobs)
    figure = (
        said("{n}, waiting for: {told}", n=len(page.blocked), told=told) if page.blocked else said("no job is blocked")
    )
    details = (said("{line}: {why}", line=job.line, why=job.says or term(job.why, "waits for")) for job in page.blocked)
    parts = by_why[Blocked.PARTS]
    decide = (
        said("Order or do without: parts for {lines}", lines=listed(job.line for job in parts[:3])) if parts else None
    )
    return said("Blocked jobs"), figure, details, decide, said("jobs interrupted"), BLOCKED


def _hours(page: ManagerPage, zone: Zone) -> Made:
    roles, hours = page.hours.roles, page.hours
    due, there = sum(one.due for one in roles), sum(one.there - one.reserve for one in roles)
    figure = said("{week}: {due} due, {there} there after the reserve", week=hours.week, due=hours_said(due),
                  there=hours_said(there))  # fmt: skip
    over = [one for one in roles if one.over]
    details = [
        said("! {role} over by {over}: {due} due", role=term(one.role, "role"), over=hours_said(one.over),
             due=hours_said(one.due))
        for one in over
    ]  # fmt: skip
    decide = None
    if over:
        decide = said("Give hours or put work off: {roles}", roles=listed(term(one.role, "role") for one in over))
    elif hours.to_decide:
        decide = said("Jobs carried over too often wait for the lead: {n}", n=hours.to_decide)
    return said("Hours of the week to come"), figure, details, decide, said("hours signed"), HOURS


def _gauges(page: ManagerPage, zone: Zone) -> Made:
    gauges = page.gauges
    figure = said("{n} of {all} do not count; due in 30 days: {soon}", n=len(gauges.invalid), all=gauges.number,
                  soon=len(gauges.soon))  # fmt: skip
    details = [
        *(said("{gauge} {title}: does not count", gauge=one.gauge, title=one.title) for one in gauges.invalid),
        *(
            said("{gauge} {title}: until {day}", gauge=one.gauge, title=one.title, day=one.until or "")
            for one in gauges.soon
        ),
    ]
    decide = said("Calibrate or take out of use: {gauges}", gauges=listed(one.gauge for one in gauges.invalid))
    return (
        said("Gauges due"),
        figure,
        details,
        decide if gauges.invalid else None,
        said("gauge work not on time"),
        GAUGES,
    )


def _changes(page: ManagerPage, zone: Zone) -> Made:
    changes = page.changes
    figure = said("intervals or windows changed: {tasks}; put off: {deferred}; cancelled: {cancelled}",
                  tasks=len(changes.tasks), deferred=len(changes.deferrals), cancelled=changes.cancelled)  # fmt: skip
    details = [
        *(
            said("{task}, #{entry}: {fields}", task=one.task, entry=Figure(one.entry, "d"),
                 fields=listed(one.fields, Join.SEMICOLON))
            for one in changes.tasks
        ),
        *(
            said("{line} from {occurrence} to {to} by {by}: {risk}", line=one.line, to=occurrence_said(one.to),
                 occurrence=occurrence_said(one.occurrence), by=one.by, risk=one.risk)
            for one in changes.deferrals
        ),
    ]  # fmt: skip
    decide = said("Agree to what was changed and put off") if changes.tasks or changes.deferrals else None
    return said("Changed and put off"), figure, details, decide, said("changes and deferrals"), CHANGES


def _counts(page: ManagerPage, zone: Zone) -> Made:
    counts = page.counts
    if counts.oldest is None or counts.oldest_at is None:
        figure = said("no press of {presses} has been read", presses=counts.presses)
    else:
        age = in_time((page.at - counts.oldest_at).total_seconds())
        figure = said("{press}, {at}, {age} ago; behind: {behind} of {presses} presses", press=counts.oldest,
                      at=minute(counts.oldest_at, zone), age=age, behind=len(counts.behind),
                      presses=counts.presses)  # fmt: skip
    details = [said("in time in the week: {share}", share=share_said(counts.in_time))]
    if counts.behind:
        details.append(said("behind: {presses}", presses=listed(counts.behind)))
    if counts.never:
        details.append(said("never read: {presses}", presses=listed(counts.never)))
    unread = [*counts.never, *counts.behind]
    decide = said("Who reads {presses}", presses=listed(unread)) if unread else None
    return said("Oldest count"), figure, details, decide, said("percent of counts in time"), COUNTS


def _overs(lines: Sequence[LineOver], zone: Zone) -> Iterator[Said]:
    for one in lines:
        what = said("{line} ({place})", line=one.line, place=one.place)
        since = said("since {at}", at=minute(one.since, zone)) if one.since is not None else None
        over = said("{strokes} over", strokes=in_strokes(one.strokes_over)) if one.strokes_over else None
        yield said("{parts}", parts=listed(part for part in (what, since, over) if part is not None))


STATUTORY = said(
    "Lines that law asks for past their window or stop, of all such lines; counted, so without an interval."
)
STOPS = said(
    "Lines past their hard stop of all in use; deviation permits (ISO 9000, 3.12.6) granted; hold lists with product "
    "that waits for a disposition, and the most strokes on them."
)
OVERDUE = said(
    "Lines past their window or stop of all in use, by days since; strokes past what was due, of lines by strokes."
)
ON_TIME = said(
    "Planned work done before its window closed, of all that fell due and whose window has closed or that was done, by "
    "interval, window and area of then; put off counts by the window before, cancelled as not done; not counted: work "
    "of shifts without strokes or a count, of what rests, and what may still be in time. In brackets Wilson's 95 % "
    "interval. EN 15341: work orders performed as scheduled (nearest, name from memory)."
)
FAULTS = said(
    "Reported in the week; the rest over 8 weeks. In brackets the 90 % interval of strokes between faults, at a "
    "constant rate; restoration in the shifts of the plant (EN 13306, names from memory)."
)
BLOCKED = said("Begun jobs that wait, jobs of the week to come short of parts, and those its plan could not place.")
HOURS = said("Minutes due, ways and set-ups with them, beside the shifts of people less absence and the reserve.")
GAUGES = said("Gauges whose calibration or block check has run out or failed, of all in use; counted.")
CHANGES = said("Signed in the week; what was put off counts by the window it had before.")
COUNTS = said(
    "The press in use whose last count is oldest; behind: more than 24 h of working time without one. In time: no more "
    "than the longest shift and an hour after the count before."
)
