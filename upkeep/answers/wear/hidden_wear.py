"""What the one at the press is told while setting: that the settings drift while the height stays flat."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean

from upkeep.counting.strokes import strokes_since_new
from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind, Point
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, said
from upkeep.units.instants import utc_text
from upkeep.wear.drift import LOOKED_BACK, drift
from upkeep.wear.shown import HEIGHT, part_shown_by


class HiddenWear:
    """Looks for it in one book, when settings were written down."""

    def __init__(self, context: Context) -> None:
        self._known, self._counts = context.known, context.whereabouts.counts
        self._rows, self._wear_history, self._entries = context.rows, context.wear_history, context.entries

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
                        self._values(check, HEIGHT, part, since),
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
        for number in self._wear_history.newest_of(check.item, key, since, utc_text(check.at), LOOKED_BACK):
            recorded = self._entries.by_number(number)
            if recorded is not None and isinstance(recorded.entry, Check) and recorded.entry.crimp == check.crimp:
                done.append(strokes_since_new(self._counts, part, recorded.entry.at).best)
                values.append(fmean(dict(recorded.entry.points)[key]))
        return done, values
