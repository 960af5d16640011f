"""The figures page as plain text: 80 columns, each figure with its numerator, its denominator and its definition."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.compliance import BASE, Share, Verdict
from upkeep.plant.names import Names
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.figures import Answered, ChangedTask, Figures
from upkeep.wording.text import padded, paragraph, visible, wrapped

LISTED = 40
"""Occurrences listed on the page; --json has them all."""

STANDARD = (
    "Standard. The nearest indicator of EN 15341 is the share of scheduled work orders performed as scheduled (name "
    "from memory)."
)
"""What the figure is called where maintenance is compared between plants."""

_NAME = 34


def figures_text(figures: Figures, names: Names) -> str:
    """The page; ``names`` are those of people by id."""
    zone = Zone(figures.zone)
    lines = [*_heading(figures, zone), "", *_shares(figures), "", *_counts(figures), ""]
    lines += [*paragraph(f"Definition. {figures.definition}"), *paragraph(STANDARD), ""]
    lines += [*_late(figures, zone, names), "", *_changes(figures, zone, names)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _heading(figures: Figures, zone: Zone) -> Iterator[str]:
    area = f", {figures.area}" if figures.area else ""
    yield from paragraph(f"Figures - {figures.plant}{area}")
    yield f"{figures.first_day} to {figures.last_day}, as of {zone.minute(figures.at)}"
    yield f"The book began on {figures.began}; figures begin there at the earliest."


def _shares(figures: Figures) -> Iterator[str]:
    yield f"{padded('On time', _NAME)}{share_text(figures.on_time)}"
    if figures.area is None:
        for area, share in figures.by_area.items():
            yield from _named(f"  {area}", share_text(share))
    if figures.statutory.base:
        yield from _named("  required by law", share_text(figures.statutory))
    yield "The 95 % interval is in brackets: with few cases a share says little."


def _named(name: str, said: str) -> Iterator[str]:
    *above, last = [f"  {line}" for line in wrapped(visible(name), _NAME - 4)]
    yield from above
    yield f"{padded(last, _NAME)}{said}"


def share_text(share: Share) -> str:
    """ "82 %, 41 of 50 (69 to 90 %)"; "none of 0" where nothing was asked for."""
    if share.percent is None or share.low is None or share.high is None:
        return "nothing was due"
    of = f"{grouped(share.number)} of {grouped(share.base)}"
    return f"{share.percent:.0f} %, {of} ({share.low:.0f} to {share.high:.0f} %)"


def _counts(figures: Figures) -> Iterator[str]:
    yield "Counted in the base"
    for verdict in BASE:
        yield f"  {padded(verdict, _NAME - 2)}{grouped(figures.counts[verdict]):>7}"
    yield "Not counted"
    for verdict in Verdict:
        if verdict not in BASE:
            yield f"  {padded(verdict, _NAME - 2)}{grouped(figures.counts[verdict]):>7}"
    yield f"  {padded('signed though not required', _NAME - 2)}{grouped(figures.signed_besides):>7}"
    yield f"{padded('Deferrals signed in this period', _NAME)}{grouped(figures.deferrals):>7}"


def _late(figures: Figures, zone: Zone, names: Names) -> Iterator[str]:
    yield "Not on time"
    for answered in figures.late[:LISTED]:
        yield from paragraph(_late_text(answered, zone, names), 2, 4)
    if not figures.late:
        yield "  none"
    if len(figures.late) > LISTED:
        yield f"  and {grouped(len(figures.late) - LISTED)} more (--json)."


def _late_text(answered: Answered, zone: Zone, names: Names) -> str:
    parts = [
        f"{answered.line} ({answered.area}) for {answered.occurrence}, "
        f"due {zone.minute(answered.due_at)}: {answered.verdict}"
    ]
    if answered.done_at is not None and answered.done_by is not None:
        gap = f", {grouped(answered.gap_days)} days after the previous time" if answered.gap_days is not None else ""
        parts.append(
            f"done {zone.minute(answered.done_at)} "
            f"by {names.of(answered.done_by, answered.entry or 0)} (#{answered.entry}){gap}"
        )
    if answered.deferred:
        parts.append("it was deferred")
    if answered.statutory:
        parts.append("required by law")
    return "; ".join(parts)


def _changes(figures: Figures, zone: Zone, names: Names) -> Iterator[str]:
    yield "Intervals and windows changed in this period"
    for change in figures.changes:
        yield from paragraph(_change_text(change, zone, names), 2, 4)
    if not figures.changes:
        yield "  none"


def _change_text(change: ChangedTask, zone: Zone, names: Names) -> str:
    because = f": {change.because}" if change.because else ""
    by = f"{names.of(change.by, change.entry)} (#{change.entry})"
    return f"{change.task}, {zone.minute(change.at)} by {by}{because}. {'; '.join(change.fields)}"
