"""Which row of a sheet names its columns, what each column is, and the rows below as values by column."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

from upkeep.frozen import frozen
from upkeep.plant.definition import quoted
from upkeep.said import Numeral, Said, either, listed, said
from upkeep.sources.dates import ORDERS, readings_of
from upkeep.sources.first_load.answered import Answers
from upkeep.sources.first_load.cell_values import Misread, OrderUnsaid, Way, as_text, said_by
from upkeep.sources.first_load.found import Question, ReadAs, Spot, Wrong
from upkeep.sources.first_load.grids import Cell, Grid, Row, column_letters
from upkeep.sources.first_load.wanted import COLUMNS, FOR_ALL, Column, Sheet, column_of, columns_named

_HEAD_WITHIN = 30
"""A sheet names its columns in one of so many first rows."""

_SHOWN = 12
"""Ambiguous days told with the question in which order they are."""


@frozen
class SheetRow:
    """A row as it was read: its number, and its values by column."""

    number: int
    values: Mapping[str, object]


@frozen
class Read:
    """A sheet as it was read.  ``headings`` are what its columns are headed, as people find them."""

    sheet: Sheet
    name: str
    rows: tuple[SheetRow, ...] = ()
    headings: Mapping[str, str] = field(default_factory=dict)
    passed_over: tuple[Said, ...] = ()
    read_as: tuple[ReadAs, ...] = ()
    wrong: tuple[Wrong, ...] = ()
    questions: tuple[Question, ...] = ()

    def spot(self, row: int | None, column: str | None = None) -> Spot:
        """Where a row, or its cell in a column, stands."""
        return Spot(self.name, row, self.headings.get(column, column) if column else None)


def read_sheet(grid: Grid, sheet: Sheet, answers: Answers) -> Read:
    """A sheet with what its columns were said to be; questions where that is not clear."""
    head = _head(grid, sheet, answers)
    if head is None:
        return Read(sheet, grid.name, passed_over=(*grid.skipped, said("There are no rows in it.")))
    above = [row for row in grid.rows if row.number < head.number]
    below = [row for row in grid.rows if row.number > head.number]
    passed_over = [*grid.skipped, *(_title_said(row) for row in above)]
    places, unknown, questions = _columns(grid.name, sheet, head, answers)
    told_in = f'[columns."{grid.name}"]'
    passed_over += [
        said(
            "Column {heading} is not loaded: it is none that is known. What it is can be said in {where}.",
            heading=_heading(head, place),
            where=told_in,
        )
        for place in unknown
    ]
    headings = {name: _heading(head, place) for name, place in places.items()}
    if questions:
        return Read(sheet, grid.name, (), headings, tuple(passed_over), questions=tuple(questions))
    reading = _Reading(grid, sheet, answers, places, headings)
    rows = tuple(reading.rows(below))
    return Read(
        sheet, grid.name, rows, headings, (*passed_over, *reading.passed_over), tuple(reading.read_as),
        tuple(reading.wrong), tuple(reading.questions()),
    )  # fmt: skip


def _head(grid: Grid, sheet: Sheet, answers: Answers) -> Row | None:
    """The row that names the columns: of the first ones, that in which most cells are known headings."""
    told = answers.columns.get(grid.name, {})

    def known(row: Row) -> int:
        texts = [as_text(cell) for cell in row.cells if isinstance(cell, str)]
        return sum(text in told or bool(columns_named(sheet, text)) for text in texts)

    first = grid.rows[:_HEAD_WITHIN]
    best = max(first, key=known, default=None)
    if best is not None and known(best) > 0:
        return best
    return next((row for row in first if sum(isinstance(cell, str) for cell in row.cells) > 1), best)


def _title_said(row: Row) -> Said:
    text = next(as_text(cell) for cell in row.cells if cell is not None)
    return said(
        "Row {row} ({text}) stands above the headings: it is not read.", row=Numeral(row.number), text=quoted(text)
    )


def _heading(head: Row, place: int) -> str:
    cell = head.cells[place] if place < len(head.cells) else None
    return f"{as_text(cell)} ({column_letters(place)})" if cell is not None else column_letters(place)


def _columns(name: str, sheet: Sheet, head: Row, answers: Answers) -> tuple[dict[str, int], list[int], list[Question]]:
    """Where each column stands, the places nobody knows, and the questions."""
    told = answers.columns.get(name, {})
    headings = [(place, as_text(cell)) for place, cell in enumerate(head.cells) if cell is not None]
    known = {column.name for column in COLUMNS[sheet]}
    places = {told[text]: place for place, text in headings if told.get(text) in known}
    rest = [(place, text) for place, text in headings if text not in told]
    meant: dict[str, list[tuple[int, str]]] = {}
    unknown = []
    for place, text in rest:
        names = [each for each in columns_named(sheet, text) if each not in places]
        if names:
            meant.setdefault(names[0], []).append((place, text))
        elif not columns_named(sheet, text):
            unknown.append((place, text))
    questions = []
    for column, ways in meant.items():
        if len({text for _, text in ways}) > 1:
            questions.append(_which(name, column_of(sheet, column), [text for _, text in ways]))
        else:
            places[column] = ways[0][0]
    asked = {question.value for question in questions}
    for column_ in COLUMNS[sheet]:
        needed = column_.needed and (sheet, column_.name) not in FOR_ALL
        if needed and column_.name not in places and column_.name not in asked:
            questions.append(_which(name, column_, [text for _, text in unknown]))
    return places, [place for place, _ in unknown], questions


def _which(name: str, column: Column, headings: Sequence[str]) -> Question:
    asked = said("Sheet {sheet}: which column is {column}?", sheet=name, column=column.name)
    return Question(("columns", name), asked, tuple(dict.fromkeys(headings)), column.name)


class _Reading:
    """The rows of one sheet, cell by cell, and what turned up."""

    def __init__(
        self, grid: Grid, sheet: Sheet, answers: Answers, places: Mapping[str, int], headings: Mapping[str, str]
    ) -> None:
        self._name, self._sheet, self._headings = grid.name, sheet, headings
        self._way = Way(answers.dates, grid.old_days)
        self._columns = [(column_of(sheet, name), place) for name, place in places.items()]
        self._for_all = answers.all_rows.get(sheet, {})
        self.passed_over: list[Said] = []
        self.read_as: list[ReadAs] = []
        self.wrong: list[Wrong] = []
        self._unsaid: list[tuple[Spot, str]] = []
        self._lacking: dict[str, int] = {}
        self._misread: set[tuple[int, str]] = set()

    def rows(self, rows: Sequence[Row]) -> Iterator[SheetRow]:
        """Each row that says something; one with a single text and no id is a heading between the rows."""
        key = COLUMNS[self._sheet][0].name
        for row in rows:
            cells = [cell for cell in row.cells if cell is not None]
            values = {
                column.name: value
                for column, place in self._columns
                if (value := self._value(row, column, place)) is not None
            }
            if len(cells) == 1 and len(self._columns) > 1 and isinstance(cells[0], str) and (
                len(values) == 0 or list(values) == [key]
            ):  # fmt: skip
                self.passed_over.append(
                    said("Row {row} ({text}) has one cell only: it is taken for a heading and not read.",
                         row=Numeral(row.number), text=quoted(cells[0]))
                )  # fmt: skip
                continue
            for name in (name for sheet, name in FOR_ALL if sheet is self._sheet and name not in values):
                if (row.number, name) in self._misread:
                    continue
                if name in self._for_all:
                    values |= self._said_for_all(name)
                else:
                    self._lacking[name] = self._lacking.get(name, 0) + 1
            yield SheetRow(row.number, values)

    def _value(self, row: Row, column: Column, place: int) -> object:
        cell: Cell = row.cells[place] if place < len(row.cells) else None
        if cell is None:
            return None
        spot = Spot(self._name, row.number, self._headings[column.name])
        try:
            says = said_by(cell, column.holds, self._way)
        except Misread as misread:
            self.wrong.append(Wrong(spot, quoted(as_text(cell)), misread.meant))
            self._misread.add((row.number, column.name))
            return None
        except OrderUnsaid:
            self._unsaid.append((spot, as_text(cell)))
            return None
        if says is None:
            return None
        if says.read_as is not None and sum(cell is not None for cell in row.cells) > 1:
            self.read_as.append(ReadAs(spot, quoted(as_text(cell)), says.read_as))
        return says.value

    def _said_for_all(self, name: str) -> dict[str, object]:
        try:
            says = said_by(self._for_all[name], column_of(self._sheet, name).holds, self._way)
        except (Misread, OrderUnsaid) as misread:
            if not self._lacking:
                meant = misread.meant if isinstance(misread, Misread) else said("a day like 2026-03-04")
                self.wrong.append(Wrong(Spot(f"all_rows.{self._sheet.value}"), quoted(self._for_all[name]), meant))
            return {}
        return {} if says is None else {name: says.value}

    def questions(self) -> Iterator[Question]:
        """What has to be said once for all days, or for all rows."""
        for name, rows in sorted(self._lacking.items()):
            asked = said(
                "Sheet {sheet}: {n} rows do not say {column}. What holds for all of them?",
                sheet=self._name, n=rows, column=name,
            )  # fmt: skip
            yield Question(("all_rows", self._sheet.value, name), asked)
        if self._unsaid:
            yield _order_asked(self._unsaid)


def _order_asked(unsaid: Sequence[tuple[Spot, str]]) -> Question:
    """In which order days are written, with those that can be read in two ways and those that settle it."""
    two_ways, settled = [], []
    for spot, text in unsaid:
        ways = readings_of(text)
        if len(set(ways.values())) > 1:
            readings = either(said("{day} ({order})", day=day, order=order) for order, day in ways.items())
            two_ways.append(said("{spot}: {text} is {ways}", spot=spot.said, text=text, ways=readings))
        elif ways:
            settled.append(
                said("{spot}: {text} can only be {order}", spot=spot.said, text=text, order=next(iter(ways)))
            )
    more = len(two_ways) - _SHOWN
    orders = [said("{order}: {words}", order=order, words=words) for order, words in ORDERS.items()]
    asked = said(
        "In which order are days written, in all sheets ({orders})?",
        orders=listed(orders),
    )
    rows = (*two_ways[:_SHOWN], *((said("... and {n} more", n=more),) if more > 0 else ()), *settled[:3])
    return Question(("dates",), asked, tuple(ORDERS), rows=rows)
