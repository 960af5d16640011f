"""What the book refuses, and the sentence it refuses with: what is wrong, where, and what to do."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import (
    CLEAN,
    INSPECT,
    at,
    book_of,
    define,
    entries_of,
    item,
    number_of,
    person,
    task,
    write,
    write_each,
    written_lines,
)
from upkeep.book import Book
from upkeep.entries.counting import Count
from upkeep.entries.faults import Fault
from upkeep.entries.planning import Define
from upkeep.entries.signing import Sign
from upkeep.errors import AlreadySigned, Contradicted, NotFound, Refused
from upkeep.said import Moment

CHECK = task(
    "check",
    "die set",
    strokes=2000,
    graded=True,
    gauge_class="crimp micrometer",
    points=[
        {"id": "height", "title": "Crimp height", "unit": "mm", "lower": 1.20, "upper": 1.30, "readings": 2},
        {"id": "burr", "title": "Burr", "unit": "mm", "upper": 0.05},
    ],
)
GUARD = task("guard", "press", every="7 days", early_days=7, second_signature="maintenance lead")
MORE = (
    item("M-99", kind="module", scrapped="2026-02-27"),
    item("G-2", kind="gauge", gauge_class="pull tester"),
    item("G-9", kind="gauge", gauge_class="crimp micrometer", scrapped="2026-02-27"),
    person("old", "Olda", "maintenance technician", until="2026-03-01"),
    person("sec", "Sec", "maintenance technician", "maintenance lead"),
)
SO_FAR = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 count P-08 2090000 by ana
    2026-03-02 06:00 count P-03 998700 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:10 sign M-12/clean for 2026-03-02/early by ben
    2026-03-02 13:30 count P-08 2094050 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Monday 14:00: P-07 at 1,209,410, P-08 at 2,094,050, a six-figure P-03 near its end."""
    return book_of(tmp_path, SO_FAR, tasks=[CLEAN, INSPECT, CHECK, GUARD], more=MORE)


def number_in(book: Book, words: str) -> int:
    """The number of the entry whose line holds some words."""
    return next(line.entry for line in book.history(None, 1000) if words in line.text)


COUNTS = {
    "2026-03-02 22:00 count P-07 1241471 by ana": (
        "P-07: 32,061 strokes compared with the reading 1,209,410 of 2026-03-02 14:00 would be 4,008 strokes an hour; "
        "this press does at most 4,000 an hour. Nothing was changed; read the counter again, digit by digit. "
        "With two digits swapped it would be 1,214,471."
    ),
    "2026-03-02 22:00 count P-07 2094100 by ana": (
        "P-07: 884,690 strokes compared with the reading 1,209,410 of 2026-03-02 14:00 would be "
        "110,586 strokes an hour; "
        "this press does at most 4,000 an hour. Nothing was changed; read the counter again, digit by digit. "
        "It would fit P-08 (last 2,094,050): is it the right press?"
    ),
    "2026-03-02 22:00 count P-07 1209400 by ana": (
        "P-07: the count goes back from 1,209,410 to 1,209,400 (the reading 1,209,410 of 2026-03-02 14:00). "
        "Nothing was changed; read the counter again, digit by digit."
    ),
    "2026-03-02 22:00 count P-08 1209500 by ana": (
        "P-08: the count goes back from 2,094,050 to 1,209,500 (the reading 2,094,050 of 2026-03-02 13:30). "
        "Nothing was changed; read the counter again, digit by digit. "
        "With two digits swapped it would be 2,109,500. "
        "It would fit P-07 (last 1,209,410): is it the right press?"
    ),
    "2026-03-02 14:00 count P-03 1450 by ana": (
        "P-03: the count goes back from 998,700 to 1,450 (the reading 998,700 of 2026-03-02 06:00). "
        "If the 6-digit counter rolled over, that is 2,750 strokes: confirm with 'rolled over' (--rolled-over; "
        "rolled-over on a sheet, in a line or in the column 'confirmed' of a file)."
    ),
    "2026-03-02 14:00 count P-03 1001450 by ana": (
        "1,001,450 has more digits than the counter of P-03 (6). Read it again, digit by digit."
    ),
    "2026-03-02 14:00 count P-03 998900 rolled-over by ana": (
        "P-03: 1,000,200 strokes compared with the reading 998,700 of 2026-03-02 06:00 would be "
        "125,025 strokes an hour; "
        "this press does at most 4,000 an hour. Nothing was changed; read the counter again, digit by digit."
    ),
    "2026-03-02 10:00 count P-07 1209500 by ana recorded 2026-03-02 15:00": (
        "P-07: the count goes back from 1,209,500 to 1,209,410 (the reading 1,209,500 of 2026-03-02 10:00). "
        "Nothing was changed; read the counter again, digit by digit."
    ),
    "2026-03-02 14:00 fit M-44 in P-03 at 1001450 by ana": (
        "1,001,450 has more digits than the counter of P-03 (6). Read it again, digit by digit."
    ),
}


