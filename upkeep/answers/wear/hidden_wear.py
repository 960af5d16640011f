"""What the one at the press is told while setting: that the settings drift while the height stays flat."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import datetime
from functools import partial
from statistics import fmean

from upkeep.answers.read_ahead import ReadAhead
from upkeep.counting.strokes import strokes_since_new
from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.keeping.lookups import LookedUp
from upkeep.plant.model import Kind, Point
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.wear.drift import LOOKED_BACK, drift
from upkeep.wear.shown import HEIGHT, part_shown_by


class HiddenWear:
    """Looks for it in one book, when settings were written down."""

    def __init__(self, context: Context) -> None:
        self._known: Known = context.known
        self._counts: LookedUp = context.whereabouts.counts
        self._rows, self._wear_history = context.rows, context.wear_history

    def alarms_of(self, checks: Sequence[Check]) -> Iterator[tuple[Check, Said]]:
        """What the settings of each of many checks say; the strokes of all their parts are read at once."""
        ahead, since = ReadAhead(self._rows, self._known.calendar), dict[str, datetime]()
        for check in checks:
            kinds = {part_shown_by(self._point(check, key)) for key, _ in check.points if key in SETTINGS}
            since.update((part, from_utc_text(moment)) for kind in kinds for part, moment in self._parts(check, kind))
        ahead.read(since)
        self._counts = ahead
        for check in checks:
            yield from ((check, alarm) for alarm in self.alarms(check))

    def alarms(self, check: Check) -> Iterator[Said]:
        """What the settings of a check say about the parts whose wear they make up for."""
        for key, _ in check.points:
            if key in SETTINGS:
                point = self._point(check, key)
                for part, since in self._parts(check, part_shown_by(point)):
                    drifted = drift(
                        said("{point} of {item} with {part}", point=point.title, item=check.item, part=part),
                        *self._values(check, key, part, since),
                        point.unit,
                        partial(self._values, check, HEIGHT, part, since),
                        point.steps,
                    )
                    yield from [drifted.alarm] if drifted.alarm else []

    def _point(self, check: Check, key: str) -> Point:
        crimp = self._known.crimps.get(check.crimp or "")
        return next((point for point in (crimp.points if crimp else ()) if point.id == key), SETTINGS[key])

    def _parts(self, check: Check, kind: Kind | None) -> Iterator[tuple[str, str]]:
        """The part of a kind in the set that was checked, and since when it sits there, or was reworked.

        None: no part's, so there is none.
        """
        now = utc_text(check.at)
        for row in self._rows.fittings_in(check.item, now):
            if row.start <= now and self._known.item(row.item).kind is kind:
                reworks = [rework.at for rework in self._wear_history.reworks_of(row.item) if rework.at <= now]
                yield row.item, max([row.start, *reworks])

    def _values(self, check: Check, key: str, part: str, since: str) -> tuple[list[int], list[float]]:
        """Strokes of the part and means of a point at the last set-ups of the same crimp."""
        done, values = [], []
        for row in self._wear_history.newest_of(check.item, key, since, utc_text(check.at), LOOKED_BACK):
            if row.task is None and row.readings is not None and row.crimp == check.crimp:
                done.append(strokes_since_new(self._counts, part, from_utc_text(row.at)).best)
                values.append(fmean(json.loads(row.readings)))
        return done, values
