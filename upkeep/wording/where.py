"""How an item is where it is, in words."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.said import Said, said
from upkeep.views.overview.whereabouts import WhereStanding

STANDINGS: Mapping[WhereStanding, Said] = {
    WhereStanding.ON_PRESS: said("on a press"),
    WhereStanding.INSIDE: said("off the press"),
    WhereStanding.PUT_AWAY: said("put away"),
    WhereStanding.IN_PIECES: said("in pieces"),
    WhereStanding.RESTING: said("out of use"),
    WhereStanding.HELD: said("HELD: must not run"),
}
"""How an item is there."""
