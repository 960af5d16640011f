"""What the definition files say about each other: ids given once, and names that lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upkeep.plant.crimps import smallest_force
from upkeep.plant.definition import Given, Problem, near, quoted
from upkeep.plant.model import Role
from upkeep.plant.rows import Sheet


def twice_given(sheet: Sheet) -> Iterator[Problem]:
    """A problem for each id that an earlier row has; ids that differ only in upper and lower case are the same."""
    first: dict[tuple[str, str], tuple[str, int | None]] = {}
    for given, definition in sheet.rows:
        folded = definition.what, definition.key.casefold()
        if definition.key and folded in first:
            key, line = first[folded]
            like = "" if key == definition.key else f", only written otherwise than {key!r}"
            found = f"{definition.key!r} again (first on line {line}{like})"
            yield given.problem("id", found, "each id once in a file")
        elif definition.key:
            first[folded] = definition.key, given.line


def unknown_places(items: Sheet, places: Sheet) -> Iterator[Problem]:
    """A problem for each item whose place is not among the places."""
    known = _keys(places)
    for given, definition in items.rows:
        place = definition.content.get("place")
        if places.whole and place is not None and place not in known:
            yield given.problem("place", quoted(place), f"the id of a place in places.csv{near(place, known)}")


def tasks_astray(tasks: Sheet, items: Sheet, plant: Sheet) -> Iterator[Problem]:
    """A problem for each task that names items, families, gauges or shifts the plant has not."""
    kinds = {definition.key: definition.content.get("kind") for _, definition in items.rows}
    families = set(_values(items, "family"))
    classes = _values(items, "gauge_class")
    shifts = any(definition.content.get("shifts") for _, definition in plant.rows)
    for given, definition in tasks.rows:
        if items.whole:
            yield from _strokes_for_problems(given, definition.content, kinds, families)
            yield from _gauge_problems(given, definition.content, classes)
            yield from _point_gauge_problems(given, definition.content, classes)
        if plant.whole and definition.content.get("each_shift") and not shifts:
            yield given.problem("each_shift", "true in a plant without shifts", "a [[shift]] in plant.toml first")


def _strokes_for_problems(
    given: Given, content: dict[str, Any], kinds: dict[str, Any], families: set[str]
) -> Iterator[Problem]:
    applies_to = content.get("applies_to")
    for key in content.get("strokes_for", {}):
        kind = kinds.get(key)
        if kind is None and key not in families:
            allowed = f"the id of a {applies_to or 'known item'} or a family in items.csv"
            close = near(key, [*kinds, *families])
            yield given.problem("strokes_for", quoted(key), f"{allowed}{close}")
        elif kind is not None and applies_to is not None and kind != applies_to:
            yield given.problem("strokes_for", f"{quoted(key)}, a {kind}", f"the id of a {applies_to} or a family")


def _gauge_problems(given: Given, content: dict[str, Any], classes: list[str]) -> Iterator[Problem]:
    wanted = content.get("gauge_class")
    if wanted is not None and wanted not in classes:
        allowed = f"the gauge_class of a gauge in items.csv{near(wanted, classes)}"
        yield given.problem("gauge_class", quoted(wanted), allowed)


def _point_gauge_problems(given: Given, content: dict[str, Any], classes: list[str]) -> Iterator[Problem]:
    for point in content.get("points", []):
        wanted = point.get("gauge_class")
        if wanted is not None and wanted not in classes:
            allowed = f"the gauge_class of a gauge in items.csv{near(wanted, classes)}"
            yield given.problem("point", f"gauge_class {quoted(wanted)} of point {quoted(point.get('id'))}", allowed)


def crimps_astray(crimps: Sheet, items: Sheet, people: Sheet) -> Iterator[Problem]:
    """A problem for each crimp or table that names families, gauges, tables, sizes or people the plant has not."""
    tables = {one.key: one.content for _, one in crimps.rows if one.what == "pull-table"}
    for given, definition in crimps.rows:
        if definition.what == "pull-table":
            yield from _checker_problems(given, definition.content, people)
            continue
        if items.whole:
            yield from _family_problems(given, definition.content, items)
            yield from _point_gauge_problems(given, definition.content, _values(items, "gauge_class"))
        yield from _table_problems(given, definition.content, tables)


def _family_problems(given: Given, content: dict[str, Any], items: Sheet) -> Iterator[Problem]:
    family, known = content.get("family"), _values(items, "family")
    if family is not None and family not in known:
        yield given.problem("family", quoted(family), f"a family of die sets in items.csv{near(family, known)}")


def _table_problems(given: Given, content: dict[str, Any], tables: dict[str, dict[str, Any]]) -> Iterator[Problem]:
    wanted, size = content.get("pull_table"), content.get("size", "")
    if wanted is not None and wanted not in tables:
        yield given.problem("pull_table", quoted(wanted), f"the id of a [[pull-table]]{near(wanted, list(tables))}")
    elif wanted is not None and size and smallest_force(tables[wanted].get("forces", {}), size) is None:
        sizes = ", ".join(tables[wanted].get("forces", {}))
        yield given.problem("size", f"{quoted(size)}, which pull table {wanted!r} has not", f"one of {sizes}")


def _checker_problems(given: Given, content: dict[str, Any], people: Sheet) -> Iterator[Problem]:
    roles = {definition.key: definition.content.get("roles", []) for _, definition in people.rows}
    checker = content.get("checked_by")
    if checker is None or not people.whole:
        return
    if checker not in roles:
        allowed = f"the id of a {Role.QUALITY} in people.csv{near(checker, list(roles))}"
        yield given.problem("checked_by", quoted(checker), allowed)
    elif Role.QUALITY not in roles[checker]:
        yield given.problem("checked_by", f"{quoted(checker)}, who is no {Role.QUALITY}", f"a {Role.QUALITY}")


def _keys(sheet: Sheet) -> list[str]:
    return [definition.key for _, definition in sheet.rows if definition.key]


def _values(sheet: Sheet, field: str) -> list[str]:
    return sorted({definition.content[field] for _, definition in sheet.rows if field in definition.content})
