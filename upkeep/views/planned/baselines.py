"""Frozen views of a baseline: the first time of work without history, week by week."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from upkeep.frozen import frozen


class Risk(StrEnum):
    """Why a line comes early in a baseline."""

    LAW = "law"
    CUSTOMER = "customer"
    OVERDUE = "overdue"
    INSPECTION = "inspection"
    OTHER = "other"


@frozen
class BaselineRow:
    """One line of a baseline: the day planned for it, why it has that place, and when it was stated to be done last
    (None: nobody knows); ``fits``: its week has the hours for it."""

    line: str
    item: str
    task: str
    title: str
    owner: str | None
    risk: Risk
    role: str
    minutes: int
    week: str
    day: date
    last_stated: date | None
    fits: bool


@frozen
class BaselineHours:
    """The minutes of one role in one week: planned here, and left for it after what is due anyway and the reserve."""

    week: str
    role: str
    minutes: int
    free: int


@frozen
class Baseline:
    """The first time of everything without history.  ``rows`` by day; ``known`` lines have a first time already."""

    plant: str
    zone: str
    at: datetime
    weeks: tuple[str, ...]
    rows: tuple[BaselineRow, ...]
    hours: tuple[BaselineHours, ...]
    known: int
    hours_known: bool
