"""Sessions: somebody who has proven their name stays known for a while, at one station or tablet."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.keys.file import KeysFile
from upkeep.keys.hashing import hash_of_number, new_number

LONGEST = timedelta(hours=12)
"""However busy, nobody stays known for longer than a long shift (plant default, no source)."""

_TOUCHED_EVERY = 5
"""Seconds: a page that is asked for often writes no oftener than that."""


@frozen
class Session:
    """Who is known, by which proof, at which station (None: at none), since when."""

    person: str
    proof: Proof
    station: str | None
    begun_at: datetime


class Sessions:
    """The sessions in a file of keys: each under the hash of a random number of 128 bits."""

    def __init__(self, file: KeysFile) -> None:
        self._file = file

    def begin(self, person: str, proof: Proof, station: str | None, at: datetime, instead_of: str | None = None) -> str:
        """The number of a new session; the one ``instead_of`` which it begins is dead from here on."""
        number, moment = new_number(), int(at.timestamp())
        with self._file.writing() as keys:
            if instead_of is not None:
                keys.execute("DELETE FROM sessions WHERE hash = ?", (hash_of_number(instead_of),))
            keys.execute("DELETE FROM sessions WHERE begun_at < ?", (moment - int(LONGEST.total_seconds()),))
            row = (hash_of_number(number), person, proof.value, station, moment, moment)
            keys.execute("INSERT INTO sessions VALUES (?, ?, ?, ?, ?, ?)", row)
        return number

    def find(self, number: str, at: datetime, idle: timedelta, *, asked_by_person: bool = True) -> Session | None:
        """The session of a number; None: there is none, it has ended, or nobody came for ``idle``: then it is dead.

        It goes on with each question that a person asked, and not with those that a page asks by itself.
        """
        hashed, moment = hash_of_number(number), int(at.timestamp())
        with self._file.reading() as keys:
            row = keys.execute(
                "SELECT person, proof, station, begun_at, touched_at FROM sessions WHERE hash = ?", (hashed,)
            ).fetchone()
        if row is None:
            return None
        person, proof, station, begun_at, touched_at = row
        over = moment - touched_at >= idle.total_seconds() or moment - begun_at >= LONGEST.total_seconds()
        if over:
            self.end(number)
            return None
        if asked_by_person and moment - touched_at >= _TOUCHED_EVERY:
            with self._file.writing() as keys:
                keys.execute("UPDATE sessions SET touched_at = ? WHERE hash = ?", (moment, hashed))
        return Session(person, Proof(proof), station, datetime.fromtimestamp(begun_at, UTC))

    def end(self, number: str) -> None:
        """Ends a session; its number is worth nothing from here on."""
        with self._file.writing() as keys:
            keys.execute("DELETE FROM sessions WHERE hash = ?", (hash_of_number(number),))
