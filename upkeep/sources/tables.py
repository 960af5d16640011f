"""CSV files as other programs write them: UTF-8, comma or semicolon, the columns named in the first line."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from pathlib import Path

from upkeep.errors import Unreadable
from upkeep.said import Numeral, listed, said


def columns_of(file: Path) -> tuple[str, ...]:
    """The columns that the first line names.  Raises :class:`Unreadable` where the file is no such text."""
    return tuple(_reader(file).fieldnames or ())


def rows_of(file: Path, columns: Sequence[str], optional: Sequence[str] = ()) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row that is not empty: the line it stands on and its cells by column, stripped.

    Cells of ``optional`` columns are empty where the file has no such column.  Raises :class:`Unreadable` where the
    file is no such text or lacks one of the others.
    """
    reader = _reader(file)
    missing = [column for column in columns if column not in (reader.fieldnames or ())]
    if missing:
        raise Unreadable(
            said(
                "{file}: the first line must name the columns {columns}; missing: {missing}.",
                file=file,
                columns=listed(columns),
                missing=listed(missing),
            )
        )
    try:
        for row in reader:
            if any(isinstance(value, str) and value.strip() for value in row.values()):
                yield reader.line_num, {column: (row.get(column) or "").strip() for column in (*columns, *optional)}
    except csv.Error as error:
        raise Unreadable(
            said(
                "{file} line {line}: {why}. Nothing was written.",
                file=file,
                line=Numeral(reader.line_num),
                why=str(error),
            )
        ) from None


def _reader(file: Path) -> csv.DictReader[str]:
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise Unreadable(
            said("{file} cannot be read as UTF-8 text: {why}. Nothing was written.", file=file, why=str(error))
        ) from None
    first = text.partition("\n")[0]
    separator = ";" if first.count(";") > first.count(",") else ","
    return csv.DictReader(text.splitlines(), delimiter=separator, restval="")
