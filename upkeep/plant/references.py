"""What the definition files say about each other: ids given once, and names that lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upkeep.plant.definition import Given, Problem, near, quoted
from upkeep.plant.rows import Sheet


def twice_given(sheet: Sheet) -> Iterator[Problem]:
    """A problem for each id that an earlier row has; ids that differ only in upper and lower case are the same."""
    first: dict[str, tuple[str, int | None]] = {}
    for given, definition in sheet.rows:
        folded = definition.key.casefold()
        if folded and folded in first:
            key, line = first[folded]
            like = "" if key == definition.key else f", only written otherwise than {key!r}"
            found = f"{definition.key!r} again (first on line {line}{like})"
            yield given.problem("id", found, "each id once in a file")
        elif folded:
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


def _keys(sheet: Sheet) -> list[str]:
    return [definition.key for _, definition in sheet.rows if definition.key]


def _values(sheet: Sheet, field: str) -> list[str]:
    return sorted({definition.content[field] for _, definition in sheet.rows if field in definition.content})
