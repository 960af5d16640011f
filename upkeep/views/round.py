"""The lines of one place for one shift, as a frozen view."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.views.board import BoardLine
from upkeep.views.items import Hanging, HistoryLine
from upkeep.views.jobs import Lock
from upkeep.views.signing import Caution


@frozen
class RoundRow:
    """A line of the round under the number it keeps for the whole shift.

    ``done``: it was done in this shift; who did it and when, the line says.
    """

    number: int
    line: BoardLine
    done: bool


@frozen
class FoundHere:
    """Something found here in this shift: its entry, when, who, on which item, and the symptom in the words of then."""

    entry: int
    at: datetime
    by_name: str
    item: str
    symptom: str


@frozen
class Round:
    """The lines of one place for one shift, as an operator walks them.

    ``last_count`` is what its counter showed last, after it was set back or replaced what it showed then; ``expected``
    the range in which it should lie now, by the fastest rate and the hours in which shifts ran since.  ``lines`` are
    those an operator may sign, not yet done first; ``done`` the sign-offs of this shift.  ``cautions`` are those of the
    lines, each once.  ``rows`` are an operator's lines of this shift in walking order, those done too: one that joins
    or leaves changes no other's number, and a number may be missing.  ``over`` is what is past its latest time here and
    not an operator's.  ``found`` is what was reported here in this shift, the latest first.  ``locks`` are
    those on its press; ``not_accepted`` is the shift before, where nobody has accepted what it left.
    """

    at: datetime
    place: str
    press: str | None
    shift: str | None
    shift_ends: datetime | None
    last_count: int | None
    last_count_at: datetime | None
    expected: tuple[int, int] | None
    hanging: tuple[Hanging, ...]
    lines: tuple[BoardLine, ...]
    done: tuple[HistoryLine, ...]
    cautions: tuple[Caution, ...] = ()
    rows: tuple[RoundRow, ...] = ()
    over: tuple[BoardLine, ...] = ()
    found: tuple[FoundHere, ...] = ()
    locks: tuple[Lock, ...] = ()
    not_accepted: str | None = None
