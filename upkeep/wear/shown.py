"""Which part's wear a measured point or a setting shows."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.plant.model import Kind, Point

HEIGHT, SLUG, SHUT = "crimp-height", "slug-height", "shut-height"
"""Points by id.  The crimp height is dialled back at set-up; flat while the dial drifts, it hides wear.  The heights of
slug and press are measured without wire and terminal."""

_USUALLY: Mapping[str, Kind] = {
    "slug-height": Kind.CONDUCTOR_PUNCH, "crimp-height": Kind.CONDUCTOR_PUNCH, "crimp-width": Kind.CONDUCTOR_PUNCH,
    "burr": Kind.CONDUCTOR_PUNCH, "tab-burr": Kind.CUT_OFF_BLADE, "dial": Kind.CONDUCTOR_PUNCH,
    "shut-height": Kind.CONDUCTOR_PUNCH, "cam": Kind.INSULATION_PUNCH,
}  # fmt: skip
"""By the id of the point.  Of punch and anvil, which make a height together, it is the punch: it galls, is changed more
often, and so sets the pace (common practice, no source)."""


def part_shown_by(point: Point) -> Kind | None:
    """The kind of part whose wear a point shows: as its definition says, else by its id; None where neither tells."""
    return point.part or _USUALLY.get(point.id)
