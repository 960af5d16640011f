"""An order that is longer than what is left, and a rate that forgets the weekend.  All figures are invented."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, line_at, state, strokes, task, write
from upkeep.book import Book

# 30,000 pieces are ordered and 4,000 strokes are left

INSPECT = task("inspect", "die set", strokes=20_000, stop_at=100)
WORN = task("worn", "conductor punch", life=True)
USED = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-03 06:00 count P-07 26000 by ana
"""
ORDER = ("order", "A-77", 30_000, "DS-031", "P-07", "2026-03-04", "--by", "lea")
MORNING = "2026-03-03 06:30"


def used(tmp_path: Path) -> Book:
    """DS-031 has done 16,000 of its 20,000 strokes, its punch 16,000 of 100,000."""
    return book_of(tmp_path, USED, tasks=[INSPECT, WORN], more=[item("CP-a", life=100_000)])


def test_an_order_beyond_what_is_left_is_told_before_it_starts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """26,000 of the 30,000 lie beyond; the set is changed, stopped at 4,000, or inspected first."""
    book = used(tmp_path)
    said = Terminal(book.path, capsys).types(MORNING, *ORDER)
    assert said.code == 0
    (warning,) = [line for line in said.out.splitlines() if line.startswith("Note: ")]
    assert warning == (
        "Note: order A-77 (30,000 pieces) goes 26,000 strokes past the limit of DS-031/inspect: 4,000 left. Change the "
        "set, plan a stop at 4,000, or do the task first."
    )


def test_it_is_told_of_every_part_it_runs_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The set and its punch each have a limit of their own."""
    book = book_of(tmp_path, USED, tasks=[INSPECT, WORN], more=[item("CP-a", life=20_500)])
    said = Terminal(book.path, capsys).types(MORNING, *ORDER)
    assert "25,500 strokes past the limit of CP-a/worn: 4,500 left" in said.out
    assert "26,000 strokes past the limit of DS-031/inspect: 4,000 left" in said.out


def test_an_order_that_fits_into_what_is_left_is_taken_without_a_word(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """4,000 pieces with 4,000 strokes left."""
    book = used(tmp_path)
    said = Terminal(book.path, capsys).types(MORNING, "order", "A-78", 4_000, *ORDER[3:])
    assert (said.code, "Mind" in said.out) == (0, False)


def test_run_all_the_same_it_stops_at_its_limit_until_somebody_answers_for_more(tmp_path: Path) -> None:
    """At 20,000 the line says stop; the lead may put it off, so far and with the risk in words."""
    book = used(tmp_path)
    write(book, "2026-03-04 06:00 count P-07 30000 by ana")
    assert state(book, "DS-031/inspect", "2026-03-04 06:00") == "stop"
    write(
        book,
        '2026-03-04 06:10 defer DS-031/inspect for 20000 to 22000 risk "burr on the last pieces" by lea '
        'because "customer waits for 2,000"',
    )
    assert state(book, "DS-031/inspect", "2026-03-04 06:10") == "due"
    write(book, "2026-03-04 09:00 count P-07 32001 by ana")
    assert state(book, "DS-031/inspect", "2026-03-04 09:00") == "stop"


# 12,000 left, and the press does not run at weekends


def fortnight(tmp_path: Path) -> Book:
    """4,200 strokes on each of ten working days, from Monday 2 March to Friday 13 March; 12,000 are left."""
    days = [date(2026, 3, day) for day in range(2, 14) if date(2026, 3, day).weekday() < 5]
    counts = "\n".join(f"{day} 22:00 count P-07 {10_000 + 4_200 * n} by ana" for n, day in enumerate(days, 1))
    hung = "2026-03-02 06:00 count P-07 10000 by ana\n2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana\n"
    two_shifts = [
        {"name": name, "start": start, "end": end, "days": ("MO", "TU", "WE", "TH", "FR")}
        for name, start, end in (("early", "06:00", "14:00"), ("late", "14:00", "22:00"))
    ]
    return book_of(tmp_path, hung + counts, tasks=[task("service", "module", strokes=54_000)], shifts=two_shifts)


def test_what_is_left_is_reckoned_in_working_days(tmp_path: Path) -> None:
    """12,000 at 4,200 a working day are 2.9 days: Wednesday.  At 3,000 a calendar day they would be 4.0: a day late."""
    book = fortnight(tmp_path)
    assert strokes(book, "M-12", "2026-03-16 05:00") == (42_000, 42_000, 42_000)
    assert line_at(book, "M-12/service", "2026-03-16 05:00").remaining == 12_000
    found = book.forecast("M-12/service", at("2026-03-16 05:00"))
    assert found.working_days == pytest.approx(12_000 / 4_200)
    assert found.expected == date(2026, 3, 18)
    assert "2.9 working days" in str(found.why)


def test_a_weekend_before_it_is_stepped_over(tmp_path: Path) -> None:
    """Asked on Saturday, the third working day is Wednesday all the same."""
    book = fortnight(tmp_path)
    assert book.forecast("M-12/service", at("2026-03-14 09:00")).expected == date(2026, 3, 18)


# What is said before a set goes on a press


def test_orders_of_one_set_are_added_up(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """3,000 and 2,000 pieces fit into 4,000 strokes one by one, and not together."""
    terminal = Terminal(used(tmp_path).path, capsys)
    first = terminal.types(MORNING, "order", "A-1", 3000, "DS-031", "P-07", "2026-03-04", "--by", "lea")
    assert "Note:" not in first.out
    second = terminal.types(MORNING, "order", "A-2", 2000, "DS-031", "P-07", "2026-03-05", "--by", "lea")
    assert "order A-2 (2,000 pieces) after those already planned (3,000 pieces) goes 1,000 strokes past" in second.out


def test_an_order_on_a_held_set_says_so(tmp_path: Path) -> None:
    """Also where what is held sits in the set."""
    book = used(tmp_path)
    write(book, '2026-03-03 06:10 hold CP-a by lea because "chip seen"')
    (note,) = write(book, "2026-03-03 06:20 order A-1 10 with DS-031 on P-07 from 2026-03-04 by lea").notes
    assert str(note) == "CP-a is held: chip seen. The order cannot run on it before it is released."


def test_fitting_says_before_it_is_written_what_is_overdue_or_will_not_last(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Overdue work, a first use, orders that wait: of the set and of all in it; then the number of the entry."""
    oil, ready = task("oil", "die set", every="1 day"), task("ready", "die set", after=["storage"], stop_days=0)
    book = book_of(tmp_path, USED, tasks=[INSPECT, oil, ready])
    write(book, "2026-03-03 06:10 unfit DS-031 by ana")
    write(book, "2026-03-03 06:11 order A-1 5000 with DS-031 on P-07 from 2026-03-04 by lea")
    write(book, "2026-03-03 06:12 pause DS-031 by lea")
    write(book, "2026-03-09 06:00 resume DS-031 by lea")
    said = Terminal(book.path, capsys).types("2026-03-09 06:30", "fit", "DS-031", "M-12", "--no-count", "--by", "ana")
    told, written = said.out.split("Written as")
    assert "Note: DS-031/oil is overdue: Task oil. Do it before it runs." in told
    assert "Note: DS-031/ready is due before its first use: Task ready." in told
    assert "Note: what is ordered of DS-031 (5,000 pieces) goes 1,000 strokes past the limit of DS-031/inspect" in told
    assert "Note:" not in written
