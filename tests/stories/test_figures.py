"""How much was done on time: what counts, what does not, and by which interval and place.  All figures are invented."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import BEGINS, at, book_of, define, item, line_at, state, task, write, write_each
from upkeep.book import Book
from upkeep.due.compliance import Verdict
from upkeep.errors import Refused
from upkeep.views.figures import Figures


def figures(book: Book, first: str, last: str, moment: str, area: str | None = None) -> Figures:
    """The figures of some days as they look at a moment."""
    return book.figures(at(moment), area=area, first=date.fromisoformat(first), last=date.fromisoformat(last))


def base(page: Figures) -> tuple[int, int]:
    """How much was on time, of how much."""
    return page.on_time.number, page.on_time.base


# Cleans of a module, once each shift it is used

CLEAN = task("clean", "module", each_shift=True)
FITTED = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
"""
IDLE = f"""
    {FITTED}
    2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
    2026-03-02 14:00 count P-07 10000 by ana
    2026-03-02 21:50 sign M-12/clean for 2026-03-02/late by ana
    2026-03-02 22:00 count P-07 10000 by ana
    2026-03-03 05:50 sign M-12/clean for 2026-03-02/night by ana
    2026-03-03 06:00 count P-07 10000 by ana
"""


def test_cleans_signed_on_an_idle_press_are_recorded_and_not_in_the_base(tmp_path: Path) -> None:
    """Three shifts without a stroke, three sign-offs: they stay in the history, and nobody gains by them."""
    book = book_of(tmp_path, IDLE, tasks=[CLEAN])
    page = figures(book, "2026-03-02", "2026-03-02", "2026-03-03 07:00")
    assert (base(page), page.on_time.percent) == ((0, 0), None)
    assert (page.counts[Verdict.NOT_USED], page.signed_besides) == (3, 3)
    assert len([line for line in book.history("M-12") if line.kind == "sign"]) == 3


def test_where_the_count_moved_the_clean_was_asked_for_whatever_was_signed(tmp_path: Path) -> None:
    """Used in the early and in the late shift, cleaned in the early one, and a count of the night not read yet."""
    book = book_of(tmp_path, FITTED, tasks=[CLEAN])
    write_each(
        book,
        """
        2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-02 22:00 count P-07 13000 by ana
        """,
    )
    page = figures(book, "2026-03-02", "2026-03-02", "2026-03-03 07:00")
    assert (base(page), page.counts[Verdict.NOT_READ]) == ((1, 2), 1)
    assert [(one.occurrence, one.verdict) for one in page.late] == [("2026-03-02/late", "not done")]


def test_a_clean_told_for_an_earlier_shift_is_none_of_the_shift_it_was_told_in(tmp_path: Path) -> None:
    """Told at 14:30 for the early shift: that one is late, and the late one, used and not signed, is not done."""
    book = book_of(tmp_path, FITTED, tasks=[CLEAN])
    write_each(
        book,
        """
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-02 14:30 sign M-12/clean for 2026-03-02/early by ana
        2026-03-02 22:00 count P-07 13000 by ana
        """,
    )
    page = figures(book, "2026-03-02", "2026-03-02", "2026-03-02 22:30")
    assert base(page) == (0, 2)
    assert [(one.occurrence, one.verdict) for one in page.late] == [
        ("2026-03-02/early", "late"),
        ("2026-03-02/late", "not done"),
    ]


# A monthly job done on the 3rd and then on the 29th of the next month

GAP = "2026-04-03 10:00", "2026-05-29 10:00"


def test_a_monthly_job_that_counts_from_the_day_done_shows_a_gap_of_56_days(tmp_path: Path) -> None:
    """Once in April and once in May, and still the second was late: it was due on 3 May."""
    book = book_of(tmp_path, tasks=[task("belt", "press", every="1 month", late_days=3)])
    write(book, f"{GAP[0]} sign P-07/belt for 2026-04-01 by lea")
    write(book, f"{GAP[1]} sign P-07/belt for 2026-05-03 by lea")
    page = figures(book, "2026-04-01", "2026-05-31", "2026-05-31 12:00")
    (late,) = [one for one in page.late if one.line == "P-07/belt"]
    assert (late.verdict, late.due_at, late.gap_days) == (Verdict.LATE, at("2026-05-03 00:00"), 56)


