"""What stands at the end of the weekly due list: its hours, what waits for the lead, its signs, its signature."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from upkeep.papers.week.week_facts import Near, hands_said
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.said import Join, Said, Value, in_turn, listed, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.board import day_due
from upkeep.views.week import Stands, WeekList, WeekRow
from upkeep.wording.naming import names_said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.training import training_said

SIGNATURE = said("Signed: what is ticked was done as written. Name ____________  date ________  time _____")

_SIGNS = said(
    "kit = bring the parts kit; LAW = required by law; est. = strokes partly estimated; OVERDUE = past its time; "
    "HELD = must not run until released; STOP = must not run until done."
)


def work_said(week: WeekList) -> Said:
    """How much work the list is, in working hours; jobs without minutes are counted apart."""
    minutes = sum(row.minutes for row in week.rows)
    untimed = sum(1 for row in week.rows if not row.minutes)
    parts = [said_many("{n} job", "{n} jobs", n=len(week.rows))]
    if minutes:
        parts.append(said("{hours} of work", hours=_hours(minutes)))
    if untimed:
        parts.append(said("{n} without minutes", n=untimed))
    return said("{parts}", parts=listed(parts))


def hands_legend(reader: Reader) -> Said:
    """What the words for hands mean, and who decides."""
    meanings = (
        said("{word} = {meaning}", word=hands_said(energy), meaning=_inside(text(control, reader)))
        for energy, control in CONTROL.items()
    )
    return in_turn(said("{meanings}.", meanings=listed(meanings, Join.SEMICOLON)), LOCAL_LAW)


def notes_said(week: WeekList, near: Near) -> Iterator[Said]:
    """The sentences at the end of the list, each on lines of its own."""
    if week.rows:
        yield said("Hours by day: {days}.", days=listed(_by_day(week, near), Join.SEMICOLON))
        yield said("Hours by area: {areas}.", areas=listed(_by_area(week.rows), Join.SEMICOLON))
    if week.waiting:
        yield said(
            "Waiting to be seen by the lead: {n} ({items}); 'strokebook questions' says what.",
            n=len(week.waiting),
            items=listed(dict.fromkeys(question.about for question in week.waiting)),
        )
    yield from map(training_said, week.training)
    yield in_turn(_SIGNS, not_listed(week), names_said(week.signed_with))


def not_listed(week: WeekList) -> Said:
    """What a list leaves out."""
    return said(
        "Work of every shift ({n} lines now open) is signed at the presses and not listed.", n=week.left_to_rounds
    )


def _by_day(week: WeekList, near: Near) -> Iterator[Said]:
    """The work that can be done, by the day it is due: what is late or due now counts on the first day of the list."""
    zone = Zone(week.zone)
    begins = min(max(week.first_day, zone.day(week.printed_at)), week.last_day)
    minutes: dict[date, float] = defaultdict(float)
    by_count = apart = 0.0
    for row in week.rows:
        day = day_due(row, zone)
        if row.stands is not Stands.WALK:
            apart += row.minutes
        elif day is None:
            by_count += row.minutes
        else:
            minutes[min(max(day, begins), week.last_day)] += row.minutes
    for day in sorted(minutes):
        yield said("{day}: {hours}", day=near.day(day), hours=_hours(minutes[day]))
    if by_count:
        yield said("by count or now: {hours}", hours=_hours(by_count))
    if apart:
        yield said("held, waiting or far: {hours}", hours=_hours(apart))


def _by_area(rows: tuple[WeekRow, ...]) -> Iterator[Said]:
    minutes: dict[str, float] = defaultdict(float)
    for row in rows:
        minutes[row.area] += row.minutes
    for area in sorted(minutes):
        yield said("{area}: {hours}", area=area, hours=_hours(minutes[area]))


def _hours(minutes: float) -> Value:
    hours, rest = divmod(round(minutes), 60)
    return said("{hours} h {minutes} min", hours=hours, minutes=rest)


def _inside(sentence: str) -> str:
    return f"{sentence[:1].lower()}{sentence[1:].rstrip('.')}"
