"""Admission of what goes out for rework and comes back; and that nothing is fitted before it was inspected."""

from __future__ import annotations

from datetime import date, datetime
from typing import ClassVar

from upkeep.admission.gauges import check_gauge_counts
from upkeep.admission.lives import check_not_gone
from upkeep.admission.resting import holders_of
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.shelf.outside import state_at
from upkeep.answers.shelf.stock import Shelf
from upkeep.entries.shelf.outside import ComeBack, SendOut, TakeIn
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.model import PARTS, Item, Kind
from upkeep.said import Moment, Said, said, term
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.overview.shelf import Away

_AWAY = (Away.OUT, Away.BACK, Away.BAD, Away.EXCHANGED)


class OutsideAdmission(SubjectAdmission):
    """Judges what is sent to outside rework, what comes back, and its receiving inspection."""

    def _send(self, entry: SendOut) -> None:
        item = self._known.item(entry.item)
        check_not_gone(self._context, item.id, entry.at, said("sent out"))
        if item.kind is Kind.PRESS:
            raise Refused(said("{item} is a press; a press is not sent out for rework.", item=item.id))
        inside = next(holders_of(self._context, item.id, entry.at), None)
        if inside is not None:
            raise Refused(said("{item} sits in {inside}; take it out first ('unfit').", item=item.id, inside=inside))
        if self._state(entry) in (Away.OUT, Away.EXCHANGED):
            raise Refused(said("{item} is out already ('outside').", item=item.id))
        if not entry.to.strip() or not entry.text.strip():
            raise Refused(said("Say to whom {item} goes, and what is to be done to it.", item=item.id))
        if date.fromisoformat(entry.expected) < self._known.zone.day(entry.at):
            raise Refused(said("{day} is before the day it is sent.", day=date.fromisoformat(entry.expected)))
        self.notes.append(said("Print its life tag before it leaves ('life-tag {item}').", item=item.id))

    def _come_back(self, entry: ComeBack) -> None:
        item = self._known.item(entry.item)
        if self._state(entry) is not Away.OUT and entry.corrects is None:
            raise Refused(said("{item} is not out; nothing of it is expected.", item=item.id))
        self._check_after_sending(item, entry.at)
        if entry.bears is None:
            self.notes.append(said("{item} is not fitted before its receiving inspection ('take-in').", item=item.id))
            return
        other = self._known.item(entry.bears)
        if other.id == item.id or other.kind is not item.kind:
            raise Refused(
                said(
                    "What came back is another {kind}, with an id of its own; {other} is none.",
                    kind=term(item.kind, "kind"), other=other.id,
                )
            )  # fmt: skip
        self.notes.append(
            said(
                "{item} did not come back: {other} came. What {other} has done before is not known from this book; "
                "tell it ('uncounted' or 'unknown-life') before it is fitted.",
                item=item.id, other=other.id,
            )
        )  # fmt: skip

    def _take_in(self, entry: TakeIn) -> None:
        item = self._known.item(entry.item)
        if self._state(entry) not in (Away.BACK, Away.BAD) and entry.corrects is None:
            raise Refused(said("{item} does not wait for a receiving inspection.", item=item.id))
        self._check_after_sending(item, entry.at)
        if entry.gauge is not None:
            self.notes += check_gauge_counts(self._context, entry.gauge, entry.at)
        if not entry.good and not entry.text.strip():
            raise Refused(said("Say what is wrong with {item} ('--text').", item=item.id))
        if entry.good and not entry.points and not entry.text.strip():
            raise Refused(said("Say what was measured on {item} (point=value), or what was looked at.", item=item.id))
        if entry.good and item.kind in PARTS and self._context.rows.last_rework(item.id) is None:
            self.notes.append(said("If {item} was reworked, enter what that grants it ('rework').", item=item.id))

    def _state(self, entry: SendOut | ComeBack | TakeIn) -> Away | None:
        return state_at(self._context, entry.item)

    def _check_after_sending(self, item: Item, at: datetime) -> None:
        rows = [row for row in self._context.shelf_history.outside_of(item.id) if row.way == "send-out"]
        if rows and utc_text(at) < rows[-1].at:
            sent = Moment(from_utc_text(rows[-1].at), self._known.zone)
            raise Refused(said("{item} was sent out {sent}, after that.", item=item.id, sent=sent))

    JUDGES: ClassVar[Judges] = {SendOut: _send, ComeBack: _come_back, TakeIn: _take_in}


def check_is_here(context: Context, item: str, what: Said) -> None:
    """Refuses ``what`` with something that is out for rework, waits for its receiving inspection or was refused."""
    state = state_at(context, item)
    if state in _AWAY:
        raise Refused(
            said(
                "{item} {state}; it cannot be {what}. It is fitted once its receiving inspection found it good "
                "('take-in').",
                item=item,
                state=_STATES[state],
                what=what,
            )
        )


_STATES = {
    Away.OUT: said("is out for rework"),
    Away.BACK: said("is back from rework and not inspected"),
    Away.BAD: said("was refused at its receiving inspection"),
    Away.EXCHANGED: said("never came back from rework: another piece came"),
}


def without_record(context: Context, item: Item, inside: Item) -> Said | None:
    """That a part is put in that nobody received, though the plant keeps such parts: its life may begin wrong."""
    known = context.known
    kept = any(
        spare.part is item.kind and spare.is_for(item.family or inside.family) for spare in known.spares.values()
    )
    if not kept or item.kind not in PARTS or context.rows.last_fitting(item.id) is not None:
        return None
    if Shelf(context).spare_of(item.id) is not None:
        return None
    return said(
        "{item} was never received on the shelf, so the book knows no batch of it, and takes it as new. If it is not, "
        "tell what it has done ('uncounted' or 'unknown-life').",
        item=item.id,
    )
