"""What really happens in the demo plant: true strokes, true counters, what sits where.  The book only hears of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from upkeep.plant.model import PARTS, Item, Kind


@dataclass(slots=True)
class Shop:
    """The state of the shop floor.

    ``totals`` is what each press counter would show with endless figures; ``strokes`` what each item has done in
    this history; ``inside`` what each item sits in.  Items that may not be fitted are ``away`` (held, in storage),
    ``waiting`` for an inspection, or ``just_out``, on a trolley until the next shift.
    """

    items: dict[str, Item]
    totals: dict[str, int]
    inside: dict[str, str] = field(default_factory=dict)
    strokes: dict[str, int] = field(default_factory=dict)
    away: set[str] = field(default_factory=set)
    waiting: set[str] = field(default_factory=set)
    just_out: set[str] = field(default_factory=set)
    _last_read: dict[str, int] = field(default_factory=dict)

    def of_kind(self, kind: Kind) -> list[str]:
        """The ids of a kind, in order, without scrapped ones."""
        return [item.id for item in self.items.values() if item.kind is kind and item.scrapped is None]

    def run(self, press: str, strokes: int) -> None:
        """The press does strokes, and with it everything that hangs on it."""
        self.totals[press] += strokes
        for item in (press, *self.hanging(press)):
            self.strokes[item] = self.strokes.get(item, 0) + strokes

    def hanging(self, holder: str) -> Iterator[str]:
        """Everything that sits in something, at any depth."""
        for item in [item for item, inside in self.inside.items() if inside == holder]:
            yield item
            yield from self.hanging(item)

    def held_by(self, holder: str, kind: Kind) -> str | None:
        """The item of a kind that sits directly in something."""
        items = (item for item, inside in self.inside.items() if inside == holder and self.items[item].kind is kind)
        return next(items, None)

    def module_on(self, press: str) -> str | None:
        """The module on a press."""
        return self.held_by(press, Kind.MODULE)

    def die_set_on(self, press: str) -> str | None:
        """The die set in the module on a press."""
        module = self.module_on(press)
        return self.held_by(module, Kind.DIE_SET) if module else None

    def press_of(self, item: str) -> str | None:
        """The press an item hangs on."""
        while item in self.inside:
            item = self.inside[item]
        return item if self.items[item].kind is Kind.PRESS else None

    def free(self, kind: Kind) -> list[str]:
        """Items of a kind that sit nowhere and may be fitted."""
        taken = self.inside.keys() | self.away | self.waiting | self.just_out
        return [item for item in self.of_kind(kind) if item not in taken]

    def take_out(self, item: str) -> None:
        """An item comes out of what it sits in."""
        del self.inside[item]
        self.just_out.add(item)

    def ready_modules(self) -> list[str]:
        """Modules in a rack whose die set may run."""
        sets = ((module, self.held_by(module, Kind.DIE_SET)) for module in self.free(Kind.MODULE))
        not_ready = {None, *self.away, *self.waiting}
        return [module for module, die_set in sets if die_set not in not_ready]

    def shown(self, press: str) -> int:
        """What the counter shows: it starts again at 0 after its last figure."""
        return self.totals[press] % self._turn(press)

    def has_rolled_over(self, press: str) -> bool:
        """Whether the counter passed its last figure since somebody last read it."""
        turn = self._turn(press)
        return self.totals[press] // turn > self._last_read.get(press, self.totals[press]) // turn

    def _turn(self, press: str) -> int:
        return int(10 ** (self.items[press].digits or 10))

    def mark_read(self, press: str) -> None:
        """Somebody read the counter."""
        self._last_read[press] = self.totals[press]


def first_fittings(items: Iterable[Item]) -> list[tuple[str, str]]:
    """What sits in what when the book begins, by the number in the ids; parts first, modules on their presses last."""
    by_kind: dict[Kind, list[str]] = {}
    for item in items:
        by_kind.setdefault(item.kind, []).append(item.id)
    presses, modules, sets = by_kind[Kind.PRESS], by_kind[Kind.MODULE], by_kind[Kind.DIE_SET]
    fittings: list[tuple[str, str]] = []
    for kind in PARTS:
        fittings += zip(by_kind[kind], modules if kind is Kind.CUT_OFF_BLADE else sets, strict=False)
    fittings += zip(sets, modules, strict=False)
    fittings += zip(modules, presses, strict=False)
    return fittings
