"""Sentences about the plan of a week: how far it has come, why a row stands on no shift, the hours there are."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.said import Figure, Said, Value, Weekday, in_turn, minute, said, said_many, term
from upkeep.units.instants import Zone
from upkeep.views.planned.week_plan import Capacity, Mark, PlanRow, RoleHours, Stage, Unplaced, WeekPlan
from upkeep.views.week import FrozenList

OVER = "!"
"""The sign of what is over its hours; the words say it as well."""

_STAGES = {
    Stage.NONE: said("Not planned yet."),
    Stage.PROPOSED: said("Proposed; nobody has agreed to it yet."),
    Stage.CHANGED: said("Changed since it was proposed; not agreed as it stands."),
    Stage.AGREED: said("Agreed as it stands; not frozen yet."),
}

_WHY = {
    Unplaced.HELD: said("held: nothing to plan until it is released"),
    Unplaced.NOBODY: said("nobody may do it: no such role at work, or not trained"),
    Unplaced.WINDOW: said("no shift with somebody who may do it lies in its window"),
    Unplaced.HOURS: said("no hours left in its window"),
    Unplaced.OUT: said("taken off by the lead"),
    Unplaced.NEW: said("not planned yet: it came after the proposal"),
    Unplaced.PROMISED: said("still to be done the week before; no hours are kept for it here"),
}

_MARKS = {Mark.ADDED: said("ADDED after the list was frozen"), Mark.REMOVED: said("REMOVED after the list was frozen"),
          Mark.MOVED: said("MOVED after the list was frozen")}  # fmt: skip

_DECISIONS = {
    "defer": said("decided: deferred"),
    "cancel": said("decided: cancelled"),
    "interval": said("decided: its interval changes"),
    "hours": said("decided: it gets its hours"),
}


def stage_said(plan: WeekPlan, zone: Zone) -> Said:
    """How far the plan of a week has come."""
    if plan.stage is Stage.FROZEN and plan.frozen_at is not None and plan.revision is not None:
        return said(
            "Frozen as {week} revision {revision} by {name}, {at}.",
            week=plan.week, revision=plan.revision, name=plan.frozen_by, at=minute(plan.frozen_at, zone),
        )  # fmt: skip
    if plan.stage is Stage.AGREED and plan.agreed_at is not None:
        agreed = said("Agreed by {name}, {at}.", name=plan.agreed_by, at=minute(plan.agreed_at, zone))
        return in_turn(agreed, _STAGES[Stage.AGREED])
    return _STAGES[plan.stage]


def made_said(plan: WeekPlan) -> Said | None:
    """How good a proposal is; None: there is none."""
    if not plan.made:
        return None
    if not plan.gap:
        return said("The proposal is proven: no other plan costs less by the rules of the house.")
    percent = Figure(100 * plan.gap, ".2f")
    if plan.made == "exact":
        return said("The proposal is at most {percent} % dearer than the best there can be.", percent=percent)
    return said(
        "The proposal was made by the simple rule, as the search found none better in time; it is at most {percent} % "
        "dearer than the best there can be.",
        percent=percent,
    )


def shift_heading(key: str) -> Said:
    """A shift as the heading of what is planned for it."""
    named = occurrence_of(key)
    if isinstance(named, OfShift):
        return said("{day}, {shift}", day=Weekday(named.day), shift=named.shift)
    return said("{shift}", shift=key)


def notes_said(row: PlanRow) -> Iterator[Said]:
    """What there is to know of a row beside what, where, when and who."""
    if row.statutory:
        yield said("LAW")
    if row.late:
        yield said("OVERDUE")
    if row.carried:
        yield said_many("carried over {n} time", "carried over {n} times", n=row.carried)
    if row.asks:
        yield said("WAITS FOR THE LEAD: defer, cancel, change the interval, or give hours")
    elif row.decision is not None:
        yield _DECISIONS[row.decision]
    if row.mark is not Mark.NONE:
        yield _MARKS[row.mark]
    if row.done_at is not None:
        yield said("done")
    if row.why is not None:
        yield _WHY[row.why]


def mark_said(mark: str) -> Said:
    """What became of a row after the list was frozen."""
    return _MARKS[Mark(mark)]


def why_said(why: str) -> Said:
    """Why a row stands on no shift."""
    return _WHY[Unplaced(why)]


def frozen_said(frozen: FrozenList, week: str, zone: Zone) -> Said:
    """By which a printed list is settled, and how much was changed since."""
    settled = said(
        "Frozen as {week} revision {revision} by {name}, {at}.",
        week=week, revision=frozen.revision, name=frozen.by, at=minute(frozen.at, zone),
    )  # fmt: skip
    if not (frozen.added or frozen.removed):
        return settled
    changed = said("Since then {added} added, {removed} removed.", added=frozen.added, removed=frozen.removed)
    return in_turn(settled, changed)


def hours(minutes: int) -> Value:
    """Minutes as hours, to a tenth."""
    return Figure(minutes / 60, ",.1f")


def over_said(row: RoleHours) -> Said:
    """That a role, or a role in an area, is over its hours; or how many are left."""
    left = row.there - row.reserve - row.due
    if row.over:
        return said("{sign} over by {hours} h", sign=OVER, hours=hours(row.over))
    return said("{hours} h left", hours=hours(left))


def role_said(row: RoleHours) -> Said:
    """The name of a role, with its area."""
    role = term(row.role, "role")
    return said("{role}", role=role) if row.area is None else said("{role}, {area}", role=role, area=row.area)


def assumptions_said(capacity: Capacity) -> Iterator[Said]:
    """How hours were counted."""
    yield said(
        "Each job counts with {between} min to get to it and {set_up} min of set-up once a stop; {percent} % of all "
        "hours are kept for breakdowns (plant.toml; plant defaults, no source).",
        between=capacity.between_stops, set_up=capacity.set_up, percent=capacity.reserve_percent,
    )  # fmt: skip
    yield said("A job counts for the role its task names first, a person for their first role.")
    if capacity.untimed:
        yield said_many(
            "{n} job has no minutes and counts {minutes} min (plant default, no source).",
            "{n} jobs have no minutes and count {minutes} min each (plant default, no source).",
            n=capacity.untimed, minutes=capacity.taken_as,
        )  # fmt: skip
    if capacity.shifts_unknown:
        yield said_many(
            "{n} person has no shift named in people.csv and counts on the first of each working day.",
            "{n} people have no shift named in people.csv and count on the first of each working day.",
            n=capacity.shifts_unknown,
        )
    for name, first, last in capacity.away:
        yield said("{name} is absent from {first} to {last}.", name=name, first=Weekday(first), last=Weekday(last))
