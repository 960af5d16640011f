"""Admission of what is put into storage or out of use, and brought back: only what runs nowhere rests."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.due.rests import ran_since
from upkeep.entries.faults import Pause, Resume
from upkeep.entries.standing import Standing
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.said import Moment, Value, listed, said
from upkeep.store.projections import Projections
from upkeep.store.rows.signatures import StandingRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text


class RestAdmission(SubjectAdmission):
    """Judges pauses and their ends."""

    def _check_pause(self, pause: Pause) -> None:
        """Only what runs nowhere is put away: nothing on a press, and no press with something on it."""
        item = self._known.item(pause.item)
        self._check_not_run_since(item.id)
        if item.kind is Kind.PRESS:
            at = utc_text(pause.at)
            on_it = [row.item for row in self._rows.fittings_in(item.id, at) if row.start <= at]
            if on_it:
                raise Refused(
                    said(
                        "{items} hangs on {press}. Take it off first ('unfit'); a press is put out of use empty.",
                        items=listed(on_it),
                        press=item.id,
                    )
                )
            return
        press = press_over(self._context, item.id, pause.at)
        if press is not None:
            raise Refused(
                said(
                    "{item} hangs on {press}. Take it off first ('unfit'); nothing on a press is in storage or out of "
                    "use.",
                    item=item.id,
                    press=press,
                )
            )

    def _check_not_run_since(self, item: str) -> None:
        """A pause that counts have ended is not told again over them."""
        pause = _pause_of(self._rows, item)
        if pause is None:
            return
        self._counter.settle()
        since = from_utc_text(pause.since)
        if ran_since(self._context.judge.counts, item, since, NEVER) is not None:
            raise Refused(
                said(
                    "{item} has run since it was put away {moment}, which ended that. Say that it is in use again "
                    "('resume'), then put it away again.",
                    item=item,
                    moment=Moment(since, self._known.zone),
                )
            )

    def _check_resume(self, resume: Resume) -> None:
        if _pause_of(self._rows, self._known.item(resume.item).id) is None:
            raise Refused(said("{item} is not in storage or out of use.", item=resume.item))

    JUDGES: ClassVar[Judges] = {Pause: _check_pause, Resume: _check_resume}


def check_not_resting(context: Context, item: str, at: datetime) -> None:
    """Refuses an item that is in storage or out of use at a moment."""
    pause = _pause_of(context.rows, item)
    if pause is None or pause.since > utc_text(at):
        return
    since: Value = Moment(from_utc_text(pause.since), context.known.zone)
    if pause.reason:
        since = said("{moment} ({reason})", moment=since, reason=pause.reason)
    raise Refused(
        said(
            "{item} has been in storage or out of use since {since}. Bring it back first "
            "('resume'); the board then shows what has to be done before it runs.",
            item=item,
            since=since,
        )
    )


def holders_of(context: Context, item: str, at: datetime) -> Iterator[str]:
    """What an item sits in from a moment on, from the nearest to the press."""
    moment = utc_text(at)
    key: str | None = item
    while key is not None and context.known.item(key).kind is not Kind.PRESS:
        inside = [row.inside for row in context.rows.fittings_of(key, moment) if row.start <= moment]
        key = inside[-1] if inside else None
        if key is not None:
            yield key


def press_over(context: Context, item: str, at: datetime) -> str | None:
    """The press an item hangs on from a moment on; None: on none."""
    last = [item, *holders_of(context, item, at)][-1]
    return last if context.known.item(last).kind is Kind.PRESS else None


def _pause_of(rows: Projections, item: str) -> StandingRow | None:
    return next((row for row in rows.standings_of(item) if row.what == Standing.PAUSE), None)
