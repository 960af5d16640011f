"""A table as a spreadsheet (ISO/IEC 29500): text is text whatever it begins with, numbers and days are such."""

from __future__ import annotations

from datetime import date, datetime, time
from io import BytesIO

from upkeep.papers.exported.tables import Table

_NARROW, _WIDE = 6, 60
_MADE = datetime.fromisoformat("2000-01-01")
"""What stands in the file as when it was made, so that the same table gives the same bytes."""


def xlsx_bytes(table: Table) -> bytes:
    """The table on one sheet, its columns in the first row, which stays in sight."""
    from xlsxwriter import Workbook

    out = BytesIO()
    book = Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"created": _MADE})
    sheet = book.add_worksheet(table.name)
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for column, title in enumerate(table.columns):
        sheet.write_string(0, column, title, book.add_format({"bold": True}))
        widest = max((len(str(row[column] or "")) for row in table.rows), default=0)
        sheet.set_column(column, column, min(_WIDE, max(_NARROW, len(title), widest) + 1))
    for number, row in enumerate(table.rows, 1):
        for column, value in enumerate(row):
            if isinstance(value, date):
                sheet.write_datetime(number, column, datetime.combine(value, time()), day)
            elif isinstance(value, int | float):
                sheet.write_number(number, column, value)
            elif value is not None:
                sheet.write_string(number, column, value)
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, len(table.rows), len(table.columns) - 1)
    book.close()
    return out.getvalue()
