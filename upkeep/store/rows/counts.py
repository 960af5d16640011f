"""Rows of what was counted on a press or written of it, and of strokes done otherwise."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class TotalRow(NamedTuple):
    """What a view of many presses reads of their marks: the columns of those names."""

    press: str
    at: str
    entry: int
    pieces: int | None
    total: int


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


class UncountedRow(NamedTuple):
    """Strokes that wore an item and that no counter shows.

    Attributes:
        item: The item.
        at: The moment.
        entry: The entry that says so.
        strokes: How many to add; below 0 where counted strokes wore less than one each.
    """

    item: str
    at: str
    entry: int
    strokes: int


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
    indexes={"marks_by_total": "(press, total, at)"},
    items=("press",),
)
DISPUTED_COUNTS = Table("disputed_counts", DisputedRow, ("entry",))
COUNTER_CONFIGURATIONS = Table("counter_configurations", CounterConfigurationRow, ("press", "since", "entry"))
QUANTITIES = Table("quantities", QuantityRow, ("entry",), indexes={"quantities_on_press": "(press, until)"})
UNCOUNTED_STROKES = Table("uncounted_strokes", UncountedRow, ("item", "at", "entry"), without_rowid=True)
REWORKS = Table("reworks", ReworkRow, ("item", "at", "entry"), without_rowid=True)
ORDERS = Table("orders", OrderRow, ("entry",))
