"""What a book answers to those who look over the whole plant, and what is written where tools are changed."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.signers import Signers
from upkeep.plant.model import Role

if TYPE_CHECKING:
    from upkeep.answers.whereabouts.moves import Moves
    from upkeep.views.home import Home


class Overview(Signers):
    """The questions of the lead and of whoever changes tools; nothing here writes."""

    def home(self, at: datetime, person: str | None = None) -> Home:
        """What the lead has to know first; hints only where ``person`` is a lead, who has proven to be that."""
        from upkeep.answers.home.home import home

        is_lead = person is not None and Role.LEAD in self.known.person(person).roles
        hints = self.signing_hints(person, at) if person is not None and is_lead else None
        return home(self._seen_from.at(at), hints)

    def moves(self, at: datetime, by: str, because: str = "") -> Moves:
        """What is written where somebody changes tools at a moment."""
        from upkeep.answers.whereabouts.moves import Moves

        return Moves(self._seen_from.at(at), by, because)
