"""Rows of what was measured, judged and found."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class MeasuredRow(NamedTuple):
    """A characteristic was measured or judged by eye.

    Attributes:
        item: The item.
        point: The characteristic.
        at: When.
        entry: The check or sign-off it belongs to.
        gauge: The gauge it was measured with; None: by eye, or with none.
        good: 1 within limits, 0 out of them; None: nothing judged it.
        occasion: The occasion of the check; None in a sign-off.
        readings: What was read, as a JSON list, in the unit of the characteristic; None: it was judged by eye.
        task: The task that was signed off; None in a check.
        crimp: The crimp that was run; None: none was named, or it was a sign-off.
    """

    item: str
    point: str
    at: str
    entry: int
    gauge: str | None
    good: int | None
    occasion: str | None
    readings: str | None
    task: str | None
    crimp: str | None


class MeasuringEntry(NamedTuple):
    """An entry that measured something, with its moment and the occasion of the check (None in a sign-off)."""

    entry: int
    at: str
    occasion: str | None


class LotRow(NamedTuple):
    """A reel or a wire lot that pieces were made from, or an order they were made for, as a check named it.

    Attributes:
        item: What was checked.
        what: A :class:`upkeep.entries.checking.Lot`: "reel", "wire" or "order".
        lot: Its number or name.
        at: When.
        entry: The check that says so.
    """

    item: str
    what: str
    lot: str
    at: str
    entry: int


class OutOfToleranceRow(NamedTuple):
    """A gauge was found to read wrong.

    Attributes:
        gauge: The gauge.
        at: When it was found.
        off: By how much it reads too high, in its own unit.
        entry: The entry that says so.
    """

    gauge: str
    at: str
    off: float
    entry: int


class GaugeUser(NamedTuple):
    """Who measured with a gauge, in how many entries, when last, and the newest of these entries."""

    by: str
    entries: int
    last: str
    newest: int


class DoubtedPressRow(NamedTuple):
    """What was measured on an item says that the press it was measured on is at fault.

    Attributes:
        press: The press.
        item: What was checked or inspected: a die set, a module, a part.
        at: When.
        entry: The check or sign-off that says so.
    """

    press: str
    item: str
    at: str
    entry: int


class DispositionRow(NamedTuple):
    """What became of a line of a hold list.

    Attributes:
        list: The number of the hold list: the entry that opened it.
        press: The press of the line.
        since: When the line begins.
        at: When it was decided.
        how: What was decided.
        strokes: How many strokes the line had then; None: nobody said.
        entry: The entry that says so.
    """

    list: int
    press: str
    since: str
    at: str
    how: str
    strokes: int | None
    entry: int


class RestrictionRow(NamedTuple):
    """A suspect window was let begin later.

    Attributes:
        list: The number of the hold list.
        at: When that was decided.
        strokes: The strokes of the item, since new, from which on it is suspect.
        entry: The entry that says so.
    """

    list: int
    at: str
    strokes: int
    entry: int


class PermitRow(NamedTuple):
    """A held item may do some strokes more.

    Attributes:
        item: The item.
        at: From when.
        strokes: How many.
        entry: The entry that says so.
    """

    item: str
    at: str
    strokes: int
    entry: int


class FaultRow(NamedTuple):
    """A fault was found on an item.

    Attributes:
        item: The item.
        at: When.
        listed: The symptom from the list; None: it was told in words.
        stopped: 1 where the item stopped for it, and runs again when it is released; else 0.
        entry: The entry that says so.
    """

    item: str
    at: str
    listed: str | None
    stopped: int
    entry: int


class RepairRow(NamedTuple):
    """A step on a fault.

    Attributes:
        fault: The number of the fault.
        at: When.
        stage: How far it is: taken, tried, fixed, verified, closed ...
        cause: What it came from; None: not known at this step.
        entry: The entry that says so.
    """

    fault: int
    at: str
    stage: str
    cause: str | None
    entry: int


class RetiredRow(NamedTuple):
    """An item left for ever.

    Attributes:
        item: The item.
        at: When.
        end: How it ended.
        entry: The entry that says so.
    """

    item: str
    at: str
    end: str
    entry: int


class PictureRow(NamedTuple):
    """A picture of an item.

    Attributes:
        item: The item.
        at: When it was taken.
        file: Its name.
        sha256: Its checksum.
        as_new: 1 where it shows the item as new, else 0.
        belongs_to: The sign-off, check or fault it belongs to; None: the item alone.
        scale: How many points of it are one millimetre; None: nobody knows.
        entry: The entry that says so.
    """

    item: str
    at: str
    file: str
    sha256: str
    as_new: int
    belongs_to: int | None
    scale: float | None
    entry: int


MEASURED = Table(
    "measured",
    MeasuredRow,
    ("item", "point", "at", "entry"),
    without_rowid=True,
    items=("item",),
    indexes={
        "measured_bad": "(item, at, entry) WHERE good = 0",
        "measured_by_gauge": "(gauge, at) WHERE gauge IS NOT NULL",
        "measured_by_entry": "(entry)",
    },
)
LOTS = Table("lots", LotRow, ("entry", "what"), indexes={"items_of_lot": "(what, lot, at)"})
OUT_OF_TOLERANCE = Table("out_of_tolerance", OutOfToleranceRow, ("entry",))
DOUBTED_PRESSES = Table(
    "doubted_presses", DoubtedPressRow, ("entry",), indexes={"doubts_of_press": "(press, at, entry)"}
)
DISPOSITIONS = Table("dispositions", DispositionRow, ("entry",))
RESTRICTIONS = Table("restrictions", RestrictionRow, ("entry",))
PERMITS = Table("permits", PermitRow, ("entry",))
FAULTS = Table(
    "faults",
    FaultRow,
    ("entry",),
    items=("item",),
    indexes={
        "faults_of_item": "(item, listed, at)",
        "faults_by_symptom": "(listed, at)",
        "faults_that_stopped": "(item, at, entry) WHERE stopped = 1",
    },
)
REPAIRS = Table("repairs", RepairRow, ("entry",), indexes={"repairs_of_fault": "(fault, at)"})
RETIRED = Table("retired", RetiredRow, ("entry",))
PICTURES = Table("pictures", PictureRow, ("entry",))
