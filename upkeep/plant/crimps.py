"""What is crimped: terminals on wires with their limits, and the tables of the pull forces they must bear."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.model import Point, given, points_from
from upkeep.plant.wire import sizes_in

PULL = "pull"
"""The point of a crimp that is the pull force, in N; how each piece broke is told with it."""


@frozen
class Crimp:
    """A terminal on a wire, run with the die sets of a family: what is measured and looked at, with its limits.

    ``size`` is the wire size as the drawing gives it ("0.5 mm2", "20 AWG"), never converted; ``looks`` what is judged
    by eye; ``pull_table`` the table its smallest pull force comes from, where no point says it.  ``source`` is the
    drawing the limits come from.
    """

    id: str
    title: str
    family: str
    terminal: str = ""
    wire: str = ""
    size: str = ""
    points: tuple[Point, ...] = ()
    looks: tuple[str, ...] = ()
    pull_table: str | None = None
    source: str = "plant default, no source"

    @property
    def words(self) -> tuple[str, ...]:
        """What it says to whoever checks it: titles of its points, what measures them, what is judged by eye."""
        gauges = (point.gauge_class for point in self.points if point.gauge_class is not None)
        return (*(point.title for point in self.points), *gauges, *self.looks)


@frozen
class PullTable:
    """Smallest pull forces in N by wire size as the table gives it, typed in from a copy the plant holds.

    ``edition`` and ``source`` name the copy, ``checked_by`` the person of quality who compared it.
    """

    id: str
    title: str
    edition: str
    forces: Mapping[str, float]
    source: str
    checked_by: str | None = None


def smallest_force(forces: Mapping[str, float], size: str) -> float | None:
    """What a table of forces in N asks of a wire size as the drawing gives it; None: the table has not that size.

    Where two sizes are written together, either may stand in the table; nothing is converted.
    """
    named = {size, *(same.text for same in sizes_in(size))} if size else set()
    return next((force for key, force in forces.items() if key in named), None)


def crimp_from(content: Mapping[str, Any]) -> Crimp:
    """A crimp from its definition; raises ValueError for a wire size nobody can read."""
    return Crimp(**given(content, points=points_from, looks=tuple, size=_size))


def _size(text: str) -> str:
    sizes_in(text)
    return text


def pull_table_from(content: Mapping[str, Any]) -> PullTable:
    """A table of pull forces from its definition."""
    return PullTable(**content)
