"""What the definition files say about each other: ids given once, and names that lead somewhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from upkeep.plant.covering import stands_for_itself
from upkeep.plant.crimps import smallest_force
from upkeep.plant.definition import Defined, Definition, Given, Problem, near, quoted
from upkeep.plant.model import Role
from upkeep.plant.rows import Sheet
from upkeep.said import Numeral, Quoted, Said, listed, said, said_many


def one_each(problems: Iterable[Problem]) -> Iterator[Problem]:
    """The problems, but of those about one unknown word the first alone, which tells how often it comes again."""
    problems = list(problems)
    times = Counter(problem.about for problem in problems)
    told = set()
    for problem in problems:
        more = times[problem.about] - 1
        if problem.about is None or not more:
            yield problem
        elif problem.about not in told:
            told.add(problem.about)
            again = said_many(
                "{found}, here and {n} time more", "{found}, here and {n} times more", n=more, found=problem.found
            )
            yield replace(problem, found=again)


def twice_given(sheet: Sheet) -> Iterator[Problem]:
    """A problem for each id that an earlier row has; ids that differ only in upper and lower case are the same."""
    first: dict[tuple[str, str], tuple[str, int | None]] = {}
    for given, definition in sheet.rows:
        folded = definition.what, definition.key.casefold()
        if definition.key and folded in first:
            key, line = first[folded]
            again = _again(definition.key, key, line or 0)
            yield given.problem("id", again, said("each id once in a file"))
        elif definition.key:
            first[folded] = definition.key, given.line


def _again(key: str, first: str, line: int) -> Said:
    if key == first:
        return said("{id} again (first on line {line})", id=Quoted(key), line=Numeral(line))
    return said(
        "{id} again (first on line {line}, spelled {first})",
        id=Quoted(key),
        line=Numeral(line),
        first=Quoted(first),
    )


def people_astray(people: Sheet) -> Iterator[Problem]:
    """A problem for each person who is said to be somebody unknown, or has the name of another one who may sign."""
    known = _keys(people)
    first: dict[str, str] = {}
    for given, definition in people.rows:
        content, same_as = definition.content, definition.content.get("same_as")
        if same_as is not None and (same_as not in known or same_as == definition.key):
            yield given.problem(
                "same_as", quoted(same_as), said("the id of another row{near}", near=near(same_as, known))
            )
        name = " ".join(str(content.get("name", "")).casefold().split())
        if not name or content.get("until") or same_as is not None:
            continue
        other = first.setdefault(name, definition.key)
        if other != definition.key:
            yield given.problem(
                "name",
                said("{name}, as {other} is called", name=quoted(content["name"]), other=other),
                said(
                    "a name that tells two people apart; where they are one, same_as = {other} (nobody gives the "
                    "second signature on work of their own)",
                    other=other,
                ),
            )


def unknown_places(items: Sheet, places: Sheet) -> Iterator[Problem]:
    """A problem for each item whose place is not among the places."""
    known = _keys(places)
    for given, definition in items.rows:
        place = definition.content.get("place")
        if places.whole and place is not None and place not in known:
            problem = given.problem(
                "place", quoted(place), said("the id of a place in places.csv{near}", near=near(place, known))
            )
            yield replace(problem, about=("place", place))


def keepers_astray(plant: Sheet, people: Sheet) -> Iterator[Problem]:
    """A problem for each keeper of the book who is not among the people, or whose account is closed."""
    open_accounts = [row.key for _, row in people.rows if not row.content.get("until")]
    readable = people.whole and all(open_accounts)
    for given, definition in plant.rows:
        for keeper in definition.content.get("keepers", []):
            if readable and keeper not in open_accounts:
                near_it = near(keeper, open_accounts)
                yield given.problem(
                    "keepers", quoted(keeper), said("the id of somebody in people.csv who may sign{near}", near=near_it)
                )
        if len(set(definition.content.get("keepers", ["", " "]))) < 2:
            yield given.problem("keepers", said("one person"), said("two people or more"))


def tasks_astray(tasks: Sheet, items: Sheet, plant: Sheet) -> Iterator[Problem]:
    """A problem for each task that names items, families, gauges or shifts the plant has not."""
    kinds = {definition.key: definition.content.get("kind") for _, definition in items.rows}
    families = set(_values(items, "family"))
    classes = _values(items, "gauge_class")
    shifts = any(definition.content.get("shifts") for _, definition in plant.rows)
    contents = {definition.key: definition.content for _, definition in tasks.rows}
    for given, definition in tasks.rows:
        if tasks.whole:
            yield from _covers_problems(given, definition, contents)
        if items.whole:
            yield from _strokes_for_problems(given, definition.content, kinds, families)
            yield from _gauge_problems(given, definition.content, classes)
            yield from _point_gauge_problems(given, definition.content, classes)
        if plant.whole and definition.content.get("each_shift") and not shifts:
            yield given.problem(
                "each_shift", said("true in a plant without shifts"), said("a [[shift]] in plant.toml first")
            )


def _covers_problems(given: Given, bigger: Definition, tasks: dict[str, dict[str, Any]]) -> Iterator[Problem]:
    kind = bigger.content.get("applies_to")
    for key in bigger.content.get("covers", []):
        content = tasks.get(key, {})
        why = stands_for_itself(
            statutory=content.get("statutory", False),
            measured=bool(content.get("points")),
            second_signature=content.get("second_signature"),
            by=content.get("by", []),
        )
        if key not in tasks:
            yield given.problem(
                "covers", quoted(key), said("the id of another task{near}", near=near(key, list(tasks)))
            )
        elif key == bigger.key:
            yield given.problem("covers", said("{id}, the task itself", id=quoted(key)), said("the id of another task"))
        elif kind is not None and content.get("applies_to", kind) != kind:
            other = said("{id}, done on a {kind}", id=quoted(key), kind=content["applies_to"])
            yield given.problem("covers", other, said("the id of a task on a {kind}", kind=kind))
        elif why is not None:
            found = said("{id}, which nothing covers: {why}", id=quoted(key), why=why)
            yield given.problem("covers", found, said("tasks that other work may cover"))


def _strokes_for_problems(
    given: Given, content: dict[str, Any], kinds: dict[str, Any], families: set[str]
) -> Iterator[Problem]:
    applies_to = content.get("applies_to")
    for key in content.get("strokes_for", {}):
        kind = kinds.get(key)
        if kind is None and key not in families:
            close = near(key, [*kinds, *families])
            wanted = applies_to or said("known item")
            allowed = said("the id of a {kind} or a family in items.csv{near}", kind=wanted, near=close)
            yield given.problem("strokes_for", quoted(key), allowed)
        elif kind is not None and applies_to is not None and kind != applies_to:
            yield given.problem(
                "strokes_for",
                said("{id}, a {kind}", id=quoted(key), kind=kind),
                said("the id of a {kind} or a family", kind=applies_to),
            )


def _gauge_problems(given: Given, content: dict[str, Any], classes: list[str]) -> Iterator[Problem]:
    wanted = content.get("gauge_class")
    if wanted is not None and wanted not in classes:
        problem = given.problem("gauge_class", quoted(wanted), _class_of_a_gauge(wanted, classes))
        yield replace(problem, about=("gauge_class", wanted))


def _point_gauge_problems(given: Given, content: dict[str, Any], classes: list[str]) -> Iterator[Problem]:
    for point in content.get("points", []):
        wanted = point.get("gauge_class")
        if wanted is not None and wanted not in classes:
            unknown = said("gauge_class {wanted} of point {id}", wanted=quoted(wanted), id=quoted(point.get("id")))
            allowed = said(
                "{class_}; or, in a task, off = true for the point", class_=_class_of_a_gauge(wanted, classes)
            )
            problem = given.problem("point", unknown, allowed)
            yield replace(problem, about=("gauge_class", wanted))


def _class_of_a_gauge(wanted: str, classes: list[str]) -> Said:
    return said("the gauge_class of a gauge in items.csv{near}", near=near(wanted, classes))


def crimps_astray(crimps: Sheet, items: Sheet, people: Sheet) -> Iterator[Problem]:
    """A problem for each crimp or table that names families, gauges, tables, sizes or people the plant has not."""
    tables = {row.key: row.content for _, row in crimps.rows if row.what == Defined.PULL_TABLE}
    for given, definition in crimps.rows:
        if definition.what == Defined.PULL_TABLE:
            yield from _checker_problems(given, definition.content, people)
            continue
        if items.whole:
            yield from _family_problems(given, definition.content, items)
            yield from _point_gauge_problems(given, definition.content, _values(items, "gauge_class"))
        yield from _table_problems(given, definition.content, tables)


def _family_problems(given: Given, content: dict[str, Any], items: Sheet) -> Iterator[Problem]:
    family, known = content.get("family"), _values(items, "family")
    if family is not None and family not in known:
        problem = given.problem(
            "family", quoted(family), said("a family of die sets in items.csv{near}", near=near(family, known))
        )
        yield replace(problem, about=("family", family))


def _table_problems(given: Given, content: dict[str, Any], tables: dict[str, dict[str, Any]]) -> Iterator[Problem]:
    wanted, size = content.get("pull_table"), content.get("size", "")
    if wanted is not None and wanted not in tables:
        yield given.problem(
            "pull_table", quoted(wanted), said("the id of a [[pull-table]]{near}", near=near(wanted, list(tables)))
        )
    elif wanted is not None and size and smallest_force(tables[wanted].get("forces", {}), size) is None:
        sizes = listed(tables[wanted].get("forces", {}))
        yield given.problem(
            "size",
            said("{size}, which is not in pull table {table}", size=quoted(size), table=Quoted(wanted)),
            said("one of {sizes}", sizes=sizes),
        )


def _checker_problems(given: Given, content: dict[str, Any], people: Sheet) -> Iterator[Problem]:
    roles = {definition.key: definition.content.get("roles", []) for _, definition in people.rows}
    checker = content.get("checked_by")
    if checker is None or not people.whole:
        return
    if checker not in roles:
        close = near(checker, list(roles))
        allowed = said("the id of a {role} in people.csv{near}", role=Role.QUALITY, near=close)
        yield given.problem("checked_by", quoted(checker), allowed)
    elif Role.QUALITY not in roles[checker]:
        yield given.problem(
            "checked_by",
            said("{id}, who is not a {role}", id=quoted(checker), role=Role.QUALITY),
            said("a {role}", role=Role.QUALITY),
        )


def _keys(sheet: Sheet) -> list[str]:
    return [definition.key for _, definition in sheet.rows if definition.key]


def _values(sheet: Sheet, field: str) -> list[str]:
    return sorted({definition.content[field] for _, definition in sheet.rows if field in definition.content})