READ = {"P-03": ("998700", "06:00"), "P-07": ("1209410", "14:00"), "P-08": ("2094050", "13:30")}
"""The last figure of each counter, and when it was read."""


def _against(book: Book, refusal: Refused) -> str:
    """What a refusal says of the earlier reading; nothing where none stands against the count."""
    if not isinstance(refusal, Contradicted):
        return ""
    figure, clock = READ[str(refusal)[:4]]
    return (
        f" Against it stands #{number_in(book, f' {figure} by')}, written by Ana, 2026-03-02 {clock}. If that one is "
        "wrong, say so ('the earlier one is wrong'): the count is kept as read, as a question for the lead."
    )


@pytest.mark.parametrize("line", COUNTS)
def test_a_count_that_cannot_be_true_is_refused_with_its_arithmetic(book: Book, line: str) -> None:
    """Nothing is kept of it, so the next true count is taken as if it had never been typed."""
    with pytest.raises(Refused) as refused:
        write(book, line)
    assert str(refused.value) == COUNTS[line] + _against(book, refused.value)
    write(book, "2026-03-02 22:00 count P-07 1209410 by ana")
    assert book.prove().differences == ()


def test_as_fast_as_the_press_can_run_is_taken_to_the_stroke(book: Book) -> None:
    """8 hours at 4,000 an hour are 32,000 strokes; 60 more are forgiven, since clocks are read to the minute."""
    write(book, "2026-03-02 22:00 count P-07 1241470 by ana")
    taken = number_of(write(book, "2026-03-02 22:00 count P-08 2128110 by ana"))  # 8 h 30 are 34,000
    with pytest.raises(Refused, match="34,061 strokes"):
        write(book, f'2026-03-02 22:00 count P-08 2128111 by ana corrects #{taken} because "misread"')


def test_a_rollover_confirmed_adds_what_went_round(book: Book) -> None:
    """998,700 and 1,450 with six figures are 2,750 strokes."""
    write(book, "2026-03-02 14:00 count P-03 1450 rolled-over by ana")
    assert book.life("P-03", at("2026-03-02 14:00")).since_new == (2_750, 2_750, 2_750)


def test_two_counts_of_one_minute_need_no_time_between_them(book: Book) -> None:
    """The same figure twice is no movement; more than a minute's worth is."""
    write(book, "2026-03-02 14:00 count P-07 1209410 by ben")
    with pytest.raises(Refused, match="would be no time between them"):
        write(book, "2026-03-02 14:00 count P-07 1209500 by ben")


