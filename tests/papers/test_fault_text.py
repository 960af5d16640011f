"""Faults as text: the shares that are shown, and what is summed up."""

from __future__ import annotations

import pytest

from upkeep.papers.fault_text import faults_text
from upkeep.units.instants import Zone
from upkeep.views.faults import FaultList, Pareto, Share
from upkeep.wording.sentences import ENGLISH


@pytest.mark.parametrize(("items", "others"), [(8, []), (9, ["1  all others"]), (11, ["6  all others"])])
def test_eight_shares_are_shown_and_the_others_summed_up(items: int, others: list[str]) -> None:
    """The most frequent first, as they come; those of which it is not known stand last."""
    shares = tuple(Share(f"M-{number:02}", items - number, None) for number in range(items))
    page = faults_text(FaultList((), 0, (Pareto("item", shares, 2),), 0, None), Zone("UTC"), ENGLISH)
    rows = [row.strip() for row in page.splitlines() if row.startswith("  ")]
    assert rows == [*(f"{share.faults}  {share.name}" for share in shares[:8]), *others, "2  not known"]
