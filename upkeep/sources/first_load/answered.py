"""What was answered about a plant's sheets, kept beside them in a file that people can read and change.

It is kept there and not among the keys of a book, for while the sheets are being mended there may be no book yet; it
goes with the sheets where they are copied to.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from pathlib import Path
from typing import Any

from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import said

FILE = "strokebook-sheets.toml"

NOT_LOADED = "-"
"""What a sheet or column is that is not loaded."""


@frozen
class Answers:
    """``dates`` is the order of day, month and year; ``sheets`` what each sheet is by its name; ``columns`` what each
    heading is, by sheet; ``same`` the id that is meant by another spelling (itself: it is a thing of its own);
    ``all_rows`` what holds for all rows that do not say it, by sheet and column."""

    dates: str | None = None
    sheets: Mapping[str, str] = field(default_factory=dict)
    columns: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    same: Mapping[str, str] = field(default_factory=dict)
    all_rows: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def with_answer(self, path: tuple[str, ...], answer: str) -> Answers:
        """The same with one answer more, at a path like ``("columns", "Tools", "Nr.")``."""
        name, *inside = path
        if not inside:
            return replace(self, dates=answer)
        changed: dict[str, Any] = {name: _with(getattr(self, name), inside, answer)}
        return replace(self, **changed)


def _with(kept: Mapping[str, Any], path: list[str], answer: str) -> dict[str, Any]:
    first, *rest = path
    return {**kept, first: _with(kept.get(first, {}), rest, answer) if rest else answer}


def answers_file(sheets: Path) -> Path:
    """Where the answers about a folder or workbook stand."""
    return sheets / FILE if sheets.is_dir() else sheets.with_name(f"{sheets.stem}.{FILE}")


def kept_answers(file: Path) -> Answers:
    """What the file says; raises :class:`Unreadable` where it is no such file."""
    try:
        text = file.read_text("utf-8-sig") if file.exists() else ""
        told = tomllib.loads(text)
    except (OSError, ValueError) as error:
        raise Unreadable(
            said("{file} cannot be read: {why}. Mend it, or delete it to be asked again.", file=file, why=str(error))
        ) from None
    answers = Answers(
        dates=told.get("dates"),
        sheets=told.get("sheets", {}),
        columns=told.get("columns", {}),
        same=told.get("same", {}),
        all_rows=told.get("all_rows", {}),
    )
    if answers.dates not in (None, "ymd", "dmy", "mdy") or not all(
        isinstance(value, str) for _, value in _leaves(answers)
    ):
        raise Unreadable(
            said(
                "{file} holds an answer that is none: dates is ymd, dmy or mdy, and all else is a text in quotes. "
                "Mend it, or delete it to be asked again.",
                file=file,
            )
        )
    return answers


def _leaves(answers: Answers) -> Iterator[tuple[tuple[str, ...], object]]:
    for name in ("sheets", "same"):
        table = getattr(answers, name)
        yield from (((name, key), value) for key, value in table.items()) if isinstance(table, dict) else [((name,), 0)]
    for name in ("columns", "all_rows"):
        table = getattr(answers, name)
        for key, inside in table.items() if isinstance(table, dict) else [("", 0)]:
            yield from (
                (((name, key, each), value) for each, value in inside.items())
                if isinstance(inside, dict)
                else [((name, key), 0)]
            )


def keep_answers(file: Path, answers: Answers) -> None:
    """Writes them; raises :class:`Unreadable` where nothing can be written there."""
    lines = ["# What was answered about these sheets. Change it with any text editor; delete it to be asked again."]
    lines += [f"dates = {json.dumps(answers.dates)}"] if answers.dates else []
    for name in ("sheets", "same"):
        lines += _table(f"[{name}]", getattr(answers, name))
    for name in ("columns", "all_rows"):
        for key, inside in getattr(answers, name).items():
            lines += _table(f"[{name}.{_text(key)}]", inside)
    try:
        file.write_text("\n".join(lines) + "\n", "utf-8")
    except OSError as error:
        raise Unreadable(
            said("The answers cannot be kept in {file}: {why}. Copy the sheets to a folder of your own.", file=file,
                 why=str(error.strerror))
        ) from None  # fmt: skip


def _table(head: str, answers: Mapping[str, str]) -> list[str]:
    return ["", head, *(f"{_text(key)} = {_text(value)}" for key, value in answers.items())] if answers else []


def _text(text: str) -> str:
    """A text as TOML 1.0 writes a basic string; JSON writes one the same way."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
