"""Work told late, done late or early, done twice, and work that bigger work has done already.

All figures are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, line_at, number_of, state, strokes, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

# Friday's paper is typed in on Monday

GREASE = task("grease", "press", rule="FREQ=WEEKLY;BYDAY=FR", late_days=1)
FRIDAY, MONDAY = "2026-03-06 15:00", "2026-03-09 07:00"
PAPER = f"{FRIDAY} sign P-07/grease for 2026-03-06 by tom"


def test_paper_typed_in_on_monday_was_done_on_friday(tmp_path: Path) -> None:
    """The line was overdue since Sunday until somebody typed it in; the work itself was in time."""
    book = book_of(tmp_path, tasks=[GREASE])
    assert state(book, "P-07/grease", "2026-03-08 00:00") == "overdue"
    write(book, f"{PAPER} recorded {MONDAY}")
    assert line_at(book, "P-07/grease", MONDAY).last_done_at == at(FRIDAY)
    assert line_at(book, "P-07/grease", MONDAY).occurrence == "2026-03-13"
    assert state(book, "P-07/grease", "2026-03-08 00:00") == "later"


def test_both_moments_are_shown(tmp_path: Path) -> None:
    """When it was done and when it was written, in the history and in the line of text."""
    book = book_of(tmp_path, tasks=[GREASE])
    write(book, f"{PAPER} recorded {MONDAY}")
    told = book.history("P-07")[0]
    assert (told.at, told.recorded_at) == (at(FRIDAY), at(MONDAY))
    assert told.text == f"{PAPER} recorded {MONDAY}"
    assert book.line("P-07/grease", at("2026-03-08 00:00"), known_at=at("2026-03-08 00:00")).state == "overdue"


def test_what_is_told_after_three_days_is_written_by_the_lead(tmp_path: Path) -> None:
    """From Friday 15:00 to Monday 15:00 anybody may, a second later only the lead."""
    book = book_of(tmp_path, tasks=[GREASE])
    late = "recorded 2026-03-09 15:00:01"
    with pytest.raises(Refused, match="15:00 is more than 72 hours ago"):
        write(book, f"{PAPER} {late}")
    write(book, f"{PAPER.replace('tom', 'lea')} {late}")
    (tmp_path / "in-time").mkdir()
    write(book_of(tmp_path / "in-time", tasks=[GREASE]), f"{PAPER} recorded 2026-03-09 15:00:00")


def test_how_late_is_the_plants_own_rule_for_counts_as_for_work(tmp_path: Path) -> None:
    """Eight hours here; a reading from a note found a week later still settles what was guessed, by the lead."""
    book = book_of(tmp_path, "2026-03-02 06:00 count P-07 10000 by ana", tasks=[GREASE], late_hours=8)
    with pytest.raises(Refused, match="more than 8 hours ago"):
        write(book, f"{PAPER} recorded {MONDAY}")
    with pytest.raises(Refused, match="more than 8 hours ago"):
        write(book, f"2026-03-02 14:00 count P-07 12000 by ana recorded {MONDAY}")
    write(book, f"2026-03-02 14:00 count P-07 12000 by lea recorded {MONDAY}")
    assert strokes(book, "P-07", MONDAY) == (2_000, 2_000, 2_000)


# A monthly job done on the 3rd and then on the 29th of the next month

MONTHLY = task("belt", "press", every="1 month", late_days=3)
THIRD = task("belt", "press", rule="FREQ=MONTHLY;BYMONTHDAY=3", late_days=3)
GAP = "2026-04-03 10:00", "2026-05-29 10:00"


def test_a_floating_month_counts_from_the_day_done_and_shows_how_long_the_gap_was(tmp_path: Path) -> None:
    """Once in April and once in May, and 56 days between them."""
    book = book_of(tmp_path, tasks=[MONTHLY])
    write(book, f"{GAP[0]} sign P-07/belt for 2026-04-01 by lea")
    assert state(book, "P-07/belt", GAP[1]) == "overdue"
    write(book, f"{GAP[1]} sign P-07/belt for 2026-05-03 by lea")
    line = line_at(book, "P-07/belt", GAP[1])
    assert line.occurrence == "2026-06-29"
    assert "last done 2026-05-29 10:00 by Lea" in why_of(book, line)
    assert "56 days after the previous time" in why_of(book, line)


def test_a_fixed_month_shows_that_the_second_was_late_and_does_not_drift(tmp_path: Path) -> None:
    """Planned for 3 May and overdue from the 7th on; the next one is that of 3 June."""
    book = book_of(tmp_path, tasks=[THIRD], begins="2026-04-01 00:00")
    write(book, f"{GAP[0]} sign P-07/belt for 2026-04-03 by tom")
    assert [state(book, "P-07/belt", f"2026-05-{day} 12:00") for day in ("06", "07", "29")] == [
        "due", "overdue", "overdue",
    ]  # fmt: skip
    write(book, f"{GAP[1]} sign P-07/belt for 2026-05-03 by tom")
    line = line_at(book, "P-07/belt", GAP[1])
    assert (line.occurrence, "56 days after the previous time" in why_of(book, line)) == ("2026-06-03", True)


# A thorough clean on Wednesday

CLEAN = task("clean", "module", each_shift=True)
THOROUGH = task("thorough", "module", every="7 days", early_days=4, covers=["clean"])
RUNS = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ana
"""
WEDNESDAY = "2026-03-04 10:00"


