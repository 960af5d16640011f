"""The sentence that says why a line is where it is: the arithmetic, its inputs and the source of the interval."""

from __future__ import annotations

from functools import singledispatch

from upkeep.due.facts import LOST_RECORD, OUT_OF_LIMITS, PRESS_IN_DOUBT
from upkeep.due.holds import Gone
from upkeep.due.reason_list import Reasons
from upkeep.due.reasons import (
    After,
    AfterFinding,
    AfterShutdown,
    Asked,
    AtNextStop,
    AwaitsSecond,
    Cancelled,
    Deferred,
    Fixed,
    Floating,
    Held,
    InShift,
    InStorageOnly,
    LastDone,
    Life,
    NeverSigned,
    NoEvent,
    NoFinding,
    NotUsed,
    OnRequest,
    Origin,
    Paused,
    PlannedFirst,
    Source,
    Spread,
    StatedDone,
    Usage,
    WithinWarning,
)
from upkeep.frozen import frozen
from upkeep.plant.names import Names
from upkeep.said import DayOf, Join, Moment, Numeral, Said, Weekday, all_of, either, in_turn, listed, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.wording.before_the_book import planned_first_said, stated_done_said
from upkeep.wording.doubts import why_guessed
from upkeep.wording.holds import held_said, hold_said
from upkeep.wording.occurrences import every_said, occurrence_said, rule_said
from upkeep.wording.sentences import Reader, text


@frozen
class Plant:
    """What a reason is told with: the zone of the plant, and the names of its people by id."""

    zone: Zone
    names: Names

    def name(self, by: str, entry: int) -> str:
        """The name somebody had when an entry was written; the id itself where nobody is known by it."""
        return self.names.of(by, entry)


def sentence(reasons: Reasons, zone: Zone, names: Names, reader: Reader) -> str:
    """All reasons of a line: what overrides, what each trigger asks, when it was last done, and the source."""
    plant = Plant(zone, names)
    why = listed(
        (reason_said(reason, plant) for reason in reasons.all if not isinstance(reason, Source)), Join.SEMICOLON
    )
    sources = (reason.text for reason in reasons.all if isinstance(reason, Source))
    intervals = (said("Interval: {source}.", source=term(source)) for source in sources)
    return text(in_turn(said("{reasons}.", reasons=why), *intervals), reader)


@singledispatch
def reason_said(reason: object, plant: Plant) -> Said:
    """One reason, as a part of the sentence."""
    raise TypeError(type(reason).__name__)


# What overrides the triggers, or why none asks


@reason_said.register
def _gone(reason: Gone, plant: Plant) -> Said:
    return said("Not required: {why}", why=hold_said(reason))


@reason_said.register
def _held(reason: Held, plant: Plant) -> Said:
    return held_said(reason)


@reason_said.register
def _paused(reason: Paused, plant: Plant) -> Said:
    return said("Paused: {why}", why=reason.because or said("out of use"))


@reason_said.register
def _in_storage_only(reason: InStorageOnly, plant: Plant) -> Said:
    return said("Not required: done only at rest, in storage or off the press")


@reason_said.register
def _not_used(reason: NotUsed, plant: Plant) -> Said:
    return said("Not required: not in use, the count has not moved")


@reason_said.register
def _no_finding(reason: NoFinding, plant: Plant) -> Said:
    return said("Not required: no grade of {grade} or worse since it was last done", grade=reason.grade)


@reason_said.register
def _within_warning(reason: WithinWarning, plant: Plant) -> Said:
    return said("Not required: {points} within the warning limits when last measured", points=all_of(reason.points))


@reason_said.register
def _no_event(reason: NoEvent, plant: Plant) -> Said:
    events = either(term(event, "event") for event in reason.events)
    return said("Not required: no {events} since it was last done", events=events)


@reason_said.register
def _on_request(reason: OnRequest, plant: Plant) -> Said:
    return said("Done on request only")


# What the triggers ask


@reason_said.register
def _asked(reason: Asked, plant: Plant) -> Said:
    asked = [reason_said(asked_by, plant) for asked_by in reason.by]
    first = asked[0] if asked else said("{reasons}", reasons=listed(asked))
    for other in asked[1:]:
        first = (
            said("{one}; or, whichever comes first, {other}", one=first, other=other)
            if reason.combine == "first"
            else said("{one}; and, whichever comes last, {other}", one=first, other=other)
        )
    return first


