"""What the book refuses: entries that contradict the plant's own rules, each with the sentence for the writer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta

from upkeep.answers.people.who_may import closed_said
from upkeep.due.usage import stroke_interval
from upkeep.entries.bookkeeping import Begin
from upkeep.entries.chain import FORM
from upkeep.entries.clock import LONGEST_SILENCE
from upkeep.entries.counting import Count, QuantityMade
from upkeep.entries.entry import Entry
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.origin import NOT_KNOWN
from upkeep.entries.signing import Sign, Stated
from upkeep.entries.text import ID, entry_of, words_of
from upkeep.errors import ClockAhead, Refused, Unreadable
from upkeep.keeping.definitions import Known
from upkeep.plant.line_names import LineName
from upkeep.plant.model import FITS_IN, Item, Point, Task
from upkeep.plant.people import Person
from upkeep.plant.rights import Act, roles_for
from upkeep.said import Moment, Numeral, Quoted, Said, either, in_turn, listed, said, said_as, said_many, term
from upkeep.units.instants import Zone
from upkeep.units.measures import UnitName, measured

CLOCK_SLACK = timedelta(minutes=5)
"""How far a terminal's clock may run ahead of the book's before an entry counts as being from the future."""

LONGEST_TEXT = 500
"""Characters a remark, symptom or reason may have."""

_WHENEVER_FOUND = (QuantityMade,)
"""Quantities are told when planning or production books them."""

_TEXTS = ("remark", "symptom", "risk", "text", "point", "left")
"""Fields in which people write what they like; a count has none."""


def check_moment(entry: Entry, recorded_at: datetime, now: datetime, zone: Zone, first: datetime | None) -> None:
    """Refuses entries from the future, entries said to be written in the future, and any from before the book began."""
    if entry.at.microsecond or recorded_at.microsecond:
        raise Refused(said("Times in the book are in whole seconds."))
    for moment, present in ((recorded_at, now), (entry.at, recorded_at)):
        if moment > present + CLOCK_SLACK:
            raise Refused(
                said(
                    "{moment} is in the future (it is now {present}). Check the date and the clock of this "
                    "terminal; nothing was written.",
                    moment=Moment(moment, zone),
                    present=Moment(present, zone),
                )
            )
    if first is not None and entry.at < first:
        raise Refused(
            said(
                "{moment} is before this book began ({first}), and nothing from before that can be entered. Check "
                "the date and the clock of this terminal; nothing was written.",
                moment=Moment(entry.at, zone),
                first=Moment(first, zone),
            )
        )


def check_clock(last: datetime, now: datetime, zone: Zone) -> None:
    """Asks whether a clock is right that is far ahead of the writing of the last entry: once a count of the future is
    in the book, it takes no count of today."""
    if now - last > LONGEST_SILENCE:
        raise ClockAhead(
            said(
                "It is {now} by this clock, and the last entry of this book was written {last}, {days} days before. Is "
                "the clock right? Nothing was written.",
                now=Moment(now, zone),
                last=Moment(last, zone),
                days=(now - last).days,
            )
        )


def check_begin(begin: Begin) -> None:
    """Refuses a first entry that this program cannot go on from: an unknown zone, a chain of another form."""
    Zone(begin.zone)
    if begin.form != FORM:
        raise Refused(
            said(
                "The chain of this book is of form {form}; this program knows form {known}. Update the program.",
                form=Numeral(begin.form),
                known=Numeral(FORM),
            )
        )


def check_told_in_time(known: Known, entry: Entry, recorded_at: datetime, writer: str) -> None:
    """Refuses what anybody but the lead tells long after it happened; ``writer`` enters it, whoever signs it.

    A correction carries the moment of what it corrects, however late it comes.
    """
    if isinstance(entry, _WHENEVER_FOUND) or entry.corrects is not None:
        return
    hours = known.facts.late_hours
    if recorded_at - entry.at <= timedelta(hours=hours):
        return
    person = known.people.get(writer)
    if person is not None and not set(person.roles) & set(roles_for(Act.LATE, known.facts)):
        raise Refused(
            said(
                "{moment} is more than {hours} hours ago. To enter something so late needs the role of {roles}; both "
                "times stay in the book.",
                moment=Moment(entry.at, known.zone),
                hours=Numeral(hours),
                roles=either(term(role, "role") for role in roles_for(Act.LATE, known.facts)),
            )
        )


def check_words(entry: Entry) -> None:
    """Refuses an entry that its own line would not give back: a value that is no number, an id that is none."""
    words = words_of(entry)
    try:
        again = entry_of(words, at=entry.at, by=entry.by)
    except Unreadable as problem:
        raise Refused(said("This cannot be kept as an entry: {why}", why=problem.said)) from None
    same = again == replace(entry, recorded_at=None, corrects=None, because="", origin=NOT_KNOWN)
    if not words.isprintable() or not (same or words_of(again) == words):
        raise Refused(
            said(
                "This cannot be kept as an entry because its text is not one plain line: {words}.",
                words=Quoted(words[:60]),
            )
        )


def check_texts(entry: Entry) -> None:
    """Refuses texts that cannot be kept or are no notes any more."""
    texts = [getattr(entry, field, "") for field in _TEXTS] if not isinstance(entry, Count) else []
    for value in (entry.because, entry.origin.station or "", *texts):
        if len(value) > LONGEST_TEXT:
            raise Refused(
                said(
                    "A text may have at most {most} characters; this one has {n}. Shorten it.",
                    most=Numeral(LONGEST_TEXT),
                    n=Numeral(len(value)),
                )
            )
        try:
            value.encode()
        except UnicodeEncodeError:
            raise Refused(said("The text contains characters that cannot be stored. Type it again.")) from None
    if isinstance(entry, Count) and (entry.value < 0 or entry.value >= 10**15):
        raise Refused(said("{value} is not a counter reading.", value=Numeral(entry.value)))


def check_signer(known: Known, by: str, at: datetime) -> Person:
    """The person who signs; refuses one who is unknown or whose account was closed by then."""
    person = known.person(by)
    closed = closed_said(person, known.zone.day(at))
    if closed is not None:
        raise Refused(closed)
    return person


def check_fits(item: Item, inside: Item, day: date) -> None:
    """Refuses fittings of things that do not go together, or that were scrapped by that day."""
    wanted = FITS_IN.get(item.kind)
    if wanted is None:
        kind = term(item.kind, "kind")
        raise Refused(said("{item} is a {kind}; it does not go into anything.", item=item.id, kind=kind))
    if inside.kind is not wanted:
        raise Refused(
            said(
                "{item} is a {kind} and goes into a {wanted}; {inside} is a {inside_kind}.",
                item=item.id,
                kind=term(item.kind, "kind"),
                wanted=wanted,
                inside=inside.id,
                inside_kind=term(inside.kind, "kind"),
            )
        )
    for key in (item, inside):
        if key.scrapped and day >= key.scrapped:
            raise Refused(
                said(
                    "{item} was scrapped on {scrapped} and cannot be used again. Check the id on the metal.",
                    item=key.id,
                    scrapped=key.scrapped,
                )
            )


def check_sign(known: Known, sign: Sign, item: Item, task: Task) -> list[Said]:
    """Refuses a sign-off that does not say what its task asks for.  Gives notes on values out of limits."""
    _check_goes_together(item, task, said("sign"), known.zone.day(sign.at))
    if not ID.match(sign.occurrence.replace("/", "-")) or len(sign.occurrence) > 40:
        raise Refused(said("{occurrence} is not a planned occurrence.", occurrence=Quoted(sign.occurrence)))
    _check_grade(sign, task)
    if sign.points or sign.occurrence != EXTRA:
        _check_points(sign, task)
    notes = [note for notes in out_of_limits(sign, task).values() for note in notes]
    if notes and task.graded and sign.grade != 4:
        raise Refused(
            in_turn(
                notes[0],
                said(
                    "A point out of limits means grade 4 (out), not {grade}. Measure again, or give grade 4.",
                    grade=said_as("grade", "none") if sign.grade is None else sign.grade,
                ),
            )
        )
    return notes


_LONGEST_AHEAD = timedelta(days=2 * 366)
"""How far ahead the first time of work may be planned.  Plant default, no source."""


def _check_first_time(known: Known, stated: Stated, item: Item, task: Task) -> None:
    """Refuses a first time of work that does not come by calendar or strokes, and a day out of reason."""
    today, first = known.zone.day(stated.at), day_of(stated.first)
    if task.each_shift or not (task.every or task.rule or stroke_interval(task, item)):
        raise Refused(
            said(
                "{line} comes neither by the calendar nor by strokes: it has no first time to plan.",
                line=str(LineName(item.id, task.id)),
            )
        )
    if not today < first <= today + _LONGEST_AHEAD:
        raise Refused(
            said(
                "{first} is no day for a first time: it lies after today, {today}, and within two years.",
                first=first,
                today=today,
            )
        )


_LONGEST_AGO = 50
"""Years before an item came into the book that anybody still tells of.  Plant default, no source."""


def check_stated(known: Known, stated: Stated, item: Item, task: Task) -> None:
    """Refuses a statement about work that the item does not have, or on a day the book can tell itself."""
    _check_goes_together(item, task, said("state"), known.zone.day(stated.at))
    began = known.zone.day(known.since[item.id])
    if stated.first:
        _check_first_time(known, stated, item, task)
    if not stated.done:
        if not stated.first:
            raise Refused(said("Say when it was last done, or by which day it is to be done first."))
        return
    done = day_of(stated.done)
    if done > began:
        raise Refused(
            said(
                "{done} is not before this book: {item} has been in it since {began}. Work done since then is "
                "signed by whoever did it, with the time it was done.",
                done=done,
                item=item.id,
                began=began,
            )
        )
    if done.year < began.year - _LONGEST_AGO:
        raise Refused(
            said(
                "{done} is more than {years} years before this book. Check the year.",
                done=done,
                years=_LONGEST_AGO,
            )
        )


def day_of(text: str) -> date:
    """The day an entry names; refuses another text."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        raise Refused(said("{text} is not a date; write it like 2026-02-20.", text=Quoted(text)))
    return day


