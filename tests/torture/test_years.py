"""The demo plant, played again: a few weeks of it, and with ``--long`` ten years, which takes a quarter of an hour."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from demo_plant.build import build

END = datetime(2026, 5, 20, 8, 30, tzinfo=UTC)
DAYS, DAYS_LONG = 21, 3_650
ENTRIES_A_DAY = 20_000 / 365
"""At the least."""


@pytest.mark.torture
def test_a_book_of_years_is_what_its_entries_say(tmp_path: Path, long: bool) -> None:
    """Every projection equals the replay, and the chain is whole."""
    days = DAYS_LONG if long else DAYS
    with build(tmp_path / "years.db", end=END, days=days) as book:
        report = book.prove()
    assert report.differences == ()
    assert report.entries > ENTRIES_A_DAY * days
