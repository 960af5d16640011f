"""The house around the code: what loads when, what may import what, how long a file may be."""

from __future__ import annotations

import ast
import importlib.util
import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest

from demo_plant.environment import ROOT
from tests.templates import PACKAGES, calls, collected, spoken, terms
from upkeep import errors
from upkeep.book import Book

LONGEST_FILE = 400
MOST_FILES = 24
"""In one folder: some twenty; a room that holds more is no room of one subject."""
FILES = sorted(file for package in PACKAGES for file in (ROOT / package).rglob("*.py"))

IMPORT_ALL = """
import importlib, pkgutil, sys, upkeep
names = [found.name for found in pkgutil.walk_packages(upkeep.__path__, "upkeep.") if "__main__" not in found.name]
for name in names:
    importlib.import_module(name)
print(len(names), *sorted({module.partition(".")[0] for module in sys.modules}))
"""
LOADED_WHERE_USED = {
    *("textual", "rich", "reportlab", "PIL", "plotext", "pymupdf_fonts", "resvg_py"),
    *("numpy", "scipy", "pandas", "apscheduler", "wcwidth", "tui", "demo_plant"),
}


def test_the_engine_loads_no_screens_and_no_heavy_libraries() -> None:
    """Every module of the engine imports without them; they load where they are used.

    The import contracts cannot show this: they also see imports that stand inside functions.
    """
    done = subprocess.run([sys.executable, "-c", IMPORT_ALL], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    count, *loaded = done.stdout.split()
    assert int(count) > 20
    assert LOADED_WHERE_USED & set(loaded) == set()


LOADED_BY_A_BOARD = """
import sys
from upkeep.cli.run import run
assert run(["board", "--book", sys.argv[1]]) == 0
print(*sorted(name for name in sys.modules if name.startswith("upkeep.")))
"""
ROOMS_OF_OTHER_QUESTIONS = {
    *("upkeep.admission", "upkeep.book.writing", "upkeep.stats", "upkeep.answers.figures", "upkeep.answers.faults"),
    *(
        "upkeep.answers.wear",
        "upkeep.answers.week",
        "upkeep.answers.suspect.hold_lists",
        "upkeep.answers.checks.checks",
    ),
    *("upkeep.keeping.as_of", "upkeep.keeping.replay", "upkeep.keeping.proof", "upkeep.keeping.refill"),
    *("upkeep.store.disk.backup", "upkeep.store.past", "upkeep.sources", "upkeep.service"),
}


def test_a_board_loads_no_room_of_another_question(tmp_path: Path) -> None:
    """Whoever looks at the board waits for its imports only: not for writing, the past, figures or statistics."""
    with Book.create(tmp_path / "plant.book"):
        pass
    done = subprocess.run(
        [sys.executable, "-c", LOADED_BY_A_BOARD, tmp_path / "plant.book"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    loaded = done.stdout.splitlines()[-1].split()
    assert "upkeep.book.door" in loaded
    assert [
        name for name in loaded if any(f"{name}.".startswith(f"{room}.") for room in ROOMS_OF_OTHER_QUESTIONS)
    ] == []


def test_pandas_stays_out_of_the_environment() -> None:
    """sqlite-utils would load it at every start, only because it is there."""
    assert importlib.util.find_spec("pandas") is None


def test_imports_only_point_down() -> None:
    """The contracts in pyproject.toml hold: the floors, the one door to the book, SQLite in the store alone."""
    done = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache", "--no-logo"],
        cwd=ROOT,
        env={**os.environ, "COLUMNS": "200", "NO_COLOR": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert " 0 broken" in done.stdout


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(ROOT)))
def test_a_file_answers_one_question(file: Path) -> None:
    """A file that grows past the limit answers more than one, and is split by question; nothing is left for later."""
    lines = file.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= LONGEST_FILE
    assert [line for line in lines if "TODO" in line or "FIXME" in line] == []


def test_a_folder_is_no_catch_all() -> None:
    """What grows past the limit is cut by subject."""
    held = Counter(file.parent.relative_to(ROOT).as_posix() for file in FILES)
    assert {folder: files for folder, files in held.items() if files > MOST_FILES} == {}


def test_frozen_values_are_made_in_one_way() -> None:
    """By ``upkeep.frozen``: the standard library's decorator takes three times as long, at every start."""
    slow = [
        place
        for place, node in spoken()
        if isinstance(node, ast.Call) and _name(node) == "dataclass"
        if {"frozen", "slots"} <= {keyword.arg for keyword in node.keywords}
    ]
    assert slow == []


def test_every_sentence_can_be_collected_for_translators() -> None:
    """Its template stands literally where it is said, and a translator's tool finds it."""
    templates = {call: call.templates for call in calls()}
    assert [call.place for call, found in templates.items() if not all(map(_is_text, found))] == []
    literal = {tuple(ast.literal_eval(template) for template in found) for found in templates.values()}
    assert literal == {(message.id,) if isinstance(message.id, str) else message.id for message in collected()}


def test_every_list_that_terms_are_of_is_collected() -> None:
    """The name of the list stands literally beside a term, and its words are in the catalogues under that name."""
    said_of = [
        ast.literal_eval(node.args[1])
        for _, node in spoken()
        if isinstance(node, ast.Call) and _name(node) == "term" and len(node.args) == 2
    ]
    assert set(said_of) == {message.context for message in terms()} - {None}


def test_every_name_in_a_sentence_has_its_value() -> None:
    """A template names what is given to it, and nothing else."""
    for call in calls():
        given = {keyword.arg for keyword in call.node.keywords}
        named = {name for template in call.templates for name in _names(template)}
        spread = None in given  # **values
        assert spread or named <= given, call.place
        assert given - named <= {None, "n"}, call.place


def test_no_sentence_is_a_value_of_another() -> None:
    """What is put together from words stays English in every language; a sentence in a sentence is said as one."""
    worded = [
        call.place
        for call in calls()
        for keyword in call.node.keywords
        for part in ast.walk(keyword.value)
        if isinstance(part, ast.JoinedStr) and _WORD.search("".join(_constants(part)))
    ]
    assert worded == []


def test_errors_say_sentences_and_no_ready_text() -> None:
    """Their text could be read in one language only."""
    ready = [
        place
        for place, node in spoken()
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and _name(node.exc) in _ERRORS
        for argument in node.exc.args[:1]
        if isinstance(argument, ast.JoinedStr | ast.Constant)
    ]
    assert ready == []


def test_nobody_reads_the_text_of_an_error() -> None:
    """It is English; what an error says is asked of its sentence, what it means of its class."""
    read = [
        place
        for place, handler in spoken()
        if isinstance(handler, ast.ExceptHandler) and handler.type is not None and handler.name
        if _ERRORS & {name.id for name in ast.walk(handler.type) if isinstance(name, ast.Name)}
        for node in ast.walk(handler)
        if _is_read(node, handler.name)
    ]
    assert read == []


def _is_read(node: ast.AST, name: str) -> bool:
    """Whether a text is made of the thing with a name, by ``str`` or in an f-string."""
    made = node.args[0] if isinstance(node, ast.Call) and _name(node) == "str" and node.args else None
    value = node.value if isinstance(node, ast.FormattedValue) else made
    return isinstance(value, ast.Name) and value.id == name


_WORD = re.compile(r"[A-Za-z]{3}")
_ERRORS = {name for name, found in vars(errors).items() if isinstance(found, type) and issubclass(found, Exception)}


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _names(template: ast.expr) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(ast.literal_eval(template)) if name is not None}


def _constants(text: ast.JoinedStr) -> Iterator[str]:
    return (str(part.value) for part in text.values if isinstance(part, ast.Constant))


def _name(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else ""
