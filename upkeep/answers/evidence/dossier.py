"""The dossier of an item: all the book holds of it, put together from what each room answers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from upkeep.answers.checks.check_rows import CheckRows
from upkeep.answers.evidence.permits import PermitViews
from upkeep.answers.evidence.signed import SignedOnes
from upkeep.answers.life import life
from upkeep.answers.shelf.batches import pieces_of, received
from upkeep.counting.strokes import strokes_between
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.entries.kinds import kind_of
from upkeep.entries.signing import Sign
from upkeep.entries.text import line_without_origin
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by, hold_reason, holds_of
from upkeep.keeping.rows.counted import stay_from_row
from upkeep.plant.model import Item, Kind
from upkeep.store.evidence.asked import Asked
from upkeep.store.rows.places import FittingRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.checks import CheckRow, GaugeReport
from upkeep.views.evidence.dossier import (
    About,
    Correction,
    Dossier,
    HeldSpan,
    Note,
    Ran,
    Sat,
    Signed,
)
from upkeep.views.faults import FaultCase
from upkeep.views.suspect import HoldList

_TOLD = (
    "rework", "unknown-life", "retire", "remark", "happened", "send-out", "come-back", "take-in", "pause", "resume",
    "uncounted", "out-of-tolerance", "configure-counter", "restart",
)  # fmt: skip
"""What is told of an item in an entry of its own and has no section of its own."""

_MADE_WITH = (Kind.DIE_SET, Kind.MODULE)
"""What is measured while parts sit in it."""


class Dossiers:
    """Makes the dossier of an item as of the moment of its context, from ``since`` on (None: from its beginning)."""

    def __init__(self, context: Context, since: datetime | None = None) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._since = since
        self._from, self._to = "" if since is None else utc_text(since), utc_text(context.moment)
        self._entries, self._rows = context.entries, context.rows
        self._counts, self._asked = context.whereabouts.counts, Asked(context.file)

    def of(self, key: str) -> Dossier:
        """The dossier of an item; raises :class:`NotFound`."""
        from upkeep.answers.evidence.not_known import not_known
        from upkeep.answers.wear.wear import WearViews

        item = self._known.item(key)
        measured = list(self._measured_on(item))
        checks, signed = tuple(self._checks(measured)), tuple(self._signed(item, measured))
        numbers, ran = life(self._context, key), tuple(self._ran(item))
        faults = self._faults(key)
        pictures = tuple(one for one in WearViews(self._context).pictures(key) if self._is_shown(one.at))
        return Dossier(
            at=self._at,
            since=self._since,
            about=self._about(item),
            sat=tuple(self._sat(row) for row in self._rows.fittings_of(key, self._from)),
            contents=tuple(self._sat(row, with_batch=True) for row in self._rows.fittings_in(key, self._from)),
            life=numbers,
            ran=ran,
            readings=self._readings(ran),
            checks=checks,
            signed=signed,
            faults=faults,
            holds=tuple(self._holds(key)),
            permits=tuple(one for one in PermitViews(self._context).of(key) if self._is_shown(one.at)),
            suspect=self._hold_lists(key),
            corrections=tuple(self._corrections(key)),
            batch=pieces_of(self._context, key),
            notes=tuple(self._notes(key)),
            pictures=pictures,
            gauge=self._gauge(item),
            not_known=tuple(not_known(item, numbers, checks, signed, faults)),
        )

    def _is_shown(self, at: datetime, until: datetime | None = None) -> bool:
        """Whether something that happened, or lasted until a moment, belongs into the span."""
        return self._since is None or (until or at) >= self._since

    def _about(self, item: Item) -> About:
        gone = gone_by(self._context, item.id, self._at)
        where = self._context.whereabouts
        return About(
            item=item.id,
            title=item.title,
            kind=item.kind.value,
            owner=item.owner,
            family=item.family,
            place=where.place_of(item),
            inside=where.sits_in(item.id),
            held=hold_reason(self._context, item.id),
            since=item.since,
            known_since=self._known.since[item.id],
            life=item.life,
            gone=gone.end if gone is not None else None,
        )

    def _sat(self, row: FittingRow, *, with_batch: bool = False) -> Sat:
        came = received(self._context, row.item) if with_batch else None
        until = from_utc_text(row.until) if row.until else None
        return Sat(
            row.item, row.inside, from_utc_text(row.start), until, row.started_by, row.ended_by, row.left_to,
            came.batch if came is not None else None,
        )  # fmt: skip

    def _ran(self, item: Item) -> Iterator[Ran]:
        for row in self._rows.stays_of(item.id, self._from):
            stay = stay_from_row(row)
            ends = stay.end or self._at
            done = strokes_between(self._counts, item.id, stay.start, ends)
            since = self._known.since[item.id] if item.kind is Kind.PRESS else stay.start
            yield Ran(stay.press, since, stay.end, done.low, done.best, done.high)

    def _readings(self, ran: tuple[Ran, ...]) -> int:
        """How many counts its strokes rest on: the readings of its presses while it was on them."""
        return sum(
            self._asked.readings_of((stay.press,), utc_text(stay.since), utc_text(stay.until or self._at))
            for stay in ran
        )

    # What was measured and signed

    def _measured_on(self, item: Item) -> Iterator[Recorded]:
        """The checks and sign-offs of an item, in order of time.

        Of a part also those of the set or module it sat in, of a press also the checks of what hung there.
        """
        own = self._entries.of_item(item.id, ("check", "sign"), from_at=self._from, to_at=self._to)
        found = {recorded.id: recorded for recorded in own}
        if item.kind is Kind.PRESS:
            made = self._asked.checks_on(item.id, self._from, self._to)
            found |= {one.id: one for one in made if getattr(one.entry, "press", item.id) == item.id}
        for row in self._rows.fittings_of(item.id, self._from):
            inside = self._known.items.get(row.inside)
            if inside is None or inside.kind not in _MADE_WITH or item.kind in _MADE_WITH:
                continue
            first, last = max(row.start, self._from), min(row.until or self._to, self._to)
            kinds = ("check", "sign")
            found |= {one.id: one for one in self._entries.of_item(inside.id, kinds, from_at=first, to_at=last)}
        yield from sorted(found.values(), key=lambda recorded: (recorded.entry.at, recorded.id))

    def _checks(self, measured: list[Recorded]) -> Iterator[CheckRow]:
        rows = CheckRows(self._context)
        return (rows.row(recorded) for recorded in measured if isinstance(recorded.entry, Check))

    def _signed(self, item: Item, measured: list[Recorded]) -> Iterator[Signed]:
        """Its own sign-offs, and those on what it sat in where something was measured or graded."""
        rows = SignedOnes(self._context)
        for recorded in measured:
            sign = recorded.entry
            if isinstance(sign, Sign) and (sign.item == item.id or sign.points or sign.grade is not None):
                yield rows.row(recorded)

    # What went wrong

    def _faults(self, key: str) -> tuple[FaultCase, ...]:
        from upkeep.answers.faults.faults import FaultViews

        cases = FaultViews(self._context).listing(key).faults
        return tuple(case for case in reversed(cases) if self._is_shown(case.at, case.ended_at))

    def _holds(self, key: str) -> Iterator[HeldSpan]:
        for held in holds_of(self._context, key):
            if held.since <= self._at and self._is_shown(held.since, held.until or self._at):
                yield HeldSpan(held.since, held.until, held.reason, held.entry, held.ended, held.press)

    def _hold_lists(self, key: str) -> tuple[HoldList, ...]:
        from upkeep.answers.suspect.hold_lists import SuspectViews

        lists = SuspectViews(self._context).lists(key, closed=True)
        return tuple(one for one in lists if one.open or self._is_shown(one.found_at, one.end))

    def _corrections(self, key: str) -> Iterator[Correction]:
        zone, names = self._known.zone, self._context.names
        for old, through in self._asked.lost_effect(key):
            new = self._entries.by_number(through)
            if new is None or not self._is_shown(old.entry.at, new.entry.recorded_at):
                continue
            struck = isinstance(new.entry, Strike)
            yield Correction(
                entry=old.id,
                old=line_without_origin(old.entry, zone),
                old_by=names.of(old.entry.by, old.id),
                through=new.id,
                new=None if struck else line_without_origin(new.entry, zone),
                at=new.entry.recorded_at or new.entry.at,
                by=names.of(new.entry.by, new.id),
                because=new.entry.because,
            )

    def _notes(self, key: str) -> Iterator[Note]:
        for recorded in self._entries.of_item(key, _TOLD, from_at=self._from, to_at=self._to):
            entry = recorded.entry
            yield Note(
                entry=recorded.id,
                at=entry.at,
                by=self._context.names.of(entry.by, recorded.id),
                kind=kind_of(type(entry)).verb,
                text=line_without_origin(entry, self._known.zone),
            )

    def _gauge(self, item: Item) -> GaugeReport | None:
        from upkeep.answers.checks.gauges import GaugeReports

        gone = item.scrapped is not None and self._known.zone.day(self._at) >= item.scrapped
        return GaugeReports(self._context).report(item.id) if item.kind is Kind.GAUGE and not gone else None
