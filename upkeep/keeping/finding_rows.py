"""Entries about checks, gauges, suspect product and repairs as rows of the tables that keep one row for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from upkeep.due.holds import FailedCheck, HoldReason, ToAdjust
from upkeep.entries.checking import WHILE_SETTING, Check, Misread
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.faults import Fault, Repair
from upkeep.entries.lives import Picture, Retire
from upkeep.entries.signing import Sign
from upkeep.entries.suspect import Dispose, Narrow, Override
from upkeep.store.rows.findings import (
    DisposalRow,
    FaultRow,
    MeasuredRow,
    MisreadRow,
    NarrowingRow,
    OverrideRow,
    PictureRow,
    RepairRow,
    RetiredRow,
)
from upkeep.store.rows.projections import EntryRow
from upkeep.units.instants import utc_text


def found_rows(one: Recorded) -> Iterator[EntryRow]:
    """The rows of such an entry."""
    at, number = utc_text(one.entry.at), one.id
    match one.entry:
        case Check() as check:
            verdicts = check.verdicts()
            for point, values in check.points:
                good = None if point not in verdicts else int(verdicts[point])
                yield MeasuredRow(
                    check.item, point, at, number, check.gauge, good, check.occasion, _read(values), None, check.crimp
                )
            for look, good in check.looks:
                yield MeasuredRow(
                    check.item, look, at, number, None, int(good), check.occasion, None, None, check.crimp
                )
        case Sign() as sign:
            for point, values in sign.points:
                yield MeasuredRow(sign.item, point, at, number, sign.gauge, None, None, _read(values), sign.task, None)
        case Fault() as fault:
            yield FaultRow(fault.item, at, fault.listed, int(fault.stopped), number)
        case Repair() as repair:
            yield RepairRow(repair.fault, at, repair.stage, repair.cause, number)
        case _:
            yield from _single_row(one.entry, at, number)


def _read(values: Iterable[float]) -> str:
    return f"[{', '.join(repr(float(value)) for value in values)}]"  # as JSON, at a fifth of what json asks for a list


def _single_row(entry: Entry, at: str, number: int) -> Iterator[EntryRow]:
    match entry:
        case Misread() as misread:
            yield MisreadRow(misread.item, at, misread.off, number)
        case Dispose() as disposed:
            yield DisposalRow(disposed.list, disposed.press, disposed.since, at, disposed.how, disposed.strokes, number)
        case Narrow() as narrowed:
            yield NarrowingRow(narrowed.list, at, narrowed.strokes, number)
        case Override() as override:
            yield OverrideRow(override.item, at, override.strokes, number)
        case Retire() as retired:
            yield RetiredRow(retired.item, at, retired.end, number)
        case Picture() as picture:
            yield PictureRow(picture.item, at, picture.file, picture.sha256, int(picture.as_new), number)


AS_FOUND, AGAIN = "as-found", "as-found again"


def found_again(bad: MeasuredRow, before: MeasuredRow | None) -> MeasuredRow:
    """A value found bad before adjusting, marked where the one found ``before`` it was bad as well: the set does not
    keep its setting, so it stops instead of being adjusted once more (a common rule of shops, no source)."""
    again = bad.occasion == AS_FOUND and before is not None and before.good == 0
    return bad._replace(occasion=AGAIN) if again else bad


def lifted(bad: MeasuredRow, good: Iterable[MeasuredRow]) -> bool:
    """Whether a bad value was measured good again after adjusting; one found bad in the run stays until released."""
    return bad.occasion in WHILE_SETTING and any((row.at, row.entry) > (bad.at, bad.entry) for row in good)


def failed_hold(failed: Sequence[MeasuredRow], released: tuple[str, int]) -> tuple[HoldReason, str, int] | None:
    """Reason, moment and entry of the hold by failed checks: rows of bad values that were not lifted, in order."""
    found = [row for row in failed if (row.at, row.entry) > released]
    lasting = [row for row in found if row.occasion not in WHILE_SETTING]
    if lasting:
        last = lasting[-1]
        points = tuple(sorted(row.point for row in lasting if row.entry == last.entry))
        again = last.occasion == AGAIN
        return FailedCheck(AS_FOUND if again else last.occasion or "", points, again), last.at, last.entry
    if not found:
        return None
    points = tuple(sorted({row.point for row in found}))
    return ToAdjust(points), found[-1].at, found[-1].entry
