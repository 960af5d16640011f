"""Deviation permits and concessions as text - 80 columns, no colour."""

from __future__ import annotations

from upkeep.papers.frame.frame_rows import proof_said
from upkeep.said import Numeral, Said, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.evidence.permits import Concession, PermitLine, Permits
from upkeep.wording.sentences import Reader, lines, text


def permits_text(found: Permits, zone: Zone, reader: Reader) -> str:
    """Leave that was given: to run on, and for what was made already."""
    page = [text(said("DEVIATION PERMITS AND CONCESSIONS"), reader), *lines(_span(found, zone), reader)]
    page += ["", *lines(said("Deviation permits (ISO 9000:2015, 3.12.6): leave to run on"), reader)]
    for permit in found.permits:
        page += lines(permit_said(permit, zone), reader, 2, 4)
    if not found.permits:
        page += lines(said("Nothing in the book."), reader, 2)
    page += ["", *lines(said("Concessions (ISO 9000:2015, 3.12.5): suspect product that was released"), reader)]
    for concession in found.concessions:
        page += lines(_concession(concession, zone), reader, 2, 4)
    if not found.concessions:
        page += lines(said("Nothing in the book."), reader, 2)
    return "\n".join(page) + "\n"


def _span(found: Permits, zone: Zone) -> Said:
    last = minute(found.last, zone)
    if found.first is None:
        return said("All by {at}.", at=last)
    return said("{since} to {until}", since=minute(found.first, zone), until=last)


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


def _concession(one: Concession, zone: Zone) -> Said:
    told = said(
        "#{entry} {at} {item} on {press}, hold list #{list}: {how} by {by} ({proof}): {because}",
        entry=Numeral(one.entry),
        at=minute(one.at, zone),
        item=one.item,
        press=one.press,
        list=Numeral(one.list),
        how=term(one.how, "disposition"),
        by=one.by,
        proof=proof_said(one.proof),
        because=one.because,
    )
    if one.strokes is not None:
        told = said("{told}; {strokes}", told=told, strokes=in_strokes(one.strokes))
    became = listed(said("{n} {how}", n=n, how=term(how, "disposition")) for how, n in one.pieces)
    return said("{told}; {became}", told=told, became=became) if one.pieces else told
