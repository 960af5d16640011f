"""What a book answers to those who look over the whole plant."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.signers import Signers
from upkeep.plant.model import Role

if TYPE_CHECKING:
    from upkeep.views.overview.home import Home
    from upkeep.views.overview.whereabouts import Whereabouts, WhereQuery


class Overview(Signers):
    """The questions of the lead; nothing here writes."""

    def home(self, at: datetime, person: str | None = None, area: str | None = None) -> Home:
        """What the lead has to know first, of the plant or an area; hints only where ``person`` is a lead, who has
        proven to be that."""
        from upkeep.answers.home.home import home

        is_lead = person is not None and Role.LEAD in self.known.person(person).roles
        hints = self.signing_hints(person, at) if person is not None and is_lead else None
        return home(self._seen_from.at(at), hints, area)

    def where(self, at: datetime, query: WhereQuery | None = None, *, known_at: datetime | None = None) -> Whereabouts:
        """Where everything in the plant is, in walking order; raises :class:`NotFound` for a place that is none."""
        from upkeep.answers.whereabouts.where import where
        from upkeep.views.overview.whereabouts import WhereQuery

        return where(self._seen_from.at(at, known_at), query or WhereQuery())
