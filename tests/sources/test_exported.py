"""The text of an export is read in the zone its first line names."""

from __future__ import annotations

from pathlib import Path

from tests.plants import at
from upkeep.sources.exported import exported_lines

HEADING = "# Entries of Test plant; moments are local time in Europe/Berlin"
COUNT = "2026-03-02 06:00 count P-07 1204300 by ana"


def test_moments_stand_in_the_zone_of_the_first_line_whatever_entries_follow(tmp_path: Path) -> None:
    """A part of an export, without its first entry: 06:00 in Berlin is 05:00 UTC in March."""
    text = tmp_path / "part.txt"
    text.write_text(f"{HEADING}\n{COUNT}\n", encoding="utf-8")
    (read,) = exported_lines(text)
    assert (read.entry.at, read.link) == (at("2026-03-02 05:00"), None)
