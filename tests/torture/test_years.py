"""Ten years of the demo plant, played again.  Takes a quarter of an hour; set STROKEBOOK_YEARS to run it."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

import pytest

from demo_plant.build import build

YEARS = os.environ.get("STROKEBOOK_YEARS", "")
END = datetime(2026, 5, 20, 8, 30, tzinfo=UTC)


@pytest.mark.torture
@pytest.mark.skipif(not YEARS.isdigit(), reason="asked for by STROKEBOOK_YEARS=10")
def test_a_book_of_years_is_what_its_entries_say(tmp_path: Path) -> None:
    """Every projection equals the replay, and the chain is whole."""
    with build(tmp_path / "years.db", end=END, days=365 * int(YEARS)) as book:
        report = book.prove()
    assert report.differences == ()
    assert report.entries > 20_000 * int(YEARS)
