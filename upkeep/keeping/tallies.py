"""What stands above the board - lines by state, latest counts - read once and kept while it cannot have changed."""

from __future__ import annotations

from typing import Any

from upkeep.frozen import frozen
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections
from upkeep.store.rows.counts import MarkRow

_KEPT = 8
"""Filters whose tallies are kept: a screen asks for the same few again and again while somebody scrolls."""

_NEVER = "~"
"""Sorts after every stored moment."""


@frozen
class _Tally:
    counts: dict[str, int]
    version: tuple[int, ...]
    since: str
    until: str


class Tallies:
    """The tallies of one file.  A state changes when somebody writes or a line passes an edge, and not otherwise."""

    def __init__(self, file: BookFile) -> None:
        self._file, self._lines, self._rows = file, LineStore(file), Projections(file)
        self._kept: dict[tuple[tuple[str, Any], ...], _Tally] = {}
        self._marks: list[MarkRow] = []
        self._marks_version: tuple[int, ...] | None = None

    def at(self, now: str, where: str, filters: dict[str, Any]) -> dict[str, int]:
        """How many lines that match a filter are in each state; to be asked inside a reading transaction."""
        asked, version = tuple(filters.items()), self._file.version()
        kept = self._kept.get(asked)
        if kept is None or kept.version != version or not kept.since <= now < kept.until:
            counts = self._lines.tally(now, where, filters)
            kept = _Tally(counts, version, now, self._lines.next_edge(now) or _NEVER)
            if len(self._kept) >= _KEPT:
                self._kept.clear()
            self._kept[asked] = kept
        return kept.counts

    def last_marks(self) -> list[MarkRow]:
        """The latest mark of every press, read again when somebody has written."""
        version = self._file.version()
        if self._marks_version != version:
            self._marks, self._marks_version = self._rows.last_marks(), version
        return self._marks
