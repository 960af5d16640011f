"""What a book answers to an auditor."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from upkeep.book.plans import Plans
from upkeep.progress import Watch, nobody

if TYPE_CHECKING:
    from upkeep.views.evidence.changes import Changes
    from upkeep.views.evidence.dossier import Dossier
    from upkeep.views.evidence.late import LateWork
    from upkeep.views.evidence.permits import Permits
    from upkeep.views.evidence.quality import DataQuality, Pruning
    from upkeep.views.evidence.signers import SignerList
    from upkeep.views.evidence.trace import Trace, Traceable


class Evidence(Plans):
    """The questions of whoever has to be shown; nothing here writes."""

    def dossier(
        self, item: str, at: datetime, *, since: datetime | None = None, known_at: datetime | None = None
    ) -> Dossier:
        """All the book holds of an item, or all of it from ``since`` on; raises :class:`NotFound`."""
        from upkeep.answers.evidence.dossier import Dossiers

        return Dossiers(self._seen_from.at(at, known_at), since).of(item)

    def trace(
        self, name: str, at: datetime, *, what: Traceable | None = None, first: datetime | None = None,
        limit: int | None = None, known_at: datetime | None = None,
    ) -> Trace:  # fmt: skip
        """The set-ups that an order, reel, wire lot, batch, person or item belongs to, newest first.

        Raises :class:`NotFound` where it names nothing, :class:`Refused` where it names several things and ``what``
        does not say which.
        """
        from upkeep.answers.evidence.trace import Traces

        return Traces(self._seen_from.at(at, known_at), first).of(name, what, limit)

    def changes(
        self, at: datetime, key: str | None = None, *, what: str | None = None, by: str | None = None,
        first: datetime | None = None, limit: int | None = None, every: bool = False,
        known_at: datetime | None = None,
    ) -> Changes:  # fmt: skip
        """What changed in the definitions by a moment, and how what is asked for stood then; raises
        :class:`NotFound`."""
        from upkeep.answers.evidence.changes import ChangeViews

        views = ChangeViews(self._seen_from.at(at, known_at))
        return views.all(key, what=what, by=by, first=first, limit=limit, every=every)

    def late(
        self, at: datetime, *, first: date | None = None, last: date | None = None, area: str | None = None,
        item: str | None = None, known_at: datetime | None = None, watch: Watch = nobody,
    ) -> LateWork:  # fmt: skip
        """Work that was not done in time, with its reasons; raises :class:`Refused` and :class:`NotFound` as the
        figures do."""
        from upkeep.answers.evidence.late import late_work

        return late_work(self._seen_from.at(at, known_at), first, last, area=area, item=item, watch=watch)

    def permits(
        self, at: datetime, *, first: datetime | None = None, area: str | None = None, item: str | None = None,
        known_at: datetime | None = None,
    ) -> Permits:  # fmt: skip
        """Deviation permits and concessions by a moment, and how they ended; raises :class:`NotFound`."""
        from upkeep.answers.evidence.permits import PermitViews

        return PermitViews(self._seen_from.at(at, known_at)).all(first, item=item, area=area)

    def signers(
        self, at: datetime, task: str | None = None, *, area: str | None = None, item: str | None = None,
        known_at: datetime | None = None,
    ) -> SignerList:  # fmt: skip
        """Who may sign what at a moment, trained until when; raises :class:`NotFound`."""
        from upkeep.answers.evidence.signers import signers

        return signers(self._seen_from.at(at, known_at), task, item=item, area=area)

    def data_quality(
        self, at: datetime, *, area: str | None = None, weeks: int = 8, known_at: datetime | None = None
    ) -> DataQuality:
        """How good the data of some weeks are, by area; raises :class:`NotFound`."""
        from upkeep.answers.evidence.data_quality import Qualities

        return Qualities(self._seen_from.at(at, known_at), weeks).page(area)

    def which_tasks(self, at: datetime, *, first: datetime | None = None, known_at: datetime | None = None) -> Pruning:
        """Which tasks never find anything, and which find too much, from a moment on (None: over a year)."""
        from upkeep.answers.evidence.pruning import pruning

        return pruning(self._seen_from.at(at, known_at), first)
