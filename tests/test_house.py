"""The house around the code: what loads when, what may import what, how long a file may be."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import pytest

from demo_plant.environment import ROOT

PACKAGES = ("upkeep", "tui", "demo_plant")
LONGEST_FILE = 400
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
