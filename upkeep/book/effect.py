"""Which entries count: a correction or a strike takes the effect of an entry, and striking that gives it back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from upkeep.entries.kinds import Recorded, Strike


def target_of(one: Recorded) -> int | None:
    """The entry whose effect this one takes; None: it takes none."""
    return one.entry.entry if isinstance(one.entry, Strike) else one.entry.corrects


def without_effect(entries: Iterable[Recorded]) -> dict[int, int]:
    """Of a whole book: each entry without effect, and the entry through which it lost it.

    An entry refers only to earlier ones, so going back from the last one settles each before it is asked for.
    """
    lost: dict[int, int] = {}
    for one in sorted(entries, key=lambda entry: -entry.id):
        target = target_of(one)
        if target is not None and one.id not in lost:
            lost.setdefault(target, one.id)
    return lost


class _Entries(Protocol):
    def one(self, number: int) -> Recorded | None: ...
    def referring_to(self, number: int) -> list[Recorded]: ...


class _Effects(Protocol):
    def effect_lost_through(self, entry: int) -> int | None: ...


def effect_changes(new: Recorded, entries: _Entries, effects: _Effects) -> tuple[list[tuple[int, int]], list[Recorded]]:
    """What a new entry does to earlier ones: those that lose their effect (entry, through), and those that regain it.

    Struck corrections give back what they had replaced, and so on down.
    """
    lost: list[tuple[int, int]] = []
    regained: list[Recorded] = []
    target = target_of(new)
    through, takes = new.id, True
    while target is not None:
        old = entries.one(target)
        if old is None:
            break
        if takes:
            lost.append((target, through))
        else:
            regained.append(old)
        through, takes = target, not takes
        target = target_of(old)
    return lost, regained
