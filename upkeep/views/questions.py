"""What is asked of a person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from upkeep.said import Said


@dataclass(frozen=True, slots=True)
class Question:
    """Something the counts leave open: what it is about, since when, and the sentence that asks."""

    about: str
    since: datetime
    asks: Said
