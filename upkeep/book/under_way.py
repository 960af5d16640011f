"""What a book answers of work under way, and of what one shift hands over to the next."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.printing import Printing

if TYPE_CHECKING:
    from upkeep.views.handover import Handover
    from upkeep.views.jobs import Job, Lock


class UnderWay(Printing):
    """The questions about jobs, locks and handovers."""

    def jobs(self, at: datetime) -> tuple[Job, ...]:
        """Every job that has begun and not ended, the oldest first."""
        from upkeep.answers.under_way.jobs import WorkUnderWay

        return tuple(WorkUnderWay(self._seen_from.at(at)).jobs())

    def locks(self, at: datetime) -> tuple[Lock, ...]:
        """Every lock that hangs on a press, the oldest first."""
        from upkeep.answers.under_way.jobs import WorkUnderWay

        return tuple(WorkUnderWay(self._seen_from.at(at)).locks())

    def handover(self, at: datetime, shift: str | None = None) -> Handover:
        """What a shift hands over to the next, as it stands at a moment; the last that has ended where none is named.

        Raises :class:`Unreadable` for a shift there is none of, :class:`Refused` where the plant has no shifts.
        """
        from upkeep.answers.under_way.handover import handover

        return handover(self._seen_from.at, at, shift)
