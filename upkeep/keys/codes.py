"""Codes and passwords: given for the first time, chosen by their owner, asked for, withdrawn; what wrong ones cost."""

from __future__ import annotations

import secrets
import sqlite3
from datetime import UTC, date, datetime, timedelta

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.keys.file import KeysFile
from upkeep.keys.hashing import hash_of_secret, is_secret
from upkeep.keys.waits import FREE, PERSON_REMEMBERED, STATION_REMEMBERED, Wait, over_at, wait_after
from upkeep.plant.people import Person
from upkeep.said import Clock, Moment, Said, in_turn, said

FIRST_DAYS = timedelta(days=7)
"""How long a first code waits for its owner to choose a code of their own."""

_FIRST_CODE_DIGITS = 8


class WrongCode(Refused):
    """The code or password was not the right one.  ``waits`` have begun with it, to be written into the book."""

    def __init__(self, person: Person, waits: tuple[Wait, ...]) -> None:
        self.person, self.waits = person, waits
        longest = max((wait.seconds for wait in waits), default=0)
        super().__init__(
            in_turn(
                said("That is not the code of {person}.", person=person.name),
                said("The next try is possible in {seconds} s.", seconds=longest) if longest else None,
            )
        )


class MustWait(Refused):
    """Too many wrong codes: nothing is looked at before ``over``."""

    def __init__(self, over: datetime, clock: Clock, *, whole_station: bool) -> None:
        self.over, self.whole_station = over, whole_station
        at = Moment(over.replace(microsecond=0), clock)
        super().__init__(
            said("Too many wrong codes were typed here. The next try is possible at {at}.", at=at)
            if whole_station
            else said("Too many wrong codes were typed under this name. The next try is possible at {at}.", at=at)
        )


class OnlyFirst(Refused):
    """The code is right, and only the first one: it proves nothing until its owner has chosen another."""

    def __init__(self, person: Person) -> None:
        self.person = person
        super().__init__(
            said("{person}, this is your first code: choose one of your own, which nobody else has seen.",
                 person=person.name)
        )  # fmt: skip


@frozen
class CodeOnFile:
    """What is known of somebody's code but the code: whether it is a password, only the first one, since when it is
    theirs, and its last day (None: with no end)."""

    person: str
    is_password: bool
    is_first: bool
    given_at: datetime
    until: date | None


@frozen
class Try:
    """Somebody gives a name and a code: whose name, which human being that is (two accounts of one are one), when, on
    which day of the plant, at which station (None: at none), and the clock by which people there read times."""

    person: Person
    human: str
    at: datetime
    day: date
    station: str | None
    clock: Clock


class Codes:
    """The codes and passwords in a file of keys."""

    def __init__(self, file: KeysFile) -> None:
        self._file = file

    def on_file(self) -> tuple[CodeOnFile, ...]:
        """Who has a code or password, by person."""
        with self._file.reading() as keys:
            rows = keys.execute("SELECT person, is_password, is_first, given_at, until FROM secrets ORDER BY person")
            return tuple(_on_file(*row) for row in rows)

    def give_first(self, person: str, at: datetime, *, is_password: bool, until: date | None = None) -> str:
        """A first code for somebody, to be told to them once; what they had before is void.

        ``until`` is the last day of the code they will choose; None: with no end.
        """
        first = "".join(secrets.choice("0123456789") for _ in range(_FIRST_CODE_DIGITS))
        self._keep(person, first, at, is_password=is_password, is_first=True, until=until)
        return first

    def keep_own(self, person: str, secret: str, at: datetime, *, is_password: bool, until: date | None) -> None:
        """Keeps what somebody chose as their own; what they had before is void, and their sessions end."""
        self._keep(person, secret, at, is_password=is_password, is_first=False, until=until)

    def _keep(
        self, person: str, secret: str, at: datetime, *, is_password: bool, is_first: bool, until: date | None
    ) -> None:
        hashed = hash_of_secret(secret)
        last = None if until is None else until.isoformat()
        row = (person, is_password, is_first, hashed, int(at.timestamp()), last)
        with self._file.writing() as keys:
            keys.execute("INSERT OR REPLACE INTO secrets VALUES (?, ?, ?, ?, ?, ?)", row)
            keys.execute("DELETE FROM sessions WHERE person = ?", (person,))

    def withdraw(self, person: str) -> bool:
        """Takes somebody's code or password away and ends their sessions; whether they had one."""
        with self._file.writing() as keys:
            keys.execute("DELETE FROM sessions WHERE person = ?", (person,))
            return keys.execute("DELETE FROM secrets WHERE person = ?", (person,)).rowcount > 0

    def check(self, tried: Try, secret: str) -> CodeOnFile:
        """What is on file about a code that is right, and not past its last day.

        The try is counted before the code is looked at, so that many at once guess no faster.  Raises
        :class:`MustWait`, :class:`WrongCode`, or :class:`Refused` where there is no code or it has ended.
        """
        with self._file.writing() as keys:
            _refuse_while_waiting(keys, tried)
            number = _counted(keys, tried)
            row = keys.execute(
                "SELECT person, is_password, is_first, given_at, until, hash FROM secrets WHERE person = ?",
                (tried.person.id,),
            ).fetchone()
        if row is None or not is_secret(secret, row[-1]):
            raise self._wrong(tried, has_none=row is None, number=number)
        found = _on_file(*row[:-1])
        with self._file.writing() as keys:
            keys.execute("DELETE FROM tries WHERE human = ?", (tried.human,))
        _refuse_ended(found, tried)
        return found

    def count_unknown(self, tried_at: datetime, station: str | None, clock: Clock) -> tuple[Wait, ...]:
        """Counts a badge that is nobody's, or a name nobody has, against the station; the waits that begin with it.

        Raises :class:`MustWait` while there is one.
        """
        if station is None:
            return ()
        with self._file.writing() as keys:
            over = over_at(_at_station(keys, station, tried_at), tried_at)
            if over is not None:
                raise MustWait(over, clock, whole_station=True)
            keys.execute(
                "INSERT INTO tries (human, station, at) VALUES (NULL, ?, ?)", (station, int(tried_at.timestamp()))
            )
            return _waits(0, len(_at_station(keys, station, tried_at)))

    def _wrong(self, tried: Try, *, has_none: bool, number: int) -> Refused:
        with self._file.writing() as keys:
            if has_none:
                keys.execute("DELETE FROM tries WHERE number = ?", (number,))
                return Refused(_no_code(tried.person))
            of_human = len(_of_human(keys, tried.human, tried.at))
            here = 0 if tried.station is None else len(_at_station(keys, tried.station, tried.at))
        return WrongCode(tried.person, _waits(of_human, here))


