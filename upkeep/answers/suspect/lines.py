"""The lines of a hold list: suspect strokes press by press with what tells which product they are in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from upkeep.answers.shelf.batches import batches_said
from upkeep.counting.marks import COUNTDOWN, CounterConfiguration, Mark
from upkeep.entries.checking import WHILE_SETTING, Check, Lot
from upkeep.entries.counting import UncountedStrokes
from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.entries.suspect import Disposition
from upkeep.keeping.context import Context
from upkeep.keeping.rows.counted import configuration_at, mark_from
from upkeep.plant.model import Kind
from upkeep.quality.suspect import Stretch
from upkeep.said import Said, listed, said
from upkeep.store.rows.findings import DispositionRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.suspect import Judged, Quantity, SuspectLine

NO_PRODUCT = ("set-up", "dry")
"""Strokes that the counter counts and that make no product."""


class Lines:
    """Makes such lines from what a book holds."""

    def __init__(self, context: Context) -> None:
        self._known, self._judge = context.known, context.judge
        self._rows, self._entries = context.rows, context.entries
        self._findings, self._names = context.findings, context.names
        self._context = context

    def of(self, number: int, item: str, stretches: Sequence[Stretch]) -> tuple[SuspectLine, ...]:
        """The lines of a hold list, numbered in the order they were run."""
        judged = {(row.press, row.since): row for row in self._findings.dispositions(number)}
        return tuple(self._line(place, item, stretch, judged) for place, stretch in enumerate(stretches, 1))

    def _line(
        self, row: int, item: str, stretch: Stretch, judged: dict[tuple[str, str], DispositionRow]
    ) -> SuspectLine:
        start, end = utc_text(stretch.since), utc_text(stretch.until)
        checks = self._checks(item, start, end)
        first, about_first = self._figure(stretch.press, stretch.since, stretch.start_total.best)
        last, about_last = self._figure(stretch.press, stretch.until, stretch.end_total.best)
        no_product = min(self._no_product(item, stretch), stretch.strokes.low)
        return SuspectLine(
            row, stretch.press, stretch.since, stretch.until,
            stretch.strokes.low - no_product, stretch.strokes.best - no_product,
            stretch.strokes.high - no_product, no_product,
            first, last, about_first or about_last, self._quantities(stretch, item),
            tuple(dict.fromkeys(c.reel for c in checks if c.reel)),
            tuple(dict.fromkeys(c.wire for c in checks if c.wire)),
            self._people(item, stretch),
            self._judged(judged.get((stretch.press, start))),
            self._orders(item, stretch, checks),
        )  # fmt: skip

    def _orders(self, item: str, stretch: Stretch, checks: Sequence[Check]) -> tuple[str, ...]:
        """The orders that checks name and no quantity does: of an order that still runs nothing is booked yet."""
        booked = {quantity.order for quantity in self._quantities(stretch, item)}
        return tuple(dict.fromkeys(check.order for check in checks if check.order and check.order not in booked))

    def _people(self, item: str, stretch: Stretch) -> tuple[str, ...]:
        """Everybody who set it up, ran it or checked it: who wrote about press and set meanwhile, who put the set and
        what it sits in there, and who wrote down its last set-up."""
        start, end = utc_text(stretch.since), utc_text(stretch.until)
        people = set(self._findings.writers_between((stretch.press, item), start, end))
        stay = self._judge.counts.stay_from(item, stretch.since)
        begun = utc_text(stay.start) if stay is not None else start
        moved = [item, *(row.inside for row in self._rows.fittings_of(item, start) if row.start <= end)]
        numbers = [n for key in moved for n in self._findings.entries_between(key, ("fit", "unfit"), begun, end)]
        set_up = self._findings.entries_between(item, ("check",), begun, start)
        written = [recorded for number in numbers if (recorded := self._entries.by_number(number)) is not None]
        checks = [recorded for number in set_up if (recorded := self._entries.by_number(number)) is not None]
        written += [r for r in checks if isinstance(r.entry, Check) and r.entry.occasion in WHILE_SETTING]
        people |= {(recorded.entry.by, recorded.id) for recorded in written}
        return tuple(dict.fromkeys(self._names.of(by, entry) for by, entry in sorted(people)))

    def _judged(self, row: DispositionRow | None) -> Judged | None:
        recorded = self._entries.by_number(row.entry) if row else None
        if row is None or recorded is None or not isinstance(recorded.entry, Disposition):
            return None
        name = self._names.of(recorded.entry.by, recorded.id)
        return Judged(
            recorded.entry.how,
            name,
            recorded.entry.at,
            recorded.entry.strokes or 0,
            recorded.entry.because,
            recorded.id,
            recorded.entry.pieces,
        )

    def _checks(self, item: str, start: str, end: str) -> list[Check]:
        numbers = self._findings.entries_between(item, ("check",), start, end)
        checks = [recorded.entry for number in numbers if (recorded := self._entries.by_number(number)) is not None]
        return [entry for entry in checks if isinstance(entry, Check)]

    def _no_product(self, item: str, stretch: Stretch) -> int:
        rows = self._rows.uncounted_from(item, utc_text(stretch.since))
        uncounted = [self._entries.by_number(row.entry) for row in rows if from_utc_text(row.at) < stretch.until]
        entries = [recorded.entry for recorded in uncounted if recorded is not None]
        return sum(e.strokes for e in entries if isinstance(e, UncountedStrokes) and e.way in NO_PRODUCT)

    def _quantities(self, stretch: Stretch, item: str) -> tuple[Quantity, ...]:
        rows = self._rows.quantities_over(stretch.press, utc_text(stretch.since), utc_text(stretch.until))
        return tuple(
            Quantity(row.pieces, row.ordered, from_utc_text(row.since), from_utc_text(row.until))
            for row in rows
            if row.item in (None, item)
        )

    def _figure(self, press: str, moment: datetime, total: int) -> tuple[int | None, bool]:
        """What the counter showed at a moment, and whether that lies between two readings; None: it cannot be said."""
        row = self._rows.mark_at(press, utc_text(moment))
        if row is None:
            return None, False
        mark = mark_from(row)
        if mark.at == moment and mark.reading.restart is None and mark.reading.pieces is None:
            return mark.reading.value, False
        configuration = configuration_at(self._known.counter(press), self._rows.configurations_of(press))(moment)
        return _shown(mark, total, configuration), True

    # Where else to look

    def sideways(self, item: str, point: str, failed: Recorded, start: datetime, end: datetime) -> Iterator[Said]:
        """What else was measured with the same gauge, run from the same reel or wire, or checked by the same person;
        and what has a part of the same batch in it."""
        entry = failed.entry
        assert isinstance(entry, Check | Sign)
        since, until = utc_text(start), utc_text(end)
        if (gauge := entry.gauge_of(point)) is not None:
            rows = self._findings.measured_with(gauge, since, until)
            others = sorted({row.item for row in rows if row.item != item})
            if others:
                yield said("measured with the same gauge, {gauge}: {items}", gauge=gauge, items=listed(others))
        for what, name in ((Lot.REEL, getattr(entry, "reel", None)), (Lot.WIRE, getattr(entry, "wire", None))):
            if name:
                others = [other for other in self._findings.items_checked(what, name, since, until) if other != item]
                if others:
                    yield (
                        said("also ran reel {name}: {items}", name=name, items=listed(others))
                        if what is Lot.REEL
                        else said("also ran wire {name}: {items}", name=name, items=listed(others))
                    )
        others = [other for other in self._findings.items_checked_by(entry.by, since, until) if other != item]
        others = [other for other in others if self._known.item(other).kind in (Kind.DIE_SET, Kind.MODULE)]
        if others:
            name = self._names.of(entry.by, failed.id)
            yield said("also checked by {name}: {items}", name=name, items=listed(others))
        yield from batches_said(self._context, item)


def _shown(mark: Mark, total: int, configuration: CounterConfiguration) -> int | None:
    """The figure of a counter from the reading before it, where it counts every stroke once."""
    if mark.reading.pieces is not None or configuration.digits is None or configuration.times != 1:
        return None
    base = mark.reading.value if mark.reading.restart is None else mark.reading.restart
    passed = total - mark.total
    shown: int = (base - passed if configuration.way == COUNTDOWN else base + passed) % 10**configuration.digits
    return shown
