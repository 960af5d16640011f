"""Work put off, cancelled, covered by other work, or counted by strokes of its own: what each answers and what not."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, item, line_at, number_of, state, task, why_of, write
from upkeep.book import Book
from upkeep.errors import Refused

OIL = task("oil", "press", every="7 days", on_day_off="keep", late_days=1, stop_days=3)
FIXED = task("fixed", "press", rule="FREQ=WEEKLY;BYDAY=SU", late_days=1, on_day_off="keep")
LAW = task("law", "press", every="7 days", statutory=True, on_day_off="keep")
COUNTED = "2026-03-02 06:00 count P-07 0 by ana\n"


def of(tmp_path: Path, text: str = "", **content: object) -> Book:
    """A plant with all these tasks; P-07 came into the book on Sunday 2026-03-01."""
    grind = task("grind", "press", **{"strokes": 1000, "stop_at": 110, **content})
    fast = item("P-07", max_rate=100_000)
    return book_of(tmp_path, COUNTED + text, tasks=[OIL, FIXED, LAW, grind], more=[fast])


def deferred(line: str, occurrence: str, to: str, at: str = "2026-03-08 10:00") -> str:
    """The lead puts something off."""
    return f'{at} defer {line} for {occurrence} to {to} risk "dry bearing" by lea because "no oil"'


def cancelled(line: str, occurrence: str, at: str = "2026-03-08 10:00") -> str:
    """The lead decides that something will not be done."""
    return f'{at} cancel {line} for {occurrence} by lea because "press idle"'


# Put off


def test_a_deferral_keeps_its_own_planned_day(tmp_path: Path) -> None:
    """Due on the 8th and moved to the 15th, it stays due since the 8th and is neither overdue nor stopped till then."""
    book = of(tmp_path, deferred("P-07/oil", "2026-03-08", "2026-03-15"))
    line = line_at(book, "P-07/oil", "2026-03-15 23:59")
    assert (line.state, line.occurrence, line.deferred_to, str(line.due_day)) == (
        "due", "2026-03-08", "2026-03-15", "2026-03-08",
    )  # fmt: skip
    assert "deferred from Sun 2026-03-08 to Sun 2026-03-15 by Lea, deferral 1" in why_of(book, line)
    assert state(book, "P-07/oil", "2026-03-16 00:00") == "stop"


def test_done_after_its_planned_day_it_stays_late(tmp_path: Path) -> None:
    """The sign-off answers the 8th, whenever it was put off to; the next counts from the day done."""
    book = of(tmp_path, deferred("P-07/oil", "2026-03-08", "2026-03-15"))
    with pytest.raises(Refused, match=r"not planned for 2026-03-15; the open occurrence is 2026-03-08"):
        write(book, "2026-03-14 10:00 sign P-07/oil for 2026-03-15 by tom")
    write(book, "2026-03-14 10:00 sign P-07/oil for 2026-03-08 by tom")
    line = line_at(book, "P-07/oil", "2026-03-14 11:00")
    assert (line.occurrence, line.deferred_to) == ("2026-03-21", None)


def test_strokes_are_put_off_to_more_strokes(tmp_path: Path) -> None:
    """1,000 strokes put off to 1,500: due all the while, stopped at 1,501 and not at 1,100."""
    told = f"2026-03-08 09:00 count P-07 990 by ana\n{deferred('P-07/grind', '1000', '1500')}\n"
    book = of(tmp_path, f"{told}2026-03-08 11:00 count P-07 1500 by ana")
    assert state(book, "P-07/grind", "2026-03-08 12:00") == "due"
    write(book, "2026-03-08 12:00 count P-07 1501 by ana")
    assert state(book, "P-07/grind", "2026-03-08 12:00") == "stop"


def test_something_is_put_off_so_often_and_no_more(tmp_path: Path) -> None:
    """Twice unless the task says otherwise; the third time is refused."""
    book = of(tmp_path)
    write(book, deferred("P-07/oil", "2026-03-08", "2026-03-10"))
    write(book, deferred("P-07/oil", "2026-03-08", "2026-03-12", "2026-03-10 10:00"))
    with pytest.raises(Refused, match="has already been deferred 2 times"):
        write(book, deferred("P-07/oil", "2026-03-08", "2026-03-14", "2026-03-12 10:00"))
    assert "deferral 2" in why_of(book, line_at(book, "P-07/oil", "2026-03-12 12:00"))


def test_a_task_may_forbid_putting_off(tmp_path: Path) -> None:
    """With none allowed the first one is refused."""
    book = of(tmp_path, max_deferrals=0)
    with pytest.raises(Refused, match="has already been deferred 0 times"):
        write(book, deferred("P-07/grind", "1000", "1500"))


@pytest.mark.parametrize(
    "line",
    [deferred("P-07/law", "2026-03-08", "2026-03-15"), cancelled("P-07/law", "2026-03-08")],
)
def test_the_law_is_neither_deferred_nor_cancelled(tmp_path: Path, line: str) -> None:
    """The press is taken out of use instead."""
    with pytest.raises(Refused, match=r"P-07/law is required by law and cannot be (deferred|cancelled)"):
        write(of(tmp_path), line)


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (deferred("P-07/oil", "2026-03-08", "2026-03-08"), "is not later than the planned 2026-03-08"),
        (deferred("P-07/oil", "2026-03-08", "1500"), "is not later than the planned 2026-03-08"),
        (deferred("P-07/grind", "1000", "2026-03-15"), "is not later than the planned 1000"),
        (deferred("P-07/oil", "2026-03-15", "2026-03-20"), "not planned for 2026-03-15"),
        (deferred("P-07/oil", "2026-03-08", "2026-03-15").replace("dry bearing", ""), "Say what may happen"),
        (deferred("P-07/oil", "2026-03-08", "2026-03-15").split(" because")[0], "Say why P-07/oil is deferred"),
        (
            deferred("P-07/oil", "2026-03-08", "2026-03-15").replace("by lea", "by tom"),
            "needs the role of maintenance lead",
        ),
    ],
)
def test_a_deferral_that_says_too_little_is_refused(tmp_path: Path, line: str, sentence: str) -> None:
    """Later, written alike, open, with the risk and the reason, by somebody who answers for it."""
    with pytest.raises(Refused, match=sentence):
        write(of(tmp_path), line)


# Cancelled


def test_cancelled_is_not_done(tmp_path: Path) -> None:
    """The line says that it was cancelled and that it was never done; the next counts from its planned day."""
    book = of(tmp_path, cancelled("P-07/oil", "2026-03-08"))
    line = line_at(book, "P-07/oil", "2026-03-08 12:00")
    assert (line.occurrence, line.last_done_at) == ("2026-03-15", None)
    assert "2026-03-08 was cancelled (#" in why_of(book, line)
    assert "never signed in this book" in why_of(book, line)


def test_each_planned_day_is_cancelled_by_itself(tmp_path: Path) -> None:
    """Three Sundays went by; cancelling the first leaves the second open, two weeks late."""
    book = of(tmp_path, cancelled("P-07/fixed", "2026-03-01", "2026-03-17 10:00"))
    assert line_at(book, "P-07/fixed", "2026-03-17 12:00").occurrence == "2026-03-08"
    assert state(book, "P-07/fixed", "2026-03-17 12:00") == "overdue"


def test_cancelled_strokes_count_on_from_their_planned_number(tmp_path: Path) -> None:
    """1,000 cancelled at 1,040: due at 2,000, and 1,040 of 2,000 are done since it was last done."""
    told = f"2026-03-08 09:00 count P-07 1040 by ana\n{cancelled('P-07/grind', '1000')}"
    line = line_at(of(tmp_path, told), "P-07/grind", "2026-03-08 12:00")
    assert (line.state, line.occurrence, line.strokes, line.due_strokes) == ("later", "2000", 1040, 2000)


def test_a_cancelled_day_leaves_the_strokes_and_the_crash_as_they_were(tmp_path: Path) -> None:
    """Every 7 days or 1,000 strokes, and after a crash: only the day is cancelled."""
    book = of(tmp_path, every="7 days", on_day_off="keep", after=["crash"])
    write(book, "2026-03-08 09:00 count P-07 900 by ana")
    write(book, cancelled("P-07/grind", "2026-03-08"))
    line = line_at(book, "P-07/grind", "2026-03-08 12:00")
    assert (line.state, line.strokes) == ("open", 900)
    write(book, '2026-03-08 13:00 fault P-07 "double feed" crash by ana')
    write(book, cancelled("P-07/grind", "2026-03-15", "2026-03-08 14:00"))
    line = line_at(book, "P-07/grind", "2026-03-08 15:00")
    assert (line.state, line.occurrence.split(".")[0]) == ("due", "crash")


def test_what_was_cancelled_is_not_signed_until_the_cancellation_is_struck(tmp_path: Path) -> None:
    """And the strike is not struck while the sign-off stands in its place."""
    book = of(tmp_path)
    number = number_of(write(book, cancelled("P-07/oil", "2026-03-08")))
    signed = "2026-03-08 11:00 sign P-07/oil for 2026-03-08 by tom"
    with pytest.raises(Refused, match=f"cancelled: Lea, 2026-03-08 10:00. If it was done after all, strike #{number}"):
        write(book, signed)
    strike = number_of(write(book, f'2026-03-08 11:30 strike #{number} by lea because "it was done"'))
    write(book, signed.replace("11:00", "11:31"))
    with pytest.raises(Refused, match="for 2026-03-08 has since been signed again"):
        write(book, f'2026-03-08 12:00 strike #{strike} by lea because "no"')


# Strokes with a clock of their own


@pytest.mark.parametrize(("own", "strokes"), [(True, 600), (False, 0)])
def test_only_work_done_for_the_strokes_restarts_a_clock_of_its_own(tmp_path: Path, own: bool, strokes: int) -> None:
    """Done for the day after 600 strokes: with its own clock 600 of 1,000 stay done."""
    told = "2026-03-08 09:00 count P-07 600 by ana\n2026-03-08 10:00 sign P-07/grind for 2026-03-08 by tom"
    book = of(tmp_path, told, every="7 days", on_day_off="keep", own_usage_clock=own)
    assert line_at(book, "P-07/grind", "2026-03-08 12:00").strokes == strokes


def test_its_strokes_once_cancelled_are_asked_for_an_interval_later(tmp_path: Path) -> None:
    """A clock of its own is moved by a cancellation of strokes as any other is."""
    told = f"2026-03-08 09:00 count P-07 1040 by ana\n{cancelled('P-07/grind', '1000')}"
    line = line_at(of(tmp_path, told, own_usage_clock=True), "P-07/grind", "2026-03-08 12:00")
    assert line.occurrence == "2000"


# Covered


@pytest.mark.parametrize(
    ("reach", "done", "due"),
    [
        (0, "2026-03-07", "2026-03-08"),
        (1, "2026-03-07", "2026-03-14"),
        (0, "2026-03-08", "2026-03-15"),
        (9, "2026-03-03", "2026-03-10"),
    ],
)
def test_bigger_work_covers_what_falls_due_within_its_days(tmp_path: Path, reach: int, done: str, due: str) -> None:
    """The oil is due on the 8th: work on the 7th covers it with one day of reach, and not without."""
    bigger = task("big", "press", every="1 day", covers=["oil"], cover_days=reach, on_day_off="keep")
    book = book_of(tmp_path, tasks=[OIL, bigger])
    number = number_of(write(book, f"{done} 10:00 sign P-07/big for 2026-03-02 by lea"))
    line = line_at(book, "P-07/oil", f"{done} 12:00")
    assert line.occurrence == due
    assert (f"covered by big #{number}" in why_of(book, line)) == (due != "2026-03-08")


def test_work_just_covered_is_not_covered_again_before_it_falls_due(tmp_path: Path) -> None:
    """Covered on the 8th it is due on the 15th; the same work on the 10th moves nothing."""
    bigger = task("big", "press", every="1 day", covers=["oil"], on_day_off="keep")
    book = book_of(tmp_path, tasks=[OIL, bigger])
    write(book, "2026-03-08 10:00 sign P-07/big for 2026-03-02 by lea")
    write(book, "2026-03-10 10:00 sign P-07/big for 2026-03-09 by lea")
    assert line_at(book, "P-07/oil", "2026-03-10 12:00").occurrence == "2026-03-15"


def test_what_covering_work_reached_ahead_stays_answered(tmp_path: Path) -> None:
    """Three days ahead, Thursday's and Friday's wiping are answered, though Wednesday's oil was signed after it."""
    wipe = task("wipe", "press", rule="FREQ=DAILY", strokes=1000, on_day_off="keep")
    bigger = task("big", "press", every="1 day", covers=["wipe"], cover_days=3, on_day_off="keep")
    told = f"""
        {COUNTED}
        2026-03-03 10:00 count P-07 0 by ana
        2026-03-03 10:00 sign P-07/big for 2026-03-02 by lea
        2026-03-04 10:00 count P-07 1000 by ana
        2026-03-04 10:00 sign P-07/wipe for 1000 by tom
    """
    book = book_of(tmp_path, told, tasks=[wipe, bigger])
    assert str(line_at(book, "P-07/wipe", "2026-03-04 12:00").due_day) == "2026-03-07"
