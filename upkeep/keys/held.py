"""Badges and tokens: what somebody, or a program, holds.  Random numbers, of which only the hashes are kept."""

from __future__ import annotations

from datetime import UTC, date, datetime

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.keys.file import KeysFile
from upkeep.keys.hashing import hash_of_badge, hash_of_number, new_badge, new_number
from upkeep.said import Quoted, said


@frozen
class Token:
    """A token as it is known: its name, the person it speaks for, since when, and its last day (None: with no end)."""

    name: str
    person: str
    given_at: datetime
    until: date | None


class Held:
    """The badges and tokens in a file of keys."""

    def __init__(self, file: KeysFile) -> None:
        self._file = file

    # Badges

    def give_badge(self, person: str, at: datetime) -> str:
        """A new badge for somebody: its number, to be printed once."""
        number = new_badge()
        with self._file.writing() as keys:
            keys.execute("INSERT INTO badges VALUES (?, ?, ?)", (hash_of_badge(number), person, int(at.timestamp())))
        return number

    def withdraw_badges(self, person: str) -> int:
        """Makes all badges of somebody void and ends their sessions; how many they had."""
        with self._file.writing() as keys:
            keys.execute("DELETE FROM sessions WHERE person = ?", (person,))
            return keys.execute("DELETE FROM badges WHERE person = ?", (person,)).rowcount

    def person_of_badge(self, number: str) -> str | None:
        """Whose badge carries a number, in capitals or small letters; None: nobody's, or it was withdrawn."""
        with self._file.reading() as keys:
            row = keys.execute("SELECT person FROM badges WHERE hash = ?", (hash_of_badge(number),)).fetchone()
        return None if row is None else str(row[0])

    def badges(self) -> dict[str, int]:
        """How many badges each person has."""
        with self._file.reading() as keys:
            return dict(keys.execute("SELECT person, count(*) FROM badges GROUP BY person ORDER BY person"))

    # Tokens

    def give_token(self, name: str, person: str, at: datetime, until: date | None = None) -> str:
        """A new token that speaks for somebody; it is shown once.  Raises :class:`Refused` where the name is taken."""
        number, last = new_number(), None if until is None else until.isoformat()
        with self._file.writing() as keys:
            if keys.execute("SELECT 1 FROM tokens WHERE name = ?", (name,)).fetchone():
                raise Refused(said("There is a token {name} already. Withdraw it first.", name=Quoted(name)))
            row = (hash_of_number(number), name, person, int(at.timestamp()), last)
            keys.execute("INSERT INTO tokens VALUES (?, ?, ?, ?, ?)", row)
        return number

    def withdraw_token(self, name: str) -> Token | None:
        """Makes a token void; which it was, None where there is none of that name."""
        token = next((token for token in self.tokens() if token.name == name), None)
        with self._file.writing() as keys:
            keys.execute("DELETE FROM tokens WHERE name = ?", (name,))
        return token

    def token(self, number: str) -> Token | None:
        """The token behind its number; None: there is none, or it was withdrawn."""
        with self._file.reading() as keys:
            row = keys.execute(
                "SELECT name, person, given_at, until FROM tokens WHERE hash = ?", (hash_of_number(number),)
            ).fetchone()
        return None if row is None else _token(*row)

    def tokens(self) -> tuple[Token, ...]:
        """All tokens, by name."""
        with self._file.reading() as keys:
            rows = keys.execute("SELECT name, person, given_at, until FROM tokens ORDER BY name").fetchall()
        return tuple(_token(*row) for row in rows)


def _token(name: str, person: str, given_at: int, until: str | None) -> Token:
    day = date.fromisoformat(until) if until else None
    return Token(name, person, datetime.fromtimestamp(given_at, UTC), day)
