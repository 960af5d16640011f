"""Entries turned into rows of projections, the same for one entry after another as for a whole replay."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import timedelta

from upkeep.book.found_rows import failed_hold, found_rows
from upkeep.book.known import Known
from upkeep.book.lookups import Row
from upkeep.counting.fittings import Fitting
from upkeep.counting.marks import Reading
from upkeep.due.facts import GONE
from upkeep.entries.found import Misread, Retire
from upkeep.entries.kinds import (
    Besides,
    Cancel,
    Count,
    Defer,
    Fault,
    Fit,
    Hold,
    Made,
    Order,
    Pause,
    Recorded,
    Release,
    Restart,
    Resume,
    Rework,
    Sign,
    Stated,
    Terms,
    Unfit,
    UnknownLife,
)  # fmt: skip
from upkeep.plant.model import Event
from upkeep.units.instants import from_utc_text, utc_text


def reading_of(one: Recorded, known: Known) -> tuple[str, Reading] | None:
    """The press and reading an entry brings; None for one that brings none.

    Quantities count as readings only on a press without a counter.
    """
    match one.entry:
        case Count() as count:
            return count.press, Reading(count.at, count.value, one.id, count.rolled_over, count.after_reset)
        case Restart() as restart:
            return restart.press, Reading(restart.at, restart.shown, one.id, restart=restart.now)
        case Made() as made if known.counter(made.press).digits == 0:
            return made.press, Reading(made.at, 0, one.id, pieces=made.pieces)
        case Fit() | Unfit() as move if move.press is not None and move.count is not None:
            return move.press, Reading(move.at, move.count, one.id)
    return None


def told_rows(one: Recorded) -> list[tuple[str, Row]]:
    """The rows of the tables that keep one row for each such entry."""
    at = utc_text(one.entry.at)
    match one.entry:
        case Terms() as terms:
            return [("terms", (terms.press, at, terms.way, terms.digits, terms.times, one.id))]
        case Made() as made:
            since = utc_text(made.at - timedelta(minutes=made.minutes))
            return [("made", (made.press, since, at, made.pieces, made.item, made.order, one.id))]
        case Besides() as besides:
            strokes = strokes_besides(besides)
            return [("besides", (item, at, strokes, one.id)) for item in besides.on]
        case Rework() as rework:
            return [("reworks", (rework.item, at, rework.granted, one.id))]
        case Order() as order:
            return [("orders", (order.order, at, order.pieces, order.item, order.press, order.day, one.id))]
        case Stated() as stated:
            return [("stated", (stated.item, stated.task, at, stated.done, stated.by, one.id))]
    return list(found_rows(one))


def strokes_besides(entry: Besides) -> int:
    """The strokes to add: those not counted with their weight; of counted ones, what they wear less."""
    weight = 1.0 if entry.weight is None else entry.weight
    return round(entry.strokes * (weight if entry.way in ("hand", "uncounted") else weight - 1))


def fitting_row(fitting: Fitting) -> Row:
    """The row of a fitting."""
    until = None if fitting.end is None else utc_text(fitting.end)
    return (
        fitting.item, utc_text(fitting.start), fitting.started_by, fitting.inside, until, fitting.ended_by,
        fitting.left_to,
    )  # fmt: skip


def fitting_from(row: Row) -> Fitting:
    """The fitting behind a row."""
    item, start, started_by, inside, until, ended_by, left_to = row
    end = None if until is None else from_utc_text(until)
    return Fitting(item, inside, from_utc_text(start), started_by, end, ended_by, left_to)


def sign_off_row(one: Recorded, verification: Recorded | None) -> Row:
    """The row of a sign-off with its second signature, if it has one."""
    sign = one.entry
    assert isinstance(sign, Sign | Cancel)
    verified = (None, None) if verification is None else (verification.entry.by, verification.id)
    grade, how = (sign.grade, "done") if isinstance(sign, Sign) else (None, "cancelled")
    points = json.dumps(dict(sign.points)) if isinstance(sign, Sign) else "{}"
    return (sign.item, sign.task, utc_text(sign.at), one.id, sign.by, sign.occurrence, grade, how, *verified, points)


def deferral_row(one: Recorded) -> Row:
    """The row of a deferral."""
    defer = one.entry
    assert isinstance(defer, Defer)
    return (defer.item, defer.task, defer.occurrence, defer.to, defer.by, utc_text(defer.at), one.id)


def happening_rows(item: str, entries: Iterable[Recorded]) -> list[Row]:
    """What happened to an item that tasks may wait for, from its faults and returns from storage."""
    rows: list[Row] = []
    for one in entries:
        at = utc_text(one.entry.at)
        match one.entry:
            case Fault() as fault:
                rows.append((item, Event.FAULT.value, at, one.id))
                if fault.crash:
                    rows.append((item, Event.CRASH.value, at, one.id))
            case Rework():
                rows.append((item, Event.REWORK.value, at, one.id))
            case Resume():
                rows.append((item, Event.STORAGE.value, at, one.id))
    return rows


STANDING = ("hold", "release", "pause", "resume", "fault", "unknown-life", "rework", "misread", "retire")
"""The kinds of entry that say whether an item may run, or what happened to it."""

STANDING_KINDS = Hold | Release | Pause | Resume | Fault | UnknownLife | Rework | Misread | Retire
"""The same as types."""


def standing_rows(
    item: str, entries: Iterable[Recorded], graded: Row | None, graded_out: Row | None, failed: Sequence[Row]
) -> list[Row]:
    """The hold and the pause in force on an item, from its entries in order, its last graded inspection and the last
    one graded 4, and its values found bad and not lifted.  An item of unknown life is held until it is inspected."""
    hold: Row | None = None
    pause: Row | None = None
    released = ("", 0)
    for one in entries:
        at, number = utc_text(one.entry.at), one.id
        reason = _held_because(one, graded)
        if reason is not None:
            hold = (item, "hold", at, reason, number)
        match one.entry:
            case Release():
                hold, released = None, (at, number)
            case Pause() as paused:
                pause = (item, "pause", pause[2] if pause else at, paused.because, number)
            case Resume():
                pause = None
    if hold is None and graded_out is not None and (graded_out[2], graded_out[3]) > released:
        hold = (item, "hold", graded_out[2], "grade 4 (out) at the inspection", graded_out[3])
    if hold is None and (bad := failed_hold(failed, released)) is not None:
        reason, at, number = bad
        hold = (item, "hold", at, reason, number)
    return [row for row in (hold, pause) if row is not None]


def _held_because(one: Recorded, graded: Row | None) -> str | None:
    """Why an entry holds its item by itself; None: it does not."""
    match one.entry:
        case Hold() as held:
            return held.because
        case Fault() as fault if fault.stopped:
            return f"stopped for a fault: {fault.symptom}"
        case UnknownLife() as unknown if graded is None or (graded[2], graded[3]) <= (utc_text(unknown.at), one.id):
            return "unknown life: none left until it is inspected"
        case Misread() as misread:
            return f"reads wrong by {misread.off:+g}: not used until it is calibrated and released"
        case Retire() as retired:
            return f"{GONE}{retired.end}"
    return None
