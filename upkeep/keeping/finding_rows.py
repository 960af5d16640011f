"""Which values found bad hold an item: those not measured good again, and those found bad twice in a row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from upkeep.due.holds import FailedCheck, HoldReason, ToAdjust
from upkeep.entries.checking import WHILE_SETTING
from upkeep.store.rows.findings import (
    MeasuredRow,
)

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
