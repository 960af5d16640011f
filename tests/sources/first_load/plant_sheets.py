"""The sheets of an invented plant as spreadsheets have them, with what goes wrong in them.

``python -m tests.sources.first_load.plant_sheets FILE [wrong]`` writes them to look at.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import Any

import xlsxwriter

PLANT = """
[plant]
name = "Plant of the sheets (invented)"
zone = "Europe/Berlin"
keepers = ["lea", "tom"]

[[shift]]
name = "early"
start = "06:00"
end = "14:00"
days = ["MO", "TU", "WE", "TH", "FR"]
"""

ANSWERS = """
dates = "dmy"
[all_rows.racks]
area = "Toolroom"
"""

PEOPLE = [["Name", "Role", "Personnel no"], ["Lea Bär", "maintenance lead", "lea"], ["Tom Ost", "quality", "tom"]]

GOOD: dict[str, list[list[Any]]] = {
    "Presses": [
        ["Presses of the plant, as of autumn"],
        [],
        ["Press", "Name", "Hall", "Counter digits", "Strokes an hour"],
        ["P-01", "Bench press 1", "Hall A", 7.0, "3,000"],
        ["P-02", "Bench press 2", "Hall A", "7", 3000],
    ],
    "Modules": [
        ["Module", "Description", "Rack", "Strokes so far", "Colour"],
        ["M-012", "Module 12", "Rack 1", "1209.5k", "grey"],
        ["M-13", "Module 13", "Rack 1", "98.765", "blue"],
        ["end feed"],
        ["M-14", "Módulo 14 (Prüfling)", "Rack 1", 120000.0, "grey"],
    ],
    "Dies": [
        ["Tool", "Description", "Terminal", "Rack", "Customer", "Bought"],
        ["DS-001", "Set 1", "ring 4", "Rack 2", "Aldermoor", date(2019, 5, 2)],
        ["DS-002", "Set 2", "ring 4", "Rack 2", None, 43587],
        ["DS-003", "Set 3", "fork 6", "Rack 2", None, "02.05.2019"],
    ],
    "Staff": PEOPLE,
    "Tasks": [
        ["Task", "On", "How often", "Min", "Who"],
        ["Clean the module", "module", "each shift", 4, "operator"],
        ["Oil the slides", "module", "every 2 weeks", 10, "set-up"],
        ["Look at the die set", "die set", "quarterly", 20, "maintenance"],
    ],
    "Last done": [
        ["Tool", "Task", "Done"],
        ["M-012", "Oil the slides", "03/04/2025"],
        ["M-13", "oil the slides", "13.04.2025"],
        ["Set 1", "Look at the die set", date(2025, 2, 1)],
        ["DS-002", "Look at the die set", "?"],
    ],
}
"""Sheets that can be loaded once the order of days and the area of the racks are said."""

WRONG: dict[str, list[list[Any]]] = {
    "Presses": [
        ["Press", "Name", "Hall", "Counter digits", "Strokes an hour"],
        ["P-01", "Bench press 1", "Hall A", "=1/0", 3000],
        ["P 02", "Bench press 2", "Hall A", 7, "fast"],
    ],
    "Modules": [
        ["Module", "Description", "Rack", "Strokes so far"],
        ["M-012", "Module 12", "Rack 1", "1.209k"],
        ["M-12", "Module 12, the other", "Rack 1", 1209.5],
        ["M-13", "Module 13", "Rack 1", "#REF!"],
        ["M-13", "Module 13 again", "Rack 1", "12,34,567"],
    ],
    "Staff": [*PEOPLE, ["Lea Bär", "boss", "lea2"]],
    "Tasks": [
        ["Task", "On", "How often", "Min", "Who"],
        ["Oil the slides", "module", "now and then", 10, "set-up"],
        ["Polish", "flywheel", "weekly", 10, "set-up"],
    ],
    "Last done": [
        ["Tool", "Task", "Done"],
        ["M-13", "Oil the slides", "31.02.2025"],
        ["M-99", "Oil the slides", date(2025, 3, 1)],
        ["P-01", "Oil the slides", date(2025, 3, 1)],
        ["M-13", "Oil the slides", date(2031, 3, 1)],
        ["M-13", "Grind", 17.0],
    ],
}
"""Sheets with a wrong thing in almost every row."""


def write_workbook(file: Path, sheets: dict[str, list[list[Any]]], *, from_1904: bool = False) -> Path:
    """The sheets as a workbook: days as days, formulas as formulas; a row of the dies is hidden, the rack of two
    modules is one merged cell."""
    with xlsxwriter.Workbook(file, {"date_1904": from_1904, "default_date_format": "yyyy-mm-dd"}) as workbook:
        for name, rows in sheets.items():
            sheet = workbook.add_worksheet(name)
            for number, row in enumerate(rows):
                for column, cell in enumerate(row):
                    _write(sheet, number, column, cell)
            if name == "Dies":
                sheet.write_row(len(rows), 0, ["DS-000", "Set that was scrapped"])
                sheet.set_row(len(rows), None, None, {"hidden": True})
            if sheets is GOOD and name == "Modules":
                sheet.merge_range(1, 2, 2, 2, "Rack 1")
        workbook.add_worksheet("old").hide()
        workbook.add_worksheet("Canteen").write(0, 0, "Monday")
    return file


def _write(sheet: Any, row: int, column: int, cell: Any) -> None:
    match cell:
        case None:
            return
        case date():
            sheet.write_datetime(row, column, cell)
        case str() if cell.startswith("="):
            sheet.write_formula(row, column, cell, None, "#DIV/0!")
        case str():
            sheet.write_string(row, column, cell)
        case _:
            sheet.write_number(row, column, cell)


def write_folder(folder: Path, sheets: dict[str, list[list[Any]]], encoding: str = "utf-8", mark: str = ";") -> Path:
    """The sheets as CSV files."""
    folder.mkdir()
    for name, rows in sheets.items():
        lines = [mark.join("" if cell is None else str(cell) for cell in row) for row in rows]
        (folder / f"{name}.csv").write_bytes("\r\n".join(lines).encode(encoding))
    return folder


if __name__ == "__main__":
    write_workbook(Path(sys.argv[1]), WRONG if "wrong" in sys.argv else GOOD)
