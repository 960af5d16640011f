"""Export and its way back, for demo plants of several seeds: the same entries, links, board and text."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from demo_plant.build import build
from upkeep.book import BoardQuery, Book
from upkeep.cli.evidence.standalone import verify
from upkeep.sources.exported import exported_lines

END = datetime(2026, 3, 6, 8, tzinfo=UTC)
FEW, MANY = 1, 12
"""How many plants are built; each takes some seconds."""


def test_an_exported_plant_comes_back_as_it_was(tmp_path_factory: pytest.TempPathFactory, long: bool) -> None:
    """Whatever the seed and the days, the book that is made again answers as the first did."""

    @settings(max_examples=MANY if long else FEW, deadline=None, suppress_health_check=list(HealthCheck))
    @given(seed=st.integers(0, 10_000), days=st.integers(1, 30 if long else 1))
    def comes_back(seed: int, days: int) -> None:
        folder = tmp_path_factory.mktemp("round")
        with build(folder / "first", end=END, days=days, seed=seed) as first:
            text = folder / "export.txt"
            lines = list(first.export())
            text.write_text("".join(f"{line}\n" for line in [f"# {first.facts.name}", *lines]))
            with Book.bring_back(folder / "second", exported_lines(text)) as second:
                assert list(second.export()) == lines
                assert list(second.rows_of_entries()) == list(first.rows_of_entries())
                assert second.seal(END) == first.seal(END)
                at = END + timedelta(hours=1)
                assert second.board(at, BoardQuery()).rows == first.board(at, BoardQuery()).rows
                assert second.prove().clean
                chain = folder / "chain.jsonl"  # for the program that auditors read
                chain.write_text("".join(f"{line}\n" for line in second.chain_lines()), encoding="utf-8")
                assert first.seal(END).text.startswith(verify.chain_end(str(chain)))

    comes_back()
