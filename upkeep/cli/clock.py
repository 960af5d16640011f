"""The clock of the command line."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> datetime:
    """This moment, in whole seconds of UTC."""
    return datetime.now(UTC).replace(microsecond=0)
