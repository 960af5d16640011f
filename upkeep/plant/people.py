"""People as the rules see them: who signs, in which roles, and what they are trained for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.model import day_from, given
from upkeep.plant.values.planning import Away, away_from


@frozen
class Training:
    """What somebody is trained for, a kind of item or a task, from a day to a day; ``until`` None: with no end."""

    work: str
    since: date
    until: date | None = None


@frozen
class Person:
    """Somebody who signs.  ``until`` closes the account; past signatures keep the name.

    ``same_as`` is another id of the same human being, who signs nothing twice.
    ``formerly`` is the name they had before, where it has changed; empty: it never has.
    ``training`` is what they are, and were, trained for.
    ``language`` is the one they read, ``es`` or ``pt_BR``; None: that of the terminal, or of the tablet.
    ``shifts`` are those they work on in turn, week by week: of two, the first in even ISO weeks and the second in odd
    ones; none named: the first shift of each working day.  ``area`` is where they work; None: everywhere.  ``away`` are
    days off known beforehand.
    """

    id: str
    name: str
    roles: tuple[str, ...]
    since: date | None = None
    until: date | None = None
    same_as: str | None = None
    formerly: str = ""
    training: tuple[Training, ...] = ()
    language: str | None = None
    shifts: tuple[str, ...] = ()
    area: str | None = None
    away: tuple[Away, ...] = ()

    def signs_on(self, day: date) -> bool:
        """Whether their account is open on a day."""
        return self.until is None or day <= self.until

    def shift_in(self, week: int) -> str | None:
        """The name of the shift they work on in an ISO week; None: no shift is named."""
        return self.shifts[week % len(self.shifts)] if self.shifts else None

    def is_trained_for(self, work: str, day: date) -> bool:
        """Whether they are trained for a kind of item or a task on a day."""
        return any(row.work == work and row.since <= day <= (row.until or day) for row in self.training)


def person_from(content: Mapping[str, Any]) -> Person:
    """A person from their definition."""
    return Person(
        **given(content, roles=tuple, since=day_from, until=day_from, training=_training, shifts=tuple, away=_away)
    )


def _away(texts: Iterable[str]) -> tuple[Away, ...]:
    return tuple(map(away_from, texts))


def _training(rows: Iterable[Mapping[str, Any]]) -> tuple[Training, ...]:
    return tuple(Training(**given(row, since=date.fromisoformat, until=day_from)) for row in rows)