def _check_goes_together(item: Item, task: Task, what: Said, day: date) -> None:
    if task.applies_to is not item.kind:
        raise Refused(
            said(
                "{task} is done on a {applies_to}; {item} is a {kind}.",
                task=task.id,
                applies_to=term(task.applies_to, "kind"),
                item=item.id,
                kind=term(item.kind, "kind"),
            )
        )
    if item.scrapped and day >= item.scrapped:
        raise Refused(
            said(
                "{item} was scrapped on {scrapped}; there is nothing to {what} on it.",
                item=item.id,
                scrapped=item.scrapped,
                what=what,
            )
        )


def _check_grade(sign: Sign, task: Task) -> None:
    if task.graded and sign.grade not in (0, 1, 2, 3, 4):
        raise Refused(said("{task} needs a grade: 0 (as new), 1, 2, 3 or 4 (out). None was given.", task=task.title))
    if not task.graded and sign.grade is not None:
        raise Refused(said("{task} is not graded; leave out the grade.", task=task.title))


def _check_points(sign: Sign, task: Task) -> None:
    wanted = {point.id: point for point in task.points}
    given = dict(sign.points)
    for unknown in [key for key in given if key not in wanted]:
        raise Refused(
            said(
                "{task} has no measured point {unknown}; its points: {wanted}.",
                task=task.title,
                unknown=Quoted(unknown),
                wanted=listed(wanted) if wanted else said_as("points", "none"),
            )
        )
    for key, point in wanted.items():
        if len(given.get(key, ())) != point.readings and key not in dict(sign.taken):
            raise Refused(
                said(
                    "{point} needs {readings} in {unit}; {given} given. A point that was not measured cannot "
                    "be signed.",
                    point=point.title,
                    readings=_readings(point),
                    unit=UnitName(point.unit),
                    given=len(given.get(key, ())),
                )
            )


def _readings(point: Point) -> Said:
    return said_many("{n} reading", "{n} readings", n=point.readings)


def out_of_limits(sign: Sign, task: Task) -> Mapping[str, list[Said]]:
    """The points of a sign-off with a value out of their limits, and a sentence for each such value."""
    limits = {point.id: point for point in task.points}
    out: dict[str, list[Said]] = {}
    for key, values in sign.points:
        point = limits[key]
        for value in values:
            if point.upper is not None and value > point.upper:
                out.setdefault(key, []).append(_out(said("above"), point, value, point.upper))
            if point.lower is not None and value < point.lower:
                out.setdefault(key, []).append(_out(said("below"), point, value, point.lower))
    return out


def _out(where: Said, point: Point, value: float, limit: float) -> Said:
    return said(
        "{point} {value} is {where} its limit of {limit}.",
        point=point.title,
        value=measured(value, point.unit),
        where=where,
        limit=measured(limit, point.unit),
    )
