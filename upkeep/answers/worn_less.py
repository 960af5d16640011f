"""Strokes at set-up or dry against what the press counted: they are counted ones that wear less, and can be no more."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from upkeep.counting.judgement import SLACK_STROKES
from upkeep.counting.strokes import difference
from upkeep.entries.counting import UncountedStrokes
from upkeep.keeping.context import Context
from upkeep.said import Said, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes


class Claimed(NamedTuple):
    """Strokes of an item told as done at set-up or dry while it hung on ``press``, and the most counted there by then.

    ``press`` is None where it has hung on none; ``counted`` is None where nobody can say: after the last reading of a
    press whose fastest rate is not known.
    """

    item: str
    press: str | None
    told: int
    counted: int | None

    @property
    def too_many(self) -> bool:
        """Whether more was told than the press can have counted."""
        return self.counted is not None and self.told > self.counted

    @property
    def said(self) -> Said:
        """What does not go together."""
        if self.press is None:
            return said(
                "{strokes} of {item} were entered as done at set-up or dry, but it was on no press.",
                strokes=in_strokes(self.told),
                item=self.item,
            )
        return said(
            "{strokes} of {item} were entered as done at set-up or dry; {press} counted at most {counted} "
            "while it hung there.",
            strokes=in_strokes(self.told),
            item=self.item,
            press=self.press,
            counted=self.counted or 0,
        )


def wears_less(entry: UncountedStrokes) -> bool:
    """Whether strokes that the press counted are to count for less."""
    return entry.way in ("set-up", "dry") and (1.0 if entry.weight is None else entry.weight) < 1


def claimed(context: Context, item: str, at: datetime, more: int = 0, without: int | None = None) -> Claimed:
    """What is told of an item up to a moment, with ``more`` strokes and without the entry of a number."""
    counts = context.whereabouts.counts
    stay = counts.stay_from(item, at)
    if stay is None:
        return Claimed(item, None, more, 0)
    until = at if stay.end is None else min(at, stay.end)
    counted: int | None = difference(stay.start_total, counts.total_at(stay.press, until)).high
    read, rate = counts.last_read(stay.press), context.known.items[stay.press].max_rate
    if counted is not None and (read is None or read < until):
        since = stay.start if read is None else max(read, stay.start)
        hours = (until - since).total_seconds() / 3600
        counted = None if rate is None else counted + round(rate * hours) + SLACK_STROKES
    return Claimed(item, stay.press, more + _told(context, item, stay.start, at, without), counted)


def _told(context: Context, item: str, start: datetime, at: datetime, without: int | None) -> int:
    rows = context.rows.uncounted_from(item, utc_text(start))
    numbers = [row.entry for row in rows if row.strokes < 0 and row.entry != without and from_utc_text(row.at) <= at]
    entries = (recorded.entry for number in numbers if (recorded := context.entries.by_number(number)))
    return sum(entry.strokes for entry in entries if isinstance(entry, UncountedStrokes) and wears_less(entry))


def too_many(context: Context) -> Iterator[tuple[int, datetime, Claimed]]:
    """Entries that tell more strokes at set-up or dry than the press counted, each with its moment and what it says."""
    seen: set[int] = set()
    for row in context.rows.worn_less():
        if row.entry not in seen:
            found = claimed(context, row.item, from_utc_text(row.at))
            if found.too_many:
                seen.add(row.entry)
                yield row.entry, from_utc_text(row.at), found
