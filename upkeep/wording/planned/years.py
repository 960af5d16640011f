"""Sentences about the year ahead: what was played, what it assumes, what a change does."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Figure, Said, Value, said, said_many, term
from upkeep.units.figures import chance_text
from upkeep.units.quantities import in_strokes
from upkeep.views.planned.year import FamilyRisk, PolicyChange, Range, WhatIf, YearAhead


def change_said(change: PolicyChange) -> Said:
    """What a policy changes."""
    if change.what == "every":
        return said("{task} every {interval}", task=change.name, interval=change.value)
    if change.what == "strokes":
        return said("{task} every {strokes} strokes", task=change.name, strokes=change.value)
    if change.what == "hours":
        return said("{hours} h a week of {role}", hours=change.value, role=term(change.name, "role"))
    return said("{number} of {spare} on the shelf", number=change.value, spare=change.name)


def range_said(found: Range, form: str = ",.0f") -> Said:
    """A mean with its spread."""
    return said("{mean} ({low} to {high})", mean=Figure(found.mean, form), low=Figure(found.low, form),
                high=Figure(found.high, form))  # fmt: skip


def assumed_said(year: YearAhead) -> Iterator[Said]:
    """What a played year takes for granted."""
    yield said(
        "Played {runs} times with seed {seed}, {days} working days from {day}: the mean, and in brackets what 9 of 10 "
        "runs lie between.",
        runs=year.runs, seed=year.seed, days=year.days, day=year.first_day,
    )  # fmt: skip
    yield said_many(
        "{n} line is played; work of every shift ({care} lines) takes its share of each shift first.",
        "{n} lines are played; work of every shift ({care} lines) takes its share of each shift first.",
        n=year.lines, care=year.shift_care,
    )  # fmt: skip
    yield said(
        "Every item runs on each working day as fast as in its last 20, with their scatter; orders, absences and days "
        "off are left out.",
    )
    if year.unpaced:
        yield said_many(
            "{n} line by strokes has no rate yet and comes back by days alone, or not at all.",
            "{n} lines by strokes have no rate yet and come back by days alone, or not at all.",
            n=year.unpaced,
        )
    yield said(
        "A job is done by the role its task names first, what law asks for before all, then what has waited longest; "
        "{percent} % of all hours are kept for breakdowns.",
        percent=year.reserve_percent,
    )
    for role, hours in year.role_hours:
        yield said("{role}: {hours} h a week for planned work.", role=term(role, "role"), hours=Figure(hours, ",.1f"))
    yield said_many(
        "{n} part in use wears by the life of its family; of {unknown} nothing is known (5 failures are needed), and "
        "they never fail here.",
        "{n} parts in use wear by the lives of their families; of {unknown} nothing is known (5 failures are needed), "
        "and they never fail here.",
        n=year.parts, unknown=year.unknown_lives,
    )  # fmt: skip
    if year.parts:
        yield said("An inspection finds nothing before it fails here: how often one looks changes the hours alone.")
    if year.stated_shape is not None:
        yield said("Lives have the shape {shape}, as stated.", shape=Figure(year.stated_shape, "g"))
    if not year.currency:
        yield said("Money is not told: plant.toml gives no costs.")


def hours_said(found: WhatIf) -> Said:
    """The hours a week, now and then."""
    more = found.hours_then - found.hours_now
    return said(
        "{now} h a week now, {then} h a week then: {more} h.",
        now=Figure(found.hours_now, ",.1f"), then=Figure(found.hours_then, ",.1f"), more=Figure(more, "+,.1f"),
    )  # fmt: skip


def interval_said(interval: str, by_strokes: bool) -> Value:
    """An interval as it was given."""
    return in_strokes(int(interval)) if by_strokes and interval.isdecimal() else interval


def risk_said(risk: FamilyRisk) -> Said:
    """The chance that a part fails within one interval, now and then."""
    return said(
        "{family}, {kind}: {now} now, {then} then (from {failures} failures).",
        family=risk.family, kind=term(risk.kind, "kind"), now=chance_text(risk.now), then=chance_text(risk.then),
        failures=risk.failures,
    )  # fmt: skip