@reason_said.register
def _usage(reason: Usage, plant: Plant) -> Said:
    """ "192,400 of 200,000 strokes since it was last done, 7,600 left"."""
    since = said("since it was last done") if reason.since_done else said("since it came into the book")
    usage = said(
        "{done} of {allowed} {since}, {left}",
        done=reason.done,
        allowed=in_strokes(reason.allowed),
        since=since,
        left=_left(reason),
    )
    if reason.halved_after is not None:
        usage = said("{usage} (interval halved after grade {grade})", usage=usage, grade=reason.halved_after)
    if reason.deducted is not None:
        usage = said(
            "{usage} (less the {strokes} it ran over last time)", usage=usage, strokes=in_strokes(reason.deducted)
        )
    if reason.low != reason.high:
        usage = said(
            "{usage} (estimated: between {low} and {high}, because {why})",
            usage=usage,
            low=reason.low,
            high=reason.high,
            why=why_guessed(reason.doubts or ()),
        )
    return _deferred(usage, reason.deferred, plant)


@reason_said.register
def _life(reason: Life, plant: Plant) -> Said:
    """ "192,400 of 200,000 strokes of the life of CP-031 since new, 7,600 left"."""
    if reason.unknown is not None:
        return said(
            "what {part} has done is not known (#{entry}): none of its life is left until it is inspected",
            part=reason.part,
            entry=Numeral(reason.unknown),
        )
    since = said("since new")
    if reason.rework is not None:
        since = said(
            "granted by rework {rework} (#{entry}), since that rework",
            rework=reason.rework,
            entry=Numeral(reason.entry or 0),
        )
    life = said(
        "{done} of {allowed} of the life of {part} {since}, {left}",
        done=reason.done,
        allowed=in_strokes(reason.allowed),
        part=reason.part,
        since=since,
        left=_left(reason),
    )
    if reason.low != reason.high:
        life = said(
            "{life} (estimated: between {low} and {high}, because {why})",
            life=life,
            low=reason.low,
            high=reason.high,
            why=why_guessed(reason.doubts or ()),
        )
    return life


def _left(reason: Usage | Life) -> Said:
    left = reason.allowed - reason.done
    return said("{strokes} left", strokes=left) if left >= 0 else said("{strokes} over", strokes=-left)


_ORIGIN: dict[Origin, Said] = {
    "came": said("the day it came into the book"),
    "done": said("the day it was done"),
    "stated": said("the day it was done (stated, not verified)"),
    "cancelled": said("the planned day that was cancelled"),
    "stored": said("the day storage began"),
}


@reason_said.register
def _floating(reason: Floating, plant: Plant) -> Said:
    """ "due on Mon 2026-03-09: 7 days from the day done, Mon 2026-03-02"."""
    due = said(
        "due on {due}: {every} from {origin}, {start}",
        due=Weekday(reason.due),
        every=every_said(reason.every),
        origin=_ORIGIN[reason.origin],
        start=Weekday(reason.start),
    )
    return _moved(due, reason, plant)


@reason_said.register
def _spread(reason: Spread, plant: Plant) -> Said:
    """ "due on Wed 2026-03-04: its place in the first 7 days, over which the items are spread"."""
    due = said(
        "due on {due}: its place in the first {every}, over which the items are spread",
        due=Weekday(reason.due),
        every=every_said(reason.every),
    )
    return _moved(due, reason, plant)


@reason_said.register
def _planned_first(reason: PlannedFirst, plant: Plant) -> Said:
    return _moved(planned_first_said(reason), reason, plant)


@reason_said.register
def _fixed(reason: Fixed, plant: Plant) -> Said:
    """ "due on Mon 2026-03-09: planned every week on Mon"."""
    due = said("due on {due}: planned {rule}", due=Weekday(reason.due), rule=rule_said(reason.rule))
    return _moved(due, reason, plant)


def _moved(due: Said, reason: Floating | Spread | PlannedFirst | Fixed, plant: Plant) -> Said:
    if reason.moved is not None:
        due = said("{due}, moved to {day} because that is a day off", due=due, day=Weekday(reason.moved))
    return _deferred(due, reason.deferred, plant)


def _deferred(due: Said, deferred: Deferred | None, plant: Plant) -> Said:
    """ "..., deferred from 2026-03-09 to 2026-03-16 by Eva Example, deferral 1 (#812)"; as it is for none."""
    if deferred is None:
        return due
    return said(
        "{due}, deferred from {occurrence} to {later} by {name}, deferral {times} (#{entry})",
        due=due,
        occurrence=occurrence_said(deferred.occurrence),
        later=occurrence_said(deferred.to),
        name=plant.name(deferred.by, deferred.entry),
        times=deferred.times,
        entry=Numeral(deferred.entry),
    )


