"""The codes of the demo plant: fixed ones, printed for whoever tries it, and so no secrets.

A real plant's keeper gives each person a first code, and they choose their own.
"""

from __future__ import annotations

from datetime import datetime

from upkeep.book import Book
from upkeep.entries.origin import Proof
from upkeep.plant.rights import needs_password

CODE = "470316"
"""Everybody's code in the demo but for those who have a password."""

PASSWORD = "harbour lantern seven"
"""The password of lead, quality, manager and keepers in the demo."""

TOKENS = ".tokens"
"""The ending of the file with a token for each person."""


def proof_of(book: Book, person: str) -> Proof:
    """What proves the name of somebody in the demo plant."""
    return Proof.PASSWORD if needs_password(book.known.person(person), book.facts) else Proof.CODE


def give_codes(book: Book, at: datetime) -> str:
    """Gives everybody their code or password; the tokens that sign for each of them, one a line."""
    keys, day = book.naming.keys, book.zone.day(at)
    lines = []
    for person in book.people():
        if person.signs_on(day):
            is_password = needs_password(person, book.facts)
            keys.codes.keep_own(person.id, PASSWORD if is_password else CODE, at, is_password=is_password, until=None)
            lines.append(keys.held.give_token(f"demo of {person.id}", person.id, at))
    return "".join(f"{line}\n" for line in lines)