def test_a_fixed_monthly_job_shows_the_second_one_late(tmp_path: Path) -> None:
    """Planned for the 3rd of each month with three days of grace, the April one in time."""
    fixed = task("belt", "press", rule="FREQ=MONTHLY;BYMONTHDAY=3", late_days=3)
    book = book_of(tmp_path, tasks=[fixed], begins="2026-04-01 00:00")
    write(book, f"{GAP[0]} sign P-07/belt for 2026-04-03 by tom")
    write(book, f"{GAP[1]} sign P-07/belt for 2026-05-03 by tom")
    page = figures(book, "2026-04-01", "2026-05-31", "2026-05-31 12:00")
    mine = [(one.occurrence, one.verdict, one.gap_days) for one in page.late if one.line == "P-07/belt"]
    assert mine == [("2026-05-03", "late", 56)]
    assert base(page) == (1, 6)  # of three presses in two months; the other two did nothing


# An interval is lengthened when the work is late

SHORT, LONG = (task("inspect", "die set", strokes=strokes) for strokes in (4_000, 6_000))
RUN = f"""
    {FITTED}
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 15000 by ana
"""


@pytest.mark.parametrize("done", ["", "2026-03-05 10:00 sign DS-031/inspect for 6000 by tom"])
def test_an_interval_made_longer_leaves_what_was_late_as_it_was(tmp_path: Path, done: str) -> None:
    """Overdue on 2 March at 5,000 of 4,000; no figure gets better by 6,000, neither before it is done nor after."""
    book = book_of(tmp_path, RUN, tasks=[SHORT])
    before = figures(book, "2026-03-02", "2026-03-03", "2026-03-04 07:00")
    book.load([LONG], at("2026-03-04 08:00"), "lea", at("2026-03-04 08:00"), because="looked good last time")
    write_each(book, done)
    after = figures(book, "2026-03-02", "2026-03-03", "2026-03-06 07:00")
    assert base(before) == base(after) == (0, 1)
    assert [one.occurrence for one in after.late] == ["4000"]


def test_the_change_is_on_the_page_with_both_intervals_and_the_reason(tmp_path: Path) -> None:
    """Who, when and why, from what to what; in the days in which it was made."""
    book = book_of(tmp_path, RUN, tasks=[SHORT])
    book.load([LONG], at("2026-03-04 08:00"), "lea", at("2026-03-04 08:00"), because="looked good last time")
    (change,) = figures(book, "2026-03-04", "2026-03-05", "2026-03-06 07:00").changes
    assert (change.task, change.by, change.because) == ("inspect", "lea", "looked good last time")
    assert [str(field) for field in change.fields] == ["strokes 4000 -> 6000"]
    assert figures(book, "2026-03-05", "2026-03-05", "2026-03-06 07:00").changes == ()


def test_an_interval_made_shorter_makes_nothing_late_before_the_change(tmp_path: Path) -> None:
    """5,000 of 6,000 was in time until it was made 4,000: late from that day on, not from the day of the count."""
    book = book_of(tmp_path, RUN, tasks=[LONG])
    book.load([SHORT], at("2026-03-04 08:00"), "lea", at("2026-03-04 08:00"), because="burrs")
    assert base(figures(book, "2026-03-02", "2026-03-03", "2026-03-06 07:00")) == (0, 0)
    (late,) = figures(book, "2026-03-02", "2026-03-05", "2026-03-06 07:00").late
    assert late.due_at == at("2026-03-04 08:00")


# Deferred, cancelled

GREASE = task("grease", "press", rule="FREQ=WEEKLY;BYDAY=FR", late_days=1)
ONLY = [item(key, kind="press", digits=7, max_rate=4000, scrapped="2026-02-27") for key in ("P-03", "P-08")]


