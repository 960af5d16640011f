"""Frozen view of training that ends."""

from __future__ import annotations

from datetime import date

from upkeep.frozen import frozen


@frozen
class TrainingEnd:
    """Somebody's training for a kind of item or a task ends soon, or ended a short time ago: who, by id and name, for
    what, the last day it holds, how many days from now that is (less than 0: it is over), and the day from which the
    next one holds (None: none is entered)."""

    person: str
    name: str
    work: str
    last_day: date
    days: int
    again: date | None
