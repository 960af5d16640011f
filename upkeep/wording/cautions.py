"""What is read before hands go in, as every page and screen opens it."""

from __future__ import annotations

from collections.abc import Iterable

from upkeep.said import Join, Said, listed, said


def caution(cautions: Iterable[Said]) -> Said:
    """The cautions as one paragraph, their word first."""
    return said("CAUTION. {cautions}", cautions=listed(cautions, Join.SPACE))