def test_deferred_work_done_by_its_new_day_is_late_all_the_same(tmp_path: Path) -> None:
    """From 6 to 11 March, done on the 10th; the page says that it was deferred."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    write_each(
        book,
        """
        2026-03-06 09:00 defer P-07/grease for 2026-03-06 to 2026-03-11 risk "dry guides" by lea because "no grease"
        2026-03-10 10:00 sign P-07/grease for 2026-03-06 by tom
        """,
    )
    page = figures(book, "2026-03-01", "2026-03-12", "2026-03-12 12:00")
    assert (base(page), page.deferrals) == ((0, 1), 1)
    assert [(one.verdict, one.deferred) for one in page.late] == [("late", True)]


def test_cancelled_work_counts_as_not_done(tmp_path: Path) -> None:
    """One done, one cancelled, one whose window is still open: one of two."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    write_each(
        book,
        """
        2026-03-06 09:00 sign P-07/grease for 2026-03-06 by tom
        2026-03-13 09:00 cancel P-07/grease for 2026-03-13 by lea because "no time"
        """,
    )
    page = figures(book, "2026-03-01", "2026-03-20", "2026-03-20 12:00")
    assert base(page) == (1, 2)
    assert (page.counts[Verdict.CANCELLED], page.counts[Verdict.STILL_OPEN]) == (1, 1)


# A check after every fitting

HAND_CYCLE = task("hand-cycle", "module", after=["fitting"])


def test_of_two_fittings_each_asks_for_its_own_check(tmp_path: Path) -> None:
    """The first one ran without, the second was checked before it ran: one of two, and the later does not hide it."""
    book = book_of(tmp_path, FITTED, tasks=[HAND_CYCLE])
    write_each(
        book,
        """
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-03 08:00 unfit M-12 at P-07 12000 by ana
        2026-03-03 09:00 fit M-12 in P-07 at 12000 by ana
        """,
    )
    asked = line_at(book, "M-12/hand-cycle", "2026-03-03 09:05").occurrence
    write_each(
        book,
        f"""
        2026-03-03 09:05 sign M-12/hand-cycle for {asked} by tom
        2026-03-03 14:00 count P-07 13000 by ana
        """,
    )
    page = figures(book, "2026-03-02", "2026-03-03", "2026-03-04 07:00")
    assert base(page) == (1, 2)
    assert [(one.due_at, one.verdict) for one in page.late] == [(at("2026-03-02 06:00"), "not done")]


def test_a_check_that_was_passed_over_counts_once_whatever_else_happened(tmp_path: Path) -> None:
    """Two events that ask for nothing of this task came between the two fittings."""
    book = book_of(tmp_path, FITTED, tasks=[HAND_CYCLE])
    write_each(
        book,
        """
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-02 15:00 unfit M-12 at P-07 12000 by ana
        2026-03-02 16:00 happened M-12 back-from-outside by tom
        2026-03-02 17:00 happened M-12 back-from-outside by tom
        2026-03-03 09:00 fit M-12 in P-07 at 12000 by ana
        """,
    )
    asked = line_at(book, "M-12/hand-cycle", "2026-03-03 09:05").occurrence
    write(book, f"2026-03-03 09:05 sign M-12/hand-cycle for {asked} by tom")
    page = figures(book, "2026-03-02", "2026-03-03", "2026-03-04 07:00")
    assert base(page) == (1, 2)
    assert [one.due_at for one in page.late] == [at("2026-03-02 06:00")]


# A press moves to another line in the middle of the month

CHECK = task("check", "press", rule="FREQ=WEEKLY;BYDAY=MO")
HALLS = [*ONLY, define("place", "annex", title="Annex", area="annex", route=3)]


def test_a_press_that_moved_is_counted_by_the_area_it_stood_in_then(tmp_path: Path) -> None:
    """In the press hall on 2 and 9 March, in the annex on the 16th and 23rd, where nobody did the check."""
    book = book_of(tmp_path, tasks=[CHECK], more=HALLS)
    write_each(
        book,
        """
        2026-03-02 10:00 sign P-07/check for 2026-03-02 by tom
        2026-03-09 10:00 sign P-07/check for 2026-03-09 by tom
        """,
    )
    moved = at("2026-03-12 10:00")
    book.load([item("P-07", place="annex")], moved, "lea", moved, because="new line")
    page = figures(book, "2026-03-01", "2026-03-27", "2026-03-28 12:00")
    shares = {area: (share.number, share.base) for area, share in page.by_area.items()}
    assert shares == {"press hall": (2, 2), "annex": (0, 2)}
    assert base(figures(book, "2026-03-01", "2026-03-27", "2026-03-28 12:00", area="annex")) == (0, 2)
    assert len([line for line in book.history("P-07") if line.kind == "sign"]) == 2


