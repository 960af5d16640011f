"""What a book answers for its papers."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from upkeep.book.answers import Answers
from upkeep.errors import Refused
from upkeep.progress import Watch, nobody
from upkeep.said import Moment, said

if TYPE_CHECKING:
    from upkeep.entries.origin import Proof
    from upkeep.views.overview.restart import Restart
    from upkeep.views.printed import Printed
    from upkeep.views.week import WeekList


class Printing(Answers):
    """The questions of whoever prints; nothing here writes."""

    def printed(
        self, at: datetime, by: str = "", proof: Proof | None = None, *, known_at: datetime | None = None
    ) -> Printed:
        """What a paper of a moment says of itself, printed by somebody whose name was proven so."""
        from upkeep.answers.printed.frame import printed

        return printed(self._seen_from.at(at, known_at), by, proof, known_at)

    def restart(self, at: datetime, since: datetime | None = None) -> Restart:
        """What has to be seen to before the presses run again that stood still since a moment (None: the latest
        count)."""
        from upkeep.answers.printed.restart import restart

        return restart(self._seen_from.at(at), since)

    def week(
        self,
        at: datetime,
        *,
        week: str | None = None,
        area: str | None = None,
        by: str = "",
        proof: Proof | None = None,
        known_at: datetime | None = None,
        watch: Watch = nobody,
    ) -> WeekList:
        """The weekly due list of an ISO week (the week of ``at`` where none is named).

        ``by`` prints it, ``proof`` says how that name was proven; ``watch`` is told how many lines of the board were
        gone through.
        """
        from upkeep.answers.week import week_list

        return week_list(self._seen_from.at(at, known_at), week, area, by, proof, known_at, watch)

    def week_as_it_began(
        self, week: str, *, area: str | None = None, by: str = "", proof: Proof | None = None, watch: Watch = nobody
    ) -> WeekList:
        """The weekly due list of an ISO week as the board stood at its first moment, with what was known then.

        Where the book began within that week, as it stood then.  Raises :class:`Refused` where the book began later.
        """
        from upkeep.units.weeks import week_days

        first, last = week_days(week)
        opens, began = self.zone.start_of(first), self.entry(0).at
        if began >= self.zone.start_of(last + timedelta(days=1)):
            raise Refused(
                said("This book began {began}; it knows nothing of {week}.", began=Moment(began, self.zone), week=week)
            )
        moment = max(opens, began)
        return self.week(moment, week=week, area=area, by=by, proof=proof, known_at=moment, watch=watch)

    def week_of_revision(
        self,
        revision: int,
        week: str,
        area: str | None = None,
        *,
        at: datetime | None = None,
        watch: Watch = nobody,
    ) -> WeekList:
        """The weekly due list as it was printed when ``revision`` was the number of the book's last entry.

        ``at`` is the moment it was printed; None: the moment at which that entry was written.  ``watch`` is told how
        many lines of the board were gone through.  Raises :class:`NotFound` for a number that no entry has yet.
        """
        from upkeep.answers.week import week_list

        last = self.entry(revision)
        moment = at or last.recorded_at or last.at
        return week_list(self._seen_from.at_revision(revision, moment), week, area, "", watch=watch)
