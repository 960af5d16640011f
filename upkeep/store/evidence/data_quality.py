"""What the quality of data is judged by: readings with when they were written, how names were proven, findings."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.file import BookFile
from upkeep.store.rows.definitions import IN_EFFECT

_SIGNED = ("sign", "check", "verify", "release", "disposition", "permit", "repair")


class Written(NamedTuple):
    """An entry about an item: when it happened, when it was written, how the name was proven (None: not known)."""

    item: str | None
    at: str
    recorded_at: str
    proof: str | None


class Found(NamedTuple):
    """How often a task was done, and how often that found something."""

    task: str
    times: int
    findings: int


class QualityRows:
    """Reads them from one file."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def readings(self, since: str, until: str) -> list[Written]:
        """The counts read over [since, until)."""
        return self._file.all(
            Written,
            "SELECT item, at, recorded_at, proof FROM entries WHERE at >= ? AND at < ? AND kind = 'count' "
            f"AND {IN_EFFECT}",
            (since, until),
        )

    def signatures(self, since: str, until: str) -> list[Written]:
        """What was signed over [since, until): work, checks, releases, decisions."""
        kinds = ", ".join(f"'{kind}'" for kind in _SIGNED)
        return self._file.all(
            Written,
            f"SELECT item, at, recorded_at, proof FROM entries WHERE at >= ? AND at < ? AND kind IN ({kinds}) "
            f"AND {IN_EFFECT}",
            (since, until),
        )

    def found(self, since: str, until: str) -> list[Found]:
        """How often each task was done over [since, until), and how often it found something: a value out of limits, a
        grade of 2 or more, or a fault its signer reported on the item within an hour of it."""
        return self._file.all(
            Found,
            "SELECT s.task, count(*), sum(s.out <> '' OR ifnull(s.grade, 0) >= 2 OR EXISTS ("
            "SELECT 1 FROM faults f JOIN entries e ON e.id = f.entry WHERE f.item = s.item AND e.by = s.by "
            "AND abs(unixepoch(f.at) - unixepoch(s.at)) <= 3600)) FROM sign_offs s "
            "WHERE s.how = 'done' AND s.at >= ? AND s.at < ? GROUP BY s.task ORDER BY s.task",
            (since, until),
        )
