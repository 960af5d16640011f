"""History that is stated and not verified: it counts for the calendar until the work is signed, for nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, line_at, number_of, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

LUBE = task("lube", "module", every="1 month")
GUARD = task("guard", "press", rule="FREQ=WEEKLY;BYDAY=FR", start="2026-01-02", early_days=1)
OIL = task("oil", "module", every="10 days", spread=True)
FEED = task("feed", "module", every="1 month", strokes=1000)
LOOK = task("look", "module", every="1 month", graded=True)
SAFE = task("safe", "module", every="1 month", second_signature="maintenance lead")
WIPE = task("wipe", "module", each_shift=True)
TASKS = [
    LUBE,
    GUARD,
    OIL,
    FEED,
    LOOK,
    SAFE,
    WIPE,
    task("deep", "module", every="1 year", covers=["lube"], cover_days=8),
]
MONDAY = "2026-03-02 08:00"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A book that began on Sunday 2026-03-01 and knows nothing of the time before."""
    return book_of(tmp_path, tasks=TASKS)


def say(book: Book, words: str) -> int:
    """The lead states something on Monday."""
    return number_of(write(book, f"2026-03-02 07:00 stated {words} by lea"))


def test_an_interval_counts_from_the_day_stated(book: Book) -> None:
    """Stated done on 2026-02-10, monthly: due on 2026-03-10, not a month after the book began."""
    assert str(line_at(book, "M-12/lube", MONDAY).due_day) == "2026-04-01"
    say(book, "M-12/lube done 2026-02-10")
    assert str(line_at(book, "M-12/lube", MONDAY).due_day) == "2026-03-10"
    assert state(book, "M-12/lube", "2026-03-11 00:00") == "overdue"
    assert book.prove().differences == ()


def test_the_line_says_that_nobody_verified_it(book: Book) -> None:
    """And that it was never signed in this book: what is stated is no sign-off."""
    number = say(book, "M-12/lube done 2026-02-10")
    line = line_at(book, "M-12/lube", MONDAY)
    assert "1 month from the day it was done (stated, not verified), Tue 2026-02-10" in why_of(book, line)
    assert "never signed in this book (in it since 2026-03-01)" in why_of(book, line)
    assert f"stated as done 2026-02-10 by Lea (#{number}), not verified" in why_of(book, line)
    assert (line.last_done_at, line.last_done_by) == (None, None)


def test_a_fixed_day_is_answered_by_work_stated_within_its_window(book: Book) -> None:
    """Every Friday, from a day before on: Thursday answers Friday the 27th, Wednesday does not."""
    say(book, "P-07/guard done 2026-02-26")
    say(book, "P-08/guard done 2026-02-25")
    assert line_at(book, "P-07/guard", MONDAY).occurrence == "2026-03-06"
    assert line_at(book, "P-08/guard", MONDAY).occurrence == "2026-02-27"
    assert state(book, "P-08/guard", MONDAY) == "overdue"


def test_a_line_with_a_history_is_not_spread(book: Book) -> None:
    """Spreading is for lines of which nobody knows anything."""
    assert "its place in the first 10 days" in why_of(book, line_at(book, "M-12/oil", MONDAY))
    say(book, "M-12/oil done 2026-02-27")
    assert str(line_at(book, "M-12/oil", MONDAY).due_day) == "2026-03-09"


def test_the_first_sign_off_ends_it(book: Book) -> None:
    """Signed on Monday: due a month from Monday, and the statement is history."""
    say(book, "M-12/lube done 2026-02-10")
    signed = number_of(write(book, "2026-03-02 12:00 sign M-12/lube for 2026-03-10 by lea"))
    line = line_at(book, "M-12/lube", "2026-03-02 12:00")
    assert str(line.due_day) == "2026-04-02"
    assert "stated" not in why_of(book, line)
    write(book, f'2026-03-02 12:01 strike #{signed} by lea because "another module"')
    assert str(line_at(book, "M-12/lube", "2026-03-02 13:00").due_day) == "2026-03-10"
    assert book.prove().differences == ()


def test_covering_work_ends_it_as_well(book: Book) -> None:
    """Work that was signed and covers the line is better known than what was stated; a day less would not reach it."""
    say(book, "M-12/lube done 2026-02-10")
    write(book, "2026-03-02 12:00 sign M-12/deep for 2027-03-01 by lea")
    assert "covered by deep" in why_of(book, line_at(book, "M-12/lube", "2026-03-02 12:00"))
    assert str(line_at(book, "M-12/lube", "2026-03-02 12:00").due_day) == "2026-04-02"