def cleaned(tmp_path: Path) -> Book:
    """M-12 runs in the early shift of every day and is thoroughly cleaned on Wednesday."""
    one_shift = [{"name": "early", "start": "06:00", "end": "14:00", "days": ("MO", "TU", "WE", "TH", "FR")}]
    book = book_of(tmp_path, RUNS, tasks=[CLEAN, THOROUGH], shifts=one_shift)
    write_each(
        book,
        f"""
        2026-03-02 14:00 count P-07 12000 by ana
        2026-03-03 13:50 sign M-12/clean for 2026-03-03/early by ana
        2026-03-03 14:00 count P-07 14000 by ana
        {WEDNESDAY} sign M-12/thorough for 2026-03-08 by tom
        2026-03-04 14:00 count P-07 16000 by ana
        """,
    )
    return book


def test_the_thorough_clean_covers_the_clean_of_its_shift_and_says_so(tmp_path: Path) -> None:
    """Wednesday's clean is done, covered by the entry of the thorough one."""
    book = cleaned(tmp_path)
    line = line_at(book, "M-12/clean", "2026-03-04 14:00")
    assert (line.occurrence, line.state) == ("2026-03-05/early", "later")
    assert "covered by thorough #" in why_of(book, line)


def test_it_covers_no_clean_of_the_days_after_it(tmp_path: Path) -> None:
    """Thursday's is signed, Friday's is due."""
    book = cleaned(tmp_path)
    write_each(
        book,
        """
        2026-03-05 13:50 sign M-12/clean for 2026-03-05/early by ana
        2026-03-05 14:00 count P-07 18000 by ana
        """,
    )
    line = line_at(book, "M-12/clean", "2026-03-06 08:00")
    assert (line.occurrence, line.state) == ("2026-03-06/early", "due")


# A service every 7 days or 20,000 strokes, done for the calendar at 3,000

SERVICE = {"every": "7 days", "strokes": 20_000, "combine": "first"}
TO_MONDAY = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-08 10:00 count P-07 13000 by ana
    2026-03-08 10:00 sign M-12/service for 2026-03-08 by tom
    2026-03-09 06:00 count P-07 14000 by ana
"""


@pytest.mark.parametrize(("own_clock", "done"), [(False, 1_000), (True, 4_000)])
def test_done_for_the_calendar_it_starts_both_clocks_unless_strokes_keep_their_own(
    tmp_path: Path, own_clock: bool, done: int
) -> None:
    """3,000 strokes were done by then: the job is done, both begin anew; with a clock of its own the strokes go on."""
    book = book_of(tmp_path, TO_MONDAY, tasks=[task("service", "module", own_usage_clock=own_clock, **SERVICE)])
    line = line_at(book, "M-12/service", "2026-03-09 06:00")
    assert (line.occurrence, line.strokes, line.remaining) == ("2026-03-15", done, 20_000 - done)


# Two terminals that cannot see each other sign the same clean


MORNING = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 14:00 count P-07 12000 by ana
"""
HERE = "2026-03-02 13:40 sign M-12/clean for 2026-03-02/early by ana"
THERE = """\
# from the terminal at the rack
2026-03-02 13:50 sign M-12/clean for 2026-03-02/early by ben
2026-03-02 13:45 fault M-12 "feed finger bent" by ben
"""


