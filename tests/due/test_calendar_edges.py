"""Lines by the calendar: floating from the day done, fixed to their planned days, and both with strokes beside them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, line_at, number_of, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

GREASE = task("grease", "press", every="7 days", early_days=1, late_days=2, stop_days=4)
GUARD = task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO", early_days=2, late_days=1)
FLOATING, FIXED = "P-07/grease", "P-07/guard"


# Floating: 7 days from Sunday 2026-03-01, the day the presses came into the book


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        ("2026-03-06 23:59:59", "later"),
        ("2026-03-07 00:00", "open"),
        ("2026-03-07 23:59:59", "open"),
        ("2026-03-08 00:00", "due"),
        ("2026-03-10 23:59:59", "due"),
        ("2026-03-11 00:00", "overdue"),
        ("2026-03-12 23:59:59", "overdue"),
        ("2026-03-13 00:00", "stop"),
    ],
)
def test_the_edges_of_a_day_are_its_midnights_on_the_wall(tmp_path: Path, moment: str, expected: str) -> None:
    """Due on the 8th: open a day early, in time for the whole 8th and two days of grace, stopped after the fourth."""
    book = book_of(tmp_path, tasks=[GREASE], zone="Europe/Berlin")
    assert state(book, FLOATING, moment) == expected


def test_a_stop_within_the_grace_waits_for_the_grace(tmp_path: Path) -> None:
    """Nothing stops before it is overdue."""
    odd = task("grease", "press", every="7 days", late_days=3, stop_days=1)
    line = line_at(book_of(tmp_path, tasks=[odd]), FLOATING, "2026-03-02 00:00")
    assert line.overdue_at == line.stop_at
    assert line.stop_at is not None
    assert line.stop_at.isoformat() == "2026-03-12T00:00:00+00:00"


def test_floating_counts_from_the_day_done_late_or_early(tmp_path: Path) -> None:
    """Done three days late, the next is seven days after that day: it drifts, and says from which day."""
    book = book_of(tmp_path, tasks=[GREASE])
    write(book, f"2026-03-11 10:00 sign {FLOATING} for 2026-03-08 by tom")
    line = line_at(book, FLOATING, "2026-03-11 10:00")
    assert str(line.due_day) == line.occurrence == "2026-03-18"
    assert "7 days from the day it was done, Wed 2026-03-11" in why_of(book, line)
    write(book, "2026-03-17 10:00 sign P-07/grease for 2026-03-18 by tom")
    assert line_at(book, FLOATING, "2026-03-17 10:00").occurrence == "2026-03-24"


def test_the_day_done_is_the_day_on_the_plants_wall(tmp_path: Path) -> None:
    """23:30 in New York is the next day in UTC; on the wall it is still the 8th."""
    book = book_of(tmp_path, tasks=[GREASE], zone="America/New_York")
    write(book, f"2026-03-08 23:30 sign {FLOATING} for 2026-03-08 by tom")
    assert line_at(book, FLOATING, "2026-03-08 23:30").occurrence == "2026-03-15"


def test_a_month_after_the_last_of_january_is_the_last_of_february(tmp_path: Path) -> None:
    """And the next is counted from the day done again."""
    monthly = task("grease", "press", every="1 month")
    book = book_of(tmp_path, tasks=[monthly], begins="2026-01-31 08:00")
    assert line_at(book, FLOATING, "2026-02-01 00:00").occurrence == "2026-02-28"


def test_a_sign_off_told_late_counts_from_the_day_it_was_done(tmp_path: Path) -> None:
    """The paper came back on the 12th; the work was done on the 8th."""
    book = book_of(tmp_path, tasks=[GREASE])
    write(book, f"2026-03-08 10:00 sign {FLOATING} for 2026-03-08 by lea recorded 2026-03-12 16:00")
    assert line_at(book, FLOATING, "2026-03-12 16:00").occurrence == "2026-03-15"


# Fixed: every Monday; the book begins on Sunday 2026-03-01


@pytest.mark.parametrize(
    ("moment", "expected"),
    [
        ("2026-03-01 00:00", "open"),
        ("2026-03-02 00:00", "due"),
        ("2026-03-03 23:59:59", "due"),
        ("2026-03-04 00:00", "overdue"),
    ],
)
def test_a_fixed_day_has_the_same_edges(tmp_path: Path, moment: str, expected: str) -> None:
    """Open two days early, a day of grace, no stop."""
    assert state(book_of(tmp_path, tasks=[GUARD]), FIXED, moment) == expected


def test_fixed_never_drifts_however_late_it_was_done(tmp_path: Path) -> None:
    """Done on Thursday, the next is the next Monday all the same."""
    book = book_of(tmp_path, tasks=[GUARD])
    write(book, f"2026-03-05 10:00 sign {FIXED} for 2026-03-02 by tom")
    assert line_at(book, FIXED, "2026-03-05 10:00").occurrence == "2026-03-09"


def test_fixed_done_early_in_its_window_answers_its_day_and_drifts_no_earlier(tmp_path: Path) -> None:
    """Saturday for Monday: the Monday is answered, the next is the Monday after."""
    book = book_of(tmp_path, tasks=[GUARD])
    write(book, f"2026-03-02 10:00 sign {FIXED} for 2026-03-02 by tom")
    write(book, f"2026-03-07 10:00 sign {FIXED} for 2026-03-09 by tom")
    assert line_at(book, FIXED, "2026-03-07 10:00").occurrence == "2026-03-16"


def test_one_sign_off_answers_all_days_missed_before_it(tmp_path: Path) -> None:
    """Four Mondays missed are one open occurrence and three missed; the sign-off on Tuesday leaves none behind."""
    book = book_of(tmp_path, tasks=[GUARD])
    line = line_at(book, FIXED, "2026-03-24 10:00")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-02", "overdue", 3)
    assert book.board(book.zone.read("2026-03-24 10:00")).total == 3  # one line a press
    write(book, f"2026-03-24 10:00 sign {FIXED} for 2026-03-02 by tom")
    line = line_at(book, FIXED, "2026-03-24 10:00")
    assert (line.occurrence, line.missed) == ("2026-03-30", 0)


def test_the_first_day_of_a_rule_is_the_day_the_item_came_in_on_the_wall(tmp_path: Path) -> None:
    """Every second day from Monday 08:00 in Auckland, where it is still Sunday in UTC."""
    every_other = task("guard", "press", rule="FREQ=DAILY;INTERVAL=2")
    book = book_of(tmp_path, tasks=[every_other], zone="Pacific/Auckland", begins="2026-03-02 08:00")
    assert line_at(book, FIXED, "2026-03-02 08:00").occurrence == "2026-03-02"
    write(book, f"2026-03-02 09:00 sign {FIXED} for 2026-03-02 by tom")
    assert line_at(book, FIXED, "2026-03-02 09:00").occurrence == "2026-03-04"


def test_a_rule_counts_from_its_own_start_where_it_has_one(tmp_path: Path) -> None:
    """Every second Monday from 2026-03-09, not from the day the item came in."""
    rule = task("guard", "press", rule="FREQ=WEEKLY;INTERVAL=2;BYDAY=MO", start="2026-03-09")
    book = book_of(tmp_path, tasks=[rule])
    assert line_at(book, FIXED, "2026-03-02 00:00").occurrence == "2026-03-09"
    write(book, f"2026-03-09 09:00 sign {FIXED} for 2026-03-09 by tom")
    assert line_at(book, FIXED, "2026-03-09 09:00").occurrence == "2026-03-23"


def test_an_hour_in_a_rule_asks_for_no_second_sign_off_that_day(tmp_path: Path) -> None:
    """Done at 09:00, the day's 18:00 is answered too: a fixed task is planned by days."""
    rule = task("guard", "press", rule="FREQ=DAILY;BYHOUR=18")
    book = book_of(tmp_path, tasks=[rule])
    write(book, f"2026-03-02 09:00 sign {FIXED} for 2026-03-01 by tom")
    assert line_at(book, FIXED, "2026-03-02 09:00").occurrence == "2026-03-03"


