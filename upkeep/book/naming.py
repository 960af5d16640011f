"""Who is here, and how that is proven: people by their short id or badge, codes, sessions.

A :class:`Naming` holds the people of one moment and the file of keys.  It never touches the book's file, so it may be
asked from any thread: hashing a code takes a tenth of a second, in which nobody else has to wait for the book.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from upkeep.entries.keys import WrongCodes
from upkeep.entries.origin import Proof, Proven
from upkeep.errors import NotFound, Refused
from upkeep.keeping.definitions import Known
from upkeep.keys.codes import OnlyFirst, Try
from upkeep.keys.keys import Keys
from upkeep.keys.strength import weakness_of
from upkeep.keys.waits import Wait
from upkeep.plant.model import Role
from upkeep.plant.people import Person
from upkeep.plant.rights import needs_password
from upkeep.plant.values.facts import SignedWith
from upkeep.said import said


class Naming:
    """Finds who is meant, and proves it; ``keys`` are those of the book."""

    def __init__(self, known: Known, keys: Keys) -> None:
        self._known, self.keys = known, keys

    @property
    def asks_for_proof(self) -> bool:
        """Whether names are proven in this plant."""
        return self._known.facts.signed_with == SignedWith.CODES

    # Who is meant

    def meant(self, typed: str, at: datetime) -> tuple[Person, ...]:
        """The open accounts meant by a short id, typed whole, or by the number of a badge; nobody for anything less.

        A badge belongs to a human being: where they have two jobs with an account each, both are given.
        """
        wanted = typed.strip().casefold()
        by_id = [person for person in self._known.people.values() if person.id.casefold() == wanted]
        if by_id:
            return tuple(person for person in by_id if self._may_sign(person, at))
        holder = self.keys.held.person_of_badge(typed) if wanted and self.keys.exist else None
        if holder is None:
            return ()
        human = self.human(holder)
        people = self._known.people.values()
        return tuple(one for one in people if self.human(one.id) == human and self._may_sign(one, at))

    def _may_sign(self, person: Person, at: datetime) -> bool:
        day = self._known.zone.day(at)
        return person.signs_on(day) and (person.since is None or person.since <= day)

    def human(self, person: str) -> str:
        """The id that stands for a human being, whichever of their accounts is named."""
        seen = [person]
        while (other := self._known.people[seen[-1]].same_as if seen[-1] in self._known.people else None) is not None:
            if other in seen:
                return min(seen)
            seen.append(other)
        return seen[-1]

    def wants_password(self, person: Person) -> bool:
        """Whether a short code is not enough for somebody: by their roles, or as a keeper of the book."""
        return needs_password(person, self._known.facts)

    # Proving it

    def prove(self, person_id: str, secret: str, at: datetime, station: str | None = None) -> Proven:
        """Whose name is proven by a code or password; in a plant that takes names alone, the name.

        Raises WrongCode, MustWait, OnlyFirst, or :class:`Refused` where there is no such code, with what to do.
        """
        person = self._person(person_id, at)
        if not self.asks_for_proof:
            return Proven(person.id, Proof.NONE)
        found = self.keys.codes.check(self._try(person, at, station), secret)
        if found.is_first:
            raise OnlyFirst(person)
        if self.wants_password(person) and not found.is_password:
            raise Refused(
                said(
                    "{person} now needs a password, and has only a short code. A keeper of the book gives a first "
                    "password: strokebook code {id}",
                    person=person.name,
                    id=person.id,
                )
            )
        return Proven(person.id, Proof.PASSWORD if found.is_password else Proof.CODE)

    def in_charge(self, at: datetime) -> tuple[str, ...]:
        """The keepers of the book, or its leads where there is no keeper."""
        keepers = self._known.keepers_on(self._known.zone.day(at))
        return keepers or tuple(one.id for one in self._known.people.values() if Role.LEAD in one.roles)

    def may_begin(self, person_id: str, at: datetime) -> bool:
        """Whether somebody may give themselves the first code of all: a keeper, or the lead where there is none, while
        no keeper has one - in a new book, or when the file of keys was lost."""
        allowed = self.in_charge(at)
        held = {one.person for one in self.keys.codes.on_file() if not one.is_first}
        return person_id in allowed and not held & set(allowed)

    def choose(self, person_id: str, secret: str, new: str, at: datetime, station: str | None = None) -> Proven:
        """Keeps a code or password of somebody's own choice in place of the first, or of the last one they chose.

        Raises what :meth:`prove` does for a wrong one, and :class:`Refused` for a new one that is too weak.
        """
        person = self._person(person_id, at)
        found = self.keys.codes.check(self._try(person, at, station), secret)
        is_password = found.is_password or self.wants_password(person)
        words = (person.id, person.name, self._known.facts.name)
        weak = weakness_of(new, is_password=is_password, known_of_person=words)
        if weak is None and new == secret:
            weak = said("That is the one you have. Choose another.")
        if weak is not None:
            raise Refused(weak)
        self.keys.codes.keep_own(person.id, new, at, is_password=is_password, until=found.until)
        return Proven(person.id, Proof.PASSWORD if is_password else Proof.CODE)

    def prove_by_token(self, number: str, at: datetime) -> Proven:
        """For whom a token speaks; raises :class:`Refused` where it is nobody's, or past its last day."""
        token = self.keys.held.token(number)
        if token is None:
            raise Refused(said("This token is not known, or was withdrawn. A keeper of the book makes a new one."))
        if token.until is not None and self._known.zone.day(at) > token.until:
            raise Refused(
                said("The token {name} ended on {day}. A keeper of the book makes a new one.", name=token.name,
                     day=token.until)
            )  # fmt: skip
        return Proven(self._person(token.person, at).id, Proof.TOKEN)

    def unknown(self, at: datetime, station: str | None) -> tuple[Wait, ...]:
        """Counts a badge or name that is nobody's against the station; gives the waits that begin with it."""
        return self.keys.codes.count_unknown(at, station, self._known.zone)

    def wait_entries(self, waits: Sequence[Wait], at: datetime, person_id: str | None = None) -> tuple[WrongCodes, ...]:
        """The entries that tell of waits that have begun: under the name that was given, which nothing proved; where
        none was, under that of a keeper."""
        day = self._known.zone.day(at)
        by = person_id or next(iter((*self._known.keepers_on(day), *self._known.people)), "")
        return tuple(
            WrongCodes(at=at, by=by, wrong=wait.wrong, seconds=wait.seconds, whole_station=wait.whole_station)
            for wait in waits
        )

    def _try(self, person: Person, at: datetime, station: str | None) -> Try:
        zone = self._known.zone
        return Try(person, self.human(person.id), at, zone.day(at), station, zone)

    def _person(self, person_id: str, at: datetime) -> Person:
        person = self._known.people.get(person_id)
        if person is None:
            raise NotFound(said("person"), person_id)
        if not self._may_sign(person, at):
            raise Refused(said("{person} may not sign here now.", person=person.name))
        return person

    # Sessions

    @property
    def idle(self) -> timedelta:
        """How long somebody stays known at a shared station after the last touch."""
        return timedelta(seconds=self._known.facts.idle_seconds)

    def begin_session(
        self, proven: Proven, at: datetime, station: str | None = None, instead_of: str | None = None
    ) -> str:
        """The number of a new session; the one it takes the place of, of the person before, is dead from here on."""
        return self.keys.sessions.begin(proven.person, proven.proof, station, at, instead_of)

    def session(self, number: str, at: datetime, *, asked_by_person: bool = True) -> Proven | None:
        """Who is known by the number of a session; None: nobody, by now.

        A session goes on with what a person asks, not with what a page asks by itself.
        """
        found = self.keys.sessions.find(number, at, self.idle, asked_by_person=asked_by_person)
        if found is None:
            return None
        person = self._known.people.get(found.person)
        if person is None or not self._may_sign(person, at):
            self.keys.sessions.end(number)
            return None
        return Proven(found.person, found.proof)

    def end_session(self, number: str) -> None:
        """Ends a session; its number is worth nothing from here on."""
        self.keys.sessions.end(number)
