"""Night shifts, the hour that comes twice, idle presses, the week across the new year, a shutdown, a wrong clock.

The hours of the night on 24 October 2026 and the weeks are those of the calendar; all other figures are invented.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import SHIFTS, at, book_of, line_at, number_of, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import AlreadySigned, Refused, Unreadable

CLEAN = task("clean", "module", each_shift=True)
LINE = "M-12/clean"
HANGS = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
"""

# A clean at 02:00 in the night shift

NIGHT = (
    HANGS
    + """
    2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
    2026-03-02 14:00 count P-07 12000 by ana
    2026-03-02 21:50 sign M-12/clean for 2026-03-02/late by ana
    2026-03-02 22:00 count P-07 14000 by ana
"""
)


def test_a_clean_in_the_small_hours_belongs_to_the_night_shift_that_began_the_day_before(tmp_path: Path) -> None:
    """Tuesday 02:00 is Monday's night shift, on the line and in the shift day kept with the entry."""
    book = book_of(tmp_path, NIGHT, tasks=[CLEAN])
    assert line_at(book, LINE, "2026-03-03 02:00").occurrence == "2026-03-02/night"
    write(book, "2026-03-03 02:00 sign M-12/clean for 2026-03-02/night by ana")
    signed = book.history("M-12")[0]
    assert (signed.kind, signed.shift_day) == ("sign", "2026-03-02")


def test_the_early_shift_after_it_is_still_to_be_done(tmp_path: Path) -> None:
    """The night's clean does not stand for Tuesday's."""
    book = book_of(tmp_path, NIGHT, tasks=[CLEAN])
    write(book, "2026-03-03 02:00 sign M-12/clean for 2026-03-02/night by ana")
    write(book, "2026-03-03 06:00 count P-07 15000 by ana")
    line = line_at(book, LINE, "2026-03-03 06:00")
    assert (line.occurrence, line.state) == ("2026-03-03/early", "due")


# 02:30 comes twice when the clock goes back

EVERY_DAY = [{**shift, "days": ("MO", "TU", "WE", "TH", "FR", "SA", "SU")} for shift in SHIFTS]
FIRST, SECOND = "2026-10-25 02:30+02:00", "2026-10-25 02:30+01:00"


def autumn(tmp_path: Path) -> Book:
    """M-12 and M-44 run through the night in which Berlin puts its clocks back."""
    hangs = """
        2026-10-24 22:00 count P-07 10000 by ana
        2026-10-24 22:00 fit M-12 in P-07 at 10000 by ana
        2026-10-24 22:00 fit M-44 in P-08 by ana
    """
    return book_of(
        tmp_path, hangs, "Europe/Berlin", tasks=[CLEAN], shifts=EVERY_DAY, begins="2026-10-24 12:00"
    )  # fmt: skip


def test_that_night_shift_has_nine_hours(tmp_path: Path) -> None:
    """From 22:00 to 06:00 on the wall."""
    book = autumn(tmp_path)
    night = book.calendar.at(book.zone.read(FIRST))
    assert night is not None
    assert (night.key, night.end - night.start) == ("2026-10-24/night", timedelta(hours=9))


def test_two_cleans_at_0230_are_two_entries_an_hour_apart(tmp_path: Path) -> None:
    """Ordered as they happened, each written with its offset, and neither taken for the other."""
    book = autumn(tmp_path)
    later = number_of(write(book, f"{SECOND} sign M-44/clean for 2026-10-24/night by ben"))
    earlier = number_of(write(book, f"{FIRST} sign M-12/clean for 2026-10-24/night by ana recorded {SECOND}"))
    told = [line for line in book.history() if line.kind == "sign"]
    assert [line.entry for line in told] == [later, earlier]
    assert told[0].at - told[1].at == timedelta(hours=1)
    assert [line.text[:22] for line in told] == [SECOND, FIRST]


def test_on_one_module_the_second_is_no_duplicate_but_work_besides(tmp_path: Path) -> None:
    """The shift's clean was done an hour before; whoever did it again writes an extra."""
    book = autumn(tmp_path)
    write(book, f"{FIRST} sign M-12/clean for 2026-10-24/night by ana")
    with pytest.raises(AlreadySigned, match=r"already signed: Ana, 2026-10-25 02:30\+02:00"):
        write(book, f"{SECOND} sign M-12/clean for 2026-10-24/night by ben")
    write(book, f"{SECOND} sign M-12/clean for extra by ben")
    assert len([line for line in book.history("M-12") if line.kind == "sign"]) == 2


def test_without_its_offset_0230_is_asked_back(tmp_path: Path) -> None:
    """Nobody guesses which of the two was meant."""
    book = autumn(tmp_path)
    with pytest.raises(Unreadable, match="comes twice in Europe/Berlin"):
        write(book, "2026-10-25 02:30 sign M-12/clean for 2026-10-24/night by ana")


# A press stands idle


IDLE = """
    2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
    2026-03-02 14:00 count P-07 12000 by ana
    2026-03-02 22:00 count P-07 12000 by ana
    2026-03-03 06:00 count P-07 12000 by ana
    2026-03-03 14:00 count P-07 12000 by ana
"""


