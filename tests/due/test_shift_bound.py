"""Once each shift an item is used: due with it, overdue after it, not required where the count stood still."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import CLEAN, book_of, line_at, plant, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import AlreadySigned, Refused

ON_PRESS = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
"""
LINE = "M-12/clean"
WIPE = task("wipe", "press", each_shift=True)


def running(tmp_path: Path, text: str = "", zone: str = "UTC") -> Book:
    """M-12 hangs on P-07 from Monday 06:00, the start of the early shift."""
    return book_of(tmp_path, ON_PRESS + text, tasks=[CLEAN], zone=zone)


@pytest.mark.parametrize(
    ("moment", "expected"),
    [("2026-03-02 06:00", "due"), ("2026-03-02 13:59:59", "due"), ("2026-03-02 14:00", "overdue")],
)
def test_due_from_the_first_second_of_the_shift_to_its_last(tmp_path: Path, moment: str, expected: str) -> None:
    """[06:00, 14:00): the second the late shift begins, the early one's clean is late."""
    book = running(tmp_path)
    assert state(book, LINE, moment) == expected
    assert line_at(book, LINE, moment).occurrence == "2026-03-02/early"


def test_signed_in_its_shift_the_next_shift_asks_again(tmp_path: Path) -> None:
    """Until then it is later."""
    book = running(tmp_path, f"2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben")
    line = line_at(book, LINE, "2026-03-02 13:59")
    assert (line.state, line.occurrence) == ("later", "2026-03-02/late")
    assert state(book, LINE, "2026-03-02 14:00") == "due"


def test_not_required_in_a_shift_in_which_the_count_did_not_move(tmp_path: Path) -> None:
    """The count says so, not a person's word: read again unchanged at 22:00, the late shift asked for nothing."""
    book = running(
        tmp_path,
        f"""
        2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben
        2026-03-02 14:00 count P-07 12000 by ben
        2026-03-02 22:00 count P-07 12000 by ben
        """,
    )
    line = line_at(book, LINE, "2026-03-02 22:00")
    assert (line.occurrence, line.state) == ("2026-03-02/night", "due")


def test_required_where_the_count_moved_whatever_was_said(tmp_path: Path) -> None:
    """One stroke in the late shift is enough."""
    book = running(
        tmp_path,
        f"""
        2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben
        2026-03-02 14:00 count P-07 12000 by ben
        2026-03-02 22:00 count P-07 12001 by ben
        """,
    )
    line = line_at(book, LINE, "2026-03-02 22:00")
    assert (line.occurrence, line.state) == ("2026-03-02/late", "overdue")


def test_a_module_on_the_rack_asks_for_nothing(tmp_path: Path) -> None:
    """M-44 hangs on no press: not required, and it says why."""
    book = running(tmp_path)
    line = line_at(book, "M-44/clean", "2026-03-02 10:00")
    assert line.state == "not required"
    assert why_of(book, line).startswith("Not required: not in use, the count has not moved; never signed in this book")


def test_off_the_press_nothing_more_is_asked_but_what_was_used_before_stays_open(tmp_path: Path) -> None:
    """Taken out at 10:00 after 1,000 strokes: the early shift's clean is still due, the late one's never is."""
    book = running(tmp_path, "2026-03-02 10:00 unfit M-12 at 11000 by ana")
    assert line_at(book, LINE, "2026-03-02 15:00").state == "overdue"
    write(book, f"2026-03-02 14:20 sign {LINE} for 2026-03-02/early by ben")
    assert state(book, LINE, "2026-03-03 15:00") == "not required"


def test_one_open_occurrence_and_the_missed_shifts_counted_not_piled_up(tmp_path: Path) -> None:
    """Used in five shifts and signed in none: one line, overdue since the first, four missed besides."""
    counts = "".join(
        f"2026-03-0{2 + hour // 24} {hour % 24:02d}:00 count P-07 {10_000 + 100 * hour} by ben\n"
        for hour in range(14, 49, 8)
    )
    book = running(tmp_path, counts)
    line = line_at(book, LINE, "2026-03-03 22:00")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-02/early", "overdue", 4)
    assert [row.line for row in book.board(book.zone.read("2026-03-03 22:00")).rows].count(LINE) == 1


