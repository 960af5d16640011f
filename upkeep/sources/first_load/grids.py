"""Sheets as rows of cells: a workbook (XLSX, ODS, XLS) or a folder of CSV files, with what does not show in the cells.

A cell is a text, a number, a day, or nothing; what a spreadsheet could not work out (``#REF!``) stays that text.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, said
from upkeep.sources.first_load.workbook_marks import Marks, marks_of

if TYPE_CHECKING:
    from python_calamine import CalamineSheet

Cell = str | float | date | None
"""What stands in a cell; None: nothing."""

_ERROR = re.compile(r"#(?:REF!|N/A|DIV/0!|NAME\?|VALUE!|NUM!|NULL!|SPILL!|CALC!|FIELD!|GETTING_DATA|#+)\Z|#+\Z")

_MOST_ROWS, _MOST_COLUMNS = 200_000, 500


@frozen
class Row:
    """A row of a sheet: the number it has there, and its cells from the first column on."""

    number: int
    cells: tuple[Cell, ...]


@frozen
class Grid:
    """One sheet.  ``rows`` are those that show and are not empty; ``skipped`` says what was passed over and why;
    ``old_days`` whether its day numbers count from 1904, as on early Macintosh spreadsheets."""

    name: str
    rows: tuple[Row, ...]
    skipped: tuple[Said, ...] = ()
    old_days: bool = False


def is_error(cell: Cell) -> bool:
    """Whether a spreadsheet put its word for a formula that went wrong, or a number too wide to show."""
    return isinstance(cell, str) and _ERROR.match(cell) is not None


def column_letters(place: int) -> str:
    """What a spreadsheet calls a column, the first one being 0: ``A``, ``Z``, ``AA``."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def grids_of(path: Path) -> tuple[Grid, ...]:
    """The sheets of a workbook, or the CSV files of a folder by their names without ``.csv``.

    Raises :class:`Unreadable` where there is nothing of the kind, or it cannot be read.
    """
    if not path.is_dir():
        return tuple(_grids_of_workbook(path))
    files = sorted(file for file in path.iterdir() if file.suffix.lower() == ".csv" and file.is_file())
    if not files:
        books = sorted(file.name for file in path.iterdir() if file.suffix.lower() in (".xlsx", ".ods", ".xls"))
        if books:
            raise Unreadable(
                said("{folder} holds no CSV file, but {book}: name that file.", folder=path, book=books[0])
            )
        raise Unreadable(said("{folder} holds no CSV file and no workbook: there is nothing to load.", folder=path))
    return tuple(_grid_of_text(file) for file in files)


# Workbooks


def _grids_of_workbook(path: Path) -> Iterator[Grid]:
    from python_calamine import CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

    try:
        workbook = CalamineWorkbook.from_path(str(path))
        marks = marks_of(path)
        for place, sheet in enumerate(workbook.sheets_metadata):
            if sheet.typ != SheetTypeEnum.WorkSheet:
                continue
            if sheet.visible != SheetVisibleEnum.Visible:
                yield Grid(sheet.name, (), (said("The sheet is hidden: it is not read."),))
                continue
            yield _grid(sheet.name, workbook.get_sheet_by_index(place), marks.get(sheet.name, Marks()))
    except OSError as error:
        raise Unreadable(said("{file} cannot be read: {why}.", file=path, why=str(error.strerror or error))) from None
    except Exception as error:
        # The library has a class of its own for each kind of damage; to whoever loads they are all one.
        if isinstance(error, Unreadable):
            raise
        raise Unreadable(
            said(
                "{file} cannot be read as a workbook ({why}). Save it as .xlsx or as CSV files, without a password.",
                file=path,
                why=str(error).splitlines()[0][:200] if str(error) else type(error).__name__,
            )
        ) from None


def _grid(name: str, sheet: CalamineSheet, marks: Marks) -> Grid:
    if sheet.total_height > _MOST_ROWS or sheet.total_width > _MOST_COLUMNS:
        raise Unreadable(
            said(
                "Sheet {sheet} has {rows} rows and {columns} columns; at most {most} rows and {widest} columns are "
                "read. Delete what is empty below and beside the table.",
                sheet=name,
                rows=sheet.total_height,
                columns=sheet.total_width,
                most=_MOST_ROWS,
                widest=_MOST_COLUMNS,
            )
        )
    table = [[_cell(value) for value in row] for row in sheet.to_python(skip_empty_area=False)]
    for (row, column), text in marks.errors.items():
        if row < len(table) and column < len(table[row]) and table[row][column] is None:
            table[row][column] = text
    merged = _fill_merged(table, sheet.merged_cell_ranges or ())
    hidden = [number for number, row in enumerate(table, 1) if number in marks.hidden and any(row)]
    rows = tuple(
        Row(number, tuple(row))
        for number, row in enumerate(table, 1)
        if number not in marks.hidden and any(cell is not None for cell in row)
    )
    skipped = [said("Row {row} is hidden: it is not read.", row=Numeral(number)) for number in hidden]
    skipped += [
        said("Rows {first} to {last} are one merged cell: each is read as {text}.", first=Numeral(first),
             last=Numeral(last), text=text)
        for first, last, text in merged
    ]  # fmt: skip
    return Grid(name, rows, tuple(skipped), marks.old_days)


def _cell(value: object) -> Cell:
    match value:
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return float(value)
        case datetime():
            return value.date()
        case date():
            return value
        case time() | timedelta():
            return str(value)
    text = " ".join(str(value).split()) if value is not None else ""
    return text or None


def _fill_merged(table: list[list[Cell]], ranges: object) -> list[tuple[int, int, str]]:
    """Gives each cell of a merged one below another what its first says; tells which rows that concerns."""
    told = []
    for (top, left), (bottom, _right) in ranges:  # type: ignore[attr-defined]
        if bottom <= top or top >= len(table) or left >= len(table[top]) or (first := table[top][left]) is None:
            continue
        for row in table[top + 1 : bottom + 1]:
            row[left] = first
        told.append((top + 1, min(bottom + 1, len(table)), str(first)))
    return told


# Texts


def _grid_of_text(file: Path) -> Grid:
    text, skipped = _text_of(file)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text))
    rows, begins = [], 1
    try:
        for cells in reader:
            read = tuple(_cell(cell) for cell in cells)
            if any(cell is not None for cell in read):
                rows.append(Row(begins, read))
            begins = reader.line_num + 1
    except csv.Error as error:
        raise Unreadable(
            said(
                "{file}, row {row}: it cannot be split into cells ({why}). Quotes stand in pairs around a whole cell.",
                file=file.name,
                row=Numeral(begins),
                why=str(error),
            )
        ) from None
    return Grid(file.stem, tuple(rows), skipped)


def _text_of(file: Path) -> tuple[str, tuple[Said, ...]]:
    """The text of a file, and how it was read where that is not UTF-8."""
    try:
        raw = file.read_bytes()
    except OSError as error:
        raise Unreadable(said("{file} cannot be read: {why}.", file=file, why=str(error.strerror))) from None
    try:
        if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
            return raw.decode("utf-16"), (said("Read as UTF-16."),)
        return raw.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace"), (
            said("Not UTF-8: read as Windows-1252. Look at names with accents below."),
        )


def _separator(text: str) -> str:
    """What stands between the cells: of semicolon, tab and comma the one the fullest of the first rows has most of."""
    first = text.splitlines()[:20]
    counts = {mark: max((line.count(mark) for line in first), default=0) for mark in (";", "\t", ",")}
    return max(counts, key=lambda mark: (counts[mark], mark == ";"))
