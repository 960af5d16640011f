"""The plant's definitions over time: what was in force at a moment, and who changed it when."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import pairwise

from upkeep.entries.entry import Recorded
from upkeep.entries.planning import Define
from upkeep.frozen import frozen
from upkeep.keeping.definitions import PLANT_KEY, Known
from upkeep.plant.definition import Defined
from upkeep.store.rows.definitions import DefinitionRow
from upkeep.units.instants import NEVER, utc_text


@frozen
class InForce:
    """Definitions in force over [start, end); None: to this day."""

    start: datetime
    end: datetime | None
    known: Known


class DefinedThen:
    """All definitions of a book by time, from its ``define`` entries in order of their numbers."""

    def __init__(self, entries: Iterable[Recorded]) -> None:
        self._defined = [(recorded.id, recorded.entry) for recorded in entries if isinstance(recorded.entry, Define)]
        self._moments = sorted({entry.at for _, entry in self._defined})
        self._moves: dict[tuple[str, str], list[datetime]] = {}
        for _, entry in self._defined:
            self._moves.setdefault((entry.what, entry.key), []).append(entry.at)
        self._known: dict[int, Known] = {}
        self._unknown: dict[int, frozenset[str]] = {}

    @classmethod
    def unchanged(cls, known: Known) -> DefinedThen:
        """Those of a time in which nothing was defined: what is in force was so all along."""
        definitions = cls(())
        definitions._known[0], definitions._unknown[0] = known, frozenset()
        return definitions

    @property
    def began(self) -> datetime:
        """The moment of the first definition; that of the end of time in an empty book."""
        return self._moments[0] if self._moments else NEVER

    def at(self, moment: datetime) -> Known:
        """The definitions in force at a moment; read once for each span in which none changed."""
        place = bisect_right(self._moments, moment)
        if place not in self._known:
            self._known[place] = Known(self._rows(moment))
        return self._known[place]

    def unknown_at(self, moment: datetime) -> frozenset[str]:
        """The items that nobody had defined by a moment and somebody did later."""
        place = bisect_right(self._moments, moment)
        if place not in self._unknown:
            self._unknown[place] = frozenset(self.at(NEVER).items.keys() - self.at(moment).items.keys())
        return self._unknown[place]

    def _rows(self, moment: datetime) -> list[DefinitionRow]:
        kept: dict[tuple[str, str], DefinitionRow] = {}
        for number, entry in self._defined:
            if entry.at <= moment:
                key = entry.what, entry.key
                since = kept[key].since if key in kept else utc_text(entry.at)
                kept[key] = DefinitionRow(*key, entry.content, since, number)
        return list(kept.values())

    def between(self, start: datetime, end: datetime, task: str, item: str) -> Iterator[InForce]:
        """The definitions in force over [start, end), a new stretch where the task, the item or the plant changed."""
        concerns = ((Defined.PLANT, PLANT_KEY), (Defined.TASK, task), (Defined.ITEM, item))
        moves = {moment for concern in concerns for moment in self._moves.get(concern, ()) if start < moment < end}
        edges = [start, *sorted(moves), end]
        for first, last in pairwise(edges):
            yield InForce(first, last if last < end else None, self.at(first))

    def all_between(self, start: datetime, end: datetime) -> Iterator[Known]:
        """Every set of definitions that was in force at some time over [start, end)."""
        yield self.at(start)
        for moment in self._moments:
            if start < moment < end:
                yield self.at(moment)

    def moments_between(self, start: datetime, end: datetime) -> list[datetime]:
        """The moments within (start, end) at which anything was defined."""
        return [moment for moment in self._moments if start < moment < end]

    def changes_of_tasks(self, start: datetime, end: datetime) -> Iterator[tuple[int, Define, str]]:
        """Tasks defined anew over [start, end): the number of the entry, the entry, and the content before."""
        before: dict[str, str] = {}
        for number, entry in self._defined:
            if entry.what == Defined.TASK:
                if entry.key in before and start <= entry.at < end:
                    yield number, entry, before[entry.key]
                before[entry.key] = entry.content
