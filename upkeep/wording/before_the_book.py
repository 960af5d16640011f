"""What is said of the time before a book: work stated to be done, and its first time in this book."""

from __future__ import annotations

from upkeep.due.reasons import PlannedFirst, StatedDone
from upkeep.said import DayOf, Numeral, Said, Weekday, said
from upkeep.units.instants import Zone


def stated_done_said(reason: StatedDone, zone: Zone, name: str) -> Said:
    """ "stated as done 2026-02-10 by Eva Example (#812), not verified"."""
    doubt = (
        said("not verified")
        if reason.lacks is None
        else said("does not count without a {lacking}", lacking=reason.lacks)
    )
    return said(
        "stated as done {day} by {name} (#{entry}), {doubt}",
        day=DayOf(reason.at, zone),
        name=name,
        entry=Numeral(reason.entry),
        doubt=doubt,
    )


def planned_first_said(reason: PlannedFirst) -> Said:
    """ "due on Fri 2026-06-12: planned in the baseline (#40), for nobody knows when it was done before this book"."""
    if reason.is_stated:
        return said(
            "due on {due}: planned in the baseline (#{entry}) as its first time in this book",
            due=Weekday(reason.due),
            entry=Numeral(reason.entry),
        )
    return said(
        "due on {due}: planned in the baseline (#{entry}), for nobody knows when it was done before this book",
        due=Weekday(reason.due),
        entry=Numeral(reason.entry),
    )