def test_shifts_in_which_the_count_did_not_move_ask_for_no_clean(tmp_path: Path) -> None:
    """Three idle shifts are not missed ones: what is open is the fourth, which may still run."""
    book = book_of(tmp_path, HANGS + IDLE, tasks=[CLEAN])
    line = line_at(book, LINE, "2026-03-03 14:00")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-03/late", "due", 0)


def test_cleans_signed_on_an_idle_press_are_kept_and_earn_nothing(tmp_path: Path) -> None:
    """Three signatures stay in the book; the line stands where it stands without them."""
    book = book_of(tmp_path, HANGS + IDLE, tasks=[CLEAN])
    without = line_at(book, LINE, "2026-03-03 14:00")
    (tmp_path / "signed").mkdir()
    signed = book_of(tmp_path / "signed", HANGS, tasks=[CLEAN])
    read = [line.strip() for line in IDLE.strip().splitlines()]
    write_each(
        signed,
        "\n".join(
            [
                *read[:2], "2026-03-02 15:00 sign M-12/clean for 2026-03-02/late by ana",
                read[2], "2026-03-02 23:00 sign M-12/clean for 2026-03-02/night by ana",
                read[3], "2026-03-03 07:00 sign M-12/clean for 2026-03-03/early by ana",
                read[4],
            ]
        ),
    )  # fmt: skip
    assert len([line for line in signed.history("M-12") if line.kind == "sign"]) == 4
    line = line_at(signed, LINE, "2026-03-03 14:00")
    assert (line.occurrence, line.state, line.missed) == (without.occurrence, without.state, without.missed)


@pytest.mark.parametrize(("moved", "wanted"), [(40, "2026-03-03/early"), (50, "2026-03-02/late")])
def test_a_few_strokes_at_set_up_are_no_use_of_a_press(tmp_path: Path, moved: int, wanted: str) -> None:
    """From 50 strokes a shift on this plant calls it used: after 40 the late shift owes no clean, after 50 it does."""
    sparing = task("clean", "module", each_shift=True, used_from=50)
    book = book_of(tmp_path, HANGS + "\n".join(IDLE.splitlines()[:3]), tasks=[sparing])
    write(book, f"2026-03-02 22:00 count P-07 {12_000 + moved} by ana")
    write(book, f"2026-03-03 06:00 count P-07 {12_000 + moved} by ana")
    assert line_at(book, LINE, "2026-03-03 06:30").occurrence == wanted


# The week across the year's end

WEEKLY = task("weekly", "press", rule="FREQ=WEEKLY;BYDAY=FR", start="2027-01-01")


@pytest.mark.parametrize("moment", ["2026-12-28 06:00", "2026-12-31 12:00", "2027-01-03 23:00"])
def test_the_week_across_the_years_end_is_one_week_with_one_list(tmp_path: Path, moment: str) -> None:
    """28 December to 3 January is the 53rd week of 2026 on each of its days, and Friday 1 January is in it."""
    book = book_of(tmp_path, tasks=[WEEKLY], begins="2026-12-01 00:00")
    week = book.week(at(moment))
    assert (week.week, week.first_day, week.last_day) == ("2026-W53", date(2026, 12, 28), date(2027, 1, 3))
    assert {row.due_day for row in week.rows} == {date(2027, 1, 1)}


