"""What a book answers of a weekly list that came back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from upkeep.book import BoardLine, Known, WeekList
    from upkeep.book.door import Clock
    from upkeep.entries.entry import Entry
    from upkeep.entries.origin import Origin, Proven
    from upkeep.plant.people import Person
    from upkeep.progress import Watch
    from upkeep.units.instants import Zone
    from upkeep.units.shifts import ShiftCalendar
    from upkeep.views.items import HistoryLine
    from upkeep.views.signing import Caution
    from upkeep.views.written import Written


class SheetBook(Protocol):
    """What a book answers of a sheet that came back; ``upkeep.book.Book`` does, and so does what the screens hold."""

    @property
    def zone(self) -> Zone:
        """The plant's time zone."""

    @property
    def calendar(self) -> ShiftCalendar:
        """The plant's shifts."""

    @property
    def known(self) -> Known:
        """All definitions in force."""

    def week_of_revision(
        self, revision: int, week: str, area: str | None = ..., *, at: datetime | None = ..., watch: Watch = ...
    ) -> WeekList:
        """A weekly list as it was printed."""

    def week_standing(self, week: str, at: datetime) -> frozenset[str] | None:
        """The lines that stand on the frozen list of a week."""

    def entry(self, number: int) -> Entry:
        """The entry with a number."""

    def line(self, line: str, at: datetime) -> BoardLine:
        """One line at an instant."""

    def answer_to(self, line: str, occurrence: str) -> HistoryLine | None:
        """What answers an occurrence of a line."""

    def history(self, item: str | None = None, limit: int = ...) -> tuple[HistoryLine, ...]:
        """The newest entries of an item."""

    def press_of(self, item: str, at: datetime) -> str | None:
        """The press on which an item hung."""

    def people(self) -> tuple[Person, ...]:
        """Everybody who signs or ever signed."""

    def cautions_for(self, work: Iterable[tuple[str, str]]) -> tuple[Caution, ...]:
        """What to mind before some work is done."""

    def write(
        self,
        entries: Sequence[Entry],
        recorded_at: datetime | Clock,
        origin: Origin = ...,
        proven: Proven | None = ...,
    ) -> Written:
        """Writes all of the entries or none."""
