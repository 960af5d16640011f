"""Windows in percent of the interval, their cap in days, spread first intervals, and the hour of a shift."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.plants import book_of, line_at, state, strokes, task, why_of, write
from upkeep.book import BoardLine, Book

LINE = "P-07/oil"
LATER = "2026-03-02 00:00"


def oiled(tmp_path: Path, **content: object) -> BoardLine:
    """The line of a task that was never done; the press came into the book on Sunday 2026-03-01."""
    return line_at(book_of(tmp_path, tasks=[task("oil", "press", on_day_off="keep", **content)]), LINE, LATER)


def days_around(line: BoardLine) -> tuple[int, int]:
    """How many days before and after its due day a line is in time."""
    assert line.due_day is not None
    assert line.opens_at is not None
    assert line.overdue_at is not None
    last_day = line.overdue_at.date() - timedelta(days=1)
    return (line.due_day - line.opens_at.date()).days, (last_day - line.due_day).days


@pytest.mark.parametrize(("every", "days"), [("30 days", 3), ("91 days", 9), ("365 days", 36), ("9 days", 0)])
def test_ten_percent_of_an_interval_are_whole_days(tmp_path: Path, every: str, days: int) -> None:
    """Of 30, 91 and 365 days they are 3, 9 and 36, before and after; parts of a day do not count."""
    assert days_around(oiled(tmp_path, every=every, early_percent=10, late_percent=10)) == (days, days)


@pytest.mark.parametrize(("every", "days"), [("30 days", 3), ("91 days", 5), ("365 days", 5)])
def test_the_window_is_cut_off_at_its_cap(tmp_path: Path, every: str, days: int) -> None:
    """Ten percent and at most five days."""
    line = oiled(tmp_path, every=every, early_percent=10, late_percent=10, window_cap_days=5)
    assert days_around(line) == (days, days)


@pytest.mark.parametrize(("cap", "days"), [(9, (7, 3)), (1, (7, 2))])
def test_of_days_and_percent_the_wider_counts_and_the_cap_holds_for_the_percent_alone(
    tmp_path: Path, cap: int, days: tuple[int, int]
) -> None:
    """Seven days before are more than 10 % of 30; two after are less than that; days that are said are not cut off."""
    said = {"early_days": 7, "late_days": 2, "early_percent": 10, "late_percent": 10, "window_cap_days": cap}
    assert days_around(oiled(tmp_path, every="30 days", **said)) == days


def test_a_months_window_is_of_the_days_that_very_month_has(tmp_path: Path) -> None:
    """From 1 March to 1 April are 31 days, 30 % of which are 9."""
    assert days_around(oiled(tmp_path, every="1 month", early_percent=30)) == (9, 0)


def test_a_fixed_days_window_is_of_the_days_since_the_planned_day_before(tmp_path: Path) -> None:
    """From 1 February to 1 March are 28 days, 30 % of which are 8."""
    line = oiled(tmp_path, rule="FREQ=MONTHLY;BYMONTHDAY=1", start="2026-02-01", early_percent=30)
    assert (line.due_day, days_around(line)) == (date(2026, 3, 1), (8, 0))


def test_the_first_planned_day_has_no_day_before_it_and_no_window_by_percent(tmp_path: Path) -> None:
    """Nothing to take a percent of."""
    rule = {"rule": "FREQ=MONTHLY;BYMONTHDAY=1", "start": "2026-03-01"}
    line = oiled(tmp_path, **rule, early_percent=100, late_percent=100)
    assert (line.due_day, days_around(line)) == (date(2026, 3, 1), (0, 0))


@pytest.mark.parametrize(
    ("count", "expected"), [(900, "later"), (901, "open"), (1001, "due"), (1101, "due"), (1102, "overdue")]
)
def test_a_window_of_strokes_is_a_percent_of_the_strokes(tmp_path: Path, count: int, expected: str) -> None:
    """10 % of 1,001 strokes: open from 901 on, in grace for 100 whole strokes after it is due."""
    oil = task("oil", "press", strokes=1001, plan_from=95, early_percent=10, late_percent=10)
    text = f"2026-03-02 06:00 count P-07 0 by ana\n2026-03-02 14:00 count P-07 {count} by ana"
    assert state(book_of(tmp_path, text, tasks=[oil]), LINE, "2026-03-02 14:00") == expected


# Months


@pytest.mark.parametrize(
    ("done", "due"),
    [
        ("2026-03-31", "2026-04-30"),
        ("2026-04-30", "2026-05-30"),
        ("2026-08-31", "2026-09-30"),
        ("2026-12-31", "2027-01-31"),
        ("2027-01-31", "2027-02-28"),
        ("2028-01-31", "2028-02-29"),
    ],
)
def test_a_month_ends_where_the_next_one_has_no_such_day(tmp_path: Path, done: str, due: str) -> None:
    """From the 31st to the last day of a shorter month; counted from there it does not come back to the 31st."""
    book = book_of(tmp_path, tasks=[task("oil", "press", every="1 month", on_day_off="keep")])
    book.write_all_the_same(clock=True)  # the next leap day is more than a year off
    occurrence = line_at(book, LINE, LATER).occurrence
    write(book, f"{done} 10:00 sign {LINE} for {occurrence} by lea")
    assert line_at(book, LINE, f"{done} 10:00").occurrence == due


# Spread


def test_lines_made_together_come_due_one_after_another_over_their_first_interval(tmp_path: Path) -> None:
    """Three presses, every 30 days: after 10, 20 and 30; once done each counts 30 days from its own day."""
    spread = task("oil", "press", every="30 days", spread=True, on_day_off="keep")
    book = book_of(tmp_path, tasks=[spread])
    lines = [line_at(book, f"{press}/oil", LATER) for press in ("P-03", "P-07", "P-08")]
    assert [line.due_day for line in lines] == [date(2026, 3, 11), date(2026, 3, 21), date(2026, 3, 31)]
    write(book, "2026-03-21 10:00 sign P-07/oil for 2026-03-21 by tom")
    assert line_at(book, LINE, "2026-03-21 10:00").due_day == date(2026, 4, 20)


def test_without_spreading_they_all_come_due_on_one_day(tmp_path: Path) -> None:
    """Three presses, every 30 days: all on the thirtieth day."""
    book = book_of(tmp_path, tasks=[task("oil", "press", every="30 days", on_day_off="keep")])
    assert {line_at(book, f"{press}/oil", LATER).due_day for press in ("P-03", "P-07", "P-08")} == {date(2026, 3, 31)}


# Shifts


def run_in_the_morning(tmp_path: Path, text: str = "", **content: object) -> Book:
    """P-07 ran from 06:00 on Monday 2026-03-02; its task is due in each shift in which it is used."""
    begun = "2026-03-02 06:00 count P-07 0 by ana\n2026-03-02 07:00 count P-07 600 by ana\n"
    return book_of(tmp_path, begun + text, tasks=[task("oil", "press", each_shift=True, **content)])


@pytest.mark.parametrize(
    ("moment", "expected"),
    [("2026-03-02 06:00", "due"), ("2026-03-02 09:59:59", "due"), ("2026-03-02 10:00", "overdue")],
)
def test_by_hour_four_of_the_shift_it_is_overdue_at_ten(tmp_path: Path, moment: str, expected: str) -> None:
    """The early shift begins at 06:00."""
    book = run_in_the_morning(tmp_path, by_hour=4)
    assert state(book, LINE, moment) == expected
    assert ", by hour 4 of the shift" in why_of(book, line_at(book, LINE, moment))


def test_an_hour_beyond_the_shift_is_its_end(tmp_path: Path) -> None:
    """By hour 12 of an eight-hour shift means by its end."""
    book = run_in_the_morning(tmp_path, by_hour=12)
    assert state(book, LINE, "2026-03-02 13:59:59") == "due"
    assert state(book, LINE, "2026-03-02 14:00") == "overdue"


def test_a_count_taken_late_does_not_make_the_next_shift_a_used_one(tmp_path: Path) -> None:
    """Read at 14:20 instead of 14:00, the strokes are those of the early shift; nothing is asked of the late one."""
    book = run_in_the_morning(
        tmp_path,
        f"""
        2026-03-02 13:50 sign {LINE} for 2026-03-02/early by ben
        2026-03-02 14:20 count P-07 8000 by ana
        2026-03-02 22:00 count P-07 8000 by ana
        """,
    )
    assert line_at(book, LINE, "2026-03-03 06:00").occurrence == "2026-03-02/night"
    assert state(book, LINE, "2026-03-02 22:00") == "due"


@pytest.mark.parametrize(("read", "asked"), [("14:53:19", "night"), ("14:53:20", "late")])
def test_a_shift_that_covers_a_tenth_of_the_time_between_two_readings_was_used(
    tmp_path: Path, read: str, asked: str
) -> None:
    """Of 32,000 seconds since 06:00 the 3,200 from 14:00 to 14:53:20 are exactly a tenth."""
    text = f"""
        2026-03-02 06:00 count P-07 0 by ana
        2026-03-02 13:50 sign {LINE} for 2026-03-02/early by ben
        2026-03-02 {read} count P-07 8000 by ana
        2026-03-02 22:00 count P-07 8000 by ana
    """
    book = book_of(tmp_path, text, tasks=[task("oil", "press", each_shift=True)])
    assert line_at(book, LINE, "2026-03-03 06:00").occurrence == f"2026-03-02/{asked}"


def test_a_count_taken_in_the_middle_of_the_next_shift_does(tmp_path: Path) -> None:
    """Read at 18:00: nobody knows that the late shift did not run, so it is held to be used."""
    book = run_in_the_morning(
        tmp_path,
        f"""
        2026-03-02 13:50 sign {LINE} for 2026-03-02/early by ben
        2026-03-02 18:00 count P-07 8000 by ana
        2026-03-02 22:00 count P-07 8000 by ana
        """,
    )
    assert line_at(book, LINE, "2026-03-03 06:00").occurrence == "2026-03-02/late"


def test_strokes_by_hand_use_the_shift_they_were_done_in_and_hide_none_before(tmp_path: Path) -> None:
    """Used on Monday, cycled by hand on Wednesday: Monday is the one that is overdue."""
    book = run_in_the_morning(tmp_path, "2026-03-04 10:00 uncounted P-07 hand 5 by ana")
    line = line_at(book, LINE, "2026-03-04 12:00")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-02/early", "overdue", 0)
    assert line_at(book, LINE, "2026-03-04 14:00").missed == 1
    assert strokes(book, "P-07", "2026-03-04 12:00") == (605, 605, 605)