def test_strokes_never_count_from_what_is_stated(book: Book) -> None:
    """The strokes go on from the day the item came into the book; only the calendar moves."""
    write_each(book, "2026-03-01 06:00 count P-07 100 by ana\n2026-03-01 06:00 fit M-12 in P-07 at 100 by ana")
    write(book, "2026-03-01 10:00 count P-07 700 by ana")
    before = line_at(book, "M-12/feed", MONDAY)
    say(book, "M-12/feed done 2026-02-20")
    after = line_at(book, "M-12/feed", MONDAY)
    assert (after.strokes, after.due_strokes, after.remaining) == (before.strokes, before.due_strokes, 400)
    assert str(after.due_day) == "2026-03-20"


@pytest.mark.parametrize(("line", "missing"), [("M-12/look", "a grade"), ("M-12/safe", "a second signature")])
def test_where_a_word_is_not_enough_it_is_kept_and_does_not_count(book: Book, line: str, missing: str) -> None:
    """A statement has no grade and nobody verified it; the writer is told, and the line says so."""
    before = line_at(book, line, MONDAY)
    written = write(book, f"2026-03-02 07:00 stated {line} done 2026-01-10 by lea")
    after = line_at(book, line, MONDAY)
    assert tuple(map(str, written.notes)) == (f"{line} needs {missing}: the stated date is kept but does not count.",)
    assert (after.due_day, after.state) == (before.due_day, before.state)
    assert f"stated as done 2026-01-10 by Lea (#{written.entries[0]}), does not count without {missing}" in why_of(
        book, after
    )


def test_work_of_every_shift_has_no_use_for_it(book: Book) -> None:
    """It is kept, moves nothing, and the writer is told."""
    written = write(book, "2026-03-02 07:00 stated M-12/wipe done 2026-02-27 by lea")
    assert tuple(map(str, written.notes)) == (
        "M-12/wipe does not go by the calendar: the stated date is kept but changes nothing.",
    )


def test_what_was_stated_last_holds(book: Book) -> None:
    """Another day stated, a correction, and both struck: the line follows, and a replay finds the same."""
    first = say(book, "M-12/lube done 2026-02-10")
    second = say(book, "M-12/lube done 2026-02-14")
    assert line_at(book, "M-12/lube", MONDAY).occurrence == "2026-03-14"
    write(book, f'2026-03-02 07:00 stated M-44/lube done 2026-02-14 by lea corrects #{second} because "the other one"')
    assert line_at(book, "M-12/lube", MONDAY).occurrence == "2026-03-10"
    assert line_at(book, "M-44/lube", MONDAY).occurrence == "2026-03-14"
    assert book.prove().differences == ()
    write(book, f'2026-03-02 07:30 strike #{first} by lea because "a guess"')
    assert line_at(book, "M-12/lube", MONDAY).occurrence == "2026-04-01"
    assert book.prove().differences == ()


def test_a_past_view_knows_what_was_stated_by_then(book: Book) -> None:
    """Seen as of Monday early, the line stood without the statement of 07:00."""
    say(book, "M-12/lube done 2026-02-10")
    assert str(line_at(book, "M-12/lube", "2026-03-02 06:59").due_day) == "2026-04-01"
    assert str(line_at(book, "M-12/lube", "2026-03-02 07:00").due_day) == "2026-03-10"


REFUSED = {
    "M-12/lube done 2026-03-02 by lea": "2026-03-02 is not before this book: M-12 has been in it since 2026-03-01.",
    "M-12/lube done 1206-02-20 by lea": "more than 50 years before this book. Check the year.",
    "M-12/lube done 20.02.2026 by lea": "'20.02.2026' is not a date; write it like 2026-02-20.",
    "M-12/lube done 20260220 by lea": "'20260220' is not a date; write it like 2026-02-20.",
    "P-07/lube done 2026-02-20 by lea": "lube is done on a module; P-07 is a press.",
    "M-12/lube done 2026-02-20 by ana": "or state work done before the book began: this needs",
}


@pytest.mark.parametrize("words", REFUSED)
def test_what_cannot_be_stated_is_refused_with_the_reason(book: Book, words: str) -> None:
    """Work of the book's own time is signed, not stated."""
    with pytest.raises(Refused) as refused:
        write(book, f"2026-03-02 07:00 stated {words}")
    assert REFUSED[words] in str(refused.value)


def test_a_note_is_kept_and_moves_nothing(book: Book) -> None:
    """What is worth knowing about the book itself stands in its history."""
    written = write(book, '2026-03-02 07:00 note "the wall clock of the toolroom was 5 min late" by ben')
    assert (written.changes, written.notes) == ((), ())
    assert "the wall clock of the toolroom was 5 min late" in book.history(limit=1)[0].text
    assert book.prove().differences == ()


def test_an_empty_note_is_refused(book: Book) -> None:
    """A note that says nothing is a slip of the hand."""
    with pytest.raises(Refused, match="The note is empty"):
        write(book, '2026-03-02 07:00 note " " by ben')
