"""Giving and withdrawing codes, badges and tokens: first the entry that says so, then the file of keys.

Admission judges the entry, so whoever may not give something changes nothing.  A stop between the two leaves an entry
about a code that is not there: give it again.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from upkeep.book.door import Book
from upkeep.book.naming import Naming
from upkeep.entries.keys import Given, Key, Withdrawn
from upkeep.entries.origin import Origin, Proven
from upkeep.errors import NotFound, Refused
from upkeep.frozen import frozen
from upkeep.said import Quoted, said
from upkeep.views.keys import KeyHolder, KeysList, TokenLine


@frozen
class Keyring:
    """The keys of a book in the hands of somebody: who they are, the moment, and how that comes in."""

    book: Book
    proven: Proven
    at: datetime
    origin: Origin

    @property
    def _naming(self) -> Naming:
        return self.book.naming

    def give_code(self, person: str, until: date | None = None) -> str:
        """A first code for somebody, or a first password where their roles ask for one; to be told to them once."""
        somebody = self.book.known.person(person)
        is_password = self._naming.wants_password(somebody)
        self._write_given(Key.PASSWORD if is_password else Key.CODE, somebody.id, until=until)
        return self._naming.keys.codes.give_first(somebody.id, self.at, is_password=is_password, until=until)

    def withdraw_code(self, person: str) -> None:
        """Makes somebody's code or password void; raises :class:`NotFound` where they have none."""
        held = {one.person: one for one in self._naming.keys.codes.on_file()}.get(person)
        if held is None:
            raise NotFound(said("code of"), person)
        self._write_withdrawn(Key.PASSWORD if held.is_password else Key.CODE, person)
        self._naming.keys.codes.withdraw(person)

    def give_badge(self, person: str) -> str:
        """A new badge for somebody: its number, to be printed once; earlier ones stay."""
        somebody = self.book.known.person(person)
        self._write_given(Key.BADGE, somebody.id)
        return self._naming.keys.held.give_badge(somebody.id, self.at)

    def withdraw_badges(self, person: str) -> int:
        """Makes all badges of somebody void; raises :class:`NotFound` where they have none."""
        if person not in self._naming.keys.held.badges():
            raise NotFound(said("badge of"), person)
        self._write_withdrawn(Key.BADGE, person)
        return self._naming.keys.held.withdraw_badges(person)

    def give_token(self, name: str, person: str, until: date | None = None) -> str:
        """A new token that speaks for somebody, under a name; it is shown once."""
        somebody = self.book.known.person(person)
        if not name.strip() or not name.isprintable():
            raise Refused(said("A token has a name, so that it can be withdrawn: 'night list'."))
        if any(token.name == name for token in self._naming.keys.held.tokens()):
            raise Refused(said("There is a token {name} already. Withdraw it first.", name=Quoted(name)))
        self._write_given(Key.TOKEN, somebody.id, name, until)
        return self._naming.keys.held.give_token(name, somebody.id, self.at, until)

    def withdraw_token(self, name: str) -> None:
        """Makes a token void; raises :class:`NotFound` where there is none of that name."""
        tokens = {token.name: token for token in self._naming.keys.held.tokens()}
        if name not in tokens:
            raise NotFound(said("token"), name, tuple(tokens))
        self._write_withdrawn(Key.TOKEN, tokens[name].person, name)
        self._naming.keys.held.withdraw_token(name)

    def _write_given(self, key: Key, person: str, name: str = "", until: date | None = None) -> None:
        entry = Given(at=self.at, by=self.proven.person, key=key, person=person, name=name, until=until)
        self.book.write([entry], self.at, self.origin, self.proven)

    def _write_withdrawn(self, key: Key, person: str, name: str = "") -> None:
        entry = Withdrawn(at=self.at, by=self.proven.person, key=key, person=person, name=name)
        self.book.write([entry], self.at, self.origin, self.proven)


def keys_list(book: Book, at: datetime) -> KeysList:
    """Everybody who may sign at a moment and what proves their name, and all tokens."""
    naming, day = book.naming, book.zone.day(at)
    if not naming.keys.exist:
        return KeysList(naming.asks_for_proof, tuple(_holder(naming, book, one) for one in _signing(book, day)), ())
    codes = {one.person: one for one in naming.keys.codes.on_file()}
    badges = naming.keys.held.badges()
    holders = []
    for person in _signing(book, day):
        held = codes.get(person)
        holder = _holder(naming, book, person)
        if held is not None:
            has = Key.PASSWORD if held.is_password else Key.CODE
            holder = replace(holder, has=has.value, is_first=held.is_first, since=held.given_at, until=held.until)
        holders.append(replace(holder, badges=badges.get(person, 0)))
    tokens = tuple(
        TokenLine(token.name, token.person, token.given_at, token.until) for token in naming.keys.held.tokens()
    )
    return KeysList(naming.asks_for_proof, tuple(holders), tokens)


def _signing(book: Book, day: date) -> list[str]:
    return sorted(person.id for person in book.known.people.values() if person.signs_on(day))


def _holder(naming: Naming, book: Book, person: str) -> KeyHolder:
    somebody = book.known.people[person]
    return KeyHolder(person, somebody.name, None, False, None, None, 0, naming.wants_password(somebody))