LINES = {
    # fittings
    "2026-03-02 15:00 fit M-12 in P-08 by ana": "M-12 is still in P-07 (entry #{fit})",
    "2026-03-02 15:00 fit M-44 in P-07 by ana": (
        "P-07 has held the module M-12 since 2026-03-02 06:00 (entry #{fit}), so M-44 cannot go in. "
        "Take M-12 out first"
    ),
    "2026-03-02 15:00 fit CP-b in DS-031 by ana": "DS-031 has held the conductor punch CP-a since",
    "2026-03-02 15:00 fit DS-102 in P-08 by ana": "DS-102 is a die set and goes into a module; P-08 is a press.",
    "2026-03-02 15:00 fit P-08 in M-12 by ana": "P-08 is a press; it does not go into anything.",
    "2026-03-02 15:00 fit M-99 in P-08 by ana": (
        "M-99 was scrapped on 2026-02-27 and cannot be used again. Check the id on the metal."
    ),
    "2026-03-02 15:00 unfit M-44 by ana": "M-44 is not in anything at that moment, so it cannot be taken out",
    "2026-03-02 15:00 fit DS-102 in M-44 at 1209500 by ana": (
        "DS-102 is not on a press at that moment; leave out the count, or first fit what it sits in."
    ),
    "2026-03-02 08:00 unfit M-12 by ana recorded 2026-03-02 15:00": None,
    # people and times
    "2026-03-02 15:00 sign M-12/clean for 2026-03-02/late by tom": (
        "Tom (maintenance technician) may not sign Task clean on M-12: this needs the role of operator."
    ),
    "2026-03-02 15:00 sign M-12/clean for 2026-03-02/late by lea": None,
    "2026-03-02 15:00 sign M-12/clean for 2026-03-02/late by old": (
        "Olda (old) has not been allowed to sign since 2026-03-01. Sign with your own id."
    ),
    "2026-03-02 15:00 count P-07 1209500 by old": "Olda (old) has not been allowed to sign since 2026-03-01.",
    "2026-03-02 15:06 count P-07 1209500 by ana recorded 2026-03-02 15:00": (
        "2026-03-02 15:06 is in the future (it is now 2026-03-02 15:00). Check the date and the clock of this terminal"
    ),
    "2026-03-02 15:05 count P-07 1209500 by ana recorded 2026-03-02 15:00": None,
    "2026-02-28 23:59 count P-07 1209500 by ana recorded 2026-03-02 15:00": (
        "2026-02-28 23:59 is before this book began (2026-03-01 00:00), and nothing from before that can be entered."
    ),
    # sign-offs
    "2026-03-02 15:00 sign M-12/inspect for extra grade 0 by ana": "inspect is done on a die set; M-12 is a module.",
    "2026-03-02 15:00 sign DS-031/inspect for extra by ana": (
        "Task inspect needs a grade: 0 (as new), 1, 2, 3 or 4 (out). None was given."
    ),
    "2026-03-02 15:00 sign DS-031/inspect for extra grade 5 by ana": "needs a grade: 0 (as new), 1, 2, 3 or 4 (out)",
    "2026-03-02 15:00 sign M-12/clean for extra grade 1 by ben": "Task clean is not graded; leave out the grade.",
    "2026-03-02 15:00 sign M-12/clean for 2026-03-02/early by ana": (
        "M-12/clean for 2026-03-02/early is already signed: Ben, 2026-03-02 06:10 (#{clean}). "
        "If you did the work too, record it as an extra."
    ),
    "2026-03-02 15:00 sign M-12/clean for 2026-03-02/night by ben": (
        "M-12/clean is not planned for 2026-03-02/night; the open occurrence is 2026-03-02/late."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with G-1 height=1.25,1.26 by ana": (
        "Burr needs 1 reading in mm; 0 given. A point that was not measured cannot be signed."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with G-1 height=1.25 burr=0.01 by ana": (
        "Crimp height needs 2 readings in mm; 1 given."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with G-1 hight=1.25 by ana": (
        "Task check has no measured point 'hight'; its points: height, burr."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 height=1.25,1.26 burr=0.01 by ana": (
        "Say which crimp micrometer measured Crimp height; a reading is only as good as its gauge."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with G-2 height=1.25,1.26 burr=0.01 by ana": (
        "Crimp height is measured with a crimp micrometer; G-2 is a pull tester."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with G-9 height=1.25,1.26 burr=0.01 by ana": (
        "G-9 was scrapped on 2026-02-27; measure with another one."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 1 with P-07 height=1.25,1.26 burr=0.01 by ana": (
        "P-07 is a press, not a gauge."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 3 with G-1 height=1.25,1.31 burr=0.01 by ana": (
        "Crimp height 1.31 mm is above its limit of 1.3 mm. "
        "A point out of limits means grade 4 (out), not 3. Measure again, or give grade 4."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 3 with G-1 height=1.19,1.25 burr=0.01 by ana": (
        "Crimp height 1.19 mm is below its limit of 1.2 mm."
    ),
    "2026-03-02 15:00 sign DS-031/check for 2000 grade 4 with G-1 height=1.25,1.31 burr=0.01 by ana": None,
    # standings
    "2026-03-02 15:00 hold DS-031 by ben": "Say why DS-031 is held; the reason stays in the book.",
    '2026-03-02 15:00 release DS-031 by lea because "fine"': "DS-031 is not held.",
    "2026-03-02 15:00 resume DS-031 by lea": "DS-031 is not in storage or out of use.",
    # entries
    "2026-03-02 15:00 verify #{clean} by lea": "Task clean does not need a second signature.",
    "2026-03-02 15:00 verify #{fit} by lea": "#{fit} is not a sign-off; there is nothing to verify.",
    '2026-03-02 15:00 strike #1 by lea because "x"': "A definition cannot be struck; correct the definition files",
    "2026-03-02 15:00 hold DS-031 by ben corrects #{fit}": "Entry #{fit} is a different kind of entry",
    "2026-03-02 06:00 fit M-12 in P-07 by ana corrects #{fit}": (
        "Say why #{fit} is corrected; both values and the reason stay in the book."
    ),
}  # fmt: skip