def test_shifts_in_which_it_stood_still_are_not_missed(tmp_path: Path) -> None:
    """Used on Monday early and Tuesday early only: one open, one missed, though four shifts have passed."""
    book = running(
        tmp_path,
        """
        2026-03-02 14:00 count P-07 12000 by ben
        2026-03-03 06:00 count P-07 12000 by ben
        2026-03-03 14:00 count P-07 13000 by ben
        """,
    )
    assert line_at(book, LINE, "2026-03-03 14:00").missed == 1


def test_the_one_sign_off_answers_everything_up_to_the_shift_it_names(tmp_path: Path) -> None:
    """Cleaned on Tuesday morning for Monday's night: the shifts before are answered with it, Tuesday's early is not."""
    book = running(tmp_path, "2026-03-03 06:00 count P-07 14000 by ben\n")
    write(book, f"2026-03-03 06:10 sign {LINE} for 2026-03-02/night by ben")
    line = line_at(book, LINE, "2026-03-03 06:10")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-03/early", "due", 0)


def test_work_signed_for_an_earlier_shift_leaves_the_running_one_and_those_between_to_answer(tmp_path: Path) -> None:
    """On Tuesday morning Monday's early clean is told: Monday's late and night shifts stay missed in their own name."""
    book = running(
        tmp_path,
        f"""
        2026-03-03 06:00 count P-07 14000 by ben
        2026-03-03 06:10 sign {LINE} for 2026-03-02/early by ben
        """,
    )
    line = line_at(book, LINE, "2026-03-03 06:10")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-02/late", "overdue", 1)


def test_work_of_an_earlier_shift_told_after_that_of_the_running_one_takes_nothing_back(tmp_path: Path) -> None:
    """Tuesday's early signed at 06:10, Monday's night at 06:20: Tuesday's late is next."""
    book = running(tmp_path, "2026-03-03 06:00 count P-07 14000 by ben\n")
    write(book, f"2026-03-03 06:10 sign {LINE} for 2026-03-03/early by ben")
    write(book, f"2026-03-03 06:20 sign {LINE} for 2026-03-02/night by ben")
    assert line_at(book, LINE, "2026-03-03 06:30").occurrence == "2026-03-03/late"


def test_the_same_shift_is_signed_once(tmp_path: Path) -> None:
    """The second signer reads who was first."""
    book = running(tmp_path, f"2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben")
    with pytest.raises(AlreadySigned, match="M-12/clean for 2026-03-02/early is already signed: Ben, 2026-03-02 06:10"):
        write(book, f"2026-03-02 06:12 sign {LINE} for 2026-03-02/early by ana")


def test_a_shift_may_be_signed_for_an_hour_after_its_end_and_no_longer(tmp_path: Path) -> None:
    """Both shifts were used; at 15:00 the early one may still be signed out of turn, were it not the open one."""
    used = """
        2026-03-02 14:00 count P-07 12000 by ben
        2026-03-02 22:00 count P-07 14000 by ben
    """
    book = running(tmp_path, used)
    with pytest.raises(Refused, match="is not planned for 2026-03-02/late; the open occurrence is 2026-03-02/early"):
        write(book, f"2026-03-02 23:00 sign {LINE} for 2026-03-02/late by ben")
    write(book, f"2026-03-02 22:59:59 sign {LINE} for 2026-03-02/late by ben recorded 2026-03-02 23:00")


