"""Alarms: what runs, or is about to, although it must not - held, or past its hard stop - and no permit covers it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from upkeep.counting.strokes import strokes_between
from upkeep.due.holds import PressInDoubt
from upkeep.due.reason_json import reasons_from
from upkeep.due.reasons import After, Asked
from upkeep.due.rests import ran_since
from upkeep.entries.standing import LineStanding, Standing
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.holds import permit_left
from upkeep.keeping.rows.doubted_presses import open_doubt
from upkeep.plant.model import Event, Kind
from upkeep.said import Moment, Numeral, Said, Value, in_turn, listed, said
from upkeep.store.rows.lines import LineRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.quantities import in_strokes
from upkeep.wording.holds import hold_said

_SECOND = timedelta(seconds=1)
"""Moments are kept by the second: what happened at one is before the next."""


BEFORE_IT_RUNS = (
    Event.FITTING, Event.TOOL_SETTING, Event.CRASH, Event.STORAGE, Event.PRESS_MOVED, Event.GUARD_REMOVED, Event.BACK,
)  # fmt: skip
"""Events after which a press must not run before the work they ask for is done."""


@frozen
class Bar:
    """Why an item must not run, and since when; ``hold`` tells a hold from a hard stop.

    ``on`` is the one press on which it must not; None: on none.
    """

    item: str
    since: datetime
    reason: Value
    hold: bool
    on: str | None = None


class Alarms:
    """Finds such items in a book as it stands."""

    def __init__(self, context: Context) -> None:
        self._context, self._judge = context, context.judge
        self._rows, self._findings = context.rows, context.findings

    def bars(self, item: str, at: datetime) -> Iterator[Bar]:
        """Why an item, or something in it, must not run at a moment, on any press."""
        hold = self._rows.hold_on(item)
        if hold is not None and hold.since <= utc_text(at):
            yield Bar(item, from_utc_text(hold.since), hold_said(self._context.known.reason_of(hold)), True)
        crash = self._crash(item, at)
        if crash is not None:
            yield Bar(item, crash, said("not inspected since a crash"), False)
        for stopped in self._context.lines.stopped_by_strokes(item, utc_text(at)):
            yield Bar(
                item, from_utc_text(stopped.since), said("past the hard stop of {line}", line=stopped.line), False
            )
        for content in self._rows.inside_now(item):
            yield from self.bars(content.item, at)

    def bars_on(self, press: str, item: str, at: datetime) -> Iterator[Bar]:
        """Why an item, or something in it, must not run at a moment on one press, be it on this one alone."""
        yield from self.bars(item, at)
        doubted = self._rows.doubts_of(press)  # of most presses none, and each count asks
        for key in (item, *self._inside(item)) if doubted else ():
            doubt = open_doubt(self._rows, self._context.known, key, press)
            if doubt is not None and doubt.at <= utc_text(at):
                reason = hold_said(PressInDoubt(press, doubt.entry))
                yield Bar(key, from_utc_text(doubt.at), reason, True, press)

    def _crash(self, item: str, at: datetime) -> datetime | None:
        """The last crash a die set was in and that no graded inspection followed; None: there is none."""
        if self._judge.known.item(item).kind is not Kind.DIE_SET:
            return None
        stay, graded = self._judge.counts.stay_from(item, at), self._rows.last_graded(item)
        rows = [self._rows.last_happening(item, Event.CRASH, utc_text(at + _SECOND))]
        if stay is not None:
            until = at if stay.end is None else min(at, stay.end)
            on_press = self._rows.last_happening(stay.press, Event.CRASH, utc_text(until + _SECOND))
            rows.append(on_press if on_press and on_press.at >= utc_text(stay.start) else None)
        last = max((row.at for row in rows if row), default=None)
        return from_utc_text(last) if last and (graded is None or graded.at < last) else None

    def permitted(self, bar: Bar, at: datetime) -> int:
        """How many strokes a named person lets it run all the same."""
        return permit_left(self._context, bar.item, at)

    def of_press(self, press: str, at: datetime = NEVER) -> Iterator[tuple[Bar, Said]]:
        """What ran on a press although it must not, each with the sentence for whoever is told first."""
        until = self._judge.counts.last_read(press)
        if until is None:
            return
        moment = min(until, at)
        for bar in self.bars_on(press, press, moment):
            done = strokes_between(self._judge.counts, bar.item, bar.since, moment)
            if done.low <= 0:
                continue
            if self._findings.last_permit(bar.item, utc_text(moment)) is not None:
                left = self.permitted(bar, moment)
                if left:
                    continue
            yield bar, self._sentence(bar, press, done.low, moment)

    def put_away(self, press: str, at: datetime = NEVER) -> Iterator[tuple[Bar, Said]]:
        """What ran on a press although it is in storage or out of use, with the sentence; told until it is brought
        back by an entry."""
        for item in (press, *self._inside(press)):
            pause = next((row for row in self._rows.standings_of(item) if row.what == Standing.PAUSE), None)
            since = from_utc_text(pause.since) if pause is not None else at
            if pause is None or ran_since(self._judge.counts, item, since, at) is None:
                continue
            done = strokes_between(self._judge.counts, item, since, at).low
            sentence = said(
                "ALARM: {item} has been in storage or out of use since {moment} and has done {strokes} since. It is "
                "not at rest, so its work is asked for again. Say that it is in use ('resume').",
                item=item if item == press else said("{item} on {press}", item=item, press=press),
                moment=Moment(since, self._judge.known.zone),
                strokes=in_strokes(done),
            )
            yield Bar(item, since, said("in storage or out of use"), False), sentence

    def unchecked(self, press: str) -> Iterator[Said]:
        """What ran on a press although work was asked for before it ran again: one sentence for each event."""
        read = self._judge.counts.last_read(press)
        if read is None:
            return
        asked: dict[After, list[str]] = {}
        for row in self._context.lines.of_items([press, *self._inside(press)]):
            for reason in self._open_events(row):
                ran = strokes_between(self._judge.counts, row.item, reason.at, read).low
                if ran >= self._judge.known.task(row.task).used_from:
                    asked.setdefault(reason, []).append(f"{row.title} ({row.line})")
        for reason, titles in asked.items():
            yield said(
                "ALARM: {press} ran although this has not been done since the {event} of {moment} (#{entry}): {tasks}. "
                "Stop the press and do it first.",
                press=press,
                event=reason.event,
                moment=Moment(reason.at, self._judge.known.zone),
                entry=Numeral(reason.entry),
                tasks=listed(titles),
            )

    def locked(self, press: str) -> Iterator[Said]:
        """What a press counted while a lock hangs on it; of one that came off the questions tell."""
        if any(row.item == press and row.task is None for row in self._rows.under_way()):
            from upkeep.answers.under_way.locked import counted_while_locked  # few presses are locked when they count

            yield from (told.asks for told in counted_while_locked(self._context, press))

    @staticmethod
    def _open_events(row: LineRow) -> Iterator[After]:
        """The events after which a line asks for work before its item runs again."""
        if row.standing == LineStanding.ACTIVE:
            for reason in reasons_from(row.reasons).all:
                if isinstance(reason, Asked):
                    after = (one for one in reason.by if isinstance(one, After))
                    yield from (one for one in after if one.event in BEFORE_IT_RUNS)

    def _inside(self, item: str) -> Iterator[str]:
        for content in self._rows.inside_now(item):
            yield content.item
            yield from self._inside(content.item)

    def _sentence(self, bar: Bar, press: str, done: int, moment: datetime) -> Said:
        used_up = self._findings.last_permit(bar.item, utc_text(moment)) is not None
        alarm = said(
            "ALARM: {item} on {press} must not run ({reason}, since {moment}) and has done {strokes} since.",
            item=bar.item,
            press=press,
            reason=bar.reason,
            moment=Moment(bar.since, self._judge.known.zone),
            strokes=in_strokes(done),
        )
        return in_turn(
            alarm,
            said("Its deviation permit is used up.") if used_up else None,
            said("Stop the press."),
            self._made(bar, moment) if bar.hold else None,
        )

    def _made(self, bar: Bar, moment: datetime) -> Said | None:
        """Where to read what a held item made; None where no product is on a list."""
        from upkeep.answers.suspect.named import made_said  # for alarms only, and those are rare

        return made_said(self._context.at(moment), bar.item)
