"""Which faults are planted: so many in each group of rooms, drawn with a seed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from random import Random

from tests.mutants.planting import Fault, faults_in, is_python

GROUPS: Mapping[str, tuple[str, ...]] = {
    "due": ("upkeep/counting", "upkeep/due", "upkeep/planning", "upkeep/units"),
    "measured": ("upkeep/wear", "upkeep/quality", "upkeep/stats"),
    "plant": ("upkeep/plant", "upkeep/entries", "upkeep/wording"),
    "engine": ("upkeep/admission", "upkeep/answers", "upkeep/keeping", "upkeep/book"),
    "store": ("upkeep/store", "upkeep/keys", "upkeep/seals", "upkeep/service", "upkeep/sources"),
    "shown": ("tui", "upkeep/papers", "upkeep/station", "upkeep/cli"),
}
"""The rooms of each group."""

AIMS = {"due": 95, "measured": 95, "plant": 95, "engine": 95, "store": 85, "shown": 85}
"""How many of a hundred faults the tests should find at least."""

_A_FUNCTION = 3
"""Faults in one function at most: long functions would take the sample."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """The program with one fault: in which file, below the root."""

    file: str
    fault: Fault

    def __str__(self) -> str:
        fault = self.fault
        return f"{self.file}:{fault.line} {fault.kind}: {_short(fault.old)} -> {_short(fault.new)}"


def _short(text: str) -> str:
    words = " ".join(text.split())
    return words if len(words) <= 60 else f"{words[:57]}..."


def sample(root: Path, group: str, number: int, seed: int) -> list[Mutant]:
    """So many mutants of a group, or all there are; the same for the same sources and seed."""
    everything = list(_mutants(root, group))
    Random(f"{seed} {group}").shuffle(everything)
    drawn: list[Mutant] = []
    taken: Counter[tuple[str, str]] = Counter()
    for mutant in everything:
        place = mutant.file, mutant.fault.function
        if len(drawn) == number:
            break
        if taken[place] < _A_FUNCTION and is_python(mutant.fault.planted((root / mutant.file).read_bytes())):
            taken[place] += 1
            drawn.append(mutant)
    return drawn


def _mutants(root: Path, group: str) -> Iterator[Mutant]:
    for room in GROUPS[group]:
        for file in sorted((root / room).rglob("*.py")):
            for fault in faults_in(file.read_bytes()):
                yield Mutant(file.relative_to(root).as_posix(), fault)
