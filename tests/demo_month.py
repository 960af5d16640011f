"""A month of the demo plant, built once for all tests of a run that read it."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

from demo_plant.build import build
from demo_plant.environment import alone

NOW = datetime(2026, 3, 6, 8, 0, tzinfo=UTC)
"""Friday morning in the demo plant, an hour after the early shift's first round."""
DAYS, SEED = 30, 7


def new_month(folder: Path) -> Path:
    """The book of a month, newly built into a folder."""
    path = folder / "demo.db"
    build(path, end=NOW, days=DAYS, seed=SEED).close()
    return path


def month_for_all(shared: Path) -> Path:
    """The same book, to be copied, in a folder that all workers of a run share: one builds it, the others wait."""
    folder, whole = shared / "demo-month", shared / "demo-month-is-whole"
    with alone(shared, lambda waiting: None):
        if not whole.exists():
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            new_month(folder)
            whole.touch()
    return folder / "demo.db"


def copied(book: Path, folder: Path) -> Path:
    """A copy of a closed book, with what lies beside it, in a folder that is not there yet."""
    shutil.copytree(book.parent, folder)
    return folder / book.name
