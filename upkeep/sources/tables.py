"""CSV files as other programs write them: UTF-8, comma or semicolon, the columns named in the first line."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from pathlib import Path

from upkeep.errors import Unreadable


def rows_of(file: Path, columns: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row that is not empty: the line it stands on and its cells by column, stripped.

    Raises :class:`Unreadable` where the file is no such text or lacks a column.
    """
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise Unreadable(f"{file} cannot be read as UTF-8 text: {error}. Nothing was written.") from None
    separator = ";" if text.partition("\n")[0].count(";") >= len(columns) - 1 else ","
    reader = csv.DictReader(text.splitlines(), delimiter=separator, restval="")
    missing = [column for column in columns if column not in (reader.fieldnames or ())]
    if missing:
        raise Unreadable(
            f"{file}: the first line names the columns {', '.join(columns)}; missing: {', '.join(missing)}."
        )
    try:
        for row in reader:
            if any(isinstance(value, str) and value.strip() for value in row.values()):
                yield reader.line_num, {column: (row[column] or "").strip() for column in columns}
    except csv.Error as error:
        raise Unreadable(f"{file} line {reader.line_num}: {error}. Nothing was written.") from None
