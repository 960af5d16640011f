"""Sentences about the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.said import Figure, Numeral, Said, in_turn, listed, minute, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.overview.shelf import Away, KitPart, OnOrder, OrderRow, Outside, ShelfRow


def in_units(number: int, unit: str) -> Said:
    """So many of a spare, in what one of it is called."""
    if unit == "piece":
        return said_many("{n} piece", "{n} pieces", n=number)
    return said("{n} x {unit}", n=number, unit=unit)


def place_said(place: str | None) -> Said:
    """Where a spare lies."""
    return said("no place is named") if place is None else said("at {place}", place=place)


def coming_said(one: OnOrder, unit: str) -> Said:
    """What is expected, and when."""
    if one.item is not None:
        return said("{item} is out for rework, expected {day}", item=one.item, day=one.expected)
    number = in_units(one.number, unit)
    return said(
        "{number} on order (#{entry}), expected {day}", number=number, entry=Numeral(one.entry), day=one.expected
    )


def counted_said(row: ShelfRow, zone: Zone) -> Said:
    """When it was counted last, by whom, and what that found."""
    if row.counted_at is None:
        return said("never counted")
    counted = said("counted {at} by {name}", at=minute(row.counted_at, zone), name=row.counted_by or "")
    if not row.difference:
        return said("{counted}, as the book had it", counted=counted)
    if row.difference < 0:
        return said("{counted}: {n} fewer than the book had", counted=counted, n=-row.difference)
    return said("{counted}: {n} more than the book had", counted=counted, n=row.difference)


def order_said(row: OrderRow) -> Said:
    """What to do, and by when."""
    number = in_units(row.number, row.shelf.unit)
    if row.order_by is None:
        return said("nothing to order: {title}", title=row.shelf.title)
    if row.now:
        return said("ORDER NOW {number}: {title}", number=number, title=row.shelf.title)
    return said("order {number} by {day}: {title}", number=number, day=row.order_by, title=row.shelf.title)


def why_said(row: OrderRow) -> Iterator[Said]:
    """The arithmetic behind it."""
    there = in_units(max(0, row.shelf.number), row.shelf.unit)
    stock = said("{there} on the shelf", there=there)
    coming = row.position - max(0, row.shelf.number)
    if coming:
        stock = said("{stock}, {n} more coming", stock=stock, n=coming)
    days = row.shelf.lead_days or 0
    yield said(
        "{stock}; reorder level {level}: {mean} expected in {days} days of lead time, which it covers in {service} % "
        "of cases.",
        stock=stock, level=row.level, mean=Figure(row.mean, ".1f"), days=days, service=row.service,
    )  # fmt: skip
    yield _use_said(row)
    if row.least and row.least >= row.level:
        yield said("At least {least} are kept.", least=row.least)
    if row.lasts_until is not None:
        lasts = said("What lies there lasts until about {day}.", day=row.lasts_until)
        short = said(
            "The chance that it runs out before an order of today comes ({comes}) is {percent} %.",
            comes=row.comes or row.lasts_until, percent=row.short_percent,
        )  # fmt: skip
        yield in_turn(lasts, short)


def _use_said(row: OrderRow) -> Said:
    due, past = row.due, row.past
    if due is None and past is None:
        return said("Nothing is known of its use yet.")
    forecast = said("no forecast") if due is None else said("{n} a week by what falls due", n=Figure(due, ".2f"))
    before = said("no past") if past is None else said("{n} a week so far", n=Figure(past, ".2f"))
    return said("Use: {forecast}; {before}. The higher counts.", forecast=forecast, before=before)


def kit_part_said(part: KitPart) -> Said:
    """One part of a kit: how many, from where, what is missing and when more comes."""
    number = in_units(part.number, part.unit)
    told = said("{spare} {number}: {title}", spare=part.spare, number=number, title=part.title)
    if part.bagged:
        told = said("{part}; {n} in the bag", part=told, n=part.bagged)
    if part.there:
        told = said("{part}; take {n} {place}", part=told, n=part.there, place=place_said(part.place))
    if not part.short:
        return told
    short = said("{part}; SHORT OF {n}", part=told, n=part.short)
    if part.expected is None:
        return said("{part}, none on order", part=short)
    return said("{part}, expected {day}", part=short, day=part.expected)


def missing_said(parts: Iterable[KitPart]) -> Said:
    """Which parts a job waits for, how many of each, and when they come."""
    return said("waits for parts: {parts}", parts=listed(map(_short_said, parts)))


def _short_said(part: KitPart) -> Said:
    number = in_units(part.short, part.unit)
    if part.expected is None:
        return said("{spare}, {number} short, none on order", spare=part.spare, number=number)
    return said("{spare}, {number} short, expected {day}", spare=part.spare, number=number, day=part.expected)


AWAY = {
    Away.OUT: said("out for rework"),
    Away.BACK: said("back, waits for its receiving inspection"),
    Away.BAD: said("refused at its receiving inspection"),
    Away.TAKEN_IN: said("taken in"),
    Away.EXCHANGED: said("another piece came back"),
}
"""How far an item is that was sent out."""


def away_said(one: Outside, zone: Zone) -> Said:
    """Where an item is that was sent out: to whom, what for, when it is expected, what became of it."""
    told = said(
        "{state}: to {to} since {since}, {text}", state=AWAY[one.state], to=one.to, since=minute(one.since, zone),
        text=one.text,
    )  # fmt: skip
    if one.state is Away.OUT:
        expected = said("{told}; expected {day}", told=told, day=one.expected)
        return said("{told}, LATE", told=expected) if one.late else expected
    if one.bears is not None:
        return said("{told}; it bears the id {bears}", told=told, bears=one.bears)
    return said("{told}; record: {record}", told=told, record=one.record) if one.record else told
