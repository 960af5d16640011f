"""What lies on the shelf: spares.csv, one kind of spare a row, and its rows as the rules see them.

Parts that wear are items with ids of their own, also on the shelf: whoever receives them names them.  Everything else
is counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Annotated, Any

from pydantic import BeforeValidator

from upkeep.frozen import frozen
from upkeep.plant.definition import Defined, Definition, Given, Problem, near, quoted
from upkeep.plant.fields import ID_SAYS, Id, Line, Whole, one_of, says, text, whole_from, word, words
from upkeep.plant.model import PARTS, Kind, given
from upkeep.plant.rows import Sheet
from upkeep.plant.schema import Row, checked, columns_of, missing_from
from upkeep.plant.tables import rows_of
from upkeep.said import Quoted, Said, said


class Counted(StrEnum):
    """Kinds of spares that have no ids of their own and are counted."""

    MODULE_PART = "module part"
    PRESS_PART = "press part"
    GAUGE_PART = "gauge part"
    CONSUMABLE = "consumable"


SHELF_KINDS = (*map(str, PARTS), *map(str, Counted))
"""What a spare may be."""

SERVICE = 95
"""How often, in percent, the shelf is to last until what was ordered comes.  Plant default, no source."""


@frozen
class Spare:
    """A kind of spare on the shelf.

    ``kind`` is a kind of part, or one of :class:`Counted`; ``families`` are those it is for (none: any); ``place``
    where it lies.  ``unit`` is what one of it is called, ``pack`` how many come in a box (1: they come one by one).
    ``lead_days`` is how long an order takes (None: nobody knows), ``service`` how often in percent the shelf is to
    last that long, ``least`` how many are kept whatever the forecast says (an insurance).  ``supplier`` and
    ``supplier_id`` are texts.  ``names`` are other names it goes by; ``life`` is how many strokes a new one is good
    for, where its items do not say.
    """

    id: str
    kind: str
    title: str
    place: str | None = None
    families: tuple[str, ...] = ()
    unit: str = "piece"
    pack: int = 1
    lead_days: int | None = None
    service: int = SERVICE
    least: int = 0
    supplier: str | None = None
    supplier_id: str | None = None
    names: tuple[str, ...] = ()
    life: int | None = None

    @property
    def part(self) -> Kind | None:
        """The kind of part its pieces are, each an item with an id; None: they are counted."""
        return Kind(self.kind) if self.kind in PARTS else None

    def is_for(self, family: str | None) -> bool:
        """Whether it goes into die sets of a family."""
        return not self.families or family in self.families


def spare_from(content: Mapping[str, Any]) -> Spare:
    """A spare from its definition."""
    return Spare(**given(content, families=tuple, names=tuple))


def _kind(value: object) -> object:
    said_kind = word(value)
    if said_kind not in SHELF_KINDS:
        raise ValueError("nothing that lies on the shelf")
    return said_kind


def piece_of(spare: Spare, key: str) -> Definition:
    """The item that a new piece of a spare with an id becomes."""
    content: dict[str, Any] = {"id": key, "kind": spare.kind, "title": spare.title}
    if spare.place is not None:
        content["place"] = spare.place
    if len(spare.families) == 1:
        content["family"] = spare.families[0]
    if spare.life is not None:
        content["life"] = spare.life
    return Definition(Defined.ITEM, key, content)


class SpareRow(Row):
    """A row of spares.csv."""

    required = ("id", "kind", "title")
    id: Id | None = says(ID_SAYS)
    kind: Annotated[str, BeforeValidator(_kind)] | None = one_of(SHELF_KINDS)
    title: Line | None = text(80)
    place: Id | None = says(said("the id of a place in places.csv"))
    families: Annotated[list[Line], BeforeValidator(words)] | None = says(
        said("families of die sets in items.csv, separated by semicolons"), max_length=40
    )
    life: Whole | None = whole_from(1, 999_999_999, said("strokes"))
    unit: Line | None = text(20)
    pack: Whole | None = whole_from(1, 100_000)
    lead_days: Whole | None = whole_from(0, 1000, said("days"))
    service: Whole | None = whole_from(50, 99, said("percent"))
    least: Whole | None = whole_from(0, 100_000)
    supplier: Line | None = text(60)
    supplier_id: Line | None = text(60)
    names: Annotated[list[Line], BeforeValidator(words)] | None = says(
        said("other names it goes by, separated by semicolons"), max_length=10
    )


def spares_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The spares, one a row."""
    table = rows_of(file, text, columns_of(SpareRow), SpareRow.required, problems)
    rows = []
    for row in table.rows:
        content = checked(SpareRow, row, problems)
        problems += missing_from(SpareRow, row, content, table.missing)
        rows.append((row, Definition(Defined.SPARE, str(content.get("id", "")), content)))
    return Sheet(tuple(rows), whole="id" not in table.missing)


def spares_astray(spares: Sheet, items: Sheet, places: Sheet) -> Iterator[Problem]:
    """A problem for each spare that has an item's id, one name with another, or names a family the plant has not.

    Two names for one part are found by the id its supplier has for it.
    """
    ids = {definition.key for _, definition in items.rows}
    families = sorted({str(row.content["family"]) for _, row in items.rows if "family" in row.content})
    known_places = [definition.key for _, definition in places.rows]
    called: dict[str, str] = {}
    supplied: dict[tuple[str, str], str] = {}
    for row, definition in spares.rows:
        content = definition.content
        if definition.key in ids:
            taken = said("{id}, the id of an item", id=Quoted(definition.key))
            yield row.problem("id", taken, said("an id that no item has"))
        for name in (definition.key, *content.get("names", ())):
            other = called.setdefault(name.casefold(), definition.key)
            if other != definition.key:
                yield row.problem("names", _of_another(name, other), said("a name that tells two spares apart"))
        yield from _supplied_twice(row, definition, supplied)
        for family in content.get("families", ()):
            if items.whole and family not in families:
                allowed = said("a family of die sets in items.csv{near}", near=near(family, families))
                yield row.problem("families", quoted(family), allowed)
        place = content.get("place")
        if places.whole and place is not None and place not in known_places:
            allowed = said("the id of a place in places.csv{near}", near=near(place, known_places))
            yield row.problem("place", quoted(place), allowed)


def _supplied_twice(row: Given, definition: Definition, supplied: dict[tuple[str, str], str]) -> Iterator[Problem]:
    theirs = definition.content.get("supplier_id")
    if theirs is None:
        return
    key = str(definition.content.get("supplier", "")).casefold(), theirs.casefold()
    other = supplied.setdefault(key, definition.key)
    if other != definition.key:
        yield row.problem(
            "supplier_id",
            _of_another(theirs, other),
            said(
                "one row for one part; where {id} and {other} are one, write {id} into the names of {other}",
                id=definition.key,
                other=other,
            ),
        )


def _of_another(name: str, other: str) -> Said:
    return said("{name}, which is {other} already", name=quoted(name), other=other)


def parts_astray(tasks: Sheet, spares: Sheet) -> Iterator[Problem]:
    """A problem for each part of a task that is no spare."""
    known = [definition.key for _, definition in spares.rows]
    for row, definition in tasks.rows:
        for part in definition.content.get("parts", {}):
            if spares.whole and part not in known:
                allowed = said("ids of spares in spares.csv{near}", near=near(part, known))
                yield row.problem("parts", quoted(part), allowed)
