"""A baseline as text: week by week what is done for the first time, why then, and the hours."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Said, Weekday, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.planned.baselines import Baseline, BaselineRow, Risk
from upkeep.wording.planned.weeks import hours
from upkeep.wording.sentences import Reader, lines

_RISKS = {
    Risk.LAW: said("asked for by law"),
    Risk.CUSTOMER: said("belongs to a customer"),
    Risk.OVERDUE: said("overdue by what was stated"),
    Risk.INSPECTION: said("an inspection"),
    Risk.OTHER: said("no history"),
}


def baseline_text(found: Baseline, reader: Reader) -> str:
    """The rows week by week, each with the reason for its place; the hours of each week before them."""
    page = lines(
        said("{plant} - baseline, {day}", plant=found.plant, day=Zone(found.zone).day(found.at)),
        reader,
    )
    page += [line for sentence in _head(found) for line in lines(sentence, reader)]
    for week in found.weeks:
        rows = [row for row in found.rows if row.week == week]
        if rows:
            page += ["", *lines(_week_said(found, week, len(rows)), reader)]
            page += [line for row in rows for line in lines(_row_said(row), reader, 2, 6)]
    return "\n".join(page) + "\n"


def _head(found: Baseline) -> Iterator[Said]:
    if not found.rows:
        yield said("Nothing to plan: every line has a history, or a day for its first time.")
    else:
        yield said_many(
            "{n} line without history, over {weeks} weeks: what law asks for, what belongs to customers and what is "
            "oldest first.",
            "{n} lines without history, over {weeks} weeks: what law asks for, what belongs to customers and what is "
            "oldest first.",
            n=len(found.rows),
            weeks=len(found.weeks),
        )
    if found.known:
        yield said_many(
            "{n} line has a day for its first time already, and keeps it.",
            "{n} lines have a day for their first time already, and keep it.",
            n=found.known,
        )
    if found.rows and not found.hours_known:
        yield said("Nobody knows the hours there are: enter shifts and people, and they are kept.")
    over = sum(not row.fits for row in found.rows)
    if over:
        yield said_many(
            "{n} line does not fit into the hours there are: take more weeks (--weeks), or more hours.",
            "{n} lines do not fit into the hours there are: take more weeks (--weeks), or more hours.",
            n=over,
        )


def _week_said(found: Baseline, week: str, rows: int) -> Said:
    told = said_many("{week}: {n} line", "{week}: {n} lines", n=rows, week=week)
    for row in (row for row in found.hours if row.week == week):
        told = (
            said("{told}; {role} {hours} h of {free} h left", told=told, role=row.role, hours=hours(row.minutes),
                 free=hours(row.free))
            if found.hours_known
            else said("{told}; {role} {hours} h", told=told, role=row.role, hours=hours(row.minutes))
        )  # fmt: skip
    return told


def _row_said(row: BaselineRow) -> Said:
    told = said(
        "{day}  {line}  {title}, {minutes} min: {risk}",
        day=Weekday(row.day),
        line=row.line,
        title=row.title,
        minutes=row.minutes,
        risk=_RISKS[row.risk],
    )
    if row.last_stated is not None:
        told = said("{told}; stated as done {day}, not verified", told=told, day=row.last_stated)
    return told if row.fits else said("{told}; not enough hours", told=told)
