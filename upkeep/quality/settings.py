"""The settings of a crimp that are kept beside what is measured on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from upkeep.plant.crimps import Crimp
from upkeep.plant.model import Point

SETTINGS: Mapping[str, Point] = {
    "dial": Point("dial", "Dial of the crimp height", "step"),
    "cam": Point("cam", "Cam of the insulation crimp", "step"),
    "shut-height": Point("shut-height", "Shut height of the press", "mm"),
}
"""What is written down while setting besides what is measured; a crimp or a task may say more of them (steps, limits).

A dial that hides wear is dialled back at each changeover: only the settings show it.
"""


def unit_of_point(point: str, crimps: Iterable[Crimp]) -> str:
    """The unit of a characteristic; empty where the crimps of the plant do not agree in one."""
    points = [*(own for crimp in crimps for own in crimp.points), *SETTINGS.values()]
    units = {each.unit for each in points if each.id == point}
    return units.pop() if len(units) == 1 else ""
