"""Admission of what is said of codes, badges and tokens: who may give and withdraw them."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import ClassVar

from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.entries.keys import Given, Key, Withdrawn, WrongCodes
from upkeep.errors import Refused
from upkeep.plant.model import Role
from upkeep.plant.rights import needs_password
from upkeep.said import Numeral, Quoted, Said, either, said

KEEPER_AWAY_DAYS = 7
"""How long a code lasts at most that the lead gives while no keeper is there."""

_OWN = (Key.CODE, Key.PASSWORD)


class KeysAdmission(SubjectAdmission):
    """Judges who gives what to whom: the keepers; for a few days the lead, to people who need no password; and
    everybody a code of their own choice to themselves."""

    def _check_given(self, given: Given) -> None:
        person = self._known.person(given.person)
        day = self._known.zone.day(given.at)
        if not person.signs_on(day):
            raise Refused(
                said("{person} may not sign since {until}, and gets no {key}.", person=person.name,
                     until=str(person.until), key=given.key)
            )  # fmt: skip
        if given.until is not None and given.until < day:
            raise Refused(said("{until} is in the past. Give a last day still to come.", until=given.until))
        if given.key is Key.CODE and needs_password(person, self._known.facts):
            raise Refused(said("{person} needs a password by their roles, not a code.", person=person.name))
        if given.by == given.person and given.key in _OWN:
            return
        if given.key is Key.SEAL:
            self._check_signs_seals(given)
            return
        if self._by_keeper(given.by, given.at) or self._by_lead_for_some_days(given):
            return
        raise Refused(self._only_keepers(given))

    def _check_signs_seals(self, given: Given) -> None:
        """Quality makes the key with which seals are signed, each for themselves: whoever keeps the book must not."""
        if given.by != given.person or Role.QUALITY not in self._known.person(given.by).roles:
            raise Refused(
                said("The key with which seals are signed is made by quality, for themselves: it vouches for the book "
                     "before others than those who keep it.")
            )  # fmt: skip
        if not re.fullmatch("[0-9a-f]{64}", given.name):
            raise Refused(said("{key} is no public key of 64 letters 0 to 9 and a to f.", key=Quoted(given.name[:80])))

    def _by_lead_for_some_days(self, given: Given) -> bool:
        if given.key is not Key.CODE or Role.LEAD not in self._known.person(given.by).roles:
            return False
        last = self._known.zone.day(given.at) + timedelta(days=KEEPER_AWAY_DAYS)
        if given.until is None or given.until > last:
            raise Refused(
                said(
                    "While there is no keeper, the lead gives codes for {days} days at most: say --until "
                    "{last} or earlier.",
                    days=Numeral(KEEPER_AWAY_DAYS),
                    last=last,
                )
            )
        return True

    def _check_withdrawn(self, withdrawn: Withdrawn) -> None:
        self._known.person(withdrawn.person)
        lead = Role.LEAD in self._known.person(withdrawn.by).roles and withdrawn.key not in (Key.TOKEN, Key.SEAL)
        owner = withdrawn.key is Key.SEAL and withdrawn.by == withdrawn.person
        if not (lead or owner or self._by_keeper(withdrawn.by, withdrawn.at)):
            raise Refused(self._only_keepers(withdrawn))

    def _by_keeper(self, by: str, at: datetime) -> bool:
        """Whether a keeper does it; where nobody was named, or all have left, that is the lead."""
        keepers = self._known.keepers_on(self._known.zone.day(at))
        return by in keepers if keepers else Role.LEAD in self._known.person(by).roles

    def _only_keepers(self, entry: Given | Withdrawn) -> Said:
        keepers = self._known.keepers_on(self._known.zone.day(entry.at))
        if not keepers:
            return said("This book has no keeper; then the maintenance lead gives and withdraws codes.")
        return said(
            "{person} may not do that. Ask a keeper of the book: {keepers}.",
            person=self._known.person(entry.by).name,
            keepers=either(self._known.names[keeper] for keeper in keepers),
        )

    def _check_wrong_codes(self, wrong: WrongCodes) -> None:
        """Nothing to judge: a program tells it, of whoever's name was given."""

    JUDGES: ClassVar[Judges] = {
        Given: _check_given, Withdrawn: _check_withdrawn, WrongCodes: _check_wrong_codes,
    }  # fmt: skip