def test_a_rule_that_has_ended_asks_for_nothing_more(tmp_path: Path) -> None:
    """Two Mondays and no third."""
    book = book_of(tmp_path, tasks=[task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO;COUNT=2")])
    write(book, f"2026-03-02 09:00 sign {FIXED} for 2026-03-02 by tom")
    write(book, f"2026-03-09 09:00 sign {FIXED} for 2026-03-09 by tom")
    assert state(book, FIXED, "2026-03-09 09:00") == "not required"


def test_a_planned_day_is_signed_once_and_a_day_that_is_not_planned_never(tmp_path: Path) -> None:
    """The refusal names what is open."""
    book = book_of(tmp_path, tasks=[GUARD])
    with pytest.raises(Refused, match=r"not planned for 2026-03-03; the open occurrence is 2026-03-02\."):
        write(book, f"2026-03-03 09:00 sign {FIXED} for 2026-03-03 by tom")
    write(book, f"2026-03-03 09:00 sign {FIXED} for 2026-03-02 by tom")
    with pytest.raises(Refused, match="for 2026-03-02 is already signed: Tom, 2026-03-03 09:00"):
        write(book, f"2026-03-03 09:05 sign {FIXED} for 2026-03-02 by ana")


def test_a_sign_off_before_the_window_opens_is_refused_with_the_day_it_opens(tmp_path: Path) -> None:
    """Friday for Monday is too early by a day."""
    book = book_of(tmp_path, tasks=[GUARD])
    write(book, f"2026-03-02 10:00 sign {FIXED} for 2026-03-02 by tom")
    with pytest.raises(Refused, match="is not open yet: its window opens 2026-03-07 00:00"):
        write(book, f"2026-03-06 23:59 sign {FIXED} for 2026-03-09 by tom")


# Calendar and strokes together

PAIR = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
"""


def serviced(tmp_path: Path, combine: str, strokes: int, day: str) -> Book:
    """M-12 has done so many of its 5,000 strokes on a day; its 7 days end on the 8th."""
    both = task("service", "module", every="7 days", strokes=5000, combine=combine)
    return book_of(tmp_path, PAIR + f"{day} count P-07 {10_000 + strokes} by ana", tasks=[both])


@pytest.mark.parametrize(
    ("strokes", "day", "first", "last"),
    [
        (1_000, "2026-03-04 06:00", "later", "later"),
        (4_000, "2026-03-04 06:00", "open", "later"),
        (5_000, "2026-03-04 06:00", "due", "later"),
        (5_001, "2026-03-04 06:00", "overdue", "later"),
        (1_000, "2026-03-08 06:00", "due", "later"),
        (4_000, "2026-03-08 06:00", "due", "open"),
        (5_000, "2026-03-08 06:00", "due", "due"),
        (5_001, "2026-03-08 06:00", "overdue", "due"),
        (5_001, "2026-03-09 06:00", "overdue", "overdue"),
    ],
)
def test_whichever_comes_first_or_last_goes_edge_by_edge(
    tmp_path: Path, strokes: int, day: str, first: str, last: str
) -> None:
    """Each edge is the earlier, or the later, of the two triggers' edges."""
    folders = [tmp_path / combine for combine in ("first", "last")]
    for folder in folders:
        folder.mkdir()
    told = [state(serviced(folder, folder.name, strokes, day), "M-12/service", day) for folder in folders]
    assert told == [first, last]


def test_one_sign_off_starts_both_triggers_anew(tmp_path: Path) -> None:
    """Done on the 4th at 5,000 strokes: the 11th, or 5,000 strokes on."""
    book = serviced(tmp_path, "first", 5_000, "2026-03-04 06:00")
    write(book, "2026-03-04 06:00 sign M-12/service for 2026-03-08 by tom")
    line = line_at(book, "M-12/service", "2026-03-04 06:00")
    assert (line.occurrence, line.strokes, line.state) == ("2026-03-11", 0, "later")


# Storage and holds


def test_paused_in_storage_whatever_falls_due_and_as_before_when_it_comes_back(tmp_path: Path) -> None:
    """A line out of use says so; back in use it stands where the calendar has come to meanwhile."""
    book = book_of(tmp_path, tasks=[task("service", "module", every="7 days")])
    write(book, '2026-03-02 06:00 pause M-12 by lea because "spare, in the store"')
    line = line_at(book, "M-12/service", "2026-03-20 06:00")
    assert line.state == "paused"
    assert why_of(book, line).startswith("Paused: spare, in the store; due on Sun 2026-03-08")
    write(book, "2026-03-21 06:00 resume M-12 by lea")
    assert state(book, "M-12/service", "2026-03-21 06:00") == "overdue"


def test_held_goes_before_paused_and_before_every_edge(tmp_path: Path) -> None:
    """Who asks whether it may run must read that it may not."""
    book = book_of(tmp_path, tasks=[task("service", "module", every="7 days")])
    write_each(
        book,
        """
        2026-03-02 06:00 pause M-12 by lea
        2026-03-02 06:00 hold M-12 by ben because "ram does not run true"
        """,
    )
    line = line_at(book, "M-12/service", "2026-03-20 06:00")
    assert line.state == "held"
    assert why_of(book, line).startswith("Held until released: ram does not run true; ")
    write(book, '2026-03-20 07:00 release M-12 by lea because "new guide"')
    assert state(book, "M-12/service", "2026-03-20 07:00") == "paused"


def test_a_fault_that_stopped_the_item_holds_it_and_one_that_did_not_does_not(tmp_path: Path) -> None:
    """Taken out of production for it: held until somebody who may releases it."""
    book = book_of(tmp_path, tasks=[task("service", "module", every="7 days")])
    write(book, '2026-03-02 06:00 fault M-44 "feeds late" by ben')
    stopped = number_of(write(book, '2026-03-02 06:00 fault M-12 "feed broken" stopped by ben'))
    assert state(book, "M-44/service", "2026-03-02 06:00") == "later"
    line = line_at(book, "M-12/service", "2026-03-02 06:00")
    assert (line.state, why_of(book, line).split(";")[0]) == (
        "held",
        "Held until released: stopped for a fault: feed broken",
    )
    write(book, f'2026-03-02 06:30 strike #{stopped} by ben because "was M-44"')
    assert state(book, "M-12/service", "2026-03-02 06:30") == "later"


@pytest.mark.parametrize("rule", ["FREQ=MONTHLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=31"])
def test_a_rule_that_never_comes_makes_no_book_bad_in_which_it_stands(tmp_path: Path, rule: str) -> None:
    """Files are refused with it; a book that took it before keeps a line that nobody has to do."""
    book = book_of(tmp_path, tasks=[task("never", "press", rule=rule)])
    assert state(book, "P-07/never", "2026-03-20 07:00") == "not required"
    assert book.prove().clean
