"""Frozen views of a characteristic over many checks: its charts, its capability, its pulls."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.quality.capability import Capable, Pulled
from upkeep.quality.control import Control, Measured
from upkeep.said import Said


@frozen
class Charted:
    """A characteristic on its charts.  ``unit`` is that of the points; ``left_out`` says which checks are not on them,
    and why.  ``lower`` and ``upper`` are the limits of the drawing where all checks share them."""

    item: str
    point: str
    unit: str
    of_nominal: bool
    crimps: tuple[str, ...]
    checks: tuple[Measured, ...]
    lower: float | None
    upper: float | None
    control: Control
    left_out: tuple[Said, ...]


@frozen
class CapabilityReport:
    """The capability of a characteristic for one crimp, from so many checks under the limits that hold now."""

    item: str
    point: str
    crimp: str | None
    unit: str
    lower: float | None
    upper: float | None
    checks: int
    since: datetime
    until: datetime
    found: Capable
    left_out: tuple[Said, ...]


@frozen
class PullReport:
    """The pulls of one crimp on an item: of the last check, and of all checks looked at."""

    item: str
    crimp: str | None
    size: str
    table: str
    checks: int
    since: datetime
    until: datetime
    last: Pulled
    all: Pulled
    left_out: tuple[Said, ...]
