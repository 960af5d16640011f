"""A set whose last check was good by a gauge that is found to read wrong.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, number_of, task, write, write_each
from tests.stories.test_suspect_product import LATER, MORE, MORNING
from upkeep.book import Book
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import ENGLISH, text

CALIBRATE = task("calibrate", "gauge", every="1 year", stop_days=0)
STATED = "2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea\n"
NEAR = "2026-03-02 09:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.245,1.245 by ben"
OUT = "2026-03-02 12:00 out-of-tolerance G-1 off -0.008 by lea"


def opened(tmp_path: Path, *told: str) -> Book:
    """DS-031 checked good at 06:15 and, near its upper limit of 1.25, at 09:00; then what is ``told``."""
    told_before = [MORNING, "2026-03-02 09:00 count P-07 1205000 by ana", NEAR, *told]
    return book_of(tmp_path, STATED + "\n".join(told_before), tasks=[CALIBRATE], more=MORE)


def held(book: Book) -> dict[str, str]:
    """What is held beside the gauge, and why."""
    return {hold.item: hold_text(hold.reason, ENGLISH) for hold in book.holds() if hold.item != "G-1"}


def test_a_set_whose_last_check_turns_bad_is_held_and_its_people_are_named(tmp_path: Path) -> None:
    """1.245 mm read 8 um low is 1.253 mm, above 1.25: who ran and checked it hears of it."""
    with opened(tmp_path) as book:
        written = write(book, OUT)
        assert held(book) == {"DS-031": "failed check (gauge found out): crimp-height"}
        (stop,) = [text(note, ENGLISH) for note in written.notes if text(note, ENGLISH).startswith("STOP")]
        assert "DS-031 is held: its last check of crimp-height was good by the gauge" in stop
        assert "Tell Ana, Ben." in stop
        assert book.prove().clean
        write(book, '2026-03-02 13:00 release DS-031 by lea because "measured with another gauge, sorted"')
        assert held(book) == {}
        assert book.prove().clean


def test_struck_the_finding_holds_nothing_any_more(tmp_path: Path) -> None:
    """The wrong block had been read."""
    with opened(tmp_path) as book:
        number = number_of(write(book, OUT))
        write(book, f'2026-03-02 13:00 strike #{number} by lea because "wrong block"')
        assert held(book) == {}
        assert book.prove().clean


@pytest.mark.parametrize(
    "told",
    [
        "2026-03-02 10:00 check DS-031 sample of CR-1 with G-2 crimp-height=1.2,1.2 by ben",
        "2026-03-02 10:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.2,1.2 by ben",
        "2026-03-02 10:00 sign G-1/calibrate for extra by lea",
    ],
)
def test_a_set_measured_good_since_or_before_the_doubt_goes_on(tmp_path: Path, told: str) -> None:
    """By another gauge, well within the limits by this one, or the gauge was found good in between."""
    with opened(tmp_path, told) as book:
        write(book, OUT)
        assert held(book) == {}
        assert book.prove().clean


def test_measured_good_by_another_gauge_it_is_let_go(tmp_path: Path) -> None:
    """The check that turned is not its last any more."""
    with opened(tmp_path) as book:
        write(book, OUT)
        write(book, "2026-03-02 13:00 check DS-031 sample of CR-1 with G-2 crimp-height=1.2,1.2 by ben")
        assert held(book) == {}
        assert book.prove().clean


PUT_BACK = """
    2026-03-02 12:00 count P-07 1206000 by ana
    2026-03-02 12:30 unfit M-12 at 1206000 by ana
    2026-03-02 13:00 fit M-12 in P-07 at 1206000 by ben because "the order is urgent"
    2026-03-02 14:00 count P-07 1207000 by ana
"""


@pytest.mark.parametrize(
    ("ended", "why"),
    [
        ("2026-03-02 14:00 check DS-031 sample of CR-1 with G-2 crimp-height=1.2,1.2 by ben", "measured good again"),
        ('2026-03-02 14:00 release DS-031 by lea because "dial set back, measured"', "released"),
        ("2026-03-02 14:00 count P-07 1207000 by ana", "still held"),
    ],
)
def test_what_it_made_while_held_by_its_gauge_is_on_a_list_of_its_own(tmp_path: Path, ended: str, why: str) -> None:
    """Put back at 13:00 it does 1,000 strokes until it is measured good, released, or seen to be held still; the window
    of the check that turned ended when it was taken off."""
    with opened(tmp_path) as book:
        write(book, OUT)
        alarms = [
            text(note, ENGLISH)
            for written in write_each(book, PUT_BACK)
            for note in written.notes
            if text(note, ENGLISH).startswith("ALARM")
        ]
        write(book, ended)
        found = {one.point: one for one in book.suspects(LATER).lists("DS-031")}
        assert found["crimp-height"].strokes == 1206000 - 1204300
        assert (found[""].strokes, text(found[""].end_why, ENGLISH)) == (1000, why)
        assert book.suspects(LATER).hold_list(found[""].number) == found[""]
        assert any("suspect --item DS-031" in alarm for alarm in alarms)


def test_a_set_that_stays_on_its_press_has_its_strokes_on_one_list(tmp_path: Path) -> None:
    """The window of the check that turned takes in what was made since its gauge was found out."""
    with opened(tmp_path) as book:
        write_each(book, f"{OUT}\n2026-03-02 14:00 count P-07 1207000 by ana")
        (found,) = book.suspects(LATER).lists("DS-031")
        assert (found.point, found.strokes) == ("crimp-height", 1207000 - 1204300)


def test_a_set_that_made_nothing_has_no_list_to_be_named(tmp_path: Path) -> None:
    """Its check turns bad, and it has not run since the book began."""
    first, last = "1204300", "check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.2 reel R-1 by ana"
    idle = MORNING.replace(last, "check DS-031 first-off on P-07 of CR-1 with G-1 crimp-height=1.245,1.245 by ana")
    with book_of(tmp_path, STATED + idle, tasks=[CALIBRATE], more=MORE) as book:
        write(book, f"2026-03-02 06:30 unfit M-12 at {first} by ana")
        written = write(book, OUT)
        (stop,) = [text(note, ENGLISH) for note in written.notes if text(note, ENGLISH).startswith("STOP")]
        assert "strokebook suspect" not in stop
        assert book.suspects(LATER).lists("DS-031") == ()
