"""Charts and capability asked for as a person does, against the NIST/SEMATECH e-Handbook of Statistical Methods
(doi:10.18434/M32189): 6.3.2.2 "Individuals Control Charts" and 6.1.6 "What is Process Capability?".
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import timedelta
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item
from upkeep.entries.checking import Check

FLOW_RATES = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)


def asked(tmp_path: Path, capsys: pytest.CaptureFixture[str], readings: Sequence[Sequence[float]], *words: str) -> Any:
    """What a command answers about checks with these readings of a point with limits 8 and 20 (wide for the rates)."""
    point = {"id": "height", "title": "H", "unit": "mm", "lower": 8, "upper": 20, "readings": len(readings[0])}
    crimp = define("crimp", "C-1", title="C", family="f", points=[point])
    start = at("2026-03-02 06:00")
    with book_of(tmp_path, more=[crimp, item("DS-031", family="f")]) as book:
        checks = [
            Check(
                at=start + timedelta(hours=place), by="ana", item="DS-031", occasion="sample", crimp="C-1",
                points=(("height", tuple(values)),),
            )
            for place, values in enumerate(readings)
        ]  # fmt: skip
        book.write(checks, checks[-1].at)
    said = Terminal(tmp_path / "plant.book", capsys).types("2026-03-20 12:00", *words, "--json")
    assert said.code == 0
    return json.loads(said.out)


def test_the_individuals_chart_of_the_handbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """6.3.2.2: ten flow rates, mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041, none beyond."""
    found = asked(tmp_path, capsys, [[rate] for rate in FLOW_RATES], "chart", "DS-031", "height")
    values, ranges = found["control"]["drawn"]
    assert found["control"]["kind"] == "single"
    assert values["centre"] == pytest.approx(50.81)
    assert ranges["centre"] == pytest.approx(1.8778, abs=5e-5)
    assert [values["low"], values["high"]] == pytest.approx([45.8159, 55.8041], abs=5e-5)
    assert values["broken"] == []


def test_the_capability_of_the_handbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """6.1.6: limits 8 and 20, mean 16, standard deviation 2: Cpk 0.6667."""
    step = sqrt(99 / 100) * 2
    found = asked(tmp_path, capsys, [[16 + step, 16 - step] * 10] * 5, "capability", "DS-031", "height")
    assert found["found"]["n"] == 100
    assert found["found"]["cpk"] == pytest.approx(0.6667, abs=5e-5)
