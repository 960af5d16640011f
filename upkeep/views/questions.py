"""What is asked of a person."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class Question:
    """Something the counts leave open: what it is about, since when, and the sentence that asks."""

    about: str
    since: datetime
    asks: Said


@frozen
class Disputed:
    """A reading that later counts say is wrong: its number and its line, and the lines of the counts kept against
    it."""

    entry: int
    line: str
    kept: tuple[str, ...]