@pytest.mark.parametrize("line", LINES)
def test_an_entry_that_contradicts_the_plant_is_refused_with_what_to_do(book: Book, line: str) -> None:
    """Where no sentence stands beside it, the entry is one that just passes."""
    numbers = {"fit": number_in(book, "fit M-12"), "clean": number_in(book, "sign M-12/clean")}
    wanted, line = LINES[line], line.format(**numbers)
    if wanted is None:
        write(book, line)
    else:
        with pytest.raises(Refused) as refused:
            write(book, line)
        assert wanted.format(**numbers) in str(refused.value)
        assert len(str(refused.value)) < 400
    assert book.prove().differences == ()


UNKNOWN = {
    "2026-03-02 15:00 count P-70 5 by ana": "There is no press 'P-70' in this book. Did you mean P-0",
    "2026-03-02 15:00 count M-12 5 by ana": "There is no press 'M-12' in this book. M-12 is a module without a counter",
    "2026-03-02 15:00 fit DS-301 in M-44 by ana": "There is no item 'DS-301' in this book. Did you mean DS-031",
    "2026-03-02 15:00 count P-07 1209500 by anna": "There is no person 'anna' in this book. Did you mean ana?",
    "2026-03-02 15:00 sign M-12/claen for extra by ana": "There is no task 'claen' in this book. Did you mean clean?",
    "2026-03-02 15:00 unfit M-12 to rak by ana": "There is no place 'rak' in this book. Did you mean rack?",
    "2026-03-02 15:00 verify #999 by lea": "There is no entry '#999' in this book.",
}


@pytest.mark.parametrize("line", UNKNOWN)
def test_what_the_book_does_not_know_is_asked_back_with_near_ids(book: Book, line: str) -> None:
    """Two figures swapped, a letter too many."""
    with pytest.raises(NotFound) as unknown:
        write(book, line)
    assert str(unknown.value).startswith(UNKNOWN[line])


def test_an_entry_from_a_wrong_clock_once_struck_makes_no_past_of_the_present(book: Book) -> None:
    """A terminal eight months ahead told a fault; struck, the board of now is the present board again."""
    wrong = number_of(write(book, '2026-11-02 15:00 fault M-12 "burr" by ben'))
    assert book.last_moment() == at("2026-11-02 15:00")
    write(book, f'2026-03-02 15:30 strike #{wrong} by lea because "clock months ahead"')
    assert book.last_moment() == at("2026-03-02 15:30")
    assert book.prove().differences == ()


def test_all_or_nothing_of_a_write_is_kept(book: Book) -> None:
    """The third of three is refused; the two before it were never there."""
    before = book.prove().entries
    with pytest.raises(Refused, match="goes back"):
        write(
            book,
            """
            2026-03-02 15:00 count P-07 1209500 by ana
            2026-03-02 15:00 fit M-44 in P-08 by ana
            2026-03-02 15:00 count P-07 1209400 by ana
            """,
        )
    assert book.prove().entries == before
    assert ("M-44", "P-08") not in book.hanging(at("2026-03-02 15:00"))
    assert book.life("P-07", at("2026-03-02 15:00")).since_new[1] == 5_110


# Second signatures