# Nobody knows when anything was last done

THOROUGH = task("thorough", "module", every="7 days", spread=True, late_days=1)


def test_a_missed_clean_counts_where_the_item_hung_when_its_strokes_were_made(tmp_path: Path) -> None:
    """Hung in the annex at 07:00, 2,000 strokes until 10:00, then to the press hall, where the late shift used it."""
    book = book_of(tmp_path, tasks=[CLEAN], more=[*HALLS[len(ONLY) :], item("P-07", place="annex")])
    write_each(
        book,
        """
        2026-03-02 06:00 count P-07 10000 by ana
        2026-03-02 06:00 count P-03 50000 by ana
        2026-03-02 06:30 fit M-12 in P-03 at 50000 by ana
        2026-03-02 07:00 unfit M-12 at 50000 by ana
        2026-03-02 07:00 fit M-12 in P-07 at 10000 by ana
        2026-03-02 10:00 unfit M-12 at 12000 by ana
        2026-03-02 10:40 fit M-12 in P-03 at 50000 by ana
        2026-03-02 14:00 count P-03 50000 by ana
        2026-03-02 22:00 count P-03 53000 by ana
        """,
    )
    page = figures(book, "2026-03-02", "2026-03-02", "2026-03-02 22:30")
    missed = [(one.occurrence, one.area, one.verdict) for one in page.late if one.line == "M-12/clean"]
    assert missed == [("2026-03-02/early", "annex", "not done"), ("2026-03-02/late", "press hall", "not done")]


def test_figures_begin_on_the_day_the_book_began(tmp_path: Path) -> None:
    """Work stated before it and due long ago is not late in any figure; the first round is spread over its interval."""
    book = book_of(tmp_path, tasks=[THOROUGH], begins="2026-03-02 06:00")
    write(book, "2026-03-02 07:00 stated M-12/thorough done 2026-01-05 by lea")
    page = figures(book, "2026-01-01", "2026-03-02", "2026-03-02 12:00")
    assert (page.began, page.first_day) == (date(2026, 3, 2), date(2026, 3, 2))
    assert base(page) == (0, 0)
    with pytest.raises(Refused, match="The book began on 2026-03-02"):
        figures(book, "2026-01-01", "2026-02-28", "2026-03-02 12:00")


def test_work_at_rest_is_not_asked_for(tmp_path: Path) -> None:
    """In storage from the 5th to the 14th: the days planned in between do not count, though the board asks for them."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    write_each(
        book,
        """
        2026-03-05 09:00 pause P-07 by lea because "no orders"
        2026-03-14 09:00 resume P-07 by lea
        2026-03-20 09:00 sign P-07/grease for 2026-03-06 by tom
        """,
    )
    page = figures(book, "2026-03-01", "2026-03-20", "2026-03-21 12:00")
    assert (base(page), page.counts[Verdict.RESTING]) == ((1, 1), 2)


def test_work_of_an_item_that_rested_twice_is_asked_for_before_between_and_after(tmp_path: Path) -> None:
    """Away from the 5th to the 14th and from the 24th to the 2nd: planned on the 6th, 13th and 27th, not asked for."""
    book = book_of(tmp_path, tasks=[GREASE], more=ONLY)
    write_each(
        book,
        """
        2026-03-05 09:00 pause P-07 by lea because "no orders"
        2026-03-14 09:00 resume P-07 by lea
        2026-03-20 09:00 sign P-07/grease for 2026-03-06 by tom
        2026-03-24 09:00 pause P-07 by lea because "no orders again"
        2026-04-02 09:00 resume P-07 by lea
        2026-04-03 09:00 sign P-07/grease for 2026-03-27 by tom
        """,
    )
    page = figures(book, "2026-03-01", "2026-04-12", "2026-04-13 12:00")
    assert (base(page), page.counts[Verdict.RESTING]) == ((2, 3), 3)
    between = figures(book, "2026-03-15", "2026-03-23", "2026-04-13 12:00")
    assert (base(between), between.counts[Verdict.RESTING]) == ((1, 1), 0)


def test_the_page_has_the_figure_its_numbers_and_its_definition(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What a manager reads, from the command line."""
    book = book_of(tmp_path, tasks=[CHECK], more=HALLS)
    write(book, "2026-03-02 10:00 sign P-07/check for 2026-03-02 by tom")
    said = Terminal(book.path, capsys).types("2026-03-10 12:00", "figures", "--from", BEGINS[:10])
    assert said.code == 0
    page = " ".join(said.out.split())
    assert "On time 50 %, 1 of 2" in page
    assert "Definition. On time: planned work done before its window closed" in page
    assert "EN 15341 is the share of scheduled work orders performed as scheduled (name from memory)" in page
    assert "P-07/check (press hall) for Mon 2026-03-09, due 2026-03-09 00:00: not done" in page
    assert max(map(len, said.out.splitlines())) <= 80
    nowhere = Terminal(book.path, capsys).types("2026-03-10 12:00", "figures", "--area", "cellar")
    assert (nowhere.code, "annex, press hall, toolroom" in nowhere.err) == (1, True)


