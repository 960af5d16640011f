"""Which entries count: a correction or a strike takes the effect of an entry, and striking that gives it back.

A correction that is corrected again has still replaced what it replaced; only striking it gives that back.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from upkeep.entries.bookkeeping import Strike
from upkeep.entries.entry import Recorded


def target_of(recorded: Recorded) -> int | None:
    """The entry whose effect this one takes; None: it takes none."""
    return recorded.entry.entry if isinstance(recorded.entry, Strike) else recorded.entry.corrects


def without_effect(entries: Iterable[Recorded]) -> dict[int, int]:
    """Of a whole book: each entry without effect, and the entry through which it lost it.

    An entry refers only to earlier ones, so going back from the last one settles each before it is asked for.
    """
    lost: dict[int, int] = {}
    struck: set[int] = set()
    for recorded in sorted(entries, key=lambda entry: -entry.id):
        target = target_of(recorded)
        if target is not None and recorded.id not in struck:
            lost.setdefault(target, recorded.id)
            if isinstance(recorded.entry, Strike):
                struck.add(target)
    return lost


class _Entries(Protocol):
    def by_number(self, number: int) -> Recorded | None: ...


def effect_changes(new: Recorded, entries: _Entries) -> tuple[list[tuple[int, int]], list[Recorded]]:
    """What a new entry does to earlier ones: those that lose their effect (entry, through), and those that regain it.

    A struck correction gives back what it had replaced, a struck strike takes that away again, and so on down.
    """
    lost: list[tuple[int, int]] = []
    regained: list[Recorded] = []
    taker, takes = new, True
    while (target := target_of(taker)) is not None and (old := entries.by_number(target)) is not None:
        if takes:
            lost.append((target, taker.id))
        else:
            regained.append(old)
        # Only a strike reaches further down: a correction has replaced for good what it replaced.
        if not isinstance(taker.entry, Strike):
            break
        taker, takes = old, not takes
    return lost, regained