def test_the_second_signature_is_by_another_person_of_the_named_role(book: Book) -> None:
    """Sec holds both roles and did the work: nobody signs twice."""
    signed = number_of(write(book, "2026-03-02 15:00 sign P-07/guard for 2026-03-08 by sec"))
    with pytest.raises(Refused, match=f"Sec did the work of #{signed}; somebody else must give the second signature"):
        write(book, f"2026-03-02 15:01 verify #{signed} by sec")
    with pytest.raises(
        Refused, match="may not sign Task guard as the second person: this needs the role of maintenance lead"
    ):
        write(book, f"2026-03-02 15:01 verify #{signed} by tom")
    write(book, f"2026-03-02 15:02 verify #{signed} by lea")
    with pytest.raises(Refused, match=f"#{signed} already has its second signature"):
        write(book, f"2026-03-02 15:03 verify #{signed} by lea")


def test_the_second_signature_comes_after_the_work(book: Book) -> None:
    """Nobody verifies at 14:59 what was done at 15:00."""
    signed = number_of(write(book, "2026-03-02 15:00 sign P-07/guard for 2026-03-08 by tom"))
    with pytest.raises(Refused, match=f"The work of #{signed} was done 2026-03-02 15:00; the second signature cannot"):
        write(book, f"2026-03-02 14:59 verify #{signed} by lea recorded 2026-03-02 15:01")


# Holds and scrap, told late


def test_a_module_with_a_held_set_in_it_goes_onto_no_press(book: Book) -> None:
    """The hold goes with what it holds, whatever that sits in."""
    write(book, "2026-03-02 15:00 unfit M-12 at 1209500 by ana")
    write(book, '2026-03-02 15:01 hold CP-a by ben because "chipped"')
    with pytest.raises(Refused, match=r"CP-a is held: chipped\. It must not run until it is released"):
        write(book, "2026-03-02 15:05 fit M-12 in P-08 by ana")
    write(book, "2026-03-02 15:06 unfit CP-a by ana")
    write(book, "2026-03-02 15:07 fit M-12 in P-08 by ana")


def test_a_fitting_from_before_the_hold_is_told_as_it_was(book: Book) -> None:
    """The paper of the morning comes in after the set was held at noon."""
    write(book, '2026-03-02 12:00 hold DS-102 by ben recorded 2026-03-02 15:00 because "burr"')
    write(book, "2026-03-02 08:00 fit DS-102 in M-44 by ana recorded 2026-03-02 15:00")
    with pytest.raises(Refused, match="DS-102 is held: burr"):
        write_each(
            book,
            """
            2026-03-02 12:00 unfit DS-102 by ana recorded 2026-03-02 15:00
            2026-03-02 12:05 fit DS-102 in M-44 by ana recorded 2026-03-02 15:00
            """,
        )


def test_what_was_done_with_an_item_before_it_was_scrapped_may_be_told_after(book: Book) -> None:
    """From the day it left on, nothing more."""
    now = at("2026-03-04 08:00")
    book.load(
        [item("M-44", scrapped="2026-03-04"), item("G-1", scrapped="2026-03-04")], now, "lea", now, "as it is now"
    )
    write(book, "2026-03-03 23:59 fit M-44 in P-08 by ana recorded 2026-03-04 09:00")
    write(book, "2026-03-04 00:00 unfit M-44 by ana recorded 2026-03-04 09:00")
    with pytest.raises(Refused, match="M-44 was scrapped on 2026-03-04 and cannot be used again"):
        write(book, "2026-03-04 00:00 fit M-44 in P-08 by ana recorded 2026-03-04 09:00")


def test_an_occurrence_the_changed_plan_asks_for_again_can_be_signed_again(tmp_path: Path) -> None:
    """Done early on the 4th for the 8th; then every 4 days, and the 8th is planned once more."""
    weekly = task("grease", "press", every="7 days", early_days=5)
    with book_of(tmp_path, "2026-03-04 06:00 sign P-07/grease for 2026-03-08 by tom", tasks=[weekly]) as book:
        now = at("2026-03-04 08:00")
        book.load([task("grease", "press", every="4 days")], now, "lea", now, "as it is now")
        write(book, "2026-03-08 06:00 sign P-07/grease for 2026-03-08 by tom")
        with pytest.raises(AlreadySigned):
            write(book, "2026-03-08 06:05 sign P-07/grease for 2026-03-08 by ana")
        assert book.line("P-07/grease", at("2026-03-08 06:05")).occurrence == "2026-03-12"