def test_the_printed_list_names_that_week_and_the_next_one_is_the_first_of_2027(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """There is no week 1 of 2027 before 4 January."""
    book = book_of(tmp_path, tasks=[WEEKLY], begins="2026-12-01 00:00")
    terminal = Terminal(book.path, capsys)
    assert "2026-W53" in terminal.types("2027-01-02 08:00", "week", "--by", "lea").out
    assert "2027-W01" in terminal.types("2027-01-04 08:00", "week", "--by", "lea").out


# Two weeks of shutdown

SHUT = [{"from": "2026-08-03", "to": "2026-08-14", "title": "Summer"}]
EXAMINE = task("examine", "press", rule="FREQ=WEEKLY;BYDAY=WE", statutory=True, on_day_off=None)
GREASE = task("grease", "press", every="7 days", on_day_off=None)
WIPE = task("wipe", "press", rule="FREQ=DAILY", on_day_off="before")
GUARD = task("guard", "press", each_shift=True, by_hour=4)
BEFORE_SUMMER, AFTER_SUMMER = "2026-07-31 12:00", "2026-08-17 06:30"


def summer(tmp_path: Path) -> Book:
    """A plant that stands still from 3 to 14 August, all its work done on Thursday 30 July."""
    text = """
        2026-07-30 06:00 count P-07 10000 by ana
        2026-07-30 13:00 sign P-07/examine for 2026-07-29 by tom
        2026-07-30 13:00 sign P-07/grease for 2026-08-04 by lea
        2026-07-30 13:00 sign P-07/wipe for 2026-07-28 by tom
    """
    tasks = [EXAMINE, GREASE, WIPE, GUARD, CLEAN]
    return book_of(tmp_path, text, tasks=tasks, shutdowns=SHUT, begins="2026-07-28 00:00")


def test_what_the_law_asks_for_comes_before_a_shutdown_and_the_rest_after_it(tmp_path: Path) -> None:
    """The examinations of both Wednesdays move to the last working day, the grease of Thursday to the first."""
    book = summer(tmp_path)
    examine, grease = (line_at(book, f"P-07/{key}", BEFORE_SUMMER) for key in ("examine", "grease"))
    assert (examine.occurrence, examine.due_day, examine.state) == ("2026-08-05", date(2026, 7, 31), "due")
    assert "moved to Fri 2026-07-31 because that is a day off" in why_of(book, examine)
    assert (grease.occurrence, grease.due_day) == ("2026-08-06", date(2026, 8, 17))


def test_days_that_move_to_one_working_day_are_one_job(tmp_path: Path) -> None:
    """Done on Friday, the next examination is that of 19 August, and the next wiping that of Monday the 17th."""
    book = summer(tmp_path)
    write(book, f"{BEFORE_SUMMER} sign P-07/examine for 2026-08-05 by tom")
    write(book, f"{BEFORE_SUMMER} sign P-07/wipe for 2026-07-31 by tom")
    assert line_at(book, "P-07/examine", BEFORE_SUMMER).occurrence == "2026-08-19"
    assert line_at(book, "P-07/wipe", BEFORE_SUMMER).occurrence == "2026-08-17"
    assert line_at(book, "P-07/wipe", "2026-08-16 12:00").missed == 0


def test_days_that_were_missed_before_a_shutdown_are_not_missed_every_day_of_it(tmp_path: Path) -> None:
    """Friday's wiping stands for the two weeks, Monday's is the only one missed besides."""
    book = summer(tmp_path)
    assert [line_at(book, "P-07/wipe", moment).missed for moment in ("2026-08-14 12:00", AFTER_SUMMER)] == [0, 1]


def test_work_that_floats_is_not_due_again_on_the_day_it_was_done_before_a_shutdown(tmp_path: Path) -> None:
    """Seven days from 31 July fall into the shutdown; moved before it, they would be 31 July."""
    floating = task("oil", "press", every="7 days", on_day_off="before")
    book = book_of(tmp_path, tasks=[floating], shutdowns=SHUT, begins="2026-07-28 00:00")
    assert line_at(book, "P-07/oil", BEFORE_SUMMER).due_day == date(2026, 7, 31)
    write(book, f"{BEFORE_SUMMER} sign P-07/oil for 2026-08-04 by tom")
    assert line_at(book, "P-07/oil", BEFORE_SUMMER).due_day == date(2026, 8, 17)


def test_no_shift_of_a_shutdown_asks_for_anything_and_the_first_after_it_does(tmp_path: Path) -> None:
    """The guard check is asked for in the early shift of 17 August, by its fourth hour."""
    book = summer(tmp_path)
    write(book, "2026-07-31 21:00 sign P-07/guard for 2026-07-30/early by ana")
    write(book, "2026-07-31 22:00 count P-07 12000 by ana")
    write(book, "2026-07-31 23:00 sign P-07/guard for 2026-07-31/night by ana")
    assert state(book, "P-07/guard", "2026-08-10 12:00") == "later"
    line = line_at(book, "P-07/guard", AFTER_SUMMER)
    assert (line.occurrence, line.state, line.overdue_at) == ("2026-08-17/early", "due", at("2026-08-17 10:00"))


def test_the_list_of_the_first_week_after_a_shutdown_holds_what_was_moved_behind_it(tmp_path: Path) -> None:
    """Grease on Monday, and the examination that nobody made before, at its head."""
    book = summer(tmp_path)
    rows = [row.line for row in book.week(at(AFTER_SUMMER)).rows if row.item == "P-07"]
    assert sorted(rows) == ["P-07/examine", "P-07/grease", "P-07/wipe"]


# The clock of a terminal says 2006


def test_an_entry_from_2006_is_refused_and_says_to_look_at_the_clock(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The battery of the terminal is empty: nothing is written into 2006."""
    book = book_of(tmp_path, HANGS, tasks=[CLEAN])
    before, terminal = book.history(), Terminal(book.path, capsys)
    for words in (("count", "P-07", 10500, "--by", "ana"), ("sign", LINE, "--by", "ana")):
        said = terminal.types("2006-01-01 00:10", *words)
        assert said.code == 1
        assert said.err == (
            "2006-01-01 00:10 is before this book began (2026-03-01 00:00), and nothing from before that can be "
            "entered. Check the date and the clock of this terminal; nothing was written.\n"
        )
    assert book.history() == before


def test_an_entry_from_the_future_is_refused_too(tmp_path: Path) -> None:
    """Somebody typed the wrong month."""
    book = book_of(tmp_path, HANGS)
    with pytest.raises(Refused, match="2026-04-02 14:00 is in the future"):
        write(book, "2026-04-02 14:00 count P-07 10500 by ana recorded 2026-03-02 14:00")
