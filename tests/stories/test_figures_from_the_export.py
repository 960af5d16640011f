"""The figures a plant is led by, worked out once more from nothing but the lines of the export.  Figures invented.

1.2 million strokes with three faults is the example of the trade brief: 400 k, at 90 % between 155 k and 1.47 M.
"""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import Terminal
from tests.plants import INSPECT, at, book_of, lines_of, number_of, task, write

GREASE = task("grease", "module", every="7 days", late_days=1, minutes=30)
BOOK = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-04 06:00 count P-07 190000 by ana
    2026-03-04 07:00 fault M-12 "Terminal not fed" listed not-fed stopped by ben
    2026-03-04 08:00 repair #{first} taken by tom
    2026-03-04 09:30 repair #{first} fixed cause debris text "cleaned" by tom
    2026-03-06 22:00 count P-07 430000 by ana
    2026-03-07 10:00 fault P-07 "noise" by ben
    2026-03-09 06:00 count P-07 430000 by ana
    2026-03-09 08:00 repair #{second} taken by tom
    2026-03-09 09:00 repair #{second} fixed cause loose text "tightened" by tom
    2026-03-09 09:05 repair #{second} verified what hand-cycle,first-piece,guard by ana
    2026-03-09 09:10 repair #{second} closed by lea
    2026-03-12 06:00 count P-07 700000 by ana
    2026-03-14 05:00 count P-07 880000 by ana
    2026-03-16 06:30 sign M-12/grease for 2026-03-08 by tom
    2026-03-17 06:00 count P-07 1100000 by ana
    2026-03-17 09:00 fault M-12 "loose" by ben
    2026-03-18 06:00 sign DS-031/inspect for 5000 grade 2 by ana
    2026-03-18 13:00 count P-07 1210000 by ana
"""
SEEN = "2026-03-18 14:00"


@pytest.fixture(scope="module")
def answered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("figures")
    with book_of(folder, "", tasks=[GREASE, INSPECT]) as book:
        numbers: dict[str, int] = {}
        for line in lines_of(BOOK):
            written = number_of(write(book, line.format(**numbers)))
            if " fault " in line:
                numbers["second" if numbers else "first"] = written
    return folder / "plant.book"


def moment(line: str) -> datetime:
    return at(line[:16])


def worked(start: datetime, end: datetime) -> float:
    """Working minutes: this plant works from Monday 06:00 to Saturday 06:00."""
    step, minutes = timedelta(minutes=10), 0.0
    while start < end:
        minutes += 10 * (not ((start.weekday() == 5 and start.hour >= 6) or start.weekday() == 6
                              or (start.weekday() == 0 and start.hour < 6)))  # fmt: skip
        start += step
    return minutes


def test_every_figure_follows_from_the_lines_of_the_export(answered: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shell = Terminal(answered, capsys)
    told = json.loads(shell.types(SEEN, "figures", "--json").out)
    lines = [line for line in shell.types(SEEN, "export").out.splitlines() if " define " not in line]

    counts = [int(match[1]) for line in lines if (match := re.search(r" count P-07 (\d+)", line))]
    faults = [line for line in lines if re.search(r" fault ", line)]
    assert (counts[-1] - counts[0], len(faults)) == (1_200_000, 3)
    between = told["between_faults"]
    assert (between["strokes"], between["faults"], between["mean"]) == (1_200_000, 3, 400_000)
    assert (round(between["low"], -3), round(between["high"], -4)) == (155_000, 1_470_000)
    assert told["between_stops"]["faults"] == sum(" stopped" in line for line in faults) == 1

    (closed,) = [moment(line) for line in lines if re.search(r" repair #\d+ closed", line)]
    assert told["restored"]["number"] == 1
    assert told["restored"]["worked"] == worked(moment(faults[1]), closed)
    assert told["restored"]["clock"] == (closed - moment(faults[1])).total_seconds() / 60

    taken = [moment(line) for line in lines if re.search(r" repair #\d+ taken", line)]
    fixed = [moment(line) for line in lines if re.search(r" repair #\d+ fixed", line)]
    assert told["minutes"]["repairs"] == sum(worked(*both) for both in zip(taken, fixed, strict=True))
    greased = [line for line in lines if " sign M-12/grease" in line]
    assert told["minutes"]["planned"] == 30 * len(greased)
    graded = [int(match[1]) for line in lines if (match := re.search(r" grade (\d)", line))]
    assert (told["findings"]["numerator"], told["findings"]["denominator"]) == (
        sum(grade >= 2 for grade in graded),
        len(graded),
    )
    readings = [moment(line) for line in lines if " count P-07 " in line]
    strokes = [later - earlier for earlier, later in pairwise(counts)]
    rose = [both for both, done in zip(pairwise(readings), strokes, strict=True) if done]
    in_time = [pair for pair in rose if worked(*pair) <= 9 * 60]
    quality = told["data_quality"]["in_time"]
    assert (quality["numerator"], quality["denominator"]) == (len(in_time), len(rose))


def test_the_paper_says_what_the_text_says_and_cuts_nothing(
    answered: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shell = Terminal(answered, capsys)
    text = shell.types(SEEN, "figures", "--item", "M-12").out
    assert "400,000 strokes" not in text  # those of the press are two for M-12 alone
    assert "faults: 2 in 1,200,000 strokes" in " ".join(text.split())
    assert shell.types(SEEN, "figures", "--item", "M-12", "--pdf", tmp_path / "a.pdf").code == 0
    pages = PdfReader(BytesIO((tmp_path / "a.pdf").read_bytes())).pages
    drawn = " ".join("".join(page.extract_text() for page in pages).split())
    lacking = [word for word in text.split() if word not in drawn]
    assert lacking == []
    assert shell.types(SEEN, "figures", "--item", "M-99").code == 1
