"""A look at a plant's sheets: everything that would be loaded, everything that is wrong, all that has to be asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from upkeep.frozen import frozen
from upkeep.plant.definition import Defined, Definition, Given, Problem
from upkeep.plant.references import keepers_astray, one_each, people_astray, tasks_astray, twice_given
from upkeep.plant.rows import Sheet as Rows
from upkeep.plant.values.hours import hours_astray
from upkeep.said import Quoted, Said, said
from upkeep.sources.first_load.answered import NOT_LOADED, Answers
from upkeep.sources.first_load.columns import Read, read_sheet
from upkeep.sources.first_load.facts import Facts, Plant, facts_of
from upkeep.sources.first_load.found import Question, ReadAs, Spot, Wrong
from upkeep.sources.first_load.grids import Grid, grids_of
from upkeep.sources.first_load.ids import Known, twins_asked
from upkeep.sources.first_load.plant_told import plant_asked, plant_told
from upkeep.sources.first_load.tasks_read import tasks_read
from upkeep.sources.first_load.things import Kept, Things, definitions_of, things_of, wrong_from
from upkeep.sources.first_load.wanted import KIND_OF, SHEET_NAMES, Sheet, sheet_named

_THE_BOOK = "the book"
"""Where a definition comes from that no sheet says."""


@frozen
class Look:
    """What a look found.  ``reads`` are the sheets in loading order; ``notes`` what there is to know before loading."""

    reads: tuple[Read, ...]
    definitions: tuple[Definition, ...]
    facts: Facts
    notes: tuple[Said, ...]
    read_as: tuple[ReadAs, ...]
    wrong: tuple[Wrong, ...]
    questions: tuple[Question, ...]

    @property
    def can_be_loaded(self) -> bool:
        """Whether nothing is wrong and nothing is asked."""
        return not self.wrong and not self.questions


@frozen
class Ground:
    """What is there already: the definitions of the book (None: there is no book), when its items came, and today."""

    kept: Kept | None
    began: Mapping[str, date]
    today: date


def look(sheets: Path, answers: Answers, ground: Ground) -> Look:
    """What is in a folder or a workbook; raises :class:`Unreadable` where it cannot be read at all."""
    grids = grids_of(sheets)
    reads, notes = _reads(grids, answers)
    folder = sheets if sheets.is_dir() else sheets.parent
    return _Looking(folder, answers, ground, reads, notes).look()


def _reads(grids: Iterable[Grid], answers: Answers) -> tuple[list[Read], list[Said]]:
    reads, notes = [], []
    for grid in grids:
        told = answers.sheets.get(grid.name)
        sheet = next((each for each in Sheet if each.value == told), None) if told else sheet_named(grid.name)
        if told == NOT_LOADED:
            continue
        if sheet is None and not grid.rows:
            notes += [said("Sheet {sheet}: {why}", sheet=Quoted(grid.name), why=why) for why in grid.skipped]
        elif sheet is None:
            notes.append(
                said(
                    "Sheet {sheet} is not loaded: its name is none that is known. What it is can be said under "
                    "[sheets].",
                    sheet=Quoted(grid.name),
                )
            )
        else:
            reads.append(read_sheet(grid, sheet, answers))
    order = list(Sheet)
    return sorted(reads, key=lambda read: order.index(read.sheet)), notes


class _Looking:
    def __init__(self, folder: Path, answers: Answers, ground: Ground, reads: list[Read], notes: list[Said]) -> None:
        self._folder, self._answers, self._ground = folder, answers, ground
        self._reads, self._notes = reads, notes
        self._kept: Kept = ground.kept or {}
        self._problems: list[Problem] = []

    def look(self) -> Look:
        """The whole of it.  What columns are is asked first: before that, nothing can be said of the rows."""
        asked = [question for read in self._reads for question in read.questions]
        wrong = [wrong for read in self._reads for wrong in read.wrong]
        read_as = [each for read in self._reads for each in read.read_as]
        if not any(read.rows for read in self._reads) or any(question.path[0] == "columns" for question in asked):
            if not asked:
                wrong += [self._nothing()]
            return self._found((), Facts(), read_as, wrong, asked)
        things = things_of(self._reads, self._kept, self._answers)
        classes = self._classes()
        tasks, notes = tasks_read(self._reads, self._kept, classes, self._problems)
        self._notes += notes
        plant = plant_told(self._folder, self._ground.kept, self._answers, self._problems)
        asked += [*things.questions, *self._twins(), *(plant_asked(things.people) if plant is None else ())]
        plant = plant or Rows((), whole=False)
        facts = facts_of(self._reads, self._plant(things, tasks))
        self._problems += self._between(plant, things, tasks)
        wrong += [*things.wrong, *self._used_ids(things.items), *facts.wrong]
        wrong += [wrong_from(problem, self._reads) for problem in one_each(self._problems)]
        definitions = definitions_of(plant, things.places, things.people, things.items, tasks)
        return self._found(definitions, facts, [*read_as, *facts.read_as], wrong, [*asked, *facts.questions])

    def _found(
        self, definitions: tuple[Definition, ...], facts: Facts, read_as: list[ReadAs], wrong: list[Wrong],
        asked: list[Question],
    ) -> Look:  # fmt: skip
        once: dict[tuple[tuple[str, ...], str | None], Question] = {}
        for question in asked:
            before = once.get((question.path, question.value))
            rows = question.rows if before is None else (*before.rows, *question.rows)
            once[question.path, question.value] = replace(before or question, rows=rows)
        first: dict[Spot, Wrong] = {}
        for one in wrong:  # a cell that cannot be read is also one that says nothing: the first is the reason
            first.setdefault(one.spot, one)
        notes = (*self._notes, *(() if asked else facts.notes))
        return Look(
            tuple(self._reads), definitions, facts, notes, tuple(read_as), tuple(first.values()),
            tuple(once.values()),
        )  # fmt: skip

    def _nothing(self) -> Wrong:
        names = ", ".join(SHEET_NAMES)
        return Wrong(Spot(self._folder.name), said("no sheet with rows"), said("at least one of: {names}", names=names))

    def _classes(self) -> set[str]:
        return {
            content["gauge_class"]
            for (what, _), content in self._kept.items()
            if what == Defined.ITEM and "gauge_class" in content
        }

    def _twins(self) -> Iterator[Question]:
        """Ids that may mean one thing; those a sheet of items gives."""
        spots: dict[str, Spot] = {}
        for read in self._reads:
            for row in read.rows if read.sheet in KIND_OF else ():
                spots.setdefault(str(row.values.get("id", "")), read.spot(row.number, "id"))
        spots.pop("", None)
        yield from twins_asked(spots, (key for what, key in self._kept if what == Defined.ITEM), self._answers)

    def _plant(self, things: Things, tasks: Rows) -> Plant:
        items = self._with_kept(things.items, Defined.ITEM)
        every = self._with_kept(tasks, Defined.TASK)
        return Plant(
            items={row.key: row.content for _, row in items.rows},
            tasks={row.key: row.content for _, row in every.rows},
            known_items=Known({row.key: str(row.content.get("title", "")) for _, row in items.rows}, self._answers),
            known_tasks=Known({row.key: str(row.content.get("title", "")) for _, row in every.rows}, self._answers),
            today=self._ground.today,
            began=self._ground.began,
        )

    def _with_kept(self, rows: Rows, what: Defined) -> Rows:
        """Rows of the sheets and what the book has beside them."""
        ours = {row.key for _, row in rows.rows}
        others = [
            (Given(_THE_BOOK, None, content, {}), Definition(what, key, content))
            for (kind, key), content in self._kept.items()
            if kind == what and key not in ours
        ]
        return Rows((*rows.rows, *others), rows.whole)

    def _between(self, plant: Rows, things: Things, tasks: Rows) -> Iterator[Problem]:
        plant = plant if plant.rows or not plant.whole else self._with_kept(plant, Defined.PLANT)
        places, people, items, every = (
            self._with_kept(rows, what)
            for rows, what in (
                (things.places, Defined.PLACE),
                (things.people, Defined.PERSON),
                (things.items, Defined.ITEM),
                (tasks, Defined.TASK),
            )
        )
        for rows in (people, items, every):
            yield from twice_given(rows)
        yield from people_astray(people)
        yield from tasks_astray(every, items, plant)
        yield from keepers_astray(plant, people)
        yield from hours_astray(people, plant, places)

    def _used_ids(self, items: Rows) -> Iterator[Wrong]:
        """Ids that stand for something else in the book, or for something that has left for good."""
        for given, row in items.rows:
            old = self._kept.get((Defined.ITEM, row.key))
            read = next(read for read in self._reads if read.name == given.file)
            if old is None:
                continue
            other = old["kind"] != row.content.get("kind", old["kind"])
            if other or ("scrapped" in old and old["title"] != row.content.get("title")):
                found = said("{id}, which was {title}, a {kind}", id=row.key, title=old["title"], kind=old["kind"])
                meant = said("an id that never stood for anything else, also not for what was scrapped")
                yield Wrong(read.spot(given.line, "id"), found, meant)
