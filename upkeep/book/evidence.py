"""What a book answers to an auditor."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.plans import Plans

if TYPE_CHECKING:
    from upkeep.views.evidence.dossier import Dossier


class Evidence(Plans):
    """The questions of whoever has to be shown; nothing here writes."""

    def dossier(
        self, item: str, at: datetime, *, since: datetime | None = None, known_at: datetime | None = None
    ) -> Dossier:
        """All the book holds of an item, or all of it from ``since`` on; raises :class:`NotFound`."""
        from upkeep.answers.evidence.dossier import Dossiers

        return Dossiers(self._seen_from.at(at, known_at), since).of(item)
