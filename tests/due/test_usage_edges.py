"""Lines by strokes: open at 80 %, due at 100 %, overdue one past it, stopped at 110 % - on the stroke, not near it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.plants import INSPECT, book_of, item, line_at, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.plant.definition import Definition

MORNING = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
LINE = "DS-031/inspect"


def worked(tmp_path: Path, strokes: int, *tasks: Definition, more: tuple[Definition, ...] = ()) -> Book:
    """A book in which the die set has done so many strokes by 14:00."""
    count = f"2026-03-02 14:00 count P-07 {10_000 + strokes} by ana"
    return book_of(tmp_path, MORNING + count, tasks=tasks or (INSPECT,), more=more)


@pytest.mark.parametrize(
    ("strokes", "expected"),
    [
        (3_999, "later"),
        (4_000, "open"),
        (4_999, "open"),
        (5_000, "due"),
        (5_001, "overdue"),
        (5_499, "overdue"),
        (5_500, "stop"),
    ],
)
def test_each_edge_is_reached_on_its_very_stroke(tmp_path: Path, strokes: int, expected: str) -> None:
    """Every 5,000 strokes: planned from 4,000, due at 5,000, overdue at 5,001, stopped at 5,500."""
    assert state(worked(tmp_path, strokes), LINE, "2026-03-02 14:00") == expected


@pytest.mark.parametrize(("strokes", "expected"), [(800, "later"), (801, "open"), (1_101, "due"), (1_102, "stop")])
def test_an_edge_between_two_strokes_lies_on_the_later_one(tmp_path: Path, strokes: int, expected: str) -> None:
    """80 % of 1,001 is 800.8 and 110 % is 1,101.1: nothing opens early, nothing stops early."""
    odd = task("inspect", "die set", strokes=1001, late_strokes=100, stop_at=110)
    assert state(worked(tmp_path, strokes, odd), LINE, "2026-03-02 14:00") == expected


@pytest.mark.parametrize(("strokes", "expected"), [(5_000, "due"), (5_100, "due"), (5_101, "overdue")])
def test_strokes_of_grace_put_off_overdue_and_nothing_else(tmp_path: Path, strokes: int, expected: str) -> None:
    """With 100 strokes of grace it is due at 5,000 and overdue at 5,101."""
    graceful = task("inspect", "die set", strokes=5000, late_strokes=100, stop_at=110)
    assert state(worked(tmp_path, strokes, graceful), LINE, "2026-03-02 14:00") == expected


def test_a_stop_at_the_interval_itself_leaves_no_room(tmp_path: Path) -> None:
    """Quality-critical: 100 % is due and stopped at once."""
    strict = task("inspect", "die set", strokes=5000, stop_at=100)
    assert state(worked(tmp_path, 5_000, strict), LINE, "2026-03-02 14:00") == "stop"


def test_without_a_hard_stop_it_stays_overdue_for_ever(tmp_path: Path) -> None:
    """No stop is no stop, at three times the interval too."""
    lenient = task("inspect", "die set", strokes=5000)
    line = line_at(worked(tmp_path, 15_000, lenient), LINE, "2026-03-02 14:00")
    assert (line.state, line.stop_at, line.remaining) == ("overdue", None, -10_000)


def test_the_edge_is_the_moment_of_the_reading_that_showed_it(tmp_path: Path) -> None:
    """Nobody knows when between two readings it was; what is known is when it was seen."""
    book = worked(tmp_path, 4_200)
    assert line_at(book, LINE, "2026-03-02 15:00").opens_at == book.zone.read("2026-03-02 14:00")
    write(book, "2026-03-02 13:00 count P-07 14000 by ana recorded 2026-03-02 16:00")
    assert line_at(book, LINE, "2026-03-02 16:00").opens_at == book.zone.read("2026-03-02 13:00")


def test_a_sign_off_starts_the_count_anew_from_the_strokes_at_which_it_was_done(tmp_path: Path) -> None:
    """Done at 5,200: the next is due at 10,200 since new, whatever the overrun was."""
    book = worked(tmp_path, 5_200)
    write(book, f"2026-03-02 14:00 sign {LINE} for 5000 grade 0 by ana")
    line = line_at(book, LINE, "2026-03-02 14:00")
    assert (line.state, line.strokes, line.occurrence) == ("later", 0, "10200")
    write(book, "2026-03-02 22:00 count P-07 19200 by ana")
    assert state(book, LINE, "2026-03-02 22:00") == "open"


def test_strokes_come_only_while_the_item_hangs_on_a_press(tmp_path: Path) -> None:
    """Taken out at 4,000, it stays open, however long the press runs on."""
    book = worked(tmp_path, 4_000)
    write_each(
        book,
        """
        2026-03-02 14:00 unfit DS-031 at 14000 by ana
        2026-03-03 14:00 count P-07 40000 by ana
        """,
    )
    line = line_at(book, LINE, "2026-03-03 14:00")
    assert (line.state, line.strokes, line.place) == ("open", 4_000, "rack")


def test_the_interval_of_the_item_goes_before_that_of_its_family_and_of_the_task(tmp_path: Path) -> None:
    """``strokes_for`` names ids and families; what names neither has the task's own interval."""
    by_family = task("inspect", "die set", strokes=5000, strokes_for={"tab-63": 3000, "DS-031": 2000})
    family = (item("DS-031", family="tab-63"), item("DS-102", family="tab-63"))
    book = worked(tmp_path, 2_000, by_family, more=(*family, item("DS-555", kind="die set")))
    intervals = {
        key: line_at(book, f"{key}/inspect", "2026-03-02 14:00").due_strokes for key in ("DS-031", "DS-102", "DS-555")
    }
    assert intervals == {"DS-031": 2_000, "DS-102": 3_000, "DS-555": 5_000}
    assert state(book, LINE, "2026-03-02 14:00") == "due"


