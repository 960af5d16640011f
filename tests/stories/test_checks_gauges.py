"""Gauges over time: calibration, block checks, and what happens to readings when one is found to read wrong.

Common practice, no source: a calibration a year, a block check a working day.
"""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, task, write
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.book import Book
from upkeep.keeping.context import Context

CALIBRATE = task("calibrate", "gauge", every="1 year", stop_days=0)
BLOCK = task("block", "gauge", rule="FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR", start="2024-01-01")
STATED = "2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea"
MONDAY = "2026-03-02 06:05 sign G-1/block for 2026-03-02 by ben"


def counts(book: Book, moment: str) -> str:
    """Why G-1 does not count at a moment; empty: it does."""
    state = GaugeStates(Context(book._file, book.known, at(moment))).at("G-1", at(moment))
    return "" if state.valid else str(state.why)


def test_a_gauge_counts_from_its_calibration_until_it_is_overdue(tmp_path: Path) -> None:
    """Never calibrated, it does not; a statement about the time before the book counts until a year from it."""
    with book_of(tmp_path, tasks=[CALIBRATE]) as book:
        assert "never done" in counts(book, "2026-03-02 07:00")
    (tmp_path / "stated").mkdir()
    with book_of(tmp_path / "stated", STATED, tasks=[CALIBRATE]) as book:
        assert counts(book, "2026-08-31 23:59") == ""
        assert counts(book, "2026-09-02 00:00") == "Task calibrate: overdue since 2026-09-02"


def test_a_block_check_counts_until_the_next_one_is_overdue(tmp_path: Path) -> None:
    """Signed on Monday, good until the end of Tuesday; the past is judged by what was signed by then."""
    later = "2026-03-05 06:05 sign G-1/block for 2026-03-03 by ben"
    with book_of(tmp_path, f"{STATED}\n{MONDAY}\n{later}", tasks=[CALIBRATE, BLOCK]) as book:
        assert counts(book, "2026-03-03 23:59") == ""
        assert counts(book, "2026-03-04 00:00") == "Task block: overdue since 2026-03-04"
        assert counts(book, "2026-03-05 06:05") == ""


def test_what_a_bad_gauge_measured_since_its_last_good_check_does_not_count(tmp_path: Path) -> None:
    """Until it is calibrated again; a block check on the way does not heal it."""
    text = f"""
        {STATED}
        {MONDAY}
        2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea
        2026-03-03 06:05 sign G-1/block for 2026-03-03 by ben
        2026-03-03 12:00 sign G-1/calibrate for extra by lea
    """
    with book_of(tmp_path, text, tasks=[CALIBRATE, BLOCK]) as book:
        assert counts(book, "2026-03-02 06:05") == ""
        wrong = counts(book, "2026-03-02 06:06")
        assert wrong.startswith("found on 2026-03-02 to read -0.008 off")
        assert wrong.endswith("its last good check was on 2026-03-02")
        assert counts(book, "2026-03-03 11:59") == wrong
        assert counts(book, "2026-03-03 12:00") == ""


def test_a_check_out_of_its_limits_vouches_for_nothing(tmp_path: Path) -> None:
    """The doubt goes back past it."""
    block = define(
        "task", "block", title="Block", applies_to="gauge", by=["operator"], every="1 day", on_day_off="keep",
        points=[{"id": "block", "title": "Block", "unit": "mm", "lower": 4.998, "upper": 5.002}],
    )  # fmt: skip
    text = f"""
        {STATED}
        2026-03-02 06:05 sign G-1/block for 2026-03-02 block=5.0 by ben
        2026-03-03 06:05 sign G-1/block for 2026-03-03 block=5.008 by ben
        2026-03-03 06:10 out-of-tolerance G-1 off 0.008 by lea
    """
    with book_of(tmp_path, text, tasks=[CALIBRATE, block]) as book:
        assert counts(book, "2026-03-02 07:00").endswith("its last good check was on 2026-03-02")
        assert counts(book, "2026-03-02 06:00") == ""


def test_without_calibrations_in_the_plant_the_release_of_a_bad_gauge_ends_its_doubt(tmp_path: Path) -> None:
    """There is no other word that it is good again."""
    text = """
        2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea
        2026-03-03 12:00 release G-1 by lea because "adjusted and compared"
    """
    with book_of(tmp_path, text) as book:
        assert counts(book, "2026-03-03 11:59")
        assert counts(book, "2026-03-03 12:00") == ""


