"""A held set that was put back and runs: what it makes then is suspect, whatever held it.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, number_of, task, write, write_each
from tests.stories.test_suspect_product import HEIGHT, MORE, MORNING
from upkeep.book import Book
from upkeep.views.suspect import HoldList
from upkeep.wording.sentences import ENGLISH, text

LATER = at("2026-03-02 16:00")
BAD = "check DS-031 sample of CR-1 with G-1 crimp-height=1.3,1.3 by lea"
RUN = """
    2026-03-02 09:00 count P-07 1205000 by ana
    2026-03-02 09:00 {found}
    2026-03-02 09:30 unfit M-12 at 1205000 by ana
    2026-03-02 10:00 fit M-12 in P-07 at 1205000 by ben because "the order is urgent"
"""
INSPECT = task("inspect", "die set", strokes=500, graded=True, points=[HEIGHT], by=["quality technician"])
HELD_BY = {
    "a failed check": (BAD, 700),
    "grade 4 with a point out of limits": (
        "sign DS-031/inspect for extra grade 4 with G-1 crimp-height=1.3,1.3 by lea", 700,
    ),
    "grade 4 though all points are good": (
        "sign DS-031/inspect for extra grade 4 with G-1 crimp-height=1.2,1.2 by lea", 700,
    ),
    "a hold by hand": ('hold DS-031 by lea because "chip seen"', 0),
}  # fmt: skip


def lists(book: Book) -> dict[str, HoldList]:
    """The open hold lists of the set by what failed; "" for a run while held."""
    return {found.point: found for found in book.suspects(LATER).lists("DS-031")}


@pytest.mark.parametrize("cause", HELD_BY)
def test_what_a_held_set_makes_after_it_was_put_back_is_on_a_list(tmp_path: Path, cause: str) -> None:
    """1,000 strokes after the refitting are suspect, and the alarm names a list that is there."""
    found, before = HELD_BY[cause]
    with book_of(tmp_path, MORNING + RUN.format(found=found), tasks=[INSPECT], more=MORE) as book:
        written = write(book, "2026-03-02 12:00 count P-07 1206000 by ana")
        (alarm,) = [text(note, ENGLISH) for note in written.notes if text(note, ENGLISH).startswith("ALARM")]
        assert "suspect --item DS-031" in alarm
        opened = lists(book)
        assert [(line.press, line.strokes) for line in opened[""].lines] == [("P-07", 1000)]
        others = [found.strokes for point, found in opened.items() if point]
        assert others == ([before] if before else [])


def test_the_list_of_a_run_after_a_refitting_has_the_number_of_the_refitting_and_is_judged(tmp_path: Path) -> None:
    """It is found, printed and judged by that number; released, it is closed and does not grow."""
    with book_of(tmp_path, MORNING + RUN.format(found=BAD), more=MORE) as book:
        write(book, "2026-03-02 12:00 count P-07 1206000 by ana")
        found = lists(book)[""]
        assert found.found_by == "Ben"
        assert book.suspects(LATER).hold_list(found.number) == found
        write_each(
            book,
            f"""
            2026-03-02 12:00 release DS-031 by lea because "dial set back, measured"
            2026-03-02 13:00 count P-07 1207000 by ana
            2026-03-02 13:30 disposition #{found.number} P-07 since 2026-03-02T10:00:00Z sorted by lea because "bins 4"
            """,
        )
        (judged,) = book.suspects(LATER).hold_list(found.number).lines
        assert (judged.open, judged.strokes) == (False, 1000)
        assert "" not in lists(book)


def test_a_value_found_bad_while_setting_lists_the_run_until_it_was_measured_good(tmp_path: Path) -> None:
    """Put back unadjusted, 1,000 strokes later adjusted and measured good: nobody has to release it, the 1,000 stay."""
    bad = BAD.replace("sample", "as-found")
    with book_of(tmp_path, MORNING + RUN.format(found=bad), more=MORE) as book:
        write_each(
            book,
            """
            2026-03-02 12:00 count P-07 1206000 by ana
            2026-03-02 12:00 check DS-031 as-left of CR-1 with G-1 crimp-height=1.2,1.2 by lea
            2026-03-02 13:00 count P-07 1207000 by ana
            """,
        )
        run = lists(book)[""]
        assert (run.strokes, text(run.end_why, ENGLISH)) == (1000, "measured good again")


def test_a_second_failed_check_takes_its_window_off_the_run_before_it(tmp_path: Path) -> None:
    """Every stroke while held stands on a list once."""
    with book_of(tmp_path, MORNING + RUN.format(found=BAD), more=MORE) as book:
        write_each(
            book,
            f"""
            2026-03-02 12:00 count P-07 1206000 by ana
            2026-03-02 12:00 {BAD}
            2026-03-02 13:00 count P-07 1207000 by ana
            """,
        )
        opened = lists(book)
        assert list(opened) == ["crimp-height"]
        assert opened["crimp-height"].strokes == 1207000 - 1204300


def test_the_list_that_the_alarm_of_a_held_press_names_is_there(tmp_path: Path) -> None:
    """1,600 strokes since the press was held by hand."""
    told = '2026-03-02 07:00 count P-07 1204400 by ana\n2026-03-02 07:00 hold P-07 by lea because "guard loose"'
    with book_of(tmp_path, MORNING + told, more=MORE) as book:
        written = write(book, "2026-03-02 12:00 count P-07 1206000 by ana")
        (alarm,) = [text(note, ENGLISH) for note in written.notes if text(note, ENGLISH).startswith("ALARM")]
        assert "suspect --item P-07" in alarm
        assert [found.strokes for found in book.suspects(LATER).lists("P-07")] == [1600]


def test_the_number_of_a_refitting_that_nothing_was_run_after_opens_no_list(tmp_path: Path) -> None:
    """It waits for the strokes."""
    with book_of(tmp_path, MORNING + RUN.format(found=BAD).rpartition("2026-03-02 10:00")[0], more=MORE) as book:
        number = number_of(write(book, '2026-03-02 10:00 fit M-12 in P-07 at 1205000 by ben because "urgent"'))
        assert number not in [found.number for found in book.suspects(LATER).lists("DS-031", closed=True)]


def test_a_set_held_again_by_hand_keeps_the_list_of_its_first_hold(tmp_path: Path) -> None:
    """200 strokes while it was held for a chip, 300 since it was held once more."""
    told = """
        2026-03-02 08:00 count P-07 1204800 by ana
        2026-03-02 08:00 hold DS-031 by lea because "chip seen"
        2026-03-02 09:00 count P-07 1205000 by ana
        2026-03-02 09:00 hold DS-031 by lea because "another chip"
        2026-03-02 10:00 count P-07 1205300 by ana
        2026-03-02 10:00 release DS-031 by lea because "punch changed"
    """
    with book_of(tmp_path, MORNING + told, more=MORE) as book:
        first, second = book.suspects(LATER).lists("DS-031")
        assert [(first.strokes, first.end), (second.strokes, second.end)] == [
            (200, at("2026-03-02 09:00")), (300, at("2026-03-02 10:00")),
        ]  # fmt: skip


def test_what_a_set_of_unknown_life_made_stays_on_its_list_after_the_inspection(tmp_path: Path) -> None:
    """The inspection ends the hold, not the question what was made before it."""
    told = """
        2026-03-02 08:00 count P-07 1204800 by ana
        2026-03-02 08:00 unknown-life DS-031 by lea because "taken over used"
        2026-03-02 09:00 count P-07 1205000 by ana
        2026-03-02 09:00 sign DS-031/inspect for extra grade 1 with G-1 crimp-height=1.2,1.2 by lea
        2026-03-02 10:00 count P-07 1205300 by ana
    """
    with book_of(tmp_path, MORNING + told, tasks=[INSPECT], more=MORE) as book:
        (found,) = book.suspects(LATER).lists("DS-031")
        assert (found.strokes, text(found.end_why, ENGLISH)) == (200, "inspected")


def test_a_failed_check_of_a_set_that_made_nothing_names_no_list(tmp_path: Path) -> None:
    """Checked again in the toolroom before its first stroke."""
    with book_of(tmp_path, MORNING, more=MORE) as book:
        unfit = "2026-03-02 06:20 unfit M-12 at 1204300 by ana"
        failed = "2026-03-02 06:30 check DS-031 sample on P-07 of CR-1 with G-1 crimp-height=1.3,1.3 by lea"
        notes = [text(note, ENGLISH) for written in write_each(book, f"{unfit}\n{failed}") for note in written.notes]
        assert "DS-031 is held until it is released." in notes
        assert not [note for note in notes if "strokebook suspect" in note]
        assert book.suspects(LATER).lists("DS-031") == ()


def test_a_failed_check_names_the_list_that_it_opens(tmp_path: Path) -> None:
    """700 strokes since the good one."""
    told = RUN.format(found=BAD).partition("2026-03-02 09:30")[0]
    with book_of(tmp_path, MORNING, more=MORE) as book:
        notes = [text(note, ENGLISH) for written in write_each(book, told) for note in written.notes]
        assert notes[-1] == "What it made is suspect: strokebook suspect --item DS-031."
        assert [found.strokes for found in book.suspects(LATER).lists("DS-031")] == [700]