def test_the_night_shift_belongs_to_the_day_it_began(tmp_path: Path) -> None:
    """Monday's night runs to Tuesday 06:00, and its sign-off at 02:00 carries Monday as its shift day."""
    book = running(tmp_path, f"2026-03-02 22:00 count P-07 14000 by ben\n2026-03-02 22:05 sign {LINE} for extra by ben")
    write(book, f"2026-03-02 21:50 sign {LINE} for 2026-03-02/late by ben recorded 2026-03-02 22:10")
    assert line_at(book, LINE, "2026-03-03 02:00").occurrence == "2026-03-02/night"
    assert state(book, LINE, "2026-03-03 05:59:59") == "due"
    write(book, f"2026-03-03 02:00 sign {LINE} for 2026-03-02/night by ben")
    assert book.history("M-12", 1)[0].shift_day == "2026-03-02"
    assert line_at(book, LINE, "2026-03-03 05:59:59").occurrence == "2026-03-03/early"


NIGHTS = [{"name": "night", "start": "22:00", "end": "06:00", "days": ["SA", "SU"]}]


@pytest.mark.parametrize(
    ("fitted", "begins_utc", "ends_utc"),
    [
        ("2026-03-28 22:00", "2026-03-28T21:00:00+00:00", "2026-03-29T04:00:00+00:00"),
        ("2026-10-24 22:00", "2026-10-24T20:00:00+00:00", "2026-10-25T05:00:00+00:00"),
    ],
)
def test_a_night_over_the_change_of_the_clock_ends_when_the_wall_says_six(
    tmp_path: Path, fitted: str, begins_utc: str, ends_utc: str
) -> None:
    """Seven hours in spring, nine in autumn, and due for all of them."""
    text = f"{fitted} count P-07 10000 by ana\n{fitted} fit M-12 in P-07 at 10000 by ana"
    book = book_of(tmp_path, text, tasks=[CLEAN], zone="Europe/Berlin", shifts=NIGHTS)
    line = line_at(book, LINE, fitted)
    assert line.occurrence == f"{fitted[:10]}/night"
    assert line.due_at is not None
    assert line.overdue_at is not None
    assert (line.due_at.isoformat(), line.overdue_at.isoformat()) == (begins_utc, ends_utc)


def test_in_the_hour_that_comes_twice_the_night_is_signed_once(tmp_path: Path) -> None:
    """02:30 the first time is taken, 02:30 the second time reads who was first and when."""
    text = "2026-10-24 22:00 count P-07 10000 by ana\n2026-10-24 22:00 fit M-12 in P-07 at 10000 by ana"
    book = book_of(tmp_path, text, tasks=[CLEAN], zone="Europe/Berlin", shifts=NIGHTS)
    write(book, f"2026-10-25 02:30+02:00 sign {LINE} for 2026-10-24/night by ben")
    with pytest.raises(AlreadySigned, match=r"already signed: Ben, 2026-10-25 02:30\+02:00"):
        write(book, f"2026-10-25 02:30+01:00 sign {LINE} for 2026-10-24/night by ana")


def test_a_closed_day_has_no_shift_and_asks_for_nothing(tmp_path: Path) -> None:
    """Monday signed and closed on Tuesday: Wednesday early is next."""
    text = f"{ON_PRESS}\n2026-03-02 22:30 sign {LINE} for 2026-03-02/night by ben"
    book = book_of(tmp_path, text, tasks=[CLEAN], closed=["2026-03-03"])
    assert line_at(book, LINE, "2026-03-03 10:00").occurrence == "2026-03-04/early"
    assert state(book, LINE, "2026-03-03 10:00") == "later"


def test_a_shift_signed_for_and_then_closed_or_renamed_stays_signed_and_stops_nothing(tmp_path: Path) -> None:
    """The plant's files change later; the sign-off of then keeps the shift of then."""
    book = running(tmp_path, f"2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben")
    shifts = [{"name": "day", "start": "06:00", "end": "18:00", "days": ["MO", "TU", "WE", "TH", "FR"]}]
    now = book.zone.read("2026-03-02 12:00")
    book.load([plant(shifts=shifts)], now, "lea", now, "as it is now")
    assert line_at(book, LINE, "2026-03-02 18:00").occurrence == "2026-03-03/day"
    assert book.prove().differences == ()


