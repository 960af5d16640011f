"""Stretches of days on which a plant stands still."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Any

from upkeep.frozen import frozen


@frozen
class Shutdown:
    """Days on which the whole plant stands still, from the first to the last, both included."""

    start: date
    end: date
    name: str

    @property
    def days(self) -> Iterator[date]:
        """Each day of it, in order."""
        length = (self.end - self.start).days + 1
        return (self.start + timedelta(days=passed) for passed in range(length))


def shutdown_from(content: Mapping[str, Any]) -> Shutdown:
    """A shutdown from its definition."""
    return Shutdown(date.fromisoformat(content["from"]), date.fromisoformat(content["to"]), content["title"])
