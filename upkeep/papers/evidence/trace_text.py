"""A trace as text: set-up by set-up, what was made, how it was set and checked - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.check_text import set_up_text
from upkeep.said import Numeral, Said, in_turn, listed, minute, said, said_many, term
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, UnitName
from upkeep.units.quantities import in_strokes
from upkeep.views.checks import CheckRow
from upkeep.views.evidence.trace import PartIn, Trace, Traced
from upkeep.views.suspect import Quantity
from upkeep.wording.sentences import Reader, lines, text


def trace_text(trace: Trace, zone: Zone, reader: Reader, *, whole: bool = False) -> str:
    """The set-ups something belongs to, newest first; ``whole``: each as its own page with every check."""
    page = [text(_title(trace), reader), *lines(_found(trace, zone), reader)]
    for traced in trace.set_ups:
        page += ["", *_rows(traced, zone, reader)]
        if whole:
            page += ["", *set_up_text(traced.set_up, zone, reader).splitlines()]
    hidden = trace.total - len(trace.set_ups)
    if hidden:
        page += ["", *lines(said("... and {n} older ones (--limit).", n=hidden), reader)]
    return "\n".join(page) + "\n"


def _title(trace: Trace) -> Said:
    what = term(trace.what, "traced")
    if trace.title:
        return said("TRACE  {what} {name}, {title}", what=what, name=trace.name, title=trace.title)
    return said("TRACE  {what} {name}", what=what, name=trace.name)


def _found(trace: Trace, zone: Zone) -> Said:
    found = said_many("It belongs to {n} set-up.", "It belongs to {n} set-ups.", n=trace.total)
    if trace.first is None:
        return found
    return in_turn(found, said("Looked at from {first} on.", first=minute(trace.first, zone)))


def _rows(traced: Traced, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(_head(traced, zone), reader, 0, 4)
    for sentence in _below(traced, zone):
        yield from lines(sentence, reader, 4, 6)


def _head(traced: Traced, zone: Zone) -> Said:
    set_up = traced.set_up
    since = minute(set_up.since, zone)
    span = (
        said("{since} to {until}", since=since, until=minute(set_up.until, zone))
        if set_up.until is not None
        else said("since {since}", since=since)
    )
    where = said("{item} on {press}", item=set_up.item, press=traced.press or said("no press"))
    head = said("{where}  {span}", where=where, span=span)
    return said("{head}  crimp {crimps}", head=head, crimps=listed(set_up.crimps)) if set_up.crimps else head


def _below(traced: Traced, zone: Zone) -> Iterator[Said]:
    if traced.orders:
        yield said("orders: {names}", names=listed(traced.orders))
    for booked in traced.pieces:
        yield _pieces(booked, zone)
    low, best, high = traced.strokes
    done = in_strokes(best)
    yield said("{strokes} (at least {low}, at most {high})", strokes=done, low=low, high=high) if low != high else done
    for row in traced.set_up.checks:
        yield _checked(row, zone)
    if traced.reels:
        yield said("reels: {names}", names=listed(traced.reels))
    if traced.wires:
        yield said("wire lots: {names}", names=listed(traced.wires))
    if traced.parts:
        yield said("in it: {names}", names=listed(map(_part, traced.parts)))
    if traced.people:
        yield said("people: {names}", names=listed(traced.people))
    if traced.set_up.missing:
        yield said("Not in the book: {missing}.", missing=listed(traced.set_up.missing))


def _pieces(booked: Quantity, zone: Zone) -> Said:
    span = said("{since} to {until}", since=minute(booked.since, zone), until=minute(booked.until, zone))
    made = said_many("{n} piece booked {span}", "{n} pieces booked {span}", n=booked.pieces, span=span)
    return said("{made}, order {order}", made=made, order=booked.order) if booked.order else made


def _part(part: PartIn) -> Said:
    if part.batch is None:
        return said("{item}", item=part.item)
    return said("{item} (batch {batch})", item=part.item, batch=part.batch)


def _checked(row: CheckRow, zone: Zone) -> Said:
    units = dict(row.units)
    values = listed(
        said(
            "{point} {values} {unit}",
            point=key,
            values=listed(Amount(value, units.get(key, "")) for value in read),
            unit=UnitName(units.get(key, "")),
        )
        for key, read in row.points
    )
    told = said("{occasion} {at} {by} #{entry}", occasion=term(row.occasion, "occasion"), at=minute(row.at, zone),
                by=row.by, entry=Numeral(row.entry))  # fmt: skip
    if row.points:
        told = said("{told}: {values}", told=told, values=values)
    if row.failed:
        told = said("{told}; OUT: {points}", told=told, points=listed(row.failed))
    if row.gauge is not None:
        note = said("NOT valid then") if row.gauge_doubt is not None else said("valid then")
        told = said("{told}; {gauge}, {note}", told=told, gauge=row.gauge, note=note)
    return told