def test_of_two_sign_offs_of_one_clean_one_counts_and_the_other_is_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The second one is an extra; everything else that was written there is in, in order of time."""
    book = book_of(tmp_path, MORNING, tasks=[CLEAN])
    number = number_of(write(book, f"{HERE} recorded 2026-03-02 14:00"))
    lines = tmp_path / "rack.txt"
    lines.write_text(THERE, encoding="utf-8")
    terminal = Terminal(book.path, capsys)
    assert "already signed: Ana, 2026-03-02 13:40" in terminal.types("2026-03-02 14:30", "enter", lines).err
    merged = terminal.types("2026-03-02 14:30", "enter", "--merge", lines)
    assert merged.code == 0
    kept = "2026-03-02 13:40; this one is kept as an extra: 2026-03-02 13:50 sign M-12/clean for extra"
    assert f"Ana (#{number}) was first, {kept}" in merged.out
    told = [line.text for line in book.history("M-12") if line.kind in ("sign", "fault")]
    assert [text.partition(" by ")[0] for text in told] == [
        "2026-03-02 13:50 sign M-12/clean for extra",
        '2026-03-02 13:45 fault M-12 "feed finger bent"',
        "2026-03-02 13:40 sign M-12/clean for 2026-03-02/early",
    ]
    assert line_at(book, "M-12/clean", "2026-03-02 14:30").last_done_by == "ana"


def test_the_sheets_of_both_terminals_together_count_what_was_done_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whichever stands first in the file."""
    book = book_of(tmp_path, MORNING, tasks=[CLEAN])
    lines = tmp_path / "both.txt"
    lines.write_text(f"{THERE}{HERE}\n", encoding="utf-8")
    assert Terminal(book.path, capsys).types("2026-03-02 14:30", "enter", "--merge", lines).code == 0
    assert line_at(book, "M-12/clean", "2026-03-02 14:30").last_done_by == "ana"
    assert book.prove().differences == ()


def test_who_did_it_first_counts_whoever_was_entered_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The one that is in the book becomes the extra; the same file twice changes nothing."""
    book = book_of(tmp_path, MORNING, tasks=[CLEAN])
    write(book, f"{HERE} recorded 2026-03-02 14:00")
    lines = tmp_path / "rack.txt"
    lines.write_text("2026-03-02 13:20 sign M-12/clean for 2026-03-02/early by ben\n", encoding="utf-8")
    terminal = Terminal(book.path, capsys)
    merged = terminal.types("2026-03-02 14:30", "enter", "--merge", lines)
    assert merged.code == 0, merged.err
    assert (
        "Ben was first, 2026-03-02 13:20; this one is kept as an extra: 2026-03-02 13:40 sign M-12/clean" in merged.out
    )
    line = line_at(book, "M-12/clean", "2026-03-02 14:30")
    assert (line.last_done_by, line.last_done_at) == ("ben", at("2026-03-02 13:20"))
    in_effect = [told.text for told in book.history("M-12") if told.kind == "sign" and not told.corrected_by]
    assert [text.partition(" recorded ")[0] for text in in_effect] == [
        "2026-03-02 13:40 sign M-12/clean for extra by ana",
        "2026-03-02 13:20 sign M-12/clean for 2026-03-02/early by ben",
    ]
    told = len(book.history())
    again = terminal.types("2026-03-02 14:40", "enter", "--merge", lines)
    assert again.out == "Nothing to write: the book already says so.\n"
    assert len(book.history()) == told
    assert book.prove().differences == ()


@pytest.mark.parametrize(("named", "answered"), [((), "night"), (("--for", "2026-03-02/late"), "late")])
def test_a_shift_signs_for_itself_unless_it_says_otherwise(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], named: tuple[str, ...], answered: str
) -> None:
    """The night man's clean is not the late one of the shift that forgot it; that one stays missed in its own name."""
    ran = f"{MORNING}{HERE}\n2026-03-02 21:50 count P-07 14000 by ana\n2026-03-02 22:20 count P-07 14100 by ben"
    with book_of(tmp_path, ran, tasks=[CLEAN]) as book:
        assert line_at(book, "M-12/clean", "2026-03-02 22:30").occurrence == "2026-03-02/late"
        assert book.sign_form("M-12/clean", at("2026-03-02 22:30")).line.occurrence == "2026-03-02/night"
        terminal = Terminal(book.path, capsys)
        assert terminal.types("2026-03-02 22:30", "sign", "M-12/clean", *named, "--by", "ben").code == 0
        assert f"sign M-12/clean for 2026-03-02/{answered} by ben" in book.newest_written(1)[0].text
