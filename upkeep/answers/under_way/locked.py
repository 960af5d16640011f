"""Alarms of the gravest kind: a press that counted while somebody's lock hung on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from upkeep.counting.strokes import counted_between
from upkeep.entries.jobs import Lock
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.plant.model import Role
from upkeep.said import Moment, Said, in_turn, listed, said, term
from upkeep.store.rows.under_way import UnderWayRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes
from upkeep.views.questions import Question

LOOKED_BACK = timedelta(days=366)
"""How long ago a lock may have come off for what its press counted to be told.  Plant default, no source."""


@frozen
class _Locked:
    """A press was locked from ``since`` on, until the last lock came off (None: one hangs there)."""

    press: str
    since: datetime
    until: datetime | None
    locks: tuple[int, ...]


def counted_while_locked(context: Context, press: str | None = None) -> Iterator[Question]:
    """Each time a press, or a certain one, counted strokes while it was locked.

    What may have been counted before the lock was hung is not told: the press was read at least twice meanwhile.
    """
    rows = context.rows.locks_hung_since(utc_text(context.moment - LOOKED_BACK))
    for locked in _times_of(row for row in rows if press in (None, row.item)):
        read = context.judge.counts.last_read(locked.press)
        until = min(filter(None, (read, locked.until, context.moment)))
        if read is not None and locked.since < until:
            done = counted_between(context.judge.counts, locked.press, locked.since, until).low
            if done > 0:
                yield Question(locked.press, locked.since, _alarm(context, locked, done))


def _times_of(rows: Iterable[UnderWayRow]) -> list[_Locked]:
    """When which presses were locked; locks that hung together are one time."""
    times: dict[str, list[_Locked]] = {}
    for row in rows:  # by the moment they were hung
        since, until = from_utc_text(row.at), from_utc_text(row.until) if row.until else None
        of_press = times.setdefault(row.item, [])
        last = of_press[-1] if of_press else None
        if last is not None and (last.until is None or since <= last.until):
            ends = None if None in (last.until, until) else max(filter(None, (last.until, until)))
            of_press[-1] = _Locked(row.item, last.since, ends, (*last.locks, row.entry))
        else:
            of_press.append(_Locked(row.item, since, until, (row.entry,)))
    return [one for of_press in times.values() for one in of_press]


def _alarm(context: Context, locked: _Locked, done: int) -> Said:
    zone, since = context.known.zone, Moment(locked.since, context.known.zone)
    locks = listed(_lock_said(context, number) for number in locked.locks)
    if locked.until is None:
        told = said(
            "ALARM: {press} has been locked since {since} ({locks}) and has counted at least {strokes} since.",
            press=locked.press, since=since, locks=locks, strokes=in_strokes(done),
        )  # fmt: skip
        does = said("Somebody may have their hands in it: stop it and look, at once.")
    else:
        told = said(
            "ALARM: {press} counted at least {strokes} while it was locked, {since} to {until} ({locks}).",
            press=locked.press, strokes=in_strokes(done), since=since, until=Moment(locked.until, zone), locks=locks,
        )  # fmt: skip
        does = said("Find out who started it, and whether anybody was at it.")
    return in_turn(told, does, said("The lead and the {officers} have to know of it.", officers=_officers(context)))


def _lock_said(context: Context, number: int) -> Said:
    recorded = context.entries.by_number(number)
    assert recorded is not None
    assert isinstance(recorded.entry, Lock)
    owner = context.names.of(recorded.entry.by, number)
    return said("{name} at {point}", name=owner, point=recorded.entry.point)


def _officers(context: Context) -> Said:
    """The safety officers of the plant, by their names where there are any."""
    day, role = context.known.zone.day(context.moment), term(Role.SAFETY, "role")
    names = [
        person.name for person in context.known.people.values() if Role.SAFETY in person.roles and person.signs_on(day)
    ]
    return said("{role} ({names})", role=role, names=listed(names)) if names else said("{role}", role=role)
