"""What lies on the shelf: spares.csv, one kind of spare a row.

Parts that wear are items with ids of their own, also on the shelf: whoever receives them names them.  Everything else
is counted.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from pydantic import BeforeValidator

from upkeep.plant.definition import Defined, Definition, Given, Problem, near, quoted
from upkeep.plant.fields import ID_SAYS, Id, Line, Whole, one_of, says, text, whole_from, word, words
from upkeep.plant.rows import Sheet
from upkeep.plant.schema import Row, checked, columns_of, missing_from
from upkeep.plant.tables import rows_of
from upkeep.plant.values.spare import SHELF_KINDS
from upkeep.said import Quoted, Said, said


def _kind(value: object) -> object:
    said_kind = word(value)
    if said_kind not in SHELF_KINDS:
        raise ValueError("nothing that lies on the shelf")
    return said_kind


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