@reason_said.register
def _after(reason: After, plant: Plant) -> Said:
    """ "due before it runs again, since the fitting of 2026-03-09 14:05 (#812)"."""
    if reason.event == LOST_RECORD:
        return said(
            "due before it runs again: since {moment} nobody knows what it has done (#{entry})",
            moment=Moment(reason.at, plant.zone),
            entry=Numeral(reason.entry),
        )
    if reason.event == OUT_OF_LIMITS:
        return said(
            "due again before it runs on: a value was out of its limits {moment} (#{entry})",
            moment=Moment(reason.at, plant.zone),
            entry=Numeral(reason.entry),
        )
    if reason.event == PRESS_IN_DOUBT:
        return said(
            "due: what was measured on {item} {moment} says that the press is at fault (#{entry}); {item} is held on "
            "it until the shut height is measured",
            item=reason.of or "",
            moment=Moment(reason.at, plant.zone),
            entry=Numeral(reason.entry),
        )
    return said(
        "due before it runs again, since the {event} of {moment} (#{entry})",
        event=term(reason.event, "event"),
        moment=Moment(reason.at, plant.zone),
        entry=Numeral(reason.entry),
    )


@reason_said.register
def _after_shutdown(reason: AfterShutdown, plant: Plant) -> Said:
    """ "due before it runs again after the shutdown until Fri 2026-08-14 (summer)"."""
    return said(
        "due before it runs again after the shutdown that ends on {day} ({name})",
        day=Weekday(reason.last_day),
        name=reason.name,
    )


@reason_said.register
def _after_finding(reason: AfterFinding, plant: Plant) -> Said:
    """ "due since the inspection of 2026-03-09 14:05 found grade 3"."""
    finding = (
        said("grade {grade}", grade=str(reason.grade))
        if reason.point is None
        else said("{point} beyond its warning limit", point=reason.point)
    )
    return said(
        "due since the inspection of {moment} found {found} (#{entry})",
        moment=Moment(reason.at, plant.zone),
        found=finding,
        entry=Numeral(reason.entry),
    )


@reason_said.register
def _in_shift(reason: InShift, plant: Plant) -> Said:
    """ "due in the early shift of Mon 2026-03-02, once each shift it is used"."""
    shift = said("due in the {shift} shift of {day}", shift=reason.shift, day=Weekday(reason.day))
    if reason.by_hour is not None:
        shift = said("{shift}, by hour {hour} of the shift", shift=shift, hour=reason.by_hour)
    return said("{shift}, once in each shift in which it is used", shift=shift)


@reason_said.register
def _at_next_stop(reason: AtNextStop, plant: Plant) -> Said:
    if reason.stopped is None:
        return said("to be done at the next change of tools on its press, at the latest then")
    return said(
        "to be done at a change of tools: they were changed {moment}, so do it now",
        moment=Moment(reason.stopped, plant.zone),
    )


# What was done before


@reason_said.register
def _awaits_second(reason: AwaitsSecond, plant: Plant) -> Said:
    role = term(reason.role, "role")
    return said(
        "sign-off #{entry} is waiting for its second signature ({role})", entry=Numeral(reason.entry), role=role
    )


@reason_said.register
def _cancelled(reason: Cancelled, plant: Plant) -> Said:
    cancelled = occurrence_said(reason.occurrence)
    return said("{occurrence} was cancelled (#{entry})", occurrence=cancelled, entry=Numeral(reason.entry))


@reason_said.register
def _last_done(reason: LastDone, plant: Plant) -> Said:
    entry = said("#{entry}", entry=Numeral(reason.entry))
    if reason.covered_by:
        entry = said("{entry}, covered by {task} {entry}", entry=entry, task=reason.covered_by)
    done = said(
        "last done {moment} by {name} ({entry})",
        moment=Moment(reason.at, plant.zone),
        name=plant.name(reason.by, reason.entry),
        entry=entry,
    )
    if reason.gap_days is None:
        return done
    return said("{done}, {days} days after the previous time", done=done, days=reason.gap_days)


@reason_said.register
def _never_signed(reason: NeverSigned, plant: Plant) -> Said:
    return said("never signed in this book (in it since {day})", day=DayOf(reason.since, plant.zone))


@reason_said.register
def _stated_done(reason: StatedDone, plant: Plant) -> Said:
    return stated_done_said(reason, plant.zone, plant.name(reason.by, reason.entry))