def test_the_form_says_of_each_gauge_whether_it_counts(tmp_path: Path) -> None:
    """Valid and for how long, overdue, found wrong or held - before anybody measures."""
    text = f"{STATED}\n2026-03-01 00:00 stated G-2/calibrate done 2025-03-05 by lea"
    measuring = task("height", "die set", strokes=5000, gauge_class="crimp micrometer")
    second = item("G-2", kind="gauge", gauge_class="crimp micrometer")
    with book_of(tmp_path, text, tasks=[CALIBRATE, measuring], more=[second]) as book:
        first, other = book.sign_form("DS-031/height", at("2026-03-04 07:00")).gauges[0].choices
        assert (first.id, first.valid, str(first.note)) == ("G-1", True, "valid, next due in 181 days")
        assert (other.valid, str(other.note)) == (True, "valid, next due in 1 day")
        write(book, '2026-03-04 08:00 hold G-1 by lea because "dropped"')
        first, other = book.sign_form("DS-031/height", at("2026-03-06 07:00")).gauges[0].choices
        assert (first.valid, str(first.note)) == (False, "held: dropped")
        assert (other.valid, str(other.note)) == (False, "not valid: Task calibrate: overdue since 2026-03-06")


def test_the_register_begins_with_the_gauges_that_do_not_count(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Then those that have to be seen to soonest."""
    more = [item(key, kind="gauge", gauge_class="crimp micrometer", place="rack") for key in ("G-2", "G-3")]
    text = f"{STATED}\n2026-03-01 00:00 stated G-2/calibrate done 2025-03-05 by lea"
    with book_of(tmp_path, text, tasks=[CALIBRATE], more=more) as book:
        gauges = book.checks(at("2026-03-04 07:00")).gauges()
        assert [(one.id, one.valid) for one in gauges] == [("G-3", False), ("G-2", True), ("G-1", True)]
        said = Terminal(book.path, capsys).types("2026-03-04 07:00", "gauge").out
        assert "G-2     Item G-2 (crimp micrometer), rack: valid, next due in 1 day" in said


def test_a_gauge_in_json_says_of_which_class_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In the register and on its own page; one without a class says so with an empty text."""
    with book_of(tmp_path, more=[item("G-9", kind="gauge")]) as book:
        ask = partial(Terminal(book.path, capsys).types, "2026-03-04 07:00", "gauge")
        assert json.loads(ask("G-1", "--json").out)["gauge_class"] == "crimp micrometer"
        assert json.loads(ask("G-9", "--json").out)["gauge_class"] == ""
        register = {one["id"]: one["gauge_class"] for one in json.loads(ask("--json").out)}
        assert register == {"G-1": "crimp micrometer", "G-9": ""}


def test_where_no_task_checks_gauges_the_page_of_a_gauge_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody takes silence for a calibration."""
    said = "No task in this plant checks gauges."
    with book_of(tmp_path) as book:
        assert said in Terminal(book.path, capsys).types("2026-03-04 07:00", "gauge", "G-1").out
    (tmp_path / "asked").mkdir()
    with book_of(tmp_path / "asked", tasks=[CALIBRATE]) as book:
        assert said not in Terminal(book.path, capsys).types("2026-03-04 07:00", "gauge", "G-1").out


def test_a_cancelled_block_check_vouches_for_nothing_and_a_deferred_calibration_does(tmp_path: Path) -> None:
    """Cancelled is not done; who defers a calibration answers for what is measured meanwhile."""
    text = f"""
        {STATED}
        {MONDAY}
        2026-03-03 06:05 cancel G-1/block for 2026-03-03 by lea because "not used today"
    """
    with book_of(tmp_path, text, tasks=[CALIBRATE, BLOCK]) as book:
        assert counts(book, "2026-03-04 07:00") == "Task block: overdue since 2026-03-04"
    (tmp_path / "deferred").mkdir()
    due = "2026-03-02 06:00 defer G-1/calibrate for 2026-09-01 to 2026-09-20"
    deferred = f'{STATED}\n{due} risk "drift" by lea because "laboratory closed"'
    with book_of(tmp_path / "deferred", deferred, tasks=[CALIBRATE]) as book:
        assert counts(book, "2026-09-20 07:00") == ""
        assert counts(book, "2026-09-21 07:00") == "Task calibrate: overdue since 2026-09-21"
