"""What pages print of numbers: limits as the drawing gives them, values to their step, estimates as far as known."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, task, write
from tests.stories import test_checks_charts as charts
from tests.stories import test_slug_jumps as jumps
from tests.stories.test_wear_trends import FITTED, day, inspected
from upkeep.papers.board_text import forecast_text
from upkeep.planning.forecast import Forecast
from upkeep.said import said
from upkeep.units.figures import chance_text
from upkeep.wording.sentences import ENGLISH

SLUG = {"id": "slug-height", "title": "Slug height", "unit": "mm", "upper": 1.285, "part": "conductor punch"}
INSPECT = task("inspect", "die set", strokes=40_000, graded=True, points=[SLUG, {**SLUG, "id": "twist"}])
VALUES = (1.2007, 1.202, 1.208, 1.216, 1.2184, 1.2198, 1.2275, 1.2351)


@pytest.fixture
def terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    """A book with eight inspections of a slug and readings of a crimp height."""
    text = FITTED + "".join(inspected(number, value) for number, value in enumerate(VALUES))
    more = [*charts.MORE, item("CP-a", life=400_000)]
    with book_of(tmp_path, text, tasks=[INSPECT], more=more) as book:
        charts.told(book, charts.checks_of(charts.STEADY * 3, start="2026-03-15 06:00"))
    return Terminal(tmp_path / "plant.book", capsys)


def page(terminal: Terminal, *words: str) -> str:
    """What a command prints, its lines joined."""
    return " ".join(terminal.types("2026-03-20 12:00", *words).out.split())


def test_a_limit_of_three_decimals_is_printed_with_three_decimals(terminal: Terminal) -> None:
    """1.285 mm once came out as 1.28 mm: a wrong limit on paper."""
    life = page(terminal, "life", "CP-a")
    assert "The line reaches 1.285 mm at" in life
    assert "last 1.2351 mm at 280,000 strokes" in life


def test_an_estimate_of_strokes_shows_no_more_figures_than_it_is_worth(terminal: Terminal) -> None:
    """Its interval is some tens of thousands of strokes wide: thousands are the last that is told."""
    life = page(terminal, "life", "CP-a")
    found = re.search(r"reaches 1\.285 mm at ([\d,]+) strokes, its 95 % prediction limit at ([\d,]+)", life)
    assert found is not None
    assert all(number.endswith(",000") for number in found.groups())


def test_a_capability_over_days_is_told_by_its_standard_name_with_units(terminal: Terminal) -> None:
    """ISO 22514-1: performance (Ppk) goes by all readings over time, capability (Cpk) by those within subgroups."""
    told = page(terminal, "capability", "DS-031", "crimp-height")
    assert "limits 1.15 to 1.25 mm" in told
    assert "mean 1.200 mm, standard deviation" in told
    assert "Ppk " in told
    assert "Cpk" not in told.replace("which Cpk", "")
    assert "ISO 22514" in told


def test_a_chart_tells_its_limits_to_the_step_of_the_readings_and_with_their_unit(terminal: Terminal) -> None:
    """Readings to 0.001 mm give limits to 0.001 mm."""
    told = page(terminal, "chart", "DS-031", "crimp-height")
    assert re.search(r"centre 1\.\d{3} mm, limits 1\.\d{3} mm to 1\.\d{3} mm", told)


def test_a_chance_is_told_in_the_table_as_in_the_sentence_above_it() -> None:
    """Less than 1 % in the one was 0% in the other."""
    chances = (0.0, 0.001, 0.05, 0.5, 0.9999)
    forecast = Forecast(said("..."), date(2026, 3, 27), 2.9, date(2026, 3, 24), chances)
    table = forecast_text("DS-031/inspect", forecast, ENGLISH).partition("this many working days")[2]
    assert [line.split(maxsplit=2)[2].strip() for line in table.strip().splitlines()] == [
        str(chance_text(chance)) for chance in chances
    ]


def test_what_arithmetic_found_is_not_told_as_seen_by_eye(tmp_path: Path) -> None:
    """A jump of the slug height is worked out from the checks before."""
    text = "\n".join(["2026-03-02 06:00 fit CP-a in DS-031 by ana",
                      *(jumps.slug(2 + n, h) for n, h in enumerate(jumps.SLOW))])  # fmt: skip
    with book_of(tmp_path, text, more=jumps.MORE) as book:
        notes = [str(note) for note in write(book, jumps.slug(9, 1.220)).notes]
    assert "slug-jump found bad by arithmetic, from the checks before it" in notes
    assert not any("by eye" in note for note in notes)


def test_readings_of_a_hold_list_and_of_a_set_up_have_their_unit(tmp_path: Path) -> None:
    """1.3 (allowed 1.15 to 1.25) of what?"""
    height = {**charts.HEIGHT, "readings": 1, "upper": 1.255}
    crimp = define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[height])
    fitted = FITTED + f"{day(0)} 07:00 check DS-031 first-off of T-05 with G-1 crimp-height=1.2 by ana\n"
    with book_of(tmp_path, fitted, more=[crimp, item("DS-031", family="tab")]) as book:
        write(book, f"{day(0)} 08:50 count P-07 900 by ana")
        write(book, f"{day(0)} 09:00 check DS-031 sample of T-05 with G-1 crimp-height=1.3 by ana")
        (found,) = (listing.found for listing in book.suspects(at(f"{day(0)} 10:00")).lists())
        assert "1.3 mm (allowed 1.15 to 1.255)" in str(found)
