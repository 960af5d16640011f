"""Definition files in TOML 1.0: their tables, and the line on which each table and key stands.

``tomllib`` gives values without lines, so the lines are found by a scan for the headers and the keys under them.
A line the scan cannot tell (a table written inline) is given as that of the table around it.
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from upkeep.frozen import frozen
from upkeep.plant.definition import Given, Problem, quoted, quoted_text
from upkeep.said import said

Path = tuple[str | int, ...]
"""Where something stands in a document: names, and the index in a list of tables."""

_HEADER = re.compile(r"\s*(\[\[?)\s*([A-Za-z0-9_.\-\"' ]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')\s*(?:\.[^=\"']*)?=")
_SYNTAX = re.compile(r"(.*?) \(at (?:line (\d+), column \d+|end of document)\)\Z", re.DOTALL)
_DECIMAL_COMMA = re.compile(r"=\s*[+-]?\d+,\d")
_TRIPLE = re.compile(r'"""|\'\'\'')


@frozen
class Toml:
    """A TOML file that could be read."""

    file: str
    document: Mapping[str, Any]
    lines: Mapping[Path, int]

    def table(self, *path: str | int) -> Given:
        """The table at a path like ``("task", 2)``; empty when there is none."""
        node: Any = self.document
        for step in path:
            node = node[step] if isinstance(step, int) or step in node else {}
        depth = len(path)
        inside = {
            str(key[depth]): line for key, line in self.lines.items() if len(key) == depth + 1 and key[:depth] == path
        }
        return Given(self.file, self.lines.get(path), node if isinstance(node, dict) else {}, inside)

    def tables(self, *path: str | int, problems: list[Problem]) -> list[Given]:
        """The tables written as ``[[...]]`` at a path; what is no such table is a problem."""
        *outer, name = path
        listed = self.table(*outer).values.get(str(name), [])
        if not isinstance(listed, list) or not all(isinstance(each, dict) for each in listed):
            written = ".".join(str(step) for step in path if isinstance(step, str))
            line = self.lines.get(path, self.lines.get(tuple(outer)))
            problems.append(
                Problem(
                    self.file, line, str(name), quoted(listed), said("tables written as [[{written}]]", written=written)
                )
            )
            return []
        return [self.table(*path, index) for index in range(len(listed))]


def toml_of(file: str, text: str, problems: list[Problem]) -> Toml | None:
    """The tables of a TOML text; None when its syntax is wrong (then the problem names the line)."""
    try:
        document = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        problems.append(_syntax_problem(file, text, str(error)))
        return None
    return Toml(file, document, dict(_lines_of(text)))


def _syntax_problem(file: str, text: str, message: str) -> Problem:
    lines = text.split("\n")
    syntax = _SYNTAX.match(message)
    reason = syntax[1] if syntax else message
    number = int(syntax[2]) if syntax and syntax[2] else len(lines) if syntax else None
    written = lines[number - 1].strip() if number else ""
    if _DECIMAL_COMMA.search(written):
        return Problem(file, number, None, quoted(written), said("a decimal point in numbers, not a comma"))
    where = said("{line} ({reason})", line=quoted(written), reason=quoted_text(reason)[1:-1])
    return Problem(file, number, None, where, "TOML 1.0")


def _lines_of(text: str) -> Iterator[tuple[Path, int]]:
    """Paths and lines in reverse, so that in a dict the first line of a path stays."""
    return reversed(list(_scan(text)))


def _scan(text: str) -> Iterator[tuple[Path, int]]:
    seen: Counter[Path] = Counter()
    here: Path = ()
    in_text = False
    for number, line in enumerate(text.split("\n"), start=1):
        begins_in_text, in_text = in_text, in_text ^ (len(_TRIPLE.findall(line)) % 2 == 1)
        if begins_in_text:
            continue
        header, key = _HEADER.match(line), _KEY.match(line)
        if header:
            here = _entered(header[2], header[1] == "[[", seen)
            yield here, number
        elif key:
            yield (*here, key[1].strip("\"'")), number


def _entered(name: str, is_list: bool, seen: Counter[Path]) -> Path:
    """The path a header opens; each table of a list gets its index."""
    path: Path = ()
    steps = [step.strip().strip("\"'") for step in name.split(".")]
    for step in steps[:-1]:
        path = (*path, step)
        path = (*path, seen[path] - 1) if seen[path] else path
    path = (*path, steps[-1])
    if is_list:
        seen[path] += 1
        path = (*path, seen[path] - 1)
    return path
