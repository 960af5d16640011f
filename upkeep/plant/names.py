"""What people were called, and when: a signature keeps the name its person had when it was written."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable


class Names:
    """The names of people by their ids: that of today, and that of the time of an entry."""

    def __init__(self, given: Iterable[tuple[str, int, str]] = ()) -> None:
        """``given`` are ids with the number of the entry that gave them a name, and the name."""
        self._given: dict[str, list[tuple[int, str]]] = {}
        for key, entry, name in sorted(given):
            self._given.setdefault(key, []).append((entry, name))

    def of(self, by: str, entry: int) -> str:
        """The name somebody had when an entry was written, or their first one; the id of somebody nobody knows."""
        given = self._given.get(by)
        if given is None:
            return by
        place = bisect_left(given, (entry, ""))
        return given[max(place - 1, 0)][1]

    def now(self, by: str) -> str:
        """The name somebody has; the id of somebody nobody knows."""
        given = self._given.get(by)
        return by if given is None else given[-1][1]
