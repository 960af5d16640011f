"""The plant, its places, people and items: what plant.toml and the three CSV files hold, each row checked by itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.plant.days_off import look_up_holidays, shutdowns_of
from upkeep.plant.definition import Defined, Definition, Given, Problem, quoted, unknown_key
from upkeep.plant.fields import what_it_says
from upkeep.plant.model import Kind
from upkeep.plant.schema import (
    ItemRow,
    PersonRow,
    PlaceRow,
    PlanningRow,
    PlantRow,
    RightsRow,
    Row,
    ShiftRow,
    checked,
    columns_of,
    missing_from,
)
from upkeep.plant.tables import Table, rows_of
from upkeep.plant.toml_tables import Toml, toml_of
from upkeep.said import Numeral, Quoted, listed, said, said_as
from upkeep.units.instants import Zone

ONLY_FOR = {"digits": Kind.PRESS, "max_rate": Kind.PRESS, "gauge_class": Kind.GAUGE}
"""Fields of an item that one kind must have and no other may have."""

MAY_HAVE = {"digits": Kind.MODULE}
"""Another kind that may have such a field: a module with a counter of its own."""


_TABLES = {
    "plant": "[plant]",
    "shift": "[[shift]]",
    "shutdown": "[[shutdown]]",
    "rights": "[rights]",
    "planning": "[planning]",
}
"""What plant.toml may hold, as it is written there."""


@frozen
class Sheet:
    """The definitions of one file, each with where it stands; ``whole`` is False where its ids could not be read."""

    rows: tuple[tuple[Given, Definition], ...]
    whole: bool = True


def plant_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The plant's own facts, its shifts and its days off."""
    toml = toml_of(file, text, problems)
    if toml is None:
        return Sheet((), whole=False)
    problems += _top_level_problems(toml)
    given = toml.table("plant")
    content = checked(PlantRow, given, problems)
    problems += missing_from(PlantRow, given, content)
    problems += _zone_problems(given, content)
    look_up_holidays(given, content, problems)
    shutdowns = shutdowns_of(toml, problems)
    if shutdowns:
        content["shutdowns"] = shutdowns
    shifts = [(row, checked(ShiftRow, row, problems)) for row in toml.tables("shift", problems=problems)]
    for row, shift in shifts:
        problems += missing_from(ShiftRow, row, shift)
    problems += _shift_name_problems(shifts)
    if shifts:
        content["shifts"] = [shift for _, shift in shifts]
    rights = checked(RightsRow, toml.table("rights"), problems)
    if rights:
        content["rights"] = rights
    planning = checked(PlanningRow, toml.table("planning"), problems)
    if planning:
        content["planning"] = planning
    return Sheet(((given, Definition(Defined.PLANT, "plant", content)),))


def _top_level_problems(toml: Toml) -> Iterator[Problem]:
    top = toml.table()
    for name in top.values:
        if name not in _TABLES:
            unknown = unknown_key(name, list(_TABLES))
            yield Problem(toml.file, top.line_of(name), None, unknown, listed(_TABLES.values()))
    if not isinstance(top.values.get("plant", {}), dict):
        yield top.problem("plant", quoted(top.values["plant"]), said("a table [plant]"))


def _zone_problems(given: Given, content: dict[str, Any]) -> Iterator[Problem]:
    try:
        Zone(content.get("zone", "UTC"))
    except Unreadable:
        yield given.problem("zone", quoted(content["zone"]), what_it_says(PlantRow, "zone"))


def _shift_name_problems(shifts: list[tuple[Given, dict[str, Any]]]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for row, shift in shifts:
        name = shift.get("name")
        if name in first:
            yield row.problem(
                "name",
                said("{name} again (first on line {line})", name=Quoted(name), line=Numeral(first[name])),
                said("a different name for each shift"),
            )
        elif name is not None:
            first[name] = row.line or 0


def places_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The places, one a row."""
    return places_from(rows_of(file, text, columns_of(PlaceRow), PlaceRow.required, problems), problems)


def people_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The people, one a row."""
    return people_from(rows_of(file, text, columns_of(PersonRow), PersonRow.required, problems), problems)


def items_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The items, one a row."""
    return items_from(rows_of(file, text, columns_of(ItemRow), ItemRow.required, problems), problems)


def places_from(table: Table, problems: list[Problem]) -> Sheet:
    """The places of rows that were read."""
    return _sheet(Defined.PLACE, PlaceRow, table, problems)


def people_from(table: Table, problems: list[Problem]) -> Sheet:
    """The people of rows that were read."""
    return _sheet(Defined.PERSON, PersonRow, table, problems, _person_problems)


def items_from(table: Table, problems: list[Problem]) -> Sheet:
    """The items of rows that were read."""
    return _sheet(Defined.ITEM, ItemRow, table, problems, _item_problems)


def _no_problems(given: Given, content: dict[str, Any]) -> Iterator[Problem]:
    yield from ()


def _sheet(
    what: str,
    row: type[Row],
    table: Table,
    problems: list[Problem],
    check: Callable[[Given, dict[str, Any]], Iterator[Problem]] = _no_problems,
) -> Sheet:
    rows = []
    for given in table.rows:
        content = checked(row, given, problems)
        problems += missing_from(row, given, content, table.missing)
        problems += check(given, content)
        rows.append((given, Definition(what, str(content.get("id", "")), content)))
    return Sheet(tuple(rows), whole="id" not in table.missing)


def _person_problems(given: Given, content: dict[str, Any]) -> Iterator[Problem]:
    yield from _order_problems(given, content, "since", "until")


def _item_problems(given: Given, content: dict[str, Any]) -> Iterator[Problem]:
    yield from _order_problems(given, content, "since", "scrapped")
    kind = content.get("kind")
    for field, only in ONLY_FOR.items():
        if kind == only and field not in given.values:
            yield given.problem(
                field,
                said_as("cell", "nothing"),
                said("{phrase} (a {kind} has one)", phrase=what_it_says(ItemRow, field), kind=only),
            )
        elif kind is not None and kind not in (only, MAY_HAVE.get(field)) and field in given.values:
            misplaced = said("{value} on a {kind}", value=quoted(given.values[field]), kind=kind)
            yield given.problem(field, misplaced, said("an empty cell; only a {kind} has one", kind=only))


def _order_problems(given: Given, content: dict[str, Any], first: str, last: str) -> Iterator[Problem]:
    if content.get(first, "") > content.get(last, "9"):
        yield given.problem(
            last,
            said(
                "{day}, which is before {first}, {first_day}", day=content[last], first=first, first_day=content[first]
            ),
            said("a day from {first} on", first=first),
        )
