"""From an order, a lot, a batch, a gauge, a person or an item to the set-ups it belongs to, and on from there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from upkeep.answers.checks.set_ups import SetUps, Span
from upkeep.counting.strokes import strokes_between
from upkeep.entries.checking import Lot
from upkeep.errors import NotFound, Refused
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.plant.model import Kind
from upkeep.progress import watched
from upkeep.said import Quoted, all_of, said, term
from upkeep.store.evidence.traced import Seen, TracedRows
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.views.checks import SetUp
from upkeep.views.evidence.trace import PartIn, Trace, Traceable, Traced
from upkeep.views.suspect import Quantity

_MADE_WITH = (Kind.DIE_SET, Kind.MODULE)
"""What pieces are made with, and so what has set-ups."""

_OPEN = "~"
"""Stands behind every moment as the file writes them."""


class Traces:
    """Traces names through one book as it stands (or stood) at a moment, from ``first`` on (None: from its start)."""

    def __init__(self, context: Context, first: datetime | None = None) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._first = first
        self._rows, self._set_ups = TracedRows(context.file), SetUps(context)
        self._batches: dict[str, str | None] = {}

    def of(self, name: str, what: Traceable | None = None, limit: int | None = None) -> Trace:
        """The set-ups a name belongs to, the newest ``limit`` of them (None: all).

        Raises :class:`NotFound` where it names nothing in the book, :class:`Refused` where it names several things and
        ``what`` does not say which.
        """
        meant = self._meant(name) if what is None else what
        seen = self._seen(name, meant)
        found = sorted(self._all(seen), key=lambda one: (one.since, one.item), reverse=True)
        if what is not None and not seen:
            self._check_known(name, meant)
        shown = found[:limit]
        traced = tuple(self._traced(one) for one in watched(shown, "gathered", len(shown), self._context.file.watch))
        return Trace(name, meant, self._title(name, meant), self._first, self._at, traced, len(found))

    def _meant(self, name: str) -> Traceable:
        meant = [what for what in Traceable if self._names(name, what)]
        if not meant:
            raise self._unknown(name)
        if len(meant) > 1:
            raise Refused(
                said(
                    "{name} is the name of several things: {things}. Say which with --as.",
                    name=Quoted(name),
                    things=all_of(term(what, "traced") for what in meant),
                )
            )
        return meant[0]

    def _check_known(self, name: str, what: Traceable) -> None:
        if not self._names(name, what):
            raise self._unknown(name)

    def _unknown(self, name: str) -> NotFound:
        near = near_misses(name, [*self._known.items, *self._known.people])
        return NotFound(said("order, reel, wire lot, batch, person or item"), name, near)

    def _names(self, name: str, what: Traceable) -> bool:
        """Whether anything of a kind has that name."""
        match what:
            case Traceable.ORDER:
                return bool(self._seen(name, what)) or self._rows.planned(name)
            case Traceable.REEL | Traceable.WIRE:
                return bool(self._seen(name, what))
            case Traceable.BATCH:
                return self._rows.has_batch(name)
            case Traceable.PERSON:
                return name in self._known.people
        return name in self._known.items

    def _title(self, name: str, what: Traceable) -> str:
        if what is Traceable.PERSON:
            return self._context.names.now(name)
        return self._known.items[name].title if what is Traceable.ITEM else ""

    # Where it occurs

    def _seen(self, name: str, what: Traceable) -> list[Seen]:
        rows = self._rows
        match what:
            case Traceable.ORDER:
                return [*rows.lot(Lot.ORDER, name), *rows.booked(name)]
            case Traceable.REEL:
                return rows.lot(Lot.REEL, name)
            case Traceable.WIRE:
                return rows.lot(Lot.WIRE, name)
            case Traceable.BATCH:
                return [seen for piece in rows.batch(name) for seen in rows.fitted(piece)]
            case Traceable.PERSON:
                return rows.person(name)
        return self._of_item(name)

    def _of_item(self, name: str) -> list[Seen]:
        kind = self._known.item(name).kind
        if kind is Kind.GAUGE:
            return self._rows.gauge(name)
        if kind is Kind.PRESS:
            return self._rows.on_press(name)
        return [Seen(name, None, "", _OPEN)] if kind in _MADE_WITH else self._rows.fitted(name)

    def _all(self, seen: Iterable[Seen]) -> Iterator[Span]:
        """The set-ups in which something occurs, each once."""
        spans: dict[str, list[tuple[str, str]]] = {}
        for item, since, until in (one for each in seen for one in self._placed(each)):
            known = self._known.items.get(item)
            if known is not None and known.kind is Kind.DIE_SET:
                spans.setdefault(item, []).append((since, until))
        first = utc_text(self._first) if self._first is not None else ""
        for item, occurs in spans.items():
            for set_up in self._set_ups.spans(item):
                begins, ends = utc_text(set_up.since), utc_text(set_up.until or NEVER)
                if ends > first and any(since < ends and until >= begins for since, until in occurs):
                    yield set_up

    def _placed(self, seen: Seen) -> Iterator[tuple[str, str, str]]:
        """What made pieces: the item itself, what it carried as a module, or what hung on the press where none is
        named."""
        if seen.item is None:
            for hung in self._rows.on_press(seen.press or "", seen.since, seen.until):
                yield str(hung.item), max(hung.since, seen.since), min(hung.until, seen.until)
            return
        yield seen.item, seen.since, seen.until
        known = self._known.items.get(seen.item)
        if known is not None and known.kind is Kind.MODULE:
            until = seen.until if seen.until > seen.since else _just_after(seen.since)
            for row in self._context.rows.fittings_in(seen.item, seen.since):
                if row.start < until:
                    yield row.item, max(row.start, seen.since), min(row.until or _OPEN, seen.until)

    # What belongs to it

    def _traced(self, span: Span) -> Traced:
        set_up = self._set_ups.of(span)
        since, until = set_up.since, set_up.until or self._at
        pieces = tuple(self._pieces(set_up, utc_text(since), utc_text(until)))
        done = strokes_between(self._context.whereabouts.counts, set_up.item, since, until)
        checks = set_up.checks
        return Traced(
            set_up=set_up,
            press=set_up.press,
            strokes=(done.low, done.best, done.high),
            pieces=pieces,
            orders=_each([*set_up.orders, *(one.order for one in pieces)]),
            reels=_each(row.reel for row in checks),
            wires=_each(row.wire for row in checks),
            gauges=_each(row.gauge for row in checks),
            people=_each(row.by for row in checks),
            parts=tuple(
                PartIn(part, self._batch(part))
                for part in self._rows.sat_in(set_up.item, utc_text(since), utc_text(until))
            ),
        )

    def _pieces(self, set_up: SetUp, since: str, until: str) -> Iterator[Quantity]:
        if set_up.press is None:
            return
        for row in self._rows.pieces(set_up.press, since, until):
            if row.item in (None, set_up.item):
                yield Quantity(row.pieces, row.ordered, from_utc_text(row.since), from_utc_text(row.until))

    def _batch(self, part: str) -> str | None:
        if part not in self._batches:
            self._batches[part] = self._rows.batch_of(part)
        return self._batches[part]


def _each(names: Iterable[str | None]) -> tuple[str, ...]:
    """Names in the order in which they occur, each once."""
    return tuple(dict.fromkeys(name for name in names if name is not None))


def _just_after(at: str) -> str:
    """A text behind a moment and before the next one, as the file orders them."""
    return f"{at}~"
