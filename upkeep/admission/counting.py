"""Admission of what is told about counters, quantities, reworks and orders."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import ClassVar

from upkeep.admission.readings import with_fastest
from upkeep.admission.subject import Judges, SubjectAdmission, entry_in_effect
from upkeep.answers.alarms import Alarms
from upkeep.answers.before_running import beyond, orders_waiting
from upkeep.answers.life import before_the_book
from upkeep.answers.worn_less import claimed, wears_less
from upkeep.counting.judgement import FASTEST, SLACK_STROKES
from upkeep.counting.marks import NONE, WAYS
from upkeep.entries.counting import (
    BEFORE_THE_BOOK,
    UNCOUNTED_WAYS,
    ConfigureCounter,
    Count,
    QuantityMade,
    Restart,
    UncountedStrokes,
)
from upkeep.entries.entry import Entry
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.planning import Order
from upkeep.errors import Refused
from upkeep.keeping.entry_rows import reading_of
from upkeep.plant.model import PARTS, Item, Kind
from upkeep.said import Numeral, Quoted, Said, in_turn, listed, said, term
from upkeep.store.rows.counts import LONGEST_RUN_MINUTES, MarkRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes

RATE_FROM = timedelta(days=28)
"""How far back the rate of a press is taken from where its strokes have to be guessed.  Plant default, no source."""

MOST_BEFORE = 50_000_000
"""Strokes somebody may tell that an item did before this book."""


class CountAdmission(SubjectAdmission):
    """Judges counters, quantities, uncounted strokes, reworks and orders."""

    def _with_fastest(self, entry: Count) -> Count:
        self._check_count(entry)
        return with_fastest(entry, self._known)

    def _check_count(self, entry: Count) -> None:
        counter = self._known.counter(entry.press)
        if entry.disputes is None:
            return
        disputed = entry_in_effect(self._context, entry.disputes)
        read = reading_of(disputed, self._known)
        if read is None or read[0] != counter.id:
            raise Refused(
                said(
                    "#{entry} is not a reading of {counter}, so no count can be kept against it.",
                    entry=Numeral(disputed.id),
                    counter=counter.id,
                )
            )
        self.notes.append(
            said(
                "Kept as read; it does not count yet. The lead settles whether #{entry} is wrong ('settle').",
                entry=Numeral(disputed.id),
            )
        )

    def _check_unknown(self, entry: UnknownLife) -> None:
        self._check_reason(entry, said("the life of {item} is unknown", item=self._known.item(entry.item).id))

    def _check_reason(self, entry: Entry, what: Said) -> None:
        if not entry.because:
            raise Refused(said("Say why {what}; the reason stays in the book.", what=what))

    def _check_counter(self, entry: Restart | ConfigureCounter) -> None:
        counter = self._known.counter(entry.press)
        if counter.digits == 0:
            raise Refused(said("{counter} has no counter.", counter=counter.id))
        if isinstance(entry, Restart):
            self._check_reason(
                entry,
                said("the counter of {counter} shows a different figure (set back, replaced)", counter=counter.id),
            )
            self._check_figures(entry)
            return
        self._check_reason(entry, said("the counter of {counter} counts differently", counter=counter.id))
        ways = [way for way in WAYS if way != NONE]
        if entry.way not in ways:
            raise Refused(
                said(
                    "{way} is not a way for a counter to count. Use one of: {ways}.",
                    way=Quoted(entry.way),
                    ways=listed(ways),
                )
            )
        if not 3 <= entry.digits <= 10 or not 0.01 <= entry.times <= 1000:
            raise Refused(said("A counter has 3 to 10 digits and 0.01 to 1,000 strokes to each count."))

    def _with_rate(self, entry: Restart) -> Restart:
        """Where nobody knows what the old counter showed, with the rates by which its strokes are guessed."""
        self._check_counter(entry)
        if entry.shown is not None:
            return entry
        last = self._rows.mark_at(entry.press, utc_text(entry.at))
        if last is None:
            raise Refused(
                said(
                    "{press} was not read before, so there is nothing to start from. Enter what its counter shows now "
                    "as a count.",
                    press=entry.press,
                )
            )
        rate, fastest = self._rate_since(last, entry.at), self._known.counter(entry.press).max_rate or FASTEST
        return replace(entry, rate=min(rate, fastest), fastest=fastest)

    def _rate_since(self, last: MarkRow, at: datetime) -> int:
        """Strokes an hour of the clock since a reading: by the hours shifts ran since, as fast as in the weeks before
        it; 0 where the press has not run in these."""
        read = from_utc_text(last.at)
        looked_back = utc_text(read - RATE_FROM)
        first = self._rows.mark_at(last.press, looked_back) or self._rows.first_mark(last.press)
        hours = (at - read).total_seconds() / 3600
        ran = 0.0 if first is None else self._known.running_hours(from_utc_text(first.at), read)
        if first is None or not ran or not hours:
            return 0
        return round((last.total - first.total) / ran * self._known.running_hours(read, at) / hours)

    def _check_figures(self, entry: Restart) -> None:
        digits = self._counter.configuration_at(entry.press)(entry.at).digits
        if digits is not None and entry.now >= 10**digits:
            raise Refused(
                said(
                    "{now} has more digits than the counter of {press} ({digits}). If the new counter has "
                    "more, enter that first ('configure-counter').",
                    now=entry.now,
                    press=entry.press,
                    digits=digits,
                )
            )

    def _check_quantity(self, entry: QuantityMade) -> None:
        press = self._known.press(entry.press)
        if entry.item is not None:
            self._check_die_set(entry.item)
        if not 1 <= entry.minutes <= LONGEST_RUN_MINUTES or entry.pieces > 10**9:
            raise Refused(said("A quantity covers a run of 1 minute to 7 days."))
        self._check_pace(entry, press)

    def _check_pace(self, entry: QuantityMade, press: Item) -> None:
        """Where there is no counter the pieces are the strokes, and no press makes more than it can."""
        most = None if press.max_rate is None else press.max_rate * entry.minutes / 60 + SLACK_STROKES
        if press.digits == 0 and most is not None and entry.pieces > most:
            raise Refused(
                said(
                    "{press}: {pieces} pieces in {minutes} minutes is more than it can make ({most} an hour). "
                    "Nothing was changed; check the quantity and the minutes.",
                    press=press.id,
                    pieces=entry.pieces,
                    minutes=Numeral(entry.minutes),
                    most=press.max_rate or 0,
                )
            )

    def _check_die_set(self, key: str) -> None:
        item = self._known.item(key)
        if item.kind is not Kind.DIE_SET:
            raise Refused(
                said(
                    "{item} is a {kind}; name the die set that made the pieces.",
                    item=item.id,
                    kind=term(item.kind, "kind"),
                )
            )

    def _with_items(self, entry: UncountedStrokes) -> UncountedStrokes:
        item = self._known.item(entry.item)
        if entry.way not in UNCOUNTED_WAYS:
            raise Refused(
                said(
                    "{way} is not known here. Say how the uncounted strokes were made: {ways}.",
                    way=Quoted(entry.way),
                    ways=listed(UNCOUNTED_WAYS),
                )
            )
        most = MOST_BEFORE if entry.way in BEFORE_THE_BOOK else 100_000
        if not 1 <= entry.strokes <= most:
            raise Refused(said("Enter 1 to {most} strokes.", most=most))
        if entry.way in BEFORE_THE_BOOK:
            self._check_not_run(entry)
        weight = entry.weight
        if weight is None:
            weight = float(self._known.facts.weights.get(entry.way, 1.0))
        if not 0 <= weight <= 10:
            raise Refused(said("The weight of a stroke must be from 0 to 10."))
        on = tuple(dict.fromkeys(entry.on or self._counter.contents_at(item.id, entry.at)))
        for key in on:
            self._known.item(key)
        entry = replace(entry, weight=weight, on=on)
        if wears_less(entry):
            self._check_was_counted(entry)
        return entry

    def _check_not_run(self, entry: UncountedStrokes) -> None:
        """What was done before the book is told once, and before the item runs here; else its life steps up."""
        earlier = before_the_book(self._context, entry.item)
        if earlier and entry.corrects is None:
            raise Refused(
                said(
                    "{item} is told to have done {strokes} before this book; correct that entry if it is wrong.",
                    item=entry.item,
                    strokes=in_strokes(earlier),
                )
            )
        last = self._rows.last_fitting(entry.item)
        if last is not None and not entry.because:
            raise Refused(
                said(
                    "{item} was fitted here already. If it had strokes before that all the same, say how you know "
                    "(--because).",
                    item=entry.item,
                )
            )

    def _check_was_counted(self, entry: UncountedStrokes) -> None:
        """Strokes at set-up and dry were counted: they take no more off a life than the press put on it."""
        # What this write has counted so far is part of what the press put on them.
        self._counter.settle()
        for key in entry.on:
            found = claimed(self._context, key, entry.at, entry.strokes, entry.corrects)
            if found.too_many:
                raise Refused(
                    in_turn(
                        found.said,
                        said(
                            "Nothing was changed. Count the press first, or enter no more than it did; strokes that no "
                            "counter saw are entered as 'hand'."
                        ),
                    )
                )

    def _check_rework(self, entry: Rework) -> None:
        item = self._known.item(entry.item)
        if item.kind not in PARTS:
            kind = term(item.kind, "kind")
            raise Refused(said("{item} is a {kind}; only parts are reworked.", item=item.id, kind=kind))
        if item.scrapped:
            raise Refused(
                said("{item} was scrapped on {scrapped}; it cannot be reworked.", item=item.id, scrapped=item.scrapped)
            )
        self._check_reason(entry, said("{item} was reworked, and what it measured before and after", item=item.id))
        if entry.granted_by is not None and not self._known.person(entry.granted_by).signs_on(
            self._known.zone.day(entry.at)
        ):
            raise Refused(
                said(
                    "{person} granted nothing on {day}: the account was closed by then.",
                    person=self._known.person(entry.granted_by).name,
                    day=self._known.zone.day(entry.at),
                )
            )
        last = self._rows.last_rework(item.id)
        # A correction takes the place of a rework that was counted when it was written.
        done = last.times if last and entry.corrects is None else 0
        if item.max_reworks is not None and done >= item.max_reworks:
            raise Refused(
                said(
                    "{item} has been reworked {done} times, and {most} is the limit. Scrap it and fit a new one.",
                    item=item.id,
                    done=done,
                    most=item.max_reworks,
                )
            )
        if item.life is not None and entry.granted > item.life:
            raise Refused(
                said(
                    "{granted} is more than the life of a new part ({life}).",
                    granted=entry.granted,
                    life=in_strokes(item.life),
                )
            )

    def _check_order(self, entry: Order) -> None:
        self._known.press(entry.press)
        self._check_die_set(entry.item)
        try:
            date.fromisoformat(entry.day)
        except ValueError:
            raise Refused(said("{day} is not a date; write it like 2026-03-09.", day=Quoted(entry.day))) from None
        if not 1 <= entry.pieces <= 10**9:
            raise Refused(said("An order must be for at least 1 piece."))
        on = self._counter.contents_at(entry.item, entry.at)
        for bar in Alarms(self._context).bars_on(entry.press, entry.item, entry.at):
            if bar.hold:
                self.notes.append(
                    said(
                        "{item} is held: {reason}. The order cannot run on it before it is released.",
                        item=bar.item,
                        reason=bar.reason,
                    )
                )
        self.notes += beyond(self._context.judge, on, *self._ordered(entry))

    def _ordered(self, entry: Order) -> tuple[int, Said]:
        """The pieces of an order and of all others that wait for its set, and what they are called."""
        waiting = orders_waiting(self._context, entry.item)
        others = sum(pieces for order, pieces in waiting.items() if order != entry.order)
        own = said("order {order} ({pieces} pieces)", order=entry.order, pieces=entry.pieces)
        if not others:
            return entry.pieces, own
        together = said("{order} after those already planned ({pieces} pieces)", order=own, pieces=others)
        return entry.pieces + others, together

    JUDGES: ClassVar[Judges] = {
        Count: _with_fastest,
        Restart: _with_rate,
        ConfigureCounter: _check_counter,
        QuantityMade: _check_quantity,
        UncountedStrokes: _with_items,
        Rework: _check_rework,
        UnknownLife: _check_unknown,
        Order: _check_order,
    }
