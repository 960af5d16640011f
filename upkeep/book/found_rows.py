"""Entries about checks, gauges, suspect product and repairs as rows of the tables that keep one row for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from upkeep.book.lookups import Row
from upkeep.entries.found import WHILE_SETTING, Check, Dispose, Misread, Narrow, Override, Picture, Repair, Retire
from upkeep.entries.kinds import Entry, Fault, Recorded, Sign
from upkeep.units.instants import utc_text


def found_rows(one: Recorded) -> Iterator[tuple[str, Row]]:
    """The rows of such an entry, each with its table."""
    at, number = utc_text(one.entry.at), one.id
    match one.entry:
        case Check() as check:
            verdicts = check.verdicts()
            for point, _ in check.points:
                good = None if point not in verdicts else int(verdicts[point])
                yield "measured", (check.item, point, at, number, check.gauge, good, check.occasion)
            for look, good in check.looks:
                yield "measured", (check.item, look, at, number, None, int(good), check.occasion)
        case Sign() as sign:
            for point, _ in sign.points:
                yield "measured", (sign.item, point, at, number, sign.gauge, None, None)
        case Fault() as fault:
            yield "faults", (fault.item, at, fault.listed, number)
        case Repair() as repair:
            yield "repairs", (repair.fault, at, repair.stage, repair.cause, number)
        case _:
            yield from _single_row(one.entry, at, number)


def _single_row(entry: Entry, at: str, number: int) -> Iterator[tuple[str, Row]]:
    match entry:
        case Misread() as misread:
            yield "misreads", (misread.item, at, misread.off, number)
        case Dispose() as disposed:
            row = (disposed.list, disposed.press, disposed.since, at, disposed.how, disposed.strokes, number)
            yield "disposals", row
        case Narrow() as narrowed:
            yield "narrowings", (narrowed.list, at, narrowed.strokes, number)
        case Override() as override:
            yield "overrides", (override.item, at, override.strokes, number)
        case Retire() as retired:
            yield "retired", (retired.item, at, retired.end, number)
        case Picture() as picture:
            yield "pictures", (picture.item, at, picture.file, picture.sha256, int(picture.as_new), number)


AS_FOUND, AGAIN = "as-found", "as-found, twice in a row"


def found_again(bad: Row, before: Row | None) -> Row:
    """A value found bad before adjusting, marked where the one found ``before`` it was bad as well: the set does not
    keep its setting, so it stops instead of being adjusted once more (a common rule of shops, no source)."""
    again = bad[6] == AS_FOUND and before is not None and before[5] == 0
    return (*bad[:6], AGAIN) if again else bad


def lifted(bad: Row, good: Iterable[Row]) -> bool:
    """Whether a bad value was measured good again after adjusting; one found bad in the run stays until released."""
    return bad[6] in WHILE_SETTING and any((row[2], row[3]) > (bad[2], bad[3]) for row in good)


def failed_hold(failed: Sequence[Row], released: tuple[str, int]) -> tuple[str, str, int] | None:
    """Reason, moment and entry of the hold by failed checks: rows of bad values that were not lifted, in order."""
    found = [row for row in failed if (row[2], row[3]) > released]
    lasting = [row for row in found if row[6] not in WHILE_SETTING]
    if lasting:
        _, _, at, number, _, _, occasion = lasting[-1]
        points = ", ".join(sorted(row[1] for row in lasting if row[3] == number))
        return f"failed check ({occasion}): {points}", at, number
    if not found:
        return None
    points = ", ".join(sorted({row[1] for row in found}))
    return f"to adjust and measure again: {points}", found[-1][2], found[-1][3]
