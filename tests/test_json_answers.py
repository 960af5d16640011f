"""Who reads ``--json`` can rely on it: no name goes, and no value changes its type."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests import json_answers
from tests.demo_month import copied
from tests.json_answers import (
    QUESTIONS,
    SCHEMAS,
    added,
    broken,
    command_of,
    demo_answers,
    kept,
    reading_commands,
    schema_of,
)

ROW = {"line": "DS-1/oil", "due_at": None, "strokes": 12, "values": [1.5], "hold": None}
PAGE: dict[str, Any] = {
    "rows": [ROW, ROW | {"due_at": "2026-03-06T08:00:00Z"}],
    "by_area": {"Hall A": {"percent": 97.0}},
}


def test_every_reading_command_has_a_kept_schema() -> None:
    """Asked of the command line itself, so that a new command is not forgotten."""
    assert reading_commands() == {command_of(asked[0]) for asked in QUESTIONS.values()}
    assert {file.stem for file in SCHEMAS.glob("*.json")} == set(QUESTIONS)


def test_the_answers_about_the_demo_plant_are_as_kept(demo_month: Path, tmp_path: Path) -> None:
    """What is added is written down: ``python -m tests.json_answers --write``."""
    book = copied(demo_month, tmp_path / "book")
    found = {name: schema_of(answers) for name, answers in demo_answers(book).items()}
    assert [f"{name}: {each}" for name, now in found.items() for each in broken(kept(name), now)] == []
    assert [f"{name}: {each}" for name, now in found.items() for each in added(kept(name), now)] == []


@pytest.mark.parametrize(
    ("now", "told"),
    [
        ({"rows": [{**ROW, "strokes": "12"}]}, "rows[].strokes is string; it was integer"),
        ({"rows": [{**ROW, "strokes": 12.5}]}, "rows[].strokes is number; it was integer"),
        ({"rows": [{**ROW, "strokes": None}]}, "rows[].strokes is null; it was integer"),
        ({"rows": [{**ROW, "values": ["a"]}]}, "rows[].values[] is string; it was number"),
        ({"rows": [{name: ROW[name] for name in ("line", "due_at", "values", "hold")}]}, "rows[].strokes is gone"),
        ({"rows": [ROW, {**ROW, "line": 1}]}, "rows[].line is integer or string; it was string"),
        ({"rows": [ROW, {"due_at": None} | {}]}, "rows[].line is absent or string; it was string"),
        ({"rows": {}}, "rows is object; it was array"),
        ({"by_area": {"Hall A": {"percent": "97"}}}, "by_area.*.percent is string; it was number"),
    ],
)
def test_a_name_that_is_gone_and_another_type_are_refused(now: dict[str, Any], told: str) -> None:
    """With its path, what it is and what it was."""
    assert told in broken(schema_of([PAGE]), schema_of([PAGE | now]))


@pytest.mark.parametrize(
    ("now", "told"),
    [
        ({"rows": [{**ROW, "place": "P-01"}]}, ["rows[].place is string"]),
        ({"rows": [{**ROW, "hold": "dull"}]}, ["rows[].hold is string"]),
        ({"rows": [{**ROW, "due_at": "2026-03-06T08:00:00Z"}]}, []),
        ({"by_area": {"Hall B": {"percent": 98.0}}}, []),
    ],
)
def test_what_is_added_breaks_nothing_and_is_told(now: dict[str, Any], told: list[str]) -> None:
    """A new name, and the type of what was only ever null; the plant's own names are no names of the program."""
    before, found = schema_of([PAGE]), schema_of([PAGE | now])
    assert (broken(before, found), added(before, found)) == ([], told)


def test_a_renewal_adds_names_and_leaves_what_would_break(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file of the broken answer stays as it was."""
    monkeypatch.setattr(json_answers, "SCHEMAS", tmp_path)
    assert json_answers.write({"week": [PAGE], "why": [ROW]}) == []
    told = json_answers.write({"week": [PAGE | {"area": "Hall A"}], "why": [ROW | {"line": 1}]})
    assert told == ["why: line is integer; it was string"]
    assert added(kept("week"), schema_of([PAGE | {"area": "Hall A"}])) == []
    assert broken(kept("why"), schema_of([ROW])) == []