def test_a_changed_interval_moves_the_edges_at_once_and_rewrites_no_sign_off(tmp_path: Path) -> None:
    """New due is last done plus the new interval."""
    book = worked(tmp_path, 4_500)
    shorter = task("inspect", "die set", strokes=4000, stop_at=110, graded=True)
    moment = book.zone.read("2026-03-02 15:00")
    (change,) = book.load([shorter], moment, "lea", moment, "as it is now").changes
    assert (change.line, change.before, change.after) == (LINE, "open", "stop")


def test_where_strokes_were_guessed_the_stop_goes_by_the_most_it_can_be(tmp_path: Path) -> None:
    """Forecast with the best, stop with the high: M-12 may have done all 5,600 strokes of the day, or none."""
    book = book_of(
        tmp_path,
        MORNING
        + """
        2026-03-02 10:00 unfit M-12 by ana
        2026-03-02 14:00 count P-07 15600 by ana
        """,
        tasks=(INSPECT,),
    )
    line = line_at(book, LINE, "2026-03-02 14:00")
    assert (line.strokes, line.strokes_high, line.estimated) == (2_800, 5_600, True)
    assert line.state == "stop"


def test_grade_two_halves_the_next_interval_and_grade_one_does_not(tmp_path: Path) -> None:
    """Visible wear: look again after 2,500 of 5,000."""
    book = worked(tmp_path, 5_000)
    write_each(
        book,
        f"""
        2026-03-02 14:00 sign {LINE} for 5000 grade 2 by ana
        2026-03-02 22:00 count P-07 17000 by ana
        """,
    )
    line = line_at(book, LINE, "2026-03-02 22:00")
    assert (line.state, line.due_strokes, line.strokes) == ("open", 2_500, 2_000)
    assert "2,000 of 2,500 strokes since it was last done, 500 left (interval halved after grade 2)" in why_of(
        book, line
    )
    write(book, f"2026-03-02 22:00 sign {LINE} for {line.occurrence} grade 1 by ana")
    assert line_at(book, LINE, "2026-03-02 22:00").due_strokes == 5_000


def test_work_done_before_the_window_opens_is_an_extra_and_moves_nothing(tmp_path: Path) -> None:
    """Else it would be forever early: at 3,999 of 4,000 strokes the occurrence is refused, the extra is taken."""
    book = worked(tmp_path, 3_999)
    with pytest.raises(Refused, match="its window opens at 4,000 strokes; it has done 3,999"):
        write(book, f"2026-03-02 14:10 sign {LINE} for 5000 grade 0 by ana")
    write(book, f"2026-03-02 14:10 sign {LINE} for extra grade 0 by ana")
    line = line_at(book, LINE, "2026-03-02 14:10")
    assert (line.strokes, line.last_done_at, line.occurrence) == (3_999, None, "5000")


def test_a_press_counts_its_own_strokes(tmp_path: Path) -> None:
    """Its lines need no fitting; strokes before the first reading are in nobody's book."""
    service = task("service", "press", strokes=5000, stop_at=110)
    book = worked(tmp_path, 5_000, service)
    assert state(book, "P-07/service", "2026-03-02 14:00") == "due"
    assert line_at(book, "P-03/service", "2026-03-02 14:00").strokes == 0


def test_the_state_holds_until_the_next_entry_and_not_a_second_longer(tmp_path: Path) -> None:
    """Before the reading it was later, from that second on it is open."""
    book = worked(tmp_path, 4_000)
    seen = book.zone.read("2026-03-02 14:00")
    assert book.line(LINE, seen - timedelta(seconds=1)).state == "later"
    assert book.line(LINE, seen).state == "open"


def test_stopped_by_strokes_and_overdue_by_days_is_overdue_where_the_last_counts(tmp_path: Path) -> None:
    """A stop at the interval itself passes for overdue, although not one stroke is over it."""
    both = task("inspect", "die set", strokes=5000, stop_at=100, every="1 day", on_day_off="keep", combine="last")
    book = worked(tmp_path, 5_000, both)
    assert state(book, LINE, "2026-03-02 14:00") == "due"
    assert state(book, LINE, "2026-03-03 00:00") == "overdue"


@pytest.mark.parametrize(("strokes", "words"), [(4_999, "1 left"), (5_000, "0 left"), (5_001, "1 over")])
def test_what_is_left_of_an_interval_is_told_until_it_is_used_up_and_then_what_is_over(
    tmp_path: Path, strokes: int, words: str
) -> None:
    """Never fewer than none left."""
    book = worked(tmp_path, strokes)
    assert f"of 5,000 strokes since it came into the book, {words};" in why_of(
        book, line_at(book, LINE, "2026-03-02 14:00")
    )
