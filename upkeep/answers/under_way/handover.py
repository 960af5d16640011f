"""What a shift hands over to the next: made from the book, not from memory."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.answers.faults.faults import FaultViews
from upkeep.answers.history import history_of
from upkeep.answers.press.changing import Changing
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.answers.under_way.shifts import last_shift
from upkeep.answers.unseen import unseen
from upkeep.due.holds import Gone
from upkeep.due.reason_json import hold_from
from upkeep.due.states import State
from upkeep.entries.jobs import Handover as Handed
from upkeep.entries.lives import Remark
from upkeep.entries.standing import Standing
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.said import said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import BoardQuery
from upkeep.views.changeover import Change
from upkeep.views.handover import Handed as HandedOver
from upkeep.views.handover import Handover, Held

_ALL = 10_000
_LATE = frozenset({State.OVERDUE, State.STOP})


def handover(context_at: Callable[[datetime], Context], at: datetime, shift: str | None) -> Handover:
    """What a shift hands over as it stands at a moment; after it was accepted, as it stood then.

    Raises :class:`Refused` where the plant has no shifts, :class:`Unreadable` for a shift there is none of.
    """
    context = context_at(at)
    calendar = context.known.calendar
    span = calendar.named(shift) if shift is not None else last_shift(calendar, at)
    if span is None:
        raise Refused(said("The plant has no shifts to hand over; they stand in plant.toml."))
    given, accepted = _handed(context, span.key, "given"), _handed(context, span.key, "accepted")
    if accepted is not None and accepted.at < at:
        context = context_at(accepted.at)
    return _made(context, span, given, accepted)


def _handed(context: Context, shift: str, side: str) -> HandedOver | None:
    for row in context.rows.handovers_of(shift):
        recorded = context.entries.by_number(row.entry) if row.side == side else None
        if recorded is not None and isinstance(recorded.entry, Handed):
            entry = recorded.entry
            return HandedOver(context.names.of(entry.by, row.entry), entry.at, entry.text)
    return None


def _made(context: Context, span: ShiftSpan, given: HandedOver | None, accepted: HandedOver | None) -> Handover:
    work, faults = WorkUnderWay(context), FaultViews(context)
    late = Boards(context).window(BoardQuery(states=_LATE), 0, _ALL).rows
    since, until = utc_text(span.start), utc_text(min(span.end, context.moment))
    return Handover(
        plant=context.known.facts.name,
        shift=span.key,
        began_at=span.start,
        ends_at=span.end,
        at=context.moment,
        given=given,
        accepted=accepted,
        jobs=tuple(work.jobs()),
        changes=tuple(_open_changes(context)),
        locks=tuple(work.locks()),
        held=tuple(_held(context)),
        faults=faults.listing(only_open=True).faults,
        mended=tuple(
            fault
            for fault in faults.listing(limit=_RECENT).faults
            if fault.ended_at is not None and span.start <= fault.ended_at <= span.end
        ),
        missed=tuple(line for line in late if line.each_shift),
        over=tuple(line for line in late if not line.each_shift),
        uncounted=tuple(_uncounted(context, since)),
        questions=unseen(context),
        remarks=history_of(context, context.entries.of_kind(Remark, since, until)),
    )


_RECENT = 200
"""Faults that are looked through for those that ended in the shift."""


def _open_changes(context: Context) -> Iterator[Change]:
    changing = Changing(context)
    for item in context.known.items.values():
        change = changing.open_on(item.id) if item.kind is Kind.PRESS and not item.scrapped else None
        if change is not None:
            yield change


def _held(context: Context) -> Iterator[Held]:
    for row in context.rows.standings(Standing.HOLD):
        if isinstance(hold_from(row.reason), Gone):
            continue  # what left for good hangs nowhere and waits for nobody
        yield Held(row.item, from_utc_text(row.since), context.known.reason_of(row))


def _uncounted(context: Context, since: str) -> Iterator[str]:
    """The presses in use on which something hangs and that nobody counted from a moment on."""
    counted = {row.press for row in context.tallies.last_marks() if row.at >= since}
    resting = {row.item for row in context.rows.standings(Standing.PAUSE)}
    for item in context.known.items.values():
        hangs = item.kind is Kind.PRESS and not item.scrapped and item.digits != 0
        if hangs and item.id not in counted | resting and context.rows.inside_now(item.id):
            yield item.id
