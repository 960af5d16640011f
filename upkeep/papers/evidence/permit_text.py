"""Deviation permits and concessions as text - 80 columns, no colour."""

from __future__ import annotations

from upkeep.papers.frame.frame_rows import proof_said
from upkeep.said import Numeral, Said, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.evidence.permits import PermitLine


def permit_said(permit: PermitLine, zone: Zone) -> Said:
    """A deviation permit: for how much, by whom, how it ended."""
    ended = term(permit.ends, "end of a permit")
    return said(
        "#{entry} {at} {item}: {strokes} by {by} ({proof}): {because}; {used} used at most, {ended}",
        entry=Numeral(permit.entry),
        at=minute(permit.at, zone),
        item=permit.item,
        strokes=in_strokes(permit.strokes),
        by=permit.by,
        proof=proof_said(permit.proof),
        because=permit.because,
        used=permit.used,
        ended=said("{ended} {at}", ended=ended, at=minute(permit.ended_at, zone)) if permit.ended_at else ended,
    )
