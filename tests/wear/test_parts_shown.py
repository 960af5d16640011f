"""Whose wear a point shows: its definition says it, or it is usual in a crimp shop (common practice, no source)."""

from __future__ import annotations

import pytest

from upkeep.plant.model import Kind, Point
from upkeep.quality.settings import SETTINGS
from upkeep.wear.shown import part_shown_by


@pytest.mark.parametrize(
    ("point", "part"),
    [
        ("slug-height", Kind.CONDUCTOR_PUNCH),
        ("tab-burr", Kind.CUT_OFF_BLADE),
        ("cam", Kind.INSULATION_PUNCH),
        ("twist", None),
    ],
)
def test_the_usual_points_show_a_part_without_being_told(point: str, part: Kind | None) -> None:
    """The dial and the heights show the conductor punch, burrs of the tab the blade; of another point nobody knows."""
    assert part_shown_by(Point(point, point.title(), "mm")) is part


def test_a_definition_has_the_last_word() -> None:
    """A plant that measures the anvil's height says so."""
    assert part_shown_by(Point("slug-height", "Slug", "mm", part=Kind.CONDUCTOR_ANVIL)) is Kind.CONDUCTOR_ANVIL


def test_every_setting_shows_a_part() -> None:
    """Settings that drift make up for wear, and it is said of which part."""
    assert all(part_shown_by(point) is not None for point in SETTINGS.values())
