"""Presses, modules, die sets and people as definitions; what a sheet does not say stays as the book has it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.definition import Defined, Definition, Given, Problem
from upkeep.plant.rows import Sheet as Rows
from upkeep.plant.rows import items_from, people_from, places_from
from upkeep.plant.tables import Table
from upkeep.said import Said, said
from upkeep.sources.first_load.answered import Answers
from upkeep.sources.first_load.columns import Read, SheetRow
from upkeep.sources.first_load.found import Question, Spot, Wrong
from upkeep.sources.first_load.wanted import KIND_OF, Sheet, plain

Content = dict[str, Any]
Kept = Mapping[tuple[str, str], Content]
"""What a book says already, by what it is and its id."""

_NOT_OF_ITEMS = ("area", "route", "count", "counted", "strokes")
"""Columns of the sheets of items that say something else than what the item is."""


@frozen
class Things:
    """Places, people and items, each with where it stands; and what was wrong with them."""

    places: Rows
    people: Rows
    items: Rows
    wrong: tuple[Wrong, ...]
    questions: tuple[Question, ...]


def things_of(reads: Iterable[Read], kept: Kept, answers: Answers) -> Things:
    """The places, people and items of the sheets."""
    reads = tuple(reads)
    making = _Making(kept, answers)
    items = [making.item(read, row) for read in reads if read.sheet in KIND_OF for row in read.rows]
    people = [making.person(read, row) for read in reads if read.sheet is Sheet.PEOPLE for row in read.rows]
    problems: list[Problem] = []
    things = Things(
        places_from(Table(tuple(making.places.values())), problems),
        people_from(Table(tuple(people)), problems),
        items_from(Table(tuple(items)), problems),
        (),
        tuple(making.questions()),
    )
    wrong = tuple(wrong_from(problem, reads) for problem in problems)
    return Things(things.places, things.people, things.items, wrong, things.questions)


def wrong_from(problem: Problem, reads: Iterable[Read]) -> Wrong:
    """A problem with a definition, at the cell it comes from."""
    read = next((each for each in reads if each.name == problem.file), None)
    spot = Spot(problem.file, problem.line, problem.field) if read is None else read.spot(problem.line, problem.field)
    return Wrong(spot, problem.found, problem.allowed)


def slug(text: str) -> str:
    """An id made of a name: ``ana-lindqvar``."""
    bare = unicodedata.normalize("NFKD", text)
    letters = "".join(char for char in bare if not unicodedata.combining(char)).replace("ß", "ss")
    return re.sub(r"[^A-Za-z0-9._]+", "-", letters).strip("-._")[:32]


class _Making:
    def __init__(self, kept: Kept, answers: Answers) -> None:
        self._kept, self._answers = kept, answers
        self.places: dict[str, Given] = {}
        self._areas_lacking: list[tuple[Read, SheetRow]] = []
        self._racks = {
            plain(name): key
            for (what, key), content in kept.items()
            if what == Defined.PLACE
            for name in (key, content["title"])
        }

    def item(self, read: Read, row: SheetRow) -> Given:
        """The item of a row; its place is made where the plant has none of that name."""
        kind, key = KIND_OF[read.sheet], self._meant(row.values.get("id"))
        old = self._kept.get((Defined.ITEM, key), {})
        values: Content = {"title": key, **old, "id": key, "kind": kind.value}
        values |= {name: value for name, value in row.values.items() if name not in (*_NOT_OF_ITEMS, "id", "place")}
        if read.sheet is Sheet.PRESSES:
            values["place"] = old.get("place") or key
            self._press_place(read, row, str(values["place"]), str(values["title"]))
        elif "place" in row.values:
            values["place"] = self._rack(read, row)
        return Given(read.name, row.number, {name: value for name, value in values.items() if value != ""}, {})

    def person(self, read: Read, row: SheetRow) -> Given:
        """Somebody; an id is made of the name where the sheet has none."""
        key = str(row.values.get("id", "")) or slug(str(row.values.get("name", "")).casefold())
        old = self._kept.get((Defined.PERSON, key), {})
        return Given(read.name, row.number, {**old, **row.values, "id": key}, {})

    def _meant(self, key: object) -> str:
        return self._answers.same.get(str(key or ""), str(key or ""))

    def _press_place(self, read: Read, row: SheetRow, key: str, title: str) -> None:
        old = self._kept.get((Defined.PLACE, key), {})
        said_here = {name: row.values[name] for name in ("area", "route") if name in row.values}
        self._add_place(read, row, key, {"title": title, **old, **said_here, "id": key})

    def _rack(self, read: Read, row: SheetRow) -> str:
        """The id of the place a cell names, which is made where there is none."""
        name = str(row.values["place"])
        known = self._racks.get(plain(name))
        if known is not None:
            return known
        key = slug(name) or "rack"
        area = self._answers.all_rows.get("racks", {}).get("area")
        if area is None:
            self._areas_lacking.append((read, row))
        if key not in self.places:
            self._add_place(read, row, key, {"id": key, "title": name, "area": area or "-"})
        self._racks[plain(name)] = key
        return key

    def _add_place(self, read: Read, row: SheetRow, key: str, values: Content) -> None:
        if key:
            self.places.setdefault(key, Given(read.name, row.number, values, {}))

    def questions(self) -> Iterator[Question]:
        """The area of places that the sheets name and the plant does not know."""
        if self._areas_lacking:
            read, row = self._areas_lacking[0]
            asked: Said = said(
                "{spot}: in which area do racks and shelves like {place} stand?",
                spot=read.spot(row.number, "place").said,
                place=str(row.values["place"]),
            )
            yield Question(("all_rows", "racks", "area"), asked)


def kept_in(rows: Iterable[tuple[str, str, Content]]) -> dict[tuple[str, str], Content]:
    """What a book says already, from its definitions."""
    return {(what, key): content for what, key, content in rows}


def definitions_of(*sheets: Rows) -> tuple[Definition, ...]:
    """The definitions of some sheets, in order."""
    return tuple(definition for sheet in sheets for _, definition in sheet.rows)
