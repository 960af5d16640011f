"""A table as CSV (RFC 4180), in UTF-8 with the mark that office programs look for.

Text that an office program would take for a formula gets an apostrophe before it, as those programs mark text.
"""

from __future__ import annotations

import csv
from io import StringIO

from upkeep.papers.exported.tables import Table, Value

FORMULA_BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""What office programs begin a formula by, or leave out before one."""


def csv_bytes(table: Table) -> bytes:
    """The table with its columns in the first line."""
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(table.columns)
    writer.writerows([_cell(value) for value in row] for row in table.rows)
    return b"\xef\xbb\xbf" + out.getvalue().encode()


def _cell(value: Value) -> object:
    if isinstance(value, str) and value.startswith(FORMULA_BEGINS):
        return f"'{value}"
    return "" if value is None else value
