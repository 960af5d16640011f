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
    from upkeep.keeping.context import Context
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
        """The weekly due list of an ISO week (the week of ``at`` where none is named): as it was frozen, where it was.

        ``by`` prints it, ``proof`` says how that name was proven; ``watch`` is told how many lines of the board were
        gone through.
        """
        from upkeep.answers.shelf.kits import with_what_is_short
        from upkeep.answers.week import week_list

        now = self._seen_from.at(at, known_at)
        listed = self._as_frozen(week_list(now, week, area, by, proof, known_at, watch), now, area)
        return with_what_is_short(listed, now)

    def _as_frozen(self, printed: WeekList, now: Context, area: str | None) -> WeekList:
        """The list with the rows that were frozen; as it is, where its week was not frozen by then."""
        from upkeep.answers.planned.frozen_list import frozen_list, rows_then, settled_rows

        settled = settled_rows(now, printed.week)
        if settled is None:
            return printed
        then = rows_then(self._seen_from.at_revision(settled.number, settled.at), settled, printed.week)
        return frozen_list(printed, settled, then, area)

    def week_as_it_began(
        self, week: str, *, area: str | None = None, by: str = "", proof: Proof | None = None, watch: Watch = nobody
    ) -> WeekList:
        """The weekly due list of a past ISO week: as it was frozen, with what was added and taken off by its end.

        Where it was not, as the board stood at its first moment, with what was known then; where the book began within
        that week, as it stood then.  Raises :class:`Refused` where the book began later.
        """
        from upkeep.answers.planned.frozen_list import settled_rows
        from upkeep.units.weeks import week_days

        first, last = week_days(week)
        opens, began = self.zone.start_of(first), self.entry(0).at
        ends = self.zone.start_of(last + timedelta(days=1))
        if began >= ends:
            raise Refused(
                said("This book began {began}; it knows nothing of {week}.", began=Moment(began, self.zone), week=week)
            )
        if settled_rows(self._seen_from.now(ends), week) is not None:
            return self.week(ends - timedelta(seconds=1), week=week, area=area, by=by, proof=proof, watch=watch)
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
        now = self._seen_from.at_revision(revision, moment)
        return self._as_frozen(week_list(now, week, area, "", watch=watch), now, area)
