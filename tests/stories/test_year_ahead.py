"""The year ahead by commands: a new plant whose weeks begin level, another interval before it is saved, a year under
two policies, and past weeks planned again.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import book_of, item, line_at, person, task, write_each
from upkeep.book import Book
from upkeep.plant.definition import Definition

MAY = ["maintenance technician"]
LUBE = task("lube", "press", every="7 days", late_days=2, minutes=20, spread=True, on_day_off="after", by=MAY)
SWAP = task("swap", "conductor punch", life=True, minutes=25, by=MAY)


def look(**more: object) -> Definition:
    """Monthly work."""
    return task(
        "look", "press", every="1 month", late_days=5, minutes=60, spread=True, on_day_off="after", by=MAY, **more
    )


TASKS = [LUBE, look(), SWAP]
PEOPLE = [person("tom", "Tom", *MAY, shifts=["early"])]
PRESSES = [item(f"P-2{number}", kind="press", place="hall") for number in range(6)]
Capture = pytest.CaptureFixture[str]
BEGIN, NOW = "2026-03-02 05:00", "2026-04-06 09:00:00"


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Nine presses, five weeks, some of the work signed."""
    with book_of(tmp_path_factory.mktemp("year"), tasks=TASKS, more=[*PEOPLE, *PRESSES]) as book:
        for day in ("09", "16", "23", "30"):
            for press in ("P-20", "P-21", "P-22"):
                line = line_at(book, f"{press}/lube", f"2026-03-{day} 09:00")
                write_each(book, f"2026-03-{day} 09:00 sign {press}/lube for {line.occurrence} by tom")
        return book.path


@pytest.fixture
def terminal(plant: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    """The shell on that book; nothing here writes."""
    return Terminal(plant, capsys)


def test_work_of_a_new_plant_does_not_all_begin_on_one_day(plant: Path) -> None:
    """Weekly work of nine presses lies on all five working days, and never on a day off."""
    with Book.open(plant) as book:
        presses = ["P-03", "P-07", "P-08", *(f"P-2{n}" for n in range(6))]
        days = {line_at(book, f"{press}/lube", BEGIN).due_day for press in presses}
    assert len(days) == 5
    assert all(day is not None and day.weekday() < 5 for day in days)


def test_first_days_go_into_the_book_as_they_are_given(plant: Path, tmp_path: Path, capsys: Capture) -> None:
    """Those of 'starts --entries', entered, are the days by which the work is done first."""
    with book_of(tmp_path, tasks=TASKS, more=[*PEOPLE, *PRESSES]) as book:
        terminal = Terminal(book.path, capsys)
        found = json.loads(terminal.types("2026-03-02 06:00:00", "starts", "--json", "--by", "lea").out)
        assert max(found["hours"]) <= max(found["hours_now"]) + 1e-9
        days = {start["line"]: start["day"] for start in found["starts"]}
        lines = tmp_path / "first.txt"
        lines.write_text(terminal.types("2026-03-02 06:00:00", "starts", "--entries", "--by", "lea").out)
        said = terminal.types("2026-03-02 06:01:00", "enter", lines)
        assert said.code == 0, said.err
        for line in ("P-20/look", "P-25/look", "P-25/lube"):
            assert str(line_at(book, line, "2026-03-02 07:00").due_day) == days[line]
        assert json.loads(terminal.types("2026-03-02 07:00:00", "starts", "--json", "--by", "lea").out)["starts"] == []


def test_another_interval_is_tried_before_it_is_saved(terminal: Terminal) -> None:
    """Twice as long, half the hours; what nobody knows of the risk is said, and nothing is written."""
    found = json.loads(terminal.types(NOW, "what-if", "lube", "--every", "14 days", "--json").out)
    assert found["hours_then"] == pytest.approx(found["hours_now"] / 2)
    assert found["lines"] == 9
    page = terminal.types(NOW, "what-if", "lube", "--every", "14 days").out
    assert "every 7 days now, every 14 days then" in page
    assert "Nobody knows" in page
    assert "Give the interval by days" in terminal.types(NOW, "what-if", "lube").err
    assert "No line of lube goes by strokes" in terminal.types(NOW, "what-if", "lube", "--strokes", "1000").err
    assert "lub" in terminal.types(NOW, "what-if", "lub", "--every", "14 days").err


def test_a_year_is_played_under_two_policies(terminal: Terminal) -> None:
    """With less than the hours it takes, work is late; each figure with its spread, and what it assumes."""
    words = ("year-ahead", "--hours", "maintenance technician=-29")
    found = json.loads(terminal.types(NOW, *words, "--json").out)
    assert found["runs"] == 200
    assert found["changed"]["late"]["mean"] > found["now"]["late"]["mean"]
    assert found["differences"][0]["mean"] == pytest.approx(
        found["changed"]["late"]["mean"] - found["now"]["late"]["mean"]
    )
    assert found["changes"] == [{"what": "hours", "name": "maintenance technician", "value": "-29"}]
    assert found["now"]["money"] is None
    page = " ".join(terminal.types(NOW, *words).out.split())
    assert "Played 200 times with seed 1, 260 working days from 2026-04-06" in page
    assert "Money is not told: plant.toml gives no costs." in page
    assert "of maintenance technician" in page
    assert "is no change; write name=value" in terminal.types(NOW, "year-ahead", "--hours", "8").err
    assert "There is no role 'baker'" in terminal.types(NOW, "year-ahead", "--hours", "baker=8").err


def test_past_weeks_are_planned_again(terminal: Terminal) -> None:
    """Three jobs a week were signed; the plan had room for all that stood on the list."""
    found = json.loads(terminal.types(NOW, "back-test", "--weeks", "3", "--json").out)
    assert [week["week"] for week in found["weeks"]] == ["2026-W12", "2026-W13", "2026-W14"]
    assert all(week["done"] == 3 for week in found["weeks"])
    assert all(week["planned"] == week["jobs"] for week in found["weeks"])
    assert "2026-W13" in terminal.types(NOW, "back-test", "--weeks", "3").out
