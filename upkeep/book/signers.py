"""What a book answers about who may sign, and how work was signed."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.at_the_press import AtThePress
from upkeep.said import Said

if TYPE_CHECKING:
    from upkeep.views.hints import Hints
    from upkeep.views.rights import RightsTable, Wish


class Signers(AtThePress):
    """The questions about people and their signatures; nothing here writes."""

    def rights(self, at: datetime) -> RightsTable:
        """Who may do what in this plant."""
        from upkeep.answers.people.rights import rights_table

        return rights_table(self._seen_from.at(at))

    def why_not(self, wish: Wish, person: str, at: datetime) -> Said | None:
        """Why somebody may not do something at a moment, and whom to ask; None: they may."""
        from upkeep.answers.people.who_may import why_not

        return why_not(self._seen_from.now(at), wish, person, at)

    def signing_hints(self, person: str, at: datetime) -> Hints:
        """What stands out in how work was signed, over the days before a moment, for the maintenance lead alone.

        Raises :class:`Refused` for anybody else; whoever asks has proven to be that person.
        """
        from upkeep.answers.people.signing_hints import SigningHints, check_is_for

        check_is_for(self.known.person(person))
        return SigningHints(self._seen_from.at(at)).hints()