def test_strokes_done_before_it_came_to_this_press_ask_nothing_of_it(tmp_path: Path) -> None:
    """Fitted at 15:00 without a count: what P-07 did in the early shift was not its work."""
    book = book_of(
        tmp_path,
        """
        2026-03-02 06:00 count P-07 10000 by ana
        2026-03-02 15:00 fit M-12 in P-07 by ana
        2026-03-02 22:00 count P-07 20000 by ana
        """,
        tasks=[CLEAN],
    )
    assert line_at(book, LINE, "2026-03-02 22:00").occurrence == "2026-03-02/late"


def test_moved_from_press_to_press_it_is_asked_for_where_it_ran(tmp_path: Path) -> None:
    """On P-07 until 10:40, on P-03 from that minute: P-03's last reading, of Friday, is not its own."""
    book = book_of(
        tmp_path,
        """
        2026-03-06 06:00 count P-03 388000 by ana
        2026-03-09 06:00 count P-07 10000 by ana
        2026-03-09 06:00 fit M-12 in P-07 at 10000 by ana
        2026-03-09 10:40 unfit M-12 by ana
        2026-03-09 10:40 fit M-12 in P-03 by ana
        2026-03-09 14:00 count P-07 12000 by ana
        """,
        tasks=[CLEAN],
    )
    assert line_at(book, LINE, "2026-03-09 14:00").occurrence == "2026-03-09/early"


def test_a_press_is_used_by_its_own_count_alone(tmp_path: Path) -> None:
    """It hangs on nothing and is never on the rack."""
    book = book_of(tmp_path, ON_PRESS + "2026-03-02 14:00 count P-07 10000 by ana", tasks=[WIPE])
    assert line_at(book, "P-07/wipe", "2026-03-02 14:00").occurrence == "2026-03-02/late"
    write_each(book, "2026-03-02 22:00 count P-07 10900 by ana")
    assert state(book, "P-07/wipe", "2026-03-02 22:00") == "overdue"


def test_work_cancelled_while_its_shift_runs_is_not_asked_for_in_the_rest_of_that_shift(tmp_path: Path) -> None:
    """Cancelled at 15:00: the late shift goes on and is counted at its end, and the night shift is the next to ask."""
    cleaned = f"\n2026-03-02 06:10 sign {LINE} for 2026-03-02/early by ben\n2026-03-02 14:00 count P-07 12000 by ben"
    book = running(tmp_path, cleaned)
    assert state(book, LINE, "2026-03-02 15:00") == "due"
    write(book, f'2026-03-02 15:00 cancel {LINE} for 2026-03-02/late by lea because "press rebuilt at noon"')
    assert state(book, LINE, "2026-03-02 15:00") == "later"
    write(book, "2026-03-02 22:00 count P-07 14000 by ben")
    line = line_at(book, LINE, "2026-03-02 22:00")
    assert (line.occurrence, line.state, line.missed) == ("2026-03-02/night", "due", 0)


def test_strokes_outside_every_shift_are_asked_for_in_the_next_one(tmp_path: Path) -> None:
    """Run on Saturday, when no shift does, and stood still on Monday: Monday's early shift was to clean it."""
    book = running(
        tmp_path,
        f"""
        2026-03-06 21:00 sign {LINE} for 2026-03-06/late by ana
        2026-03-07 06:00 count P-07 10000 by ana
        2026-03-07 09:00 count P-07 10000 by ana
        2026-03-07 15:00 count P-07 13000 by ana
        2026-03-09 14:00 count P-07 13000 by ana
        """,
    )
    line = line_at(book, LINE, "2026-03-09 15:00")
    assert (line.occurrence, line.state) == ("2026-03-09/early", "overdue")
