"""A micrometer is found to read 8 um low: which of its past results turn.

Worked example, invented figures: 400 results, 396 passed, and 20 of these exceed the upper limit by the true value.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, task, write
from upkeep.book import Book
from upkeep.entries.checking import Check
from upkeep.views.checks import GaugeDoubt

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
CRIMP = define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT])
SLUG = task(
    "slug", "die set", every="7 days", gauge_class="crimp micrometer",
    points=[{"id": "slug-height", "title": "Slug", "unit": "mm", "upper": 1.3}],
)  # fmt: skip
CALIBRATE = task("calibrate", "gauge", every="1 year", stop_days=0)
BLOCK = task("block", "gauge", rule="FREQ=WEEKLY;BYDAY=MO", start="2024-01-01")
OFF = -0.008
FITTED = """
    2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea
    2026-03-02 05:50 sign G-1/block for 2026-03-02 by ben
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
READINGS = [1.2] * 376 + [1.243] * 20 + [1.251, 1.26, 1.149, 1.14]
"""376 good by far, 20 good by less than 8 um, two too high and two too low: one of these is good by its true value."""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A week of checks with one gauge, and an inspection."""
    with book_of(
        tmp_path, FITTED, tasks=[SLUG, CALIBRATE, BLOCK], more=[CRIMP, item("DS-031", family="tab")]
    ) as opened:
        start = at("2026-03-02 06:15")
        checks = [
            Check(
                at=start + timedelta(minutes=10 * place), by=("ana", "ben")[place % 2], item="DS-031", crimp="T-05",
                occasion="as-left", gauge="G-1", points=(("crimp-height", (value,)),), order=f"A-{place}",
            )
            for place, value in enumerate(READINGS)
        ]  # fmt: skip
        opened.write(checks, checks[-1].at)
        yield opened


def doubt(book: Book) -> GaugeDoubt:
    (found,) = book.checks(at("2026-03-06 12:00")).gauge("G-1").doubts
    return found


def test_the_results_that_turn_are_listed_in_both_directions(book: Book) -> None:
    """20 of the 396 that passed fail by the true value, one of the four that failed passes."""
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    found = doubt(book)
    assert (found.results, found.passed, found.unjudged) == (400, 396, 0)
    failing = [flip for flip in found.flips if flip.good_before]
    passing = [flip for flip in found.flips if flip.good_now]
    assert (len(failing), len(passing)) == (20, 1)
    assert {flip.values for flip in failing} == {(1.243,)}
    assert passing[0].values == (1.149,)
    first = failing[0]
    assert (first.item, first.press, first.order, first.by) == ("DS-031", "P-07", "A-376", "Ana")
    assert found.people == ("Ana", "Ben")


def test_a_result_that_turns_bad_is_suspect_since_the_last_good_check_that_counts(book: Book) -> None:
    """No other gauge measured it: it goes back to the beginning, past all good checks by the bad gauge."""
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    assert {flip.since for flip in doubt(book).flips if flip.good_before} == {book.known.since["DS-031"]}


def test_a_block_check_on_the_way_limits_the_doubt(book: Book) -> None:
    """What was measured before the last good one stands."""
    moment = at("2026-03-02 06:15") + timedelta(minutes=10 * 386 + 5)
    write(book, f"{moment:%Y-%m-%d %H:%M} sign G-1/block for extra by ben")
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    found = doubt(book)
    assert (found.since, found.results) == (moment, 13)
    assert len([flip for flip in found.flips if flip.good_before]) == 9


def test_a_true_value_on_the_limit_is_within_it(book: Book) -> None:
    """1.142 read 8 um low is 1.15: arithmetic in the last digit does not judge."""
    write(book, "2026-03-05 06:00 check DS-031 as-left of T-05 with G-1 crimp-height=1.142 by ana")
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    assert [flip.good_now for flip in doubt(book).flips if flip.values == (1.142,)] == [True]


def test_work_signed_with_its_readings_is_in_doubt(book: Book) -> None:
    """The inspection passed at 1.295; by its true value it is out."""
    write(book, "2026-03-05 06:00 sign DS-031/slug for extra with G-1 slug-height=1.295 by tom")
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    found = doubt(book)
    assert [(task.line, task.by) for task in found.tasks] == [("DS-031/slug", "Tom")]
    assert [flip.point for flip in found.flips if flip.by == "Tom"] == ["slug-height"]


def test_calibrated_again_it_measures_without_doubt(book: Book) -> None:
    """And its report says until when the doubt reaches."""
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    write(book, "2026-03-06 11:00 sign G-1/calibrate for extra by lea")
    write(book, '2026-03-06 11:00 release G-1 by lea because "adjusted, calibrated"')
    write(book, "2026-03-06 11:30 check DS-031 sample of T-05 with G-1 crimp-height=1.2 by ana")
    report = book.checks(at("2026-03-06 12:00")).gauge("G-1")
    assert (report.valid, report.doubts[0].until, report.doubts[0].results) == (True, at("2026-03-06 11:00"), 400)
    assert [(user.name, user.entries) for user in report.users] == [("Ana", 1)]
    assert book.prove().clean


def test_the_commands_say_it(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """From the finding to the list, as text and as JSON, no line wider than a terminal."""
    terminal = Terminal(book.path, capsys)
    told = terminal.types("2026-03-06 10:00", "out-of-tolerance", "G-1", "-0.008", "--by", "lea")
    assert (told.code, told.err) == (0, "")
    assert "since its last good check" in told.out
    said = terminal.types("2026-03-06 12:00", "gauge", "G-1")
    assert "FOUND TO READ 0.008 mm TOO LOW" in said.out
    assert "reads wrong by -0.008 mm: not to be used" in " ".join(said.out.split())
    why = terminal.types("2026-03-06 12:00", "why", "G-1/block")
    assert "reads wrong by -0.008 mm" in " ".join(why.out.split())
    assert "400 results, 396 passed" in " ".join(said.out.split())
    assert "20 of those passed would fail, 1 of those failed would pass" in " ".join(said.out.split())
    assert max(map(len, said.out.splitlines())) <= 80
    report = json.loads(terminal.types("2026-03-06 12:00", "gauge", "G-1", "--json").out)
    assert (report["valid"], len(report["doubts"][0]["flips"])) == (False, 21)
    assert "P-07 is a press" in terminal.types("2026-03-06 12:00", "gauge", "P-07").err


def test_before_the_finding_nobody_doubted_it(book: Book) -> None:
    """The book as it stood then, and as the plant knew it then."""
    write(book, f"2026-03-06 10:00 out-of-tolerance G-1 off {OFF} by lea")
    before = book.checks(at("2026-03-06 09:59")).gauge("G-1")
    assert (before.valid, before.doubts) == (True, ())
    then = book.checks(at("2026-03-06 12:00"), known_at=at("2026-03-06 09:59")).gauge("G-1")
    assert then.doubts == ()
    early = book.checks(at("2026-03-02 07:00"))
    assert [row.entry for row in early.set_up("DS-031").checks][-1] < book.history("G-1")[0].entry
    assert len(early.set_up("DS-031").checks) == 5
