"""Whose training ends soon, or ended a short time ago, among those who sign."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from upkeep.keeping.context import Context
from upkeep.plant.people import Training
from upkeep.views.training import TrainingEnd

_DAY = timedelta(days=1)


def training_ends(context: Context) -> tuple[TrainingEnd, ...]:
    """What ends within the plant's ``training_days``, or ended so many days ago at most and is not held again; the
    earliest first."""
    return tuple(sorted(_ends(context), key=lambda end: (end.last_day, end.name, end.work)))


def _ends(context: Context) -> Iterator[TrainingEnd]:
    known = context.known
    today, ahead = known.zone.day(context.moment), timedelta(days=known.facts.training_days)
    for person in known.people.values() if known.facts.training else ():
        if not person.signs_on(today):
            continue
        for work in known.facts.training:
            rows = [row for row in person.training if row.work == work]
            last = _last_day(rows, today)
            if last is not None and today - ahead <= last <= today + ahead:
                later = (row.since for row in rows if row.since > max(last, today))
                name = context.names.now(person.id)
                yield TrainingEnd(person.id, name, work, last, (last - today).days, min(later, default=None))


def _last_day(rows: Iterable[Training], today: date) -> date | None:
    """The last day of the training that holds today, on to where one follows another, or of the last that held; None:
    it has no end, or none has begun."""
    begun = sorted((row for row in rows), key=lambda row: row.since)
    last: date | None = None
    for row in begun:
        if row.since > (today if last is None else max(today, last + _DAY)):
            break
        if row.until is None:
            return None
        last = max(row.until, last or row.until)
    return last
