"""What holds an item or lets it rest, worked out from what was written about it: the one place where that is said."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from upkeep.due.holds import (
    ByHand,
    FailedCheck,
    GaugeOutOfTolerance,
    Gone,
    GradedOut,
    HoldReason,
    LifeUnknown,
    OutOfLimits,
    Stopped,
    ToAdjust,
)  # fmt: skip
from upkeep.due.reason_json import text_of
from upkeep.entries.checking import WHILE_SETTING, Check, OutOfTolerance
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault, Hold, Pause, Release, Resume
from upkeep.entries.kinds import kind_of
from upkeep.entries.lives import Retire, UnknownLife
from upkeep.entries.standing import Standing
from upkeep.keeping.definitions import Known
from upkeep.keeping.limits_in_force import GAUGE_FOUND_OUT, last_vouched
from upkeep.keeping.rows.asked import Rows
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.store.rows.findings import MeasuredRow
from upkeep.store.rows.signatures import Grounds, SignOffRow, StandingRow
from upkeep.units.instants import utc_text

AS_FOUND, AGAIN = "as-found", "as-found again"


class Rest(NamedTuple):
    """A time in storage or out of use, as stored moments; ``until`` None: it has not ended.

    ``because`` and ``entry`` are those of the last word about it.
    """

    since: str
    until: str | None
    because: str
    entry: int


def rests(entries: Iterable[Recorded]) -> list[Rest]:
    """Each time an item was in storage or out of use, from what was told of it in order."""
    ended: list[Rest] = []
    for recorded in entries:
        resting = bool(ended) and ended[-1].until is None
        match recorded.entry:
            case Pause(at=at, because=because):
                since = ended.pop().since if resting else utc_text(at)
                ended.append(Rest(since, None, because, recorded.id))
            case Resume(at=at) if resting:
                ended[-1] = ended[-1]._replace(until=utc_text(at))
    return ended


_RELEASE = kind_of(Release).verb
_HOLDING = (*(kind_of(kind).verb for kind in (Hold, UnknownLife, OutOfTolerance, Retire)), _RELEASE)
"""Kinds of which the last entry says all: whatever an earlier one held, it holds, or let go."""


def standings_anew(
    rows: Projections, entries: EntryStore, items: Sequence[str], known: Known | None = None
) -> list[StandingRow]:
    """The hold and the pause on items, from what rows and entries tell of them; an old item costs what a new one does.

    ``known`` says what vouches for gauges; without it no check turns bad with its gauge.
    """
    told = entries.told_of(items, (*_HOLDING, "pause", "resume"))  # of most items nobody ever told any of these
    found_out = known if known is not None and rows.all_out_of_tolerance() else None
    grounds = rows.grounds_of(items)
    return [row for ground in grounds for row in _standing(rows, entries, ground, found_out, told.get(ground.item, []))]


def _standing(
    rows: Projections, entries: EntryStore, grounds: Grounds, known: Known | None, told: Sequence[str]
) -> list[StandingRow]:
    """Those of one item.

    Of faults the last one that stopped the item is looked at, of rests what follows the last return; inspections only
    where the life of the item was not known.  ``told`` are the kinds of entries that were ever told of it.
    """
    item = grounds.item
    recorded = entries.last_of_each(item, [kind for kind in told if kind in _HOLDING], over=_RELEASE)
    recorded += entries.last_of_each(item, [kind for kind in told if kind == "resume"])
    stopped = rows.last_stopped(item) if grounds.stopped else None
    if stopped is not None and (fault := entries.by_number(stopped)) is not None:
        recorded.append(fault)
    # A return ends every rest before it: an item that is put away each month costs no more for its years.
    since = next((utc_text(one.entry.at) for one in recorded if isinstance(one.entry, Resume)), "")
    recorded += entries.of_item(item, ("pause",), from_at=since) if "pause" in told else []
    recorded.sort(key=lambda one: (one.entry.at, one.id))
    failed = unlifted(rows, item) if grounds.failed else []
    if known is not None:
        failed = in_order([*failed, *turned(rows, entries.by_number, known, item)])
    unknown = any(isinstance(one.entry, UnknownLife) for one in recorded)
    graded = rows.last_graded(item) if unknown and grounds.graded else None
    graded_out = rows.last_graded(item, 4) if grounds.graded_out else None
    held_out = rows.last_held_out(item) if grounds.held_out else None
    return standing_rows(item, recorded, graded, graded_out, failed, held_out)


def standing_rows(
    item: str,
    entries: Sequence[Recorded],
    graded: SignOffRow | None,
    graded_out: SignOffRow | None,
    failed: Sequence[MeasuredRow],
    held_out: SignOffRow | None,
) -> list[StandingRow]:
    """The hold and the pause in force on an item, from its entries in order, its last graded inspection and the last
    one graded 4, its values found bad and not lifted, and the last sign-off with a value out of limits that holds it.
    An item of unknown life is held until it is inspected."""
    hold: StandingRow | None = None
    released = ("", 0)
    for recorded in entries:
        at, number = utc_text(recorded.entry.at), recorded.id
        reason = held_because(recorded, graded)
        if reason is not None:
            hold = StandingRow(item, Standing.HOLD, at, text_of(reason), number)
        if isinstance(recorded.entry, Release):
            hold, released = None, (at, number)
    # One hold is kept of an item, though there may be several reasons: what people told of it stands before a grade, a
    # grade before a measured value, and a release (moment and number) ends all that were there by then.
    if hold is None and graded_out is not None and (graded_out.at, graded_out.entry) > released:
        hold = StandingRow(item, Standing.HOLD, graded_out.at, text_of(GradedOut()), graded_out.entry)
    if hold is None and held_out is not None and (held_out.at, held_out.entry) > released:
        out = OutOfLimits(held_out.task, tuple(held_out.out.split(",")))
        hold = StandingRow(item, Standing.HOLD, held_out.at, text_of(out), held_out.entry)
    if hold is None and (bad := failed_hold(failed, released)) is not None:
        reason, at, number = bad
        hold = StandingRow(item, Standing.HOLD, at, text_of(reason), number)
    pause = next((rest for rest in rests(entries) if rest.until is None), None)
    paused = [StandingRow(item, Standing.PAUSE, pause.since, pause.because, pause.entry)] if pause else []
    return [hold, *paused] if hold else paused


def held_because(recorded: Recorded, graded: SignOffRow | None = None) -> HoldReason | None:
    """Why an entry holds its item by itself, going by the last graded inspection; None: it does not."""
    match recorded.entry:
        case Hold() as held:
            return ByHand(held.because)
        case Fault() as fault if fault.stopped:
            return Stopped(fault.symptom)
        case UnknownLife() as unknown if graded is None or (graded.at, graded.entry) <= (
            utc_text(unknown.at),
            recorded.id,
        ):
            return LifeUnknown()
        case OutOfTolerance() as found:
            return GaugeOutOfTolerance(f"{found.off:+g}")
        case Retire() as retired:
            return Gone(retired.end)
    return None


# Values found bad


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
    unreleased = [row for row in failed if (row.at, row.entry) > released]
    lasting = [row for row in unreleased if row.occasion not in WHILE_SETTING]
    if lasting:
        last = lasting[-1]
        points = tuple(sorted(row.point for row in lasting if row.entry == last.entry))
        again = last.occasion == AGAIN
        return FailedCheck(AS_FOUND if again else last.occasion or "", points, again), last.at, last.entry
    if not unreleased:
        return None
    points = tuple(sorted({row.point for row in unreleased}))
    return ToAdjust(points), unreleased[-1].at, unreleased[-1].entry


def unlifted(rows: Projections, item: str) -> list[MeasuredRow]:
    """The values found bad on an item that were not measured good again after adjusting, in order."""
    failed, before = rows.failed(item), rows.found_before
    bad = [found_again(row, before(item, row.point, row.at, row.entry)) for row in failed]
    good = ((row, rows.good_after(item, row.point, row.at)) for row in bad)
    return [row for row, later in good if not lifted(row, [later] if later else [])]


# Gauges found out


def turned(rows: Rows, one: Callable[[int], Recorded | None], known: Known, item: str) -> list[MeasuredRow]:
    """The last checks of an item that were good and are bad by the true value, as values found bad when their gauge
    was found out; ``one`` gives an entry by its number."""
    bad: list[MeasuredRow] = []
    for out in rows.all_out_of_tolerance():
        since = last_vouched(rows, known, out)
        for point in rows.points_measured(item, out.gauge, since, out.at):
            last = rows.last_checked(item, point)
            if last is None or not last.good or last.gauge != out.gauge or last.at <= since:
                continue
            recorded = one(last.entry) if (last.at, last.entry) < (out.at, out.entry) else None
            check = recorded.entry if recorded is not None else None
            if isinstance(check, Check) and not check.verdicts(out.off).get(point, True):
                found = MeasuredRow(item, point, out.at, out.entry, out.gauge, 0, GAUGE_FOUND_OUT, None, None, None)
                bad.append(found)
    return bad


def in_order(rows: Iterable[MeasuredRow]) -> list[MeasuredRow]:
    """Values by when they were found."""
    return sorted(rows, key=lambda row: (row.at, row.entry))
