"""A handover as a sheet that is signed by both shifts."""

from __future__ import annotations

from upkeep.papers.handover_text import handover_text
from upkeep.said import said
from upkeep.units.instants import Zone
from upkeep.views.handover import Handover
from upkeep.wording.sentences import Reader, lines

_GIVEN = said("Given, told face to face: name ______________  signature ______________  time ______")
_ACCEPTED = said("Accepted, seen together: name ______________  signature ______________  time ______")


def handover_sheet_text(handover: Handover, zone: Zone, reader: Reader) -> str:
    """The sheet of one shift."""
    page = [handover_text(handover, zone, reader).rstrip("\n")]
    for blank in (_GIVEN, _ACCEPTED):
        page += ["", *lines(blank, reader)]
    return "\n".join(page) + "\n"
