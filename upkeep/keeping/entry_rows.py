"""Entries turned into rows of projections, the same for one entry after another as for a whole replay."""

from __future__ import annotations

import json
from collections.abc import Iterable

from upkeep.counting.fittings import Fitting
from upkeep.counting.marks import Reading
from upkeep.entries.checking import OutOfTolerance
from upkeep.entries.counting import Count, QuantityMade, Restart
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault, Happened, Resume
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.shelf.outside import ComeBack
from upkeep.entries.signing import Cancel, Defer, Sign
from upkeep.entries.standing import Closing
from upkeep.keeping.definitions import Known
from upkeep.keeping.lookups import LIFE_UNKNOWN
from upkeep.plant.model import Event
from upkeep.store.rows.places import FittingRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, SignOffRow
from upkeep.units.instants import from_utc_text, utc_text


def reading_of(recorded: Recorded, known: Known) -> tuple[str, Reading] | None:
    """The press and reading an entry brings; None for one that brings none.

    Quantities count as readings only on a press without a counter, and counts only while they dispute no other.
    """
    match recorded.entry:
        case Count() as count if count.disputes is not None:
            return None
        case Count() as count:
            return count.press, Reading(
                count.at, count.value, recorded.id, count.rolled_over, count.after_reset, fastest=count.fastest
            )
        case Restart(shown=None) as restart:
            return restart.press, Reading(
                restart.at, restart.now, recorded.id, restart=restart.now, fastest=restart.fastest, rate=restart.rate
            )
        case Restart(shown=int(shown)) as restart:
            return restart.press, Reading(restart.at, shown, recorded.id, restart=restart.now)
        case QuantityMade() as made if known.counter(made.press).digits == 0:
            return made.press, Reading(made.at, 0, recorded.id, pieces=made.pieces)
        case Fit() | Unfit() as move if move.press is not None and move.count is not None:
            return move.press, Reading(
                move.at, move.count, recorded.id, move.rolled_over, move.after_reset, fastest=move.fastest
            )
    return None


def fitting_row(fitting: Fitting) -> FittingRow:
    """A fitting as it stands in its table: moments as UTC texts, ``until`` None while it lasts."""
    until = None if fitting.end is None else utc_text(fitting.end)
    return FittingRow(
        fitting.item, utc_text(fitting.start), fitting.started_by, fitting.inside, until, fitting.ended_by,
        fitting.left_to,
    )  # fmt: skip


def fitting_from(row: FittingRow) -> Fitting:
    """The fitting that a row of the table stands for; its end is None while it lasts."""
    end = None if row.until is None else from_utc_text(row.until)
    start = from_utc_text(row.start)
    return Fitting(row.item, row.inside, start, row.started_by, end, row.ended_by, row.left_to)


def sign_off_row(recorded: Recorded, verification: Recorded | None) -> SignOffRow:
    """The row of a sign-off with its second signature, if it has one."""
    sign = recorded.entry
    assert isinstance(sign, Sign | Cancel)
    return SignOffRow(
        item=sign.item,
        task=sign.task,
        at=utc_text(sign.at),
        entry=recorded.id,
        by=sign.by,
        occurrence=sign.occurrence,
        grade=sign.grade if isinstance(sign, Sign) else None,
        how=str(Closing.DONE if isinstance(sign, Sign) else Closing.CANCELLED),
        verified_by=verification.entry.by if verification else None,
        verified_through=verification.id if verification else None,
        points=json.dumps(dict(sign.points)) if isinstance(sign, Sign) and sign.points else "{}",
        out=",".join(sign.out) if isinstance(sign, Sign) else "",
        holds=int(isinstance(sign, Sign) and sign.holds),
        gauges=",".join(sign.gauges_used) if isinstance(sign, Sign) else "",
    )


def deferral_row(recorded: Recorded) -> DeferralRow:
    """A deferral as it stands in its table; the entry has to be a :class:`Defer`."""
    defer = recorded.entry
    assert isinstance(defer, Defer)
    return DeferralRow(defer.item, defer.task, defer.occurrence, defer.to, defer.by, utc_text(defer.at), recorded.id)


def happening_rows(item: str, entries: Iterable[Recorded]) -> list[HappeningRow]:
    """What happened to an item: what tasks may wait for, and that its life is not known."""
    rows: list[HappeningRow] = []
    for recorded in entries:
        at = utc_text(recorded.entry.at)
        match recorded.entry:
            case Fault() as fault:
                rows.append(HappeningRow(item, Event.FAULT.value, at, recorded.id))
                if fault.crash:
                    rows.append(HappeningRow(item, Event.CRASH.value, at, recorded.id))
            case Rework():
                rows.append(HappeningRow(item, Event.REWORK.value, at, recorded.id))
            case UnknownLife():
                rows.append(HappeningRow(item, LIFE_UNKNOWN, at, recorded.id))
            case Happened() as happened:
                rows.append(HappeningRow(item, happened.what, at, recorded.id))
            case ComeBack(bears=None):
                rows.append(HappeningRow(item, Event.BACK.value, at, recorded.id))
            case OutOfTolerance():
                rows.append(HappeningRow(item, Event.GAUGE_OUT.value, at, recorded.id))
            case Resume():
                rows.append(HappeningRow(item, Event.STORAGE.value, at, recorded.id))
    return rows
