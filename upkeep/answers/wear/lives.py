"""The lives of the parts in a family of die sets: when each began, what it did, how it ended.

A life begins when a part is new or comes back from rework.  It ends as a failure where the part was retired worn or
broken, or was reworked after an inspection of grade 3 or 4 in that life; else as a suspension: retired for another
reason, scrapped without a word, reworked before its limit, or still in use.  A part that sat in several families counts
with the one it was in last; a blade, which sits in a module, with that of the module's last die set.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from upkeep.counting.strokes import BEGINNING, strokes_between
from upkeep.entries.checking import Check
from upkeep.errors import NotFound
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.plant.model import FITS_IN, Item, Kind
from upkeep.said import Numeral, Said, listed, said, term
from upkeep.stats.lives import Lives
from upkeep.store.rows.findings import RetiredRow
from upkeep.store.rows.signatures import Graded
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.views.wear import FamilyLives, PartLife
from upkeep.wear.lives import agreement, joined, report

FAILED_FROM = 3
"""An inspection of this grade or worse says that the part was at its limit."""

_NOT_NAMED = "terminal not named"


class LivesOfParts:
    """Gathers lives in strokes, running ones up to the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._known, self._at, self._counts = context.known, context.moment, context.whereabouts.counts
        self._rows, self._wear_history, self._entries = context.rows, context.wear_history, context.entries

    def report(
        self, family: str, kind: Kind, by_terminal: bool, shape: float | None, cost_ratio: float | None
    ) -> FamilyLives:
        """The lives of the parts of a kind in a family; raises :class:`NotFound` for a family nobody named."""
        found_lives = [each for item in self._parts(family, kind) for each in self._lives(item, by_terminal, family)]
        ran = [life for life, is_known in found_lives if is_known and life.strokes[1]]
        unknown = [life.item for life, is_known in found_lives if not is_known or (life.failed and not life.strokes[1])]
        groups = {name: _lives_of(ran, name) for name in sorted({life.group for life in ran})}
        verdict = agreement(groups)
        pooled = {name: group for name, group in groups.items() if name not in verdict.apart}
        apart = {name: group for name, group in groups.items() if name in verdict.apart}
        together = {", ".join(pooled) or "none": joined(pooled)} if verdict.agree else pooled
        reports = tuple((name, report(group, cost_ratio, shape)) for name, group in {**together, **apart}.items())
        return FamilyLives(family, kind.value, tuple(ran), verdict, reports, tuple(dict.fromkeys(unknown)))

    def _parts(self, family: str, kind: Kind) -> list[Item]:
        hosts = tuple(key for key, item in self._known.items.items() if item.family == family)
        if not hosts:
            families = sorted({item.family for item in self._known.items.values() if item.family})
            raise NotFound(
                said("family"),
                family,
                near_misses(family, families),
                said("The families: {families}.", families=listed(families)),
            )
        if kind is Kind.DIE_SET:
            return [self._known.item(key) for key in hosts if self._known.item(key).kind is kind]
        if FITS_IN[kind] is Kind.MODULE:
            hosts = (*hosts, *self._modules_of(hosts))
        named = {key for key, item in self._known.items.items() if item.family == family and item.kind is kind}
        sat = {key for key in self._wear_history.ever_inside(hosts) if self._sat_last_in(key, hosts)}
        parts = (self._known.item(key) for key in sorted(named | sat))
        return [item for item in parts if item.kind is kind and item.family in (None, family)]

    def _modules_of(self, die_sets: tuple[str, ...]) -> list[str]:
        """The modules whose last die set was one of these."""
        modules = []
        for key, item in self._known.items.items():
            if item.kind is Kind.MODULE:
                rows = [row for row in self._rows.fittings_in(key) if self._known.item(row.item).kind is Kind.DIE_SET]
                if rows and rows[-1].item in die_sets:
                    modules.append(key)
        return modules

    def _sat_last_in(self, item: str, hosts: tuple[str, ...]) -> bool:
        last = self._rows.last_fitting(item)
        return last is not None and last.inside in hosts

    # The lives of one part

    def _lives(self, item: Item, by_terminal: bool, family: str) -> Iterator[tuple[PartLife, bool]]:
        """The lives of a part in order, and whether each is known."""
        retired, reworks = self._wear_history.retired(item.id), self._wear_history.reworks_of(item.id)
        unknown = [recorded.entry.at for recorded in self._entries.of_item(item.id, ("unknown-life",))]
        starts: list[datetime | None] = [None, *(from_utc_text(row.at) for row in reworks)]
        ends: list[datetime | None] = [*starts[1:], from_utc_text(retired.at) if retired else self._scrapped(item)]
        for number, (start, end) in enumerate(zip(starts, ends, strict=True)):
            is_last = number == len(reworks)
            failed, how = self._end(item, start, end, retired if is_last else None, is_last)
            done = strokes_between(self._counts, item.id, start or BEGINNING, end or self._at)
            terminal = self._terminal(item, start, end or self._at, family) if by_terminal else ""
            group = ", ".join(word for word in (terminal, "reworked" if number else "new") if word)
            stated = any((start is None or moment >= start) and (end is None or moment < end) for moment in unknown)
            yield PartLife(item.id, group, start, end, (done.low, done.best, done.high), failed, how), not stated

    def _scrapped(self, item: Item) -> datetime | None:
        return None if item.scrapped is None else self._known.zone.start_of(item.scrapped)

    def _end(
        self, item: Item, start: datetime | None, end: datetime | None, retired: RetiredRow | None, is_last: bool
    ) -> tuple[bool, Said]:
        """Whether a life ended as a failure, and how it ended."""
        if retired is not None:
            return retired.end != "other", said("retired: {end}", end=term(retired.end, "end of a life"))
        if is_last:
            return False, said("running") if end is None else said("scrapped, no reason given")
        assert end is not None
        graded = self._graded(item, start, end)
        if graded is not None and graded.grade >= FAILED_FROM:
            return True, said(
                "reworked after grade {grade} (#{entry})", grade=graded.grade, entry=Numeral(graded.entry)
            )
        return False, said("reworked before its limit")

    def _graded(self, item: Item, start: datetime | None, end: datetime) -> Graded | None:
        """The last graded inspection of the part, or of what it sat in while it sat there, in one of its lives."""
        first, last = utc_text(start or BEGINNING), utc_text(end)
        graded = [self._wear_history.last_graded((item.id,), first, last)]
        for row in self._rows.fittings_of(item.id, first):
            graded.append(
                self._wear_history.last_graded((row.inside,), max(first, row.start), min(last, row.until or last))
            )
        return max((row for row in graded if row is not None), default=None)

    def _terminal(self, item: Item, start: datetime | None, end: datetime, family: str) -> str:
        """The terminal checked most often where the part sat in that life; else the only one of its family."""
        first, last = utc_text(start or BEGINNING), utc_text(end)
        seen: Counter[str] = Counter()
        for row in self._rows.fittings_of(item.id, first):
            span = max(first, row.start), min(last, row.until or last)
            for measured in self._wear_history.measured(row.inside, *span):
                recorded = self._entries.by_number(measured.entry)
                crimp = (
                    self._known.crimps.get(recorded.entry.crimp or "")
                    if recorded and isinstance(recorded.entry, Check)
                    else None
                )
                if crimp is not None and crimp.terminal:
                    seen[crimp.terminal] += 1
        made = {crimp.terminal for crimp in self._known.crimps.values() if crimp.family == family and crimp.terminal}
        return seen.most_common(1)[0][0] if seen else made.pop() if len(made) == 1 else _NOT_NAMED


def _lives_of(lives: list[PartLife], group: str) -> Lives:
    of_group = [life for life in lives if life.group == group]
    return Lives(
        tuple(float(life.strokes[1]) for life in of_group if life.failed),
        tuple(float(life.strokes[1]) for life in of_group if not life.failed),
    )
