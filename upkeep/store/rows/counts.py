"""Rows of what was counted on a press or written of it, and of strokes done otherwise."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class TotalRow(NamedTuple):
    """What a view of many presses reads of their marks: the columns of those names."""

    at: str
    pieces: int | None
    total: int
    less: int
    more: int


class MarkRow(NamedTuple):
    """A counter reading of a press with the strokes done by then.

    Attributes:
        press: The press.
        at: The moment of the reading.
        entry: The entry that brought it.
        value: What the counter showed.
        rolled_over: 1 where the counter passed its last figure since the reading before, else 0.
        after_reset: 1 where the counter was set back to 0 since the reading before, else 0.
        restart: What the counter shows from here on; None: it goes on from ``value``.
        pieces: The pieces that count as strokes on a press without a counter; None: it has one.
        total: Strokes of the press since its first reading.
        rest: What rounding left away of the total, in billionths of a stroke; 0 where a count is a stroke.
        fastest: The most strokes an hour it can have done since the reading before, where the figure does not tell all;
            None: it does, or nobody said.
        rate: The strokes an hour it is taken to have done since then, where nobody read its figure; None: it was read.
        less: By how much the total may be smaller, since figures were not known.
        more: By how much it may be larger.
        doubt: Why the strokes since the reading before had to be guessed; None: they had not.
    """

    press: str
    at: str
    entry: int
    value: int
    rolled_over: int
    after_reset: int
    restart: int | None
    pieces: int | None
    total: int
    rest: int
    fastest: int | None
    rate: int | None
    less: int
    more: int
    doubt: str | None


class DisputedRow(NamedTuple):
    """A count that cannot be true beside an earlier reading; it waits for the lead and is no mark.

    Attributes:
        press: The press.
        at: The moment at which it was read.
        value: What the counter showed.
        disputes: The entry of the earlier reading.
        entry: The entry that brought it.
    """

    press: str
    at: str
    value: int
    disputes: int
    entry: int


class CounterConfigurationRow(NamedTuple):
    """How a counter counts from a moment on.

    Attributes:
        press: The press.
        since: The moment.
        way: Whether it counts up, down, or not at all.
        digits: How many figures it has.
        times: Strokes for each count.
        entry: The entry that says so.
    """

    press: str
    since: str
    way: str
    digits: int
    times: float
    entry: int


LONGEST_RUN_MINUTES = 7 * 24 * 60
"""The longest run that one quantity tells of."""


class QuantityRow(NamedTuple):
    """Pieces made on a press over [since, until).

    Attributes:
        press: The press.
        since: When it began.
        until: When it ended.
        pieces: How many.
        item: The item they were made with; None: nobody said.
        ordered: The order they were made for; None: for none that was named.
        entry: The entry that says so.
    """

    press: str
    since: str
    until: str
    pieces: int
    item: str | None
    ordered: str | None
    entry: int


class MadeWhileStillRow(NamedTuple):
    """Pieces made on a press over [since, until) while its counter stood still.

    Attributes:
        press: The press.
        entry: The entry that tells of the pieces.
        since: When they were begun.
        until: When they were finished.
        pieces: How many.
        total: The running total of strokes at which the counter stood.
        known_from: Since when that is known: the reading after, or, of a counter known to stand still, when they were
            finished.
    """

    press: str
    entry: int
    since: str
    until: str
    pieces: int
    total: int
    known_from: str


class UncountedRow(NamedTuple):
    """Strokes that wore an item and that no counter shows.

    Attributes:
        item: The item.
        at: The moment.
        entry: The entry that says so.
        strokes: How many to add; below 0 where counted strokes wore less than one each.
        still: 1 where they were made while a counter stood still, else 0.
    """

    item: str
    at: str
    entry: int
    strokes: int
    still: int


class ReworkRow(NamedTuple):
    """A part was reworked.

    Attributes:
        item: The part.
        at: The moment.
        entry: The entry that says so.
        granted: Strokes it was granted from then on.
    """

    item: str
    at: str
    entry: int
    granted: int


class LastRework(NamedTuple):
    """The latest rework of a part.

    Attributes:
        item: The part.
        at: The moment.
        entry: The entry that says so.
        granted: Strokes it was granted from then on.
        times: How often it was reworked so far.
    """

    item: str
    at: str
    entry: int
    granted: int
    times: int


class OrderRow(NamedTuple):
    """A planned order.

    Attributes:
        ordered: The order.
        at: When it was planned.
        pieces: How many pieces it asks for.
        item: The item that makes them.
        press: The press it is to run on.
        day: The day it is to run, as ISO text.
        entry: The entry that says so.
    """

    ordered: str
    at: str
    pieces: int
    item: str
    press: str
    day: str
    entry: int


MARKS = Table(
    "marks",
    MarkRow,
    ("press", "at", "entry"),
    without_rowid=True,
    indexes={
        "marks_by_total": "(press, total, at)",
        "marks_in_doubt": "(press, at) WHERE doubt IS NOT NULL",
    },
    items=("press",),
)
DISPUTED_COUNTS = Table("disputed_counts", DisputedRow, ("entry",))
COUNTER_CONFIGURATIONS = Table("counter_configurations", CounterConfigurationRow, ("press", "since", "entry"))
QUANTITIES = Table(
    "quantities",
    QuantityRow,
    ("entry",),
    indexes={"quantities_on_press": "(press, until)", "quantities_for_order": "(ordered)"},
)
MADE_WHILE_STILL = Table(
    "made_while_still",
    MadeWhileStillRow,
    ("press", "entry"),
    without_rowid=True,
    indexes={"made_while_still_until": "(until)"},
    items=("press",),
)
UNCOUNTED_STROKES = Table("uncounted_strokes", UncountedRow, ("item", "at", "entry"), without_rowid=True)
REWORKS = Table("reworks", ReworkRow, ("item", "at", "entry"), without_rowid=True)
ORDERS = Table("orders", OrderRow, ("entry",))
