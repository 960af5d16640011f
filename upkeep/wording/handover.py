"""What a shift hands over, in sentences under headings: the same on paper, at a station and at a screen."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.states import State
from upkeep.frozen import frozen
from upkeep.said import Join, Numeral, Said, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.board import BoardLine
from upkeep.views.faults import FaultCase
from upkeep.views.handover import Handed, Handover
from upkeep.views.jobs import Job
from upkeep.wording.changeover import change_said
from upkeep.wording.holds import hold_said
from upkeep.wording.jobs import begins_anew_said, job_said, lock_said, shift_said
from upkeep.wording.states import SIGNS


@frozen
class Part:
    """One heading with what stands under it; ``more`` says how many are left out (None: none)."""

    heading: Said
    rows: tuple[Said, ...]
    more: Said | None = None


_SHOWN = 12
"""Rows under a heading; what is more stands on the board."""


def title_said(handover: Handover) -> Said:
    """What the page is about."""
    return said("Handover of the {shift}, {plant}", shift=shift_said(handover.shift), plant=handover.plant)


def standing_said(handover: Handover, zone: Zone) -> Iterator[Said]:
    """Who gave and who accepted it, or that nobody did."""
    if handover.given is not None:
        yield _handed(said("Given"), handover.given, zone)
    if handover.accepted is not None:
        yield _handed(said("Accepted"), handover.accepted, zone)
        return
    yield said("Nobody of the next shift has accepted it yet.")


def _handed(what: Said, handed: Handed, zone: Zone) -> Said:
    by = said("{what}: {name}, {at}", what=what, name=handed.name, at=minute(handed.at, zone))
    return said("{by}: {text}", by=by, text=handed.text) if handed.text else by


def parts(handover: Handover, zone: Zone) -> tuple[Part, ...]:
    """All that is handed over, under its headings; those with nothing to say are left out."""
    found = (
        _part(said("Jobs under way"), [row for job in handover.jobs for row in _job_rows(job, zone)]),
        _part(
            said("Changes of tools that are open"),
            [
                said("{press}: {change}", press=change.press, change=change_said(change, zone))
                for change in handover.changes
            ],
        ),
        _part(
            said("Locks on presses"),
            [
                said("{press}: {lock}", press=lock.press, lock=lock_said(lock, lambda at: minute(at, zone)))
                for lock in handover.locks
            ],
        ),
        _part(
            said("Must not run"),
            [said("{item}: {why}", item=held.item, why=hold_said(held.hold)) for held in handover.held],
        ),
        _part(said("Faults that are open"), [_fault(fault) for fault in handover.faults]),
        _part(said("Faults that ended in this shift"), [_fault(fault) for fault in handover.mended]),
        _part(said("Work of the shift that nobody did"), [_line(line) for line in handover.missed]),
        _part(said("Past its latest time"), [_line(line) for line in handover.over]),
        _part(
            said("Presses nobody counted"),
            [said("{presses}", presses=listed(handover.uncounted))] if handover.uncounted else [],
        ),
        _part(said("Told the lead"), [said("{name}: {text}", name=one.by_name, text=one.text) for one in
                                      handover.remarks]),
        _part(said("Questions"), [question.asks for question in handover.questions]),
    )  # fmt: skip
    return tuple(part for part in found if part.rows)


def _part(heading: Said, rows: list[Said]) -> Part:
    left = len(rows) - _SHOWN
    more = said("... and {n} more; see the board.", n=left) if left > 0 else None
    return Part(heading, tuple(rows[:_SHOWN]), more)


def _job_rows(job: Job, zone: Zone) -> Iterator[Said]:
    who = job_said(job, lambda at: minute(at, zone))
    yield said("{title}, {where}: {who}", title=job.title, where=_where(job.item, job.place), who=who)
    if job.ran:
        yield begins_anew_said(job)


def _fault(fault: FaultCase) -> Said:
    state = term(fault.state, "state of a fault")
    return said(
        "#{number} {item}: {symptom} ({state})",
        number=Numeral(fault.number), item=fault.item, symptom=term(fault.symptom), state=state,
    )  # fmt: skip


def _line(line: BoardLine) -> Said:
    row = said(
        "{sign} {title}, {where}: {state}",
        sign=SIGNS[line.state], title=line.title, where=_where(line.item, line.place), state=_state(line),
    )  # fmt: skip
    if line.remaining is not None and line.remaining < 0:
        over = in_strokes(-line.remaining)
        return said("{row}", row=listed([row, said("{strokes} over", strokes=over)], Join.COMMA))
    return row


def _where(item: str, place: str) -> Said:
    """The item and its place; a press is a place of its own."""
    return said("{item}", item=item) if item == place else said("{item} at {place}", item=item, place=place)


def _state(line: BoardLine) -> Said:
    return said("past its stop") if line.state is State.STOP else said("overdue")


NOTHING = said("Nothing is open, held or missed.")
EYES = said(
    "What the book does not know stands nowhere here: walk the presses together. Where a lock changes hands, the one "
    "who comes hangs theirs before the other comes off (United States: 29 CFR 1910.147(f)(4)). Local law and your "
    "plant's own procedure decide."
)
