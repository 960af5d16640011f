"""Kits for planned work: what each job takes, shared out in the order of the list, and what is short."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from upkeep.frozen import frozen


@frozen
class Wanted:
    """A job and the spares it takes, by id; ``bagged`` is what was taken off the shelf for it already."""

    line: str
    parts: Mapping[str, int]
    bagged: Mapping[str, int]


@frozen
class Shared:
    """What a job gets of a spare: ``number`` it takes, ``bagged`` of them lie in its bag, ``there`` can be taken off
    the shelf, ``short`` are missing."""

    spare: str
    number: int
    bagged: int
    there: int

    @property
    def short(self) -> int:
        """How many are missing."""
        return self.number - self.bagged - self.there


def shared_out(jobs: Sequence[Wanted], stock: Mapping[str, int]) -> list[tuple[Shared, ...]]:
    """What each job gets, those higher on the list first; nothing is promised twice."""
    left = {spare: max(0, number) for spare, number in stock.items()}
    shared = []
    for job in jobs:
        row = []
        for spare, number in job.parts.items():
            bagged = min(number, job.bagged.get(spare, 0))
            there = min(number - bagged, left.get(spare, 0))
            left[spare] = left.get(spare, 0) - there
            row.append(Shared(spare, number, bagged, there))
        shared.append(tuple(row))
    return shared
