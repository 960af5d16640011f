"""A clock that moves when a test says so."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass
class Clock:
    """Stands still until it is moved."""

    at: datetime

    def __call__(self) -> datetime:
        return self.at

    def forward(self, seconds: float) -> None:
        """Moves on."""
        self.at += timedelta(seconds=seconds)