def _on_file(person: str, is_password: int, is_first: int, given_at: int, until: str | None) -> CodeOnFile:
    given = datetime.fromtimestamp(given_at, UTC)
    return CodeOnFile(person, bool(is_password), bool(is_first), given, date.fromisoformat(until) if until else None)


def _no_code(person: Person) -> Said:
    return said(
        "{person} has no code yet. A keeper of the book gives the first one: strokebook code {id}",
        person=person.name,
        id=person.id,
    )


def _refuse_ended(found: CodeOnFile, tried: Try) -> None:
    name = tried.person.name
    if found.until is not None and tried.day > found.until:
        raise Refused(
            said("The code of {person} ended on {day}. A keeper of the book gives a new one.", person=name,
                 day=found.until)
        )  # fmt: skip
    if found.is_first and tried.at - found.given_at > FIRST_DAYS:
        raise Refused(
            said("The first code of {person} was not used in time. A keeper of the book gives a new one.", person=name)
        )


def _waits(of_human: int, at_station: int) -> tuple[Wait, ...]:
    counted = ((of_human, False), (at_station, True))
    return tuple(
        Wait(wrong, int(wait_after(wrong).total_seconds()), whole_station)
        for wrong, whole_station in counted
        if wrong >= FREE
    )


def _refuse_while_waiting(keys: sqlite3.Connection, tried: Try) -> None:
    keys.execute("DELETE FROM tries WHERE at < ?", (int((tried.at - PERSON_REMEMBERED).timestamp()),))
    over = over_at(_of_human(keys, tried.human, tried.at), tried.at)
    if over is not None:
        raise MustWait(over, tried.clock, whole_station=False)
    if tried.station is not None:
        over = over_at(_at_station(keys, tried.station, tried.at), tried.at)
        if over is not None:
            raise MustWait(over, tried.clock, whole_station=True)


def _counted(keys: sqlite3.Connection, tried: Try) -> int:
    row = (tried.human, tried.station, int(tried.at.timestamp()))
    return keys.execute("INSERT INTO tries (human, station, at) VALUES (?, ?, ?)", row).lastrowid or 0


def _of_human(keys: sqlite3.Connection, human: str, at: datetime) -> list[datetime]:
    since = int((at - PERSON_REMEMBERED).timestamp())
    return _moments(keys.execute("SELECT at FROM tries WHERE human = ? AND at >= ?", (human, since)))


def _at_station(keys: sqlite3.Connection, station: str, at: datetime) -> list[datetime]:
    since = int((at - STATION_REMEMBERED).timestamp())
    return _moments(keys.execute("SELECT at FROM tries WHERE station = ? AND at >= ?", (station, since)))


def _moments(rows: sqlite3.Cursor) -> list[datetime]:
    return [datetime.fromtimestamp(at, UTC) for (at,) in rows]