# A module comes back from storage within a shift


def test_a_shift_in_which_it_came_back_from_storage_and_ran_is_asked_for(tmp_path: Path) -> None:
    """In storage as the early shift began, brought back at 08:00, run until 14:00: its clean is done or not done."""
    text = f"""
        {FITTED}
        2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
        2026-03-02 14:00 unfit M-12 at 12000 by ana
        2026-03-02 14:10 pause M-12 by lea because "no orders"
        2026-03-03 08:00 resume M-12 by lea because "an order"
        2026-03-03 08:05 fit M-12 in P-07 at 12000 by ana
        2026-03-03 14:00 count P-07 13500 by ana
    """
    with book_of(tmp_path, text, tasks=[CLEAN]) as book:
        assert state(book, "M-12/clean", "2026-03-03 15:00") == "overdue"
        page = figures(book, "2026-03-02", "2026-03-03", "2026-03-03 15:00")
        assert base(page) == (1, 2)
        assert {(one.line, one.occurrence) for one in page.late} == {("M-12/clean", "2026-03-03/early")}
        assert page.counts[Verdict.RESTING] == 1  # the night shift of Monday
        write(book, "2026-03-03 13:40 sign M-12/clean for 2026-03-03/early by ana recorded 2026-03-03 15:10")
        assert base(figures(book, "2026-03-02", "2026-03-03", "2026-03-03 15:30")) == (2, 2)


def test_a_shift_in_which_it_ran_though_nobody_brought_it_back_is_asked_for(tmp_path: Path) -> None:
    """The count says it does not rest, as on the board."""
    text = """
        2026-03-02 06:00 count P-07 10000 by ana
        2026-03-02 13:50 sign P-07/wipe for 2026-03-02/early by ana
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-02 14:10 pause P-07 by lea because "no orders"
        2026-03-03 06:00 count P-07 12000 by ana
        2026-03-03 14:00 count P-07 13500 by ana
    """
    with book_of(tmp_path, text, tasks=[task("wipe", "press", each_shift=True)]) as book:
        assert line_at(book, "P-07/wipe", "2026-03-03 15:00").occurrence == "2026-03-03/early"
        page = figures(book, "2026-03-02", "2026-03-03", "2026-03-03 15:00")
        assert {one.occurrence for one in page.late if one.line == "P-07/wipe"} == {"2026-03-03/early"}


def test_a_shift_that_lay_within_a_rest_is_not_asked_for_though_a_reading_covers_it(tmp_path: Path) -> None:
    """Read at the end of the early shift and two days later: the press was out of use in between."""
    text = """
        2026-03-02 06:00 count P-07 10000 by ana
        2026-03-02 10:00 count P-07 11000 by ana
        2026-03-02 14:00 pause P-07 by lea because "no orders"
        2026-03-04 06:00 resume P-07 by lea because "an order"
        2026-03-04 14:00 count P-07 12500 by ana
    """
    with book_of(tmp_path, text, tasks=[task("wipe", "press", each_shift=True)]) as book:
        page = figures(book, "2026-03-02", "2026-03-04", "2026-03-04 15:00")
        asked = {one.occurrence for one in page.late if one.line == "P-07/wipe"}
        assert asked == {"2026-03-02/early", "2026-03-04/early"}
