"""Words of which a definition chooses one."""

from __future__ import annotations

from enum import StrEnum


class Way(StrEnum):
    """How strokes are done that no counter shows, or that wear otherwise."""

    HAND = "hand"
    SET_UP = "set-up"
    DRY = "dry"


class Combine(StrEnum):
    """Which of several triggers decides."""

    FIRST = "first"
    LAST = "last"


class OnDayOff(StrEnum):
    """Where a due day moves that falls on a day off."""

    BEFORE = "before"
    AFTER = "after"
    KEEP = "keep"


class Overdue(StrEnum):
    """What becomes of a reading by a gauge that is overdue for calibration or its check block."""

    FLAG = "flag"
    REFUSE = "refuse"