def test_a_correction_names_no_occurrence_that_could_not_be_open(book: Book) -> None:
    """Else one correction could silence a line for years."""
    signed = number_of(write(book, "2026-03-02 15:00 sign P-07/guard for 2026-03-08 by tom"))
    correct = f'by tom recorded 2026-03-02 15:30 corrects #{signed} because "wrong press"'
    with pytest.raises(Refused, match="P-07/guard is not planned for 2036-03-08"):
        write(book, f"2026-03-02 15:00 sign P-07/guard for 2036-03-08 {correct}")
    write(book, f"2026-03-02 15:00 sign P-08/guard for 2026-03-08 {correct}")
    assert book.line("P-07/guard", at("2026-03-02 15:30")).unverified is None


# Undo and strike: the moments of writing are told, no clock is read


def test_in_the_shell_too_an_undo_comes_within_sixty_seconds(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """Counts, faults and holds, several in a row, and nobody else's."""
    shell = Terminal(book.path, capsys)
    told = (("count", "P-07", 1209500), ("fault", "M-12", "burr"), ("hold", "M-44", "--because", "chip"))
    for second, words in enumerate(told):
        assert shell.types(f"2026-03-02 15:00:0{second}", *words, "--by", "ben").code == 0
    shell.types("2026-03-02 15:00:05", "hold", "P-08", "--because", "oil", "--by", "tom")
    for second, kind in enumerate(("hold M-44", "fault M-12", "count P-07")):
        taken = shell.types(f"2026-03-02 15:00:3{second}", "undo", "--by", "ben")
        assert f"{kind} " in taken.out.partition("\n")[0]
    assert "was written 2026-03-02 06:10: an entry" in shell.types("2026-03-02 15:00:40", "undo", "--by", "ben").err
    late = shell.types("2026-03-02 15:01:10", "undo", "--by", "tom")
    assert late.code == 1
    assert "an entry can be undone for 60 s only. Strike it with a reason" in late.err


def test_an_undo_needs_no_reason_for_sixty_seconds_after_writing(book: Book) -> None:
    """Counted from when it was written, not from when the work was done."""
    late = '2026-03-02 10:00 fault M-12 "burr" by ben recorded 2026-03-02 15:00'
    number = number_of(write(book, late))
    write(book, f"2026-03-02 15:01 strike #{number} by ben")
    number = number_of(write(book, late))
    with pytest.raises(
        Refused, match=rf"#{number} was written 2026-03-02 15:00: an entry can be undone for 60 s only\. Strike it"
    ):
        write(book, f"2026-03-02 15:01:01 strike #{number} by ben")
    write(book, f'2026-03-02 15:01:01 strike #{number} by ben because "M-44"')


def test_somebody_elses_entry_is_struck_with_a_reason_and_the_right_to_do_so(book: Book) -> None:
    """Within the sixty seconds too; lead and quality may."""
    number = number_of(write(book, '2026-03-02 15:00 fault M-12 "burr" by ben'))
    with pytest.raises(Refused, match="Strike it with a reason instead"):
        write(book, f"2026-03-02 15:00 strike #{number} by lea")
    with pytest.raises(Refused, match="may not strike somebody else's entry"):
        write(book, f'2026-03-02 15:00 strike #{number} by ana because "no"')
    write(book, f'2026-03-02 15:00 strike #{number} by lea because "M-44"')


def test_what_has_no_effect_any_more_is_neither_struck_nor_corrected_again(book: Book) -> None:
    """The refusal names the entry that took its effect."""
    number = number_of(write(book, '2026-03-02 15:00 fault M-12 "burr" by ben'))
    struck = number_of(write(book, f"2026-03-02 15:00 strike #{number} by ben"))
    for again in (
        f'2026-03-02 15:10 strike #{number} by ben because "x"',
        f'2026-03-02 15:10 fault M-44 "burr" by ben corrects #{number} because "x"',
    ):
        with pytest.raises(Refused, match=f"Entry #{number} is no longer in effect: see #{struck}"):
            write(book, again)


def test_striking_a_count_that_later_counts_stand_on_is_refused_where_the_rest_cannot_be_true(book: Book) -> None:
    """Without the rolled-over reading the one after it would go back."""
    rolled = number_of(write(book, "2026-03-02 14:00 count P-03 1450 rolled-over by ana"))
    write(book, "2026-03-02 15:00 count P-03 2000 by ana")
    with pytest.raises(Refused, match="the count goes back from 998,700 to 2,000"):
        write(book, f'2026-03-02 16:00 strike #{rolled} by lea because "misread"')


def test_a_strike_is_not_struck_where_its_place_was_taken_meanwhile(book: Book) -> None:
    """Two corrections of one entry, or two sign-offs of one shift, never count side by side."""
    clean = number_in(book, "sign M-12/clean")
    struck = number_of(write(book, f'2026-03-02 15:00 strike #{clean} by lea because "M-44"'))
    again = number_of(
        write(book, "2026-03-02 14:30 sign M-12/clean for 2026-03-02/early by ana recorded 2026-03-02 15:00")
    )
    with pytest.raises(Refused, match=rf"M-12/clean for 2026-03-02/early has since been signed again \(#{again}\)"):
        write(book, f'2026-03-02 15:10 strike #{struck} by lea because "it was M-12"')
    first = number_of(write(book, '2026-03-02 15:00 fault M-12 "burr" by ben'))
    one = number_of(write(book, f'2026-03-02 15:00 fault M-12 "chip" by ben corrects #{first} because "x"'))
    gone = number_of(write(book, f'2026-03-02 15:00 strike #{one} by ben because "x"'))
    other = number_of(write(book, f'2026-03-02 15:00 fault M-12 "scratch" by ben corrects #{first} because "x"'))
    with pytest.raises(
        Refused, match=f"what it replaced, #{first}, has since been replaced by #{other}. Strike #{other} first"
    ):
        write(book, f'2026-03-02 15:10 strike #{gone} by ben because "x"')
    assert book.prove().differences == ()


def test_a_correction_may_name_the_item_that_was_really_fitted(book: Book) -> None:
    """The wrong one leaves the slot in the same stroke of the pen."""
    number = number_in(book, "fit DS-031")
    line = '2026-03-02 06:00 fit DS-102 in M-12 by ana recorded 2026-03-02 15:00 corrects #{} because "misread"'
    with pytest.raises(Refused, match="M-12 has held the die set DS-031"):
        write(book, "2026-03-02 06:30 fit DS-102 in M-12 by ana recorded 2026-03-02 15:00")
    write(book, line.format(number))
    assert ("DS-102", "M-12") in book.hanging(at("2026-03-02 15:00"))
    assert book.life("DS-102", at("2026-03-02 15:00")).since_new == (5_110, 5_110, 5_110)
    assert book.life("DS-031", at("2026-03-02 15:00")).since_new == (0, 0, 0)


# What could not be read back


def test_an_entry_that_its_own_line_would_not_give_back_is_refused(book: Book) -> None:
    """Else one wrong value would make the whole book unreadable."""
    now = at("2026-03-02 15:00")
    nan = (("height", (float("nan"), 1.25)), ("burr", (0.01,)))
    module = '{"id":"X","kind":"module","title":"x"}'
    refused = (
        Sign(at=now, by="ana", task="check", item="DS-031", occurrence="extra", points=nan, gauge="G-1", grade=4),
        Define(at=now, by="lea", what="item", key="M 13", content=module),
        Define(at=now, by="lea", what="item", key="M-13", content=f"{module}\n"),
        Define(at=now, by="lea", what="item", key="M-13", content=module.replace('"x"', '"\x9b31m"')),
        Define(at=now, by="lea", what="gadget", key="M-13", content=module),
        Define(at=now, by="lea", what="item", key="M-13", content='{"kind":"lathe"}'),
        Fault(at=now, by="ben", item="M-12", symptom="\ud800"),
        Fault(at=now, by="ben", item="M-12", symptom="x" * 501),
        Count(at=now, by="ben", press="P-07", value=-1),
        Count(at=now, by="ben", press="P-07", value=10**15),
        Count(at=now.replace(microsecond=1), by="ben", press="P-07", value=1209410),
    )
    for entry in refused:
        with pytest.raises(Refused):
            book.write([entry], now)
    assert book.prove().differences == ()


def test_a_title_with_controls_in_it_is_kept_escaped(book: Book) -> None:
    """No escape sequence of a definition file reaches a terminal as itself."""
    now = at("2026-03-02 15:00")
    book.load([define("item", "M-13", kind="module", title="\x9b31m red\u2028")], now, "lea", now, "as it is now")
    assert written_lines(book)[-1].isprintable()
    assert next(one.title for one in book.items() if one.id == "M-13") == "\x9b31m red\u2028"


def test_a_moment_in_another_zone_is_kept_as_the_instant_it_is(book: Book) -> None:
    """Whoever hands over 10:00 at UTC-5 means 15:00 UTC."""
    east = timezone(timedelta(hours=-5))
    now = datetime(2026, 3, 2, 10, tzinfo=east)
    book.write([Count(at=now, by="ana", press="P-07", value=1209500)], now)
    assert book.last_moment() == datetime(2026, 3, 2, 15, tzinfo=UTC)


def test_an_entry_said_to_be_written_in_the_future_is_refused(book: Book) -> None:
    """The moment of writing is the book's, give or take the five minutes of a terminal's clock."""
    (entry,) = entries_of(book, "2027-03-02 15:00 count P-07 1209500 by ana")
    with pytest.raises(Refused, match=r"2027-03-02 15:00 is in the future \(it is now 2026-03-02 15:00\)"):
        book.write([entry], at("2026-03-02 15:00"))


# Definitions


def test_an_id_stands_for_one_thing_for_ever(book: Book) -> None:
    """Scrapped stays scrapped under its old title, a module stays a module."""
    now = at("2026-03-02 15:00")
    with pytest.raises(Refused, match="M-99 was scrapped on 2026-02-27; an id is never used again"):
        book.load([item("M-99", kind="module")], now, "lea", now, "as it is now")
    with pytest.raises(Refused, match="M-44 is a module in this book and cannot become something else"):
        book.load([item("M-44", kind="press", digits=6)], now, "lea", now, "as it is now")
    with pytest.raises(Refused, match="what it stood for stays as it was"):
        book.load([item("M-99", kind="module", scrapped="2026-02-27", title="gone")], now, "lea", now, "as it is now")


def test_a_counter_said_to_have_other_figures_is_counted_anew_or_refused(book: Book) -> None:
    """P-03 rolled over six figures; had it had seven, it would have run 9,002,750 strokes in a morning."""
    write_each(book, "2026-03-02 14:00 count P-03 1450 rolled-over by ana")
    now = at("2026-03-02 15:00")
    with pytest.raises(Refused, match="P-03: 9,002,750 strokes compared with the reading 998,700"):
        book.load([item("P-03", digits=7)], now, "lea", now, "as it is now")
    book.load([item("P-07", digits=8)], now, "lea", now, "as it is now")
    book.load([item("P-03", digits=7, max_rate=None)], now, "lea", now, "as it is now")
    assert book.life("P-03", now).since_new[1] == 9_002_750
    assert book.prove().differences == ()


def test_a_slower_press_by_definition_condemns_no_old_reading(book: Book) -> None:
    """A late reading is judged with its neighbours only, whatever the press was allowed before."""
    write(book, "2026-03-02 22:00 count P-07 1237410 by ana")
    now = at("2026-03-02 22:30")
    book.load([item("P-07", max_rate=2000)], now, "lea", now, "as it is now")
    write(book, "2026-03-02 10:00 count P-07 1206900 by ana recorded 2026-03-02 23:00")
    assert book.prove().differences == ()


def test_already_signed_carries_who_and_when(book: Book) -> None:
    """A screen shows them without parsing the sentence."""
    with pytest.raises(AlreadySigned) as already:
        write(book, "2026-03-02 15:00 sign M-12/clean for 2026-03-02/early by ana")
    when = Moment(book.zone.read("2026-03-02 06:10"), book.zone)
    assert (already.value.line, already.value.name, already.value.when) == ("M-12/clean", "Ben", when)
