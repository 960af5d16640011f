"""What stands out in how work was signed, gathered from the book and said with its arithmetic."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from upkeep.entries.entry import Recorded
from upkeep.entries.signing import LookedAgain, Sign
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Energy, Item, Role
from upkeep.plant.people import Person
from upkeep.quality.signing_habits import Running, Signature, bursts, from_afar, is_drawn, same_values, while_running
from upkeep.said import Figure, Moment, Numeral, Quoted, Said, said
from upkeep.store.rows.counts import MarkRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.views.hints import Hint, HintKind, Hints

LOOKED_BACK = timedelta(days=7)
LOOKED_AT_AGAIN = timedelta(days=2)
"""How far back sign-offs are looked through, and how long one that was drawn is worth a second look."""


def check_is_for(person: Person) -> None:
    """Refuses anybody but the maintenance lead."""
    if Role.LEAD not in person.roles:
        raise Refused(said("This is for the maintenance lead alone, and {person} is not one.", person=person.name))


def asks_for_another_look(known: Known, sign_off: Recorded) -> bool:
    """Whether a sign-off was drawn to be looked at again by somebody else."""
    facts = known.facts
    return bool(facts.hints_agreed) and is_drawn(sign_off.hash, facts.recheck_percent)


def looks_at(context: Context, sign_off: Recorded) -> list[tuple[int, LookedAgain]]:
    """What others saw who looked at the work of a sign-off, each with the number of its entry."""
    looks = context.entries.of_kind(LookedAgain, utc_text(sign_off.entry.at), utc_text(NEVER))
    found = ((one.id, one.entry) for one in looks)
    return [(number, look) for number, look in found if isinstance(look, LookedAgain) and look.entry == sign_off.id]


class SigningHints:
    """Looks through the sign-offs of the last days at the moment of a context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._rows = context, context.known, context.rows

    def hints(self) -> Hints:
        """What stands out; nothing where the plant has not agreed to look."""
        agreed, until = self._known.facts.hints_agreed, self._context.moment
        since = until - LOOKED_BACK
        if not agreed:
            return Hints(None, since, until, ())
        recorded = self._context.entries.of_kind(Sign, utc_text(since), utc_text(until))
        signed = [self._signature(one) for one in recorded]
        found = [*self._seen(signed), *self._again(recorded), *self._looked(since, until + timedelta(seconds=1))]
        return Hints(agreed, since, until, tuple(sorted(found, key=lambda hint: (hint.at, hint.entries), reverse=True)))

    def _signature(self, recorded: Recorded) -> Signature:
        entry = recorded.entry
        assert isinstance(entry, Sign)
        task, item = self._known.tasks[entry.task], self._known.items[entry.item]
        stands = task.energy is not Energy.LOOK
        return Signature(
            recorded.id, entry.by, entry.item, entry.task, entry.at, entry.recorded_at or entry.at, task.minutes,
            entry.points, entry.origin.station, self._near(item), self._running(item, entry.at) if stands else None,
        )  # fmt: skip

    def _near(self, item: Item) -> tuple[str, ...]:
        """What every place is called where an item was in the days looked at, or is at home: the item it sat in, the
        place, its area; where it is now comes last."""
        since = utc_text(self._context.moment - LOOKED_BACK)
        known, holders, waiting = self._known.items, [item.id], [item.id]
        while waiting:
            inside = [row.inside for row in self._rows.fittings_of(waiting.pop(), since)]
            new = [one for one in dict.fromkeys(inside) if one not in holders]
            holders, waiting = [*holders, *new], [*waiting, *new]
        at = self._context.whereabouts.place_of(item)
        places = [known[one].place for one in holders if one in known]
        places.append(known[at].place if at in known else at)
        names: list[str | None] = [*holders, at]
        for place in map(self._known.places.get, filter(None, places)):
            names += [place.id, place.title, place.area] if place else []
        return tuple(filter(None, names))

    def _running(self, item: Item, at: datetime) -> Running | None:
        """What the press of an item counted around a moment; None: it hangs on none, or nobody counted."""
        press = self._context.whereabouts.press_of(item.id)
        fastest = self._known.items[press].max_rate if press else None
        if press is None or not fastest:
            return None
        before, after = self._rows.mark_before(press, utc_text(at)), self._rows.mark_after(press, utc_text(at))
        if before is None or after is None:
            return None
        return Running(after.total - before.total, _seconds(before, after), fastest)

    def _seen(self, signed: Sequence[Signature]) -> Iterator[Hint]:
        for burst in bursts(signed):
            first = burst.signatures[0]
            seen = said(
                "{n} sign-offs in {seconds} s, {each} s from one to the next. Were they done one after another and "
                "signed together?",
                n=len(burst.signatures),
                seconds=Figure(burst.seconds, ".0f"),
                each=Figure(burst.seconds / (len(burst.signatures) - 1), ".1f"),
            )
            yield self._hint(HintKind.BURST, first, tuple(one.entry for one in burst.signatures), seen)
        for one in while_running(signed):
            yield self._hint(HintKind.RUNNING, one, (one.entry,), self._ran(one))
        for alike in same_values(signed):
            seen = said(
                "{n} readings of {point} on {item} in a row are all {value}. Does it not move, or was it copied?",
                n=alike.readings,
                point=alike.point,
                item=alike.item,
                value=Figure(alike.value),
            )
            entries = tuple(one.entry for one in alike.signatures)
            yield self._hint(HintKind.SAME, alike.signatures[-1], entries, seen)
        for one in from_afar(signed):
            seen = said(
                "{line} was signed at {station}, and {item} is at {place}. Who was at the press?",
                line=str(LineName(one.item, one.task)),
                station=one.station or "",
                item=one.item,
                place=one.near[-1],
            )
            yield self._hint(HintKind.AFAR, one, (one.entry,), seen)

    @staticmethod
    def _ran(one: Signature) -> Said:
        assert one.running is not None
        return said(
            "{line} is planned to take {minutes} min. Between the counts around it the press did {strokes} strokes in "
            "{length} min; at {fastest} an hour at most it can have stood {stood} min. Is a count or a time wrong?",
            line=str(LineName(one.item, one.task)),
            minutes=Figure(one.minutes, ".0f"),
            strokes=one.running.strokes,
            length=Figure(one.running.seconds / 60, ".0f"),
            fastest=one.running.fastest,
            stood=Figure(one.running.stood_at_most, ".1f"),
        )

    def _again(self, recorded: Sequence[Recorded]) -> Iterator[Hint]:
        percent, since = self._known.facts.recheck_percent, self._context.moment - LOOKED_AT_AGAIN
        for one in recorded:
            drawn = one.entry.at >= since and asks_for_another_look(self._known, one)
            if drawn and not looks_at(self._context, one):
                assert isinstance(one.entry, Sign)
                seen = said(
                    "Drawn by chance ({percent} of 100): {line}, done {at}. Let somebody other than {name} look at it.",
                    percent=Numeral(percent),
                    line=str(LineName(one.entry.item, one.entry.task)),
                    at=Moment(one.entry.at, self._known.zone),
                    name=self._context.names.of(one.entry.by, one.id),
                )
                yield self._hint(HintKind.AGAIN, self._signature(one), (one.id,), seen)

    def _looked(self, since: datetime, until: datetime) -> Iterator[Hint]:
        """What was seen by those who looked again."""
        for one in self._context.entries.of_kind(LookedAgain, utc_text(since), utc_text(until)):
            look = one.entry
            assert isinstance(look, LookedAgain)
            signed = self._context.entries.by_number(look.entry)
            if signed is None or not isinstance(signed.entry, Sign):
                continue
            found = said("it is as signed") if look.agrees else said("it is not as signed")
            seen = said(
                "{line}, signed by {name} {at}: {found}. {text}",
                line=str(LineName(signed.entry.item, signed.entry.task)),
                name=self._context.names.of(signed.entry.by, signed.id),
                at=Moment(signed.entry.at, self._known.zone),
                found=found,
                text=Quoted(look.text),
            )
            who = self._context.names.of(look.by, one.id)
            yield Hint(HintKind.LOOKED, look.by, who, look.at, (signed.id, one.id), seen)

    def _hint(self, kind: HintKind, one: Signature, entries: tuple[int, ...], seen: Said) -> Hint:
        return Hint(kind, one.by, self._context.names.of(one.by, one.entry), one.at, entries, seen)


def _seconds(before: MarkRow, after: MarkRow) -> float:
    return (from_utc_text(after.at) - from_utc_text(before.at)).total_seconds()
