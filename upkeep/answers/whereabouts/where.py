"""Where everything is: each item at its place, under it what sits in it, in walking order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from upkeep.due.holds import Gone
from upkeep.due.reason_json import hold_from
from upkeep.entries.standing import Standing
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Kind
from upkeep.store.rows.places import PutRow
from upkeep.views.overview.whereabouts import Whereabouts, WhereQuery, WhereRow, WhereStanding

_KINDS = {kind: order for order, kind in enumerate(Kind)}


def where(context: Context, query: WhereQuery) -> Whereabouts:
    """All items that match; raises :class:`NotFound` for a place that is none.

    Every table is read once, whatever the number of items.
    """
    if query.place is not None:
        context.known.press_or_place(query.place)
    rows = [row for row in _Plant(context).rows() if _matches(row, query)]
    return Whereabouts(context.moment, tuple(rows), len(rows))


def _matches(row: WhereRow, query: WhereQuery) -> bool:
    if query.place not in (None, row.place) or query.standing not in (None, row.standing):
        return False
    if query.owner is not None and (row.owner or "").casefold() != query.owner.casefold():
        return False
    words = (row.item, row.title, row.place, row.area, row.family or "", row.owner or "", row.kind, row.standing)
    shown = " ".join(words).casefold()
    return all(word in shown for word in query.search.casefold().split())


class _Plant:
    """The items of a plant with what was told of where they are."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self._inside = dict(context.rows.hanging())
        self._left = {row.item: row for row in context.rows.left_at()}
        self._put = {row.item: row for row in context.rows.put_at()}
        holds = {row.item: hold_from(row.reason) for row in context.rows.standings(Standing.HOLD)}
        self._gone = {item for item, reason in holds.items() if isinstance(reason, Gone)}
        self._held = set(holds) - self._gone
        self._resting = {row.item for row in context.rows.standings(Standing.PAUSE)}

    def rows(self) -> Iterator[WhereRow]:
        """Every item that has not left for good."""
        tops = [item for key, item in self._here.items() if self._inside.get(key) not in self._here]
        placed = [(self._place(item), item) for item in tops]
        order = {place: self._context.whereabouts.area_and_route(place) for place, _ in placed}
        placed.sort(key=lambda one: (order[one[0]][1], one[0], _KINDS[one[1].kind], one[1].id))
        for place, item in placed:
            yield from self._with_contents(item, place, order[place][0], None, 0)

    def _with_contents(self, item: Item, place: str, area: str, inside: str | None, depth: int) -> Iterator[WhereRow]:
        yield WhereRow(
            item.id, item.kind.value, item.title, place, area, inside, depth, self._standing(item, place, inside),
            item.owner, item.family,
        )  # fmt: skip
        for content in self._contents.get(item.id, ()):
            yield from self._with_contents(content, place, area, item.id, depth + 1)

    def _standing(self, item: Item, place: str, inside: str | None) -> WhereStanding:
        if item.id in self._held:
            return WhereStanding.HELD
        if item.id in self._resting:
            return WhereStanding.RESTING
        if inside is not None or item.kind is Kind.PRESS:
            on_press = place in self._here and self._here[place].kind is Kind.PRESS
            return WhereStanding.ON_PRESS if on_press else WhereStanding.INSIDE
        last = self._last(item)
        return WhereStanding.IN_PIECES if last is not None and last.in_pieces else WhereStanding.PUT_AWAY

    def _place(self, item: Item) -> str:
        """The press itself, where it was put last, or its home."""
        if item.kind is Kind.PRESS:
            return item.id
        last = self._last(item)
        return (last.place if last is not None else "") or item.place or "-"

    def _last(self, item: Item) -> PutRow | None:
        """Where it was put last, coming out of something or not."""
        left, put = self._left.get(item.id), self._put.get(item.id)
        return put if put is not None and (left is None or left.at <= put.at) else left

    @cached_property
    def _here(self) -> Mapping[str, Item]:
        """Every item that is still there, by id."""
        day = self._known.zone.day(self._context.moment)
        return {
            key: item
            for key, item in self._known.items.items()
            if key not in self._gone and not (item.scrapped is not None and item.scrapped <= day)
        }

    @cached_property
    def _contents(self) -> Mapping[str, list[Item]]:
        """What sits in each item, by kind and id."""
        contents: dict[str, list[Item]] = {}
        for key, inside in self._inside.items():
            if key in self._here:
                contents.setdefault(inside, []).append(self._here[key])
        for items in contents.values():
            items.sort(key=lambda item: (_KINDS[item.kind], item.id))
        return contents
