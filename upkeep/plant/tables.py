"""Definition files as text and as CSV rows: encoding, separator, header and the line each row begins on."""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path

from upkeep.frozen import frozen
from upkeep.plant.definition import Given, Problem, near, quoted
from upkeep.said import Quoted, listed, said

_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


@frozen
class Table:
    """The rows of a CSV file; ``missing`` are the columns it should have and has not."""

    rows: tuple[Given, ...]
    missing: frozenset[str] = frozenset()


def text_of(path: Path, problems: list[Problem]) -> str | None:
    """The text of a file in UTF-8, with or without byte order mark; None when there is nothing to read.

    A file in another encoding is a problem, and is read as Windows-1252 so that its other problems are found as well.
    """
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        problems.append(
            Problem(
                path.name,
                None,
                None,
                said("no such file"),
                said("a file {file} in {folder}", file=path.name, folder=path.parent),
            )
        )
        return None
    except OSError as error:
        problems.append(
            Problem(
                path.name,
                None,
                None,
                said("it cannot be read ({why})", why=str(error.strerror)),
                said("a readable file"),
            )
        )
        return None
    if raw.startswith(_UTF_16):
        problems.append(Problem(path.name, None, None, said("text in UTF-16"), said("text saved as UTF-8")))
        return None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _windows_text(path.name, raw, error.start, problems)


def _windows_text(name: str, raw: bytes, start: int, problems: list[Problem]) -> str:
    line = raw[start - len(raw) : None].decode("cp1252", "replace")
    before = raw[:start].decode("cp1252", "replace")
    word = (before.splitlines() or [""])[-1][-20:] + (line.splitlines() or [""])[0][:20]
    problems.append(
        Problem(
            name,
            _lines_in(raw[:start]),
            None,
            said("a character that is not UTF-8, near {word}", word=quoted(word)),
            said("text saved as UTF-8"),
        )
    )
    return raw.decode("cp1252", "replace")


def _lines_in(raw: bytes) -> int:
    return raw.replace(b"\r\n", b"\n").replace(b"\r", b"\n").count(b"\n") + 1


def rows_of(file: str, text: str, columns: Sequence[str], required: Collection[str], problems: list[Problem]) -> Table:
    """The rows of a CSV text by column name, empty cells and empty lines left out.

    The separator is the comma or the semicolon, whichever the header has more of.
    """
    records = _records(file, text, problems)
    line, header = next(records, (1, []))
    names = [" ".join(cell.split()).lower().replace(" ", "_") for cell in header]
    problems += _header_problems(file, line, names, columns)
    missing = frozenset(required) - frozenset(names)
    problems += [
        Problem(
            file,
            line,
            None,
            said("no column {name}", name=Quoted(name)),
            said("the columns {columns}", columns=listed(columns)),
        )
        for name in columns
        if name in missing
    ]
    rows = tuple(_rows(file, names, columns, records, problems))
    return Table(rows, missing)


def _records(file: str, text: str, problems: list[Problem]) -> Iterator[tuple[int, list[str]]]:
    """Each record that is not empty, with the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=True)
    begins = 1
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                yield begins, stripped
            begins = reader.line_num + 1
    except csv.Error as error:
        torn = said("a row that cannot be split into cells ({why})", why=str(error))
        problems.append(Problem(file, begins, None, torn, said('quotes (") in pairs around a whole cell')))


def _separator(text: str) -> str:
    header = next((line for line in text.splitlines() if line.strip()), "")
    return ";" if header.count(";") > header.count(",") else ","


def _header_problems(file: str, line: int, names: list[str], columns: Sequence[str]) -> Iterator[Problem]:
    for position, name in enumerate(names, start=1):
        if name in names[: position - 1] and name:
            yield Problem(file, line, name, said("the same column twice"), said("each column once"))
        elif name and name not in columns:
            unknown = said("an unknown column {name}{near}", name=quoted(name), near=near(name, list(columns)))
            yield Problem(file, line, None, unknown, said("the columns {columns}", columns=listed(columns)))


def _rows(
    file: str,
    names: list[str],
    columns: Sequence[str],
    records: Iterator[tuple[int, list[str]]],
    problems: list[Problem],
) -> Iterator[Given]:
    for line, cells in records:
        stray = [cell for cell, name in zip(cells, names + [""] * len(cells), strict=False) if cell and not name]
        if stray:
            nameless = said("{cell} with no column name above it", cell=quoted(stray[0]))
            problems.append(Problem(file, line, None, nameless, said("as many cells as the header names")))
        values = {name: cell for name, cell in zip(names, cells, strict=False) if cell and name in columns}
        yield Given(file, line, values, {})
