"""What ``--json`` answers as tables for spreadsheets: a row an object, a column a name, what lies deeper with a dot."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

_FORMULA_BEGINS = ("=", "+", "-", "@", "\t", "\r")


def tables(value: Any) -> dict[str, list[Mapping[str, Any]]]:
    """The tables in an answer, by name: "" is that of the answer itself, others those of the lists of objects in it,
    each row of these with the names of the row it lies in left out."""
    found: dict[str, list[Mapping[str, Any]]] = {"": []}
    for one in value if isinstance(value, list) else [value]:
        row: dict[str, Any] = {}
        _into(row, found, "", one if isinstance(one, Mapping) else {"value": one})
        found[""].append(row)
    return {name: rows for name, rows in found.items() if rows}


def _into(
    row: dict[str, Any], found: dict[str, list[Mapping[str, Any]]], before: str, value: Mapping[str, Any]
) -> None:
    for name, one in value.items():
        path = f"{before}.{name}" if before else name
        if isinstance(one, Mapping):
            _into(row, found, path, one)
        elif isinstance(one, list) and one and all(isinstance(each, Mapping) for each in one):
            for each in one:
                inner: dict[str, Any] = {}
                _into(inner, found, "", each)
                found.setdefault(path, []).append(inner)
        else:
            row[path] = one


def csv_text(rows: Sequence[Mapping[str, Any]]) -> str:
    """Rows as CSV (RFC 4180), the first line naming all columns that any row has."""
    columns = list(dict.fromkeys(name for row in rows for name in row))
    return csv_lines([columns, *([row.get(name) for name in columns] for row in rows)])


def csv_lines(rows: Iterable[Iterable[Any]]) -> str:
    """Lines of CSV; a cell that a spreadsheet would take for a formula has an apostrophe before it."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([[cell(value) for value in row] for row in rows])
    return out.getvalue()


def cell(value: Any) -> str:
    """A value as a cell: nothing where there is none, a list as JSON, ``true`` and ``false``."""
    if value is None:
        return ""
    if isinstance(value, bool | list | dict):
        return json.dumps(value, ensure_ascii=False)
    text = str(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(_FORMULA_BEGINS) else text
