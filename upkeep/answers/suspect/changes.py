"""What changed within a suspect window: gauge, reel, wire lot, set-up, parts, settings, press.

It does not shorten the window: it is what to suspect.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime

from upkeep.entries.checking import Check, Lot
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.lives import Rework
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.quality.settings import SETTINGS
from upkeep.quality.suspect import Start
from upkeep.said import Figure, Moment, Said, Value, listed, said, term
from upkeep.units.instants import from_utc_text, utc_text

_KINDS = ("fit", "unfit", "fault", "rework", "check")


class Changes:
    """Names them from what a book holds."""

    def __init__(self, context: Context) -> None:
        self._zone = context.known.zone
        self._rows, self._entries, self._findings = context.rows, context.entries, context.findings

    def within(self, item: str, point: str, start: Start, end: datetime, failed: Recorded) -> Iterator[Said]:
        """What changed within a window of a characteristic of an item, in order."""
        first = self._entries.by_number(start.entry) if start.entry is not None else None
        yield from _gauge(first, failed, point)
        known = self._settings_before(item, start.at)
        for recorded in self._told(item, start.at, end):
            match recorded.entry:
                case Fit() | Unfit() as move:
                    yield self._move(move)
                case Fault() as fault:
                    yield said("{moment} fault: {symptom}", moment=self._shown(fault.at), symptom=term(fault.symptom))
                case Rework() as rework:
                    yield said("{moment} {item} was reworked", moment=self._shown(rework.at), item=rework.item)
                case Check() as check:
                    at_an_end = first is not None and recorded.id == first.id
                    yield from self._check(check, known, at_an_end or recorded.id == failed.id, at_an_end)
        yield from self._parts_fitted(item, start.at, end)

    def _told(self, item: str, start: datetime, end: datetime) -> list[Recorded]:
        """The entries about an item and what it sat in over [start, end], in order."""
        since, until = utc_text(start), utc_text(end)
        numbers = self._findings.entries_between(item, _KINDS, since, until)
        for row in self._rows.fittings_of(item, since):
            if row.start <= until:
                stay = max(since, row.start), min(until, row.until or until)
                numbers += self._findings.entries_between(row.inside, ("fit", "unfit"), *stay)
        told = [
            recorded for number in dict.fromkeys(numbers) if (recorded := self._entries.by_number(number)) is not None
        ]
        return sorted(told, key=lambda recorded: (recorded.entry.at, recorded.id))

    def _move(self, move: Fit | Unfit) -> Said:
        at = self._shown(move.at)
        if isinstance(move, Fit):
            return said("{moment} {item} went into {inside}", moment=at, item=move.item, inside=move.inside)
        return said("{moment} {item} was taken out", moment=at, item=move.item)

    def _check(self, check: Check, known: dict[str, Value], at_an_end: bool, first: bool) -> Iterator[Said]:
        """What a check names otherwise than the one before it; ``known`` is what was named last, and learns."""
        at = self._shown(check.at)
        crimp = known.get("crimp")
        if check.occasion == "set-up" and not at_an_end:
            yield said("{moment} set up again ({crimp})", moment=at, crimp=check.crimp or said("no crimp named"))
        elif check.crimp is not None and crimp is not None and crimp != check.crimp:
            yield said("{moment} set up for {crimp}, before it for {then}", moment=at, crimp=check.crimp, then=crimp)
        for what, name in ((Lot.REEL, check.reel), (Lot.WIRE, check.wire)):
            if name is not None and name != known.get(what) and not first:
                yield _lot(at, what, name, known.get(what))
        named = {"crimp": check.crimp, Lot.REEL: check.reel, Lot.WIRE: check.wire}
        known |= {key: name for key, name in named.items() if name is not None}
        for key, values in check.points:
            if key not in SETTINGS:
                continue
            now = listed(map(Figure, values))
            then = known.get(key)
            if then is not None and str(then) != str(now):
                setting = term(SETTINGS[key].title)
                yield said("{moment} {setting}: {then}, then {now}", moment=at, setting=setting, then=then, now=now)
            known[key] = now

    def _settings_before(self, item: str, start: datetime) -> dict[str, Value]:
        """The settings written down last before a window."""
        known: dict[str, Value] = {}
        for key in SETTINGS:
            row = next(iter(self._findings.back_from(item, key, utc_text(start), 0)), None)
            if row is not None and row.readings is not None:
                known[key] = listed(map(Figure, json.loads(row.readings)))
        return known

    def _parts_fitted(self, item: str, start: datetime, end: datetime) -> Iterator[Said]:
        for row in self._rows.fittings_in(item, utc_text(start)):
            if utc_text(start) < row.start <= utc_text(end):
                yield said("{moment} {item} was fitted", moment=self._shown(from_utc_text(row.start)), item=row.item)

    def _shown(self, moment: datetime) -> Moment:
        return Moment(moment, self._zone)


def _gauge(first: Recorded | None, failed: Recorded, point: str) -> Iterator[Said]:
    if first is not None and isinstance(first.entry, Check | Sign) and isinstance(failed.entry, Check | Sign):
        before, now = first.entry.gauge_of(point), failed.entry.gauge_of(point)
        if before and now and before != now:
            yield said("another gauge: {then} at the good check, {now} at the failed one", then=before, now=now)


def _lot(at: Moment, what: Lot, name: str, before: Value | None) -> Said:
    if before is None:
        return (
            said("{moment} reel {reel}", moment=at, reel=name)
            if what is Lot.REEL
            else said("{moment} wire lot {wire}", moment=at, wire=name)
        )
    return (
        said("{moment} another reel: {then}, then {reel}", moment=at, then=before, reel=name)
        if what is Lot.REEL
        else said("{moment} another wire lot: {then}, then {wire}", moment=at, then=before, wire=name)
    )
