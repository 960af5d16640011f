"""Rows of what sat in what, and on which press."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class FittingRow(NamedTuple):
    """An item sat in another one over [start, until).

    Attributes:
        item: The item.
        start: When it went in.
        started_by: The entry that put it in.
        inside: What it sat in.
        until: When it came out; None: it has not.
        ended_by: The entry that took it out, or put it elsewhere; None: it has not come out.
        left_to: Where it was put; None: nobody said, or it has not come out.
    """

    item: str
    start: str
    started_by: int
    inside: str
    until: str | None
    ended_by: int | None
    left_to: str | None


class PutRow(NamedTuple):
    """An item was put somewhere while it sat in nothing.

    Attributes:
        item: The item.
        at: When.
        entry: The entry that says so.
        place: Where it was put.
        in_pieces: 1 where it was taken apart, else 0.
    """

    item: str
    at: str
    entry: int
    place: str
    in_pieces: int


class StayRow(NamedTuple):
    """An item was on a press over [start, until), with bands of strokes: at least, best guess, at most.

    Attributes:
        item: The item.
        start: When it came onto the press.
        press: The press.
        until: When it left; None: it has not.
        start_low: Total of the press when it came: the least at the last reading.
        start_low_next: The least at the next reading.
        start_best: The best, in whole strokes begun.
        start_rest: What the best is more than that, in billionths of a stroke.
        start_high_last: The most at the last reading.
        start_high: The most at the next reading.
        end_low: Total of the press when it left, in the same way; None: it has not.
        end_low_next: The same.
        end_best: The same.
        end_rest: The same.
        end_high_last: The same.
        end_high: The same.
        before_low: Strokes the item had done when it came: the least.
        before_best: The best, in whole strokes begun.
        before_rest: What the best is more than that, in billionths of a stroke.
        before_high: The most.
        shared: Strokes that the stay on this press before it may have done instead: both have an edge in one step.
        shared_with: When that stay began; None: it shares none.
    """

    item: str
    start: str
    press: str
    until: str | None
    start_low: int
    start_low_next: int
    start_best: int
    start_rest: int
    start_high_last: int
    start_high: int
    end_low: int | None
    end_low_next: int | None
    end_best: int | None
    end_rest: int | None
    end_high_last: int | None
    end_high: int | None
    before_low: int
    before_best: int
    before_rest: int
    before_high: int
    shared: int
    shared_with: str | None


class Hanging(NamedTuple):
    """An item and what it sits in, for a fitting that lasts."""

    item: str
    inside: str


class Content(NamedTuple):
    """What sits in an item, and since when."""

    item: str
    since: str


class GuessedEdge(NamedTuple):
    """A moment at which items came onto a press or left it, and its count was not read.

    Attributes:
        press: The press.
        moment: The moment.
        items: The items, joined by commas.
    """

    press: str
    moment: str
    items: str


FITTINGS = Table(
    "fittings",
    FittingRow,
    ("item", "start", "started_by"),
    entry="started_by",
    entries=("started_by", "ended_by"),
    items=("item", "inside"),
    indexes={
        "fittings_inside": "(inside, until)",
        "fittings_ending": "(item, ifnull(until, '~'))",
        "contents_ending": "(inside, ifnull(until, '~'))",
        "fittings_begun": "(inside, start)",
    },
)
PUTS = Table("puts", PutRow, ("item", "at", "entry"), without_rowid=True)
STAYS = Table(
    "stays",
    StayRow,
    ("item", "start"),
    entry=None,
    entries=(),
    indexes={
        "stays_of_press": "(press, until)",
        "stays_ending": "(item, ifnull(until, '~'))",
        "stays_ending_on": "(press, ifnull(until, '~'))",
        "stays_started": "(press, start)",
        "stays_by_strokes": "(item, before_best, before_rest)",
        "stays_sharing": "(item, start) WHERE shared > 0",
    },
)
