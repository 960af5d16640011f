"""What holds for the whole plant, read from its definition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from enum import StrEnum
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.model import ENGLISH, given
from upkeep.plant.values.planning import PlanningFacts, planning_from
from upkeep.plant.values.shutdowns import Shutdown, shutdown_from
from upkeep.units.shifts import ShiftRule


class SignedWith(StrEnum):
    """What a name under an entry rests on: on its being given, or on a code, password or token that proves it."""

    NAMES_ONLY = "names only"
    CODES = "codes"


@frozen
class PlantFacts:
    """What holds for the whole plant: its name, zone, shifts and the days on which no shift begins.

    ``closed`` are single days of the plant's own; ``holidays`` are public ones by day, with their names in the language
    of the country; ``shutdowns`` are stretches of days.  ``late_hours`` is how long after it happened anybody may still
    tell it; later only the lead does (72: plant default, no source).  ``weights`` say how much a stroke by "hand", at
    "set-up" or run "dry" wears; 1 where nothing is said.  ``overdue_gauge``: what a gauge overdue for calibration
    measures is taken with a "flag", or "refuse"d.  After ``rest_days`` on no press an item has rested and asks for its
    first use.  A repaired fault is watched for ``watch_strokes``; the same symptom on the same item ``repeat_times``
    within ``repeat_strokes`` or ``repeat_days`` asks for its root cause; ``verified_by_fixer``: whoever fixed a fault
    may verify it (plant defaults, no source).  ``rights`` are roles by act, where the plant gives one to others than
    the table of rights does; ``keepers`` are the people who may restore the book.
    ``training`` are kinds of item and ids of tasks on which only those may work who are trained for them; one that ends
    is told so many days before and after (``training_days``; plant default, no source). ``signed_with``: whether names
    are taken as they are given, or proven by codes. At a shared station somebody is known for ``idle_seconds`` after
    the last touch (plant default, no source). ``hints_agreed`` names the agreement by which the lead is told what
    stands out in how work was signed (empty: nobody looks); ``recheck_percent`` of the sign-offs are then drawn for a
    second look. ``lock_removal`` is the plant's own procedure for a lock whose owner is away (empty: none is stated).
    ``hands_over``: each shift is to be accepted by the next.  ``languages`` are those of the plant: the first is that
    of the titles without a language and of the lists nobody in particular prints; the stations are read in it too, or
    in ``station_language``.  ``seals_file`` is a file of seals outside the reach of who keeps the book (empty: none),
    ``time_stamp_authority`` the address of an authority for tokens of time (RFC 3161; empty: none). The names of people
    who left are withheld in what is handed out ``leavers_withheld_after`` days after their last (None: they are kept).
    ``units`` are those lengths, pressures and forces are read in, others as their points say.
    """

    name: str = "unnamed plant"
    zone: str = "UTC"
    shifts: tuple[ShiftRule, ...] = ()
    closed: tuple[date, ...] = ()
    holidays: Mapping[date, str] = field(default_factory=dict)
    shutdowns: tuple[Shutdown, ...] = ()
    undo_seconds: int = 60
    late_hours: int = 72
    call_lead_after: int = 30
    call_manager_after: int = 120
    weights: Mapping[str, float] = field(default_factory=dict)
    overdue_gauge: str = "flag"
    rest_days: int = 90
    watch_strokes: int = 1000
    repeat_times: int = 3
    repeat_strokes: int = 20_000
    repeat_days: int = 14
    verified_by_fixer: bool = False
    rights: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    keepers: tuple[str, ...] = ()
    training: tuple[str, ...] = ()
    training_days: int = 30
    signed_with: str = SignedWith.NAMES_ONLY
    idle_seconds: int = 120
    hints_agreed: str = ""
    recheck_percent: int = 5
    lock_removal: str = ""
    hands_over: bool = True
    languages: tuple[str, ...] = (ENGLISH,)
    station_language: str | None = None
    units: tuple[str, ...] = ()
    seals_file: str = ""
    time_stamp_authority: str = ""
    leavers_withheld_after: int | None = None
    planning: PlanningFacts = field(default_factory=PlanningFacts)

    @property
    def days_off(self) -> frozenset[date]:
        """Every day on which no shift begins: closed days, public holidays and shutdowns."""
        shut = (day for shutdown in self.shutdowns for day in shutdown.days)
        return frozenset((*self.closed, *self.holidays, *shut))


def facts_from(content: Mapping[str, Any]) -> PlantFacts:
    """The plant's facts from their definition."""
    return PlantFacts(
        **given(
            content,
            shifts=lambda shifts: tuple(ShiftRule(**given(shift, days=tuple)) for shift in shifts),
            closed=lambda days: tuple(date.fromisoformat(day) for day in days),
            holidays=lambda named: {date.fromisoformat(day): name for day, name in named.items()},
            shutdowns=lambda shutdowns: tuple(shutdown_from(each) for each in shutdowns),
            rights=lambda given: {act: tuple(roles) for act, roles in given.items()},
            keepers=tuple,
            training=tuple,
            languages=tuple,
            units=tuple,
            planning=planning_from,
        )
    )
