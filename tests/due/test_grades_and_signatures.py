"""What an inspection found has consequences, and work that asks for two signatures is done with the second one."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, line_at, number_of, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

INSPECT = task("inspect", "die set", strokes=5000, graded=True)
REWORK = task("rework", "die set", after_grade=3, late_days=2)
CHECK = task("check", "press", every="7 days", second_signature="maintenance lead")
READY = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 15000 by ana
"""


def inspected(tmp_path: Path, grade: int) -> tuple[Book, int]:
    """DS-031 inspected at 5,000 strokes with a grade; the book and the number of the sign-off."""
    book = book_of(tmp_path, READY, tasks=[INSPECT, REWORK])
    return book, number_of(write(book, f"2026-03-02 14:05 sign DS-031/inspect for 5000 grade {grade} by ana"))


@pytest.mark.parametrize(("grade", "held"), [(0, False), (1, False), (2, False), (3, False), (4, True)])
def test_grade_four_holds_the_item_and_no_other_grade_does(tmp_path: Path, grade: int, held: bool) -> None:
    """Out: stop, remove, contain."""
    book, _ = inspected(tmp_path, grade)
    assert (state(book, "DS-031/inspect", "2026-03-02 14:05") == "held") is held
    assert bool(book.holds()) is held


def test_a_set_graded_four_is_not_fitted_again_until_it_is_released(tmp_path: Path) -> None:
    """The set-up technician reads why, and only those who may release it can."""
    book, _ = inspected(tmp_path, 4)
    write(book, "2026-03-02 14:10 unfit DS-031 at 15000 to rack by ana")
    with pytest.raises(Refused, match=r"DS-031 is held: grade 4 \(out\) at the inspection"):
        write(book, "2026-03-02 15:00 fit DS-031 in M-44 by ana")
    with pytest.raises(Refused, match="may not release what is held"):
        write(book, '2026-03-02 15:00 release DS-031 by ben because "looks fine"')
    asked = line_at(book, "DS-031/rework", "2026-03-02 14:30").occurrence
    write(book, f"2026-03-02 14:30 sign DS-031/rework for {asked} by tom")
    write(book, '2026-03-02 15:00 release DS-031 by lea because "new punch, measured"')
    write(book, "2026-03-02 15:05 fit DS-031 in M-44 by ana")


def test_a_grade_told_wrongly_and_corrected_holds_no_longer(tmp_path: Path) -> None:
    """Both grades stay in the book; the one that counts is the later."""
    book, number = inspected(tmp_path, 4)
    write(
        book,
        "2026-03-02 14:05 sign DS-031/inspect for 5000 grade 1 by ana recorded 2026-03-02 14:30 "
        f'corrects #{number} because "a mark, no crack"',
    )
    assert book.holds() == ()
    assert state(book, "DS-031/inspect", "2026-03-02 14:30") == "later"


@pytest.mark.parametrize(("grade", "asked"), [(2, False), (3, True), (4, True)])
def test_a_task_after_a_grade_waits_for_that_grade_or_worse(tmp_path: Path, grade: int, asked: bool) -> None:
    """Rework is due from the minute of the finding, and not required before one."""
    book, number = inspected(tmp_path, grade)
    line = line_at(book, "DS-031/rework", "2026-03-02 14:05")
    assert (
        f"due since the inspection of 2026-03-02 14:05 found grade {grade} (#{number})" in why_of(book, line)
    ) is asked
    if grade == 3:
        assert (line.state, line.due_at) == ("due", book.zone.read("2026-03-02 14:05"))
        assert state(book, "DS-031/rework", "2026-03-04 23:59:59") == "due"
        assert state(book, "DS-031/rework", "2026-03-05 00:00") == "overdue"
    if grade == 2:
        assert (line.state, line.occurrence) == ("not required", "extra")


def test_the_work_after_a_finding_is_done_once_for_it(tmp_path: Path) -> None:
    """Signed after the finding, it waits for the next one."""
    book, _ = inspected(tmp_path, 3)
    write(book, "2026-03-02 16:00 sign DS-031/rework for 2026-03-02 by ana")
    line = line_at(book, "DS-031/rework", "2026-03-02 16:00")
    assert line.state == "not required"
    assert why_of(book, line).startswith("Not required: no grade of 3 or worse since it was last done; last done")


def test_a_sign_off_waits_for_its_second_signature_and_counts_from_its_own_day(tmp_path: Path) -> None:
    """Until verified the line stands where it stood and says what it waits for."""
    book = book_of(tmp_path, tasks=[CHECK])
    number = number_of(write(book, "2026-03-08 10:00 sign P-07/check for 2026-03-08 by tom"))
    line = line_at(book, "P-07/check", "2026-03-09 10:00")
    assert (line.state, line.unverified, line.occurrence) == ("overdue", number, "2026-03-08")
    assert f"sign-off #{number} is waiting for its second signature (maintenance lead)" in why_of(book, line)
    write(book, f"2026-03-09 11:00 verify #{number} by lea")
    line = line_at(book, "P-07/check", "2026-03-09 11:00")
    assert (line.state, line.unverified, line.occurrence) == ("later", None, "2026-03-15")


def test_a_struck_verification_leaves_the_sign_off_waiting_again(tmp_path: Path) -> None:
    """And a verification of a struck sign-off counts for nothing."""
    book = book_of(tmp_path, tasks=[CHECK])
    signed = number_of(write(book, "2026-03-08 10:00 sign P-07/check for 2026-03-08 by tom"))
    verified = number_of(write(book, f"2026-03-08 10:10 verify #{signed} by lea"))
    write(book, f'2026-03-08 12:00 strike #{verified} by lea because "did not look"')
    assert line_at(book, "P-07/check", "2026-03-08 12:00").unverified == signed
    write(book, f"2026-03-08 12:10 verify #{signed} by lea")
    write(book, f'2026-03-08 13:00 strike #{signed} by tom because "was P-08"')
    line = line_at(book, "P-07/check", "2026-03-08 13:00")
    assert (line.unverified, line.last_done_at, line.occurrence) == (None, None, "2026-03-08")


def test_a_strike_struck_gives_the_sign_off_back(tmp_path: Path) -> None:
    """What was taken back by mistake counts again as it was."""
    book = book_of(tmp_path, tasks=[task("grease", "press", every="7 days")])
    signed = number_of(write(book, "2026-03-08 10:00 sign P-07/grease for 2026-03-08 by tom"))
    struck = number_of(write(book, f"2026-03-08 10:00:30 strike #{signed} by tom"))
    assert line_at(book, "P-07/grease", "2026-03-08 11:00").occurrence == "2026-03-08"
    write(book, f'2026-03-08 11:00 strike #{struck} by lea because "it was done"')
    assert line_at(book, "P-07/grease", "2026-03-08 11:00").occurrence == "2026-03-15"
    assert book.prove().differences == ()


def test_a_correction_corrected_leaves_the_first_telling_without_effect(tmp_path: Path) -> None:
    """Three tellings of one sign-off are one sign-off, the last; striking that gives back the second, not the first."""
    book = book_of(tmp_path, tasks=[task("grease", "press", every="7 days")])
    first = number_of(write(book, "2026-03-08 10:00 sign P-07/grease for 2026-03-08 by tom"))
    told = "sign P-07/grease for 2026-03-08 by tom recorded 2026-03-10 09:00 corrects"
    second = number_of(write(book, f'2026-03-09 10:00 {told} #{first} because "a day later"'))
    third = number_of(write(book, f'2026-03-10 08:00 {told} #{second} because "two days later"'))
    assert line_at(book, "P-07/grease", "2026-03-10 09:00").occurrence == "2026-03-17"
    fates = {line.entry: (line.corrected_by, line.struck_by) for line in book.history("P-07")}
    assert [fates[number] for number in (first, second, third)] == [(second, None), (third, None), (None, None)]
    write(book, f'2026-03-10 12:00 strike #{third} by tom because "the second was right"')
    assert line_at(book, "P-07/grease", "2026-03-10 12:00").occurrence == "2026-03-16"
    assert book.prove().differences == ()


def test_an_extra_is_kept_and_answers_nothing(tmp_path: Path) -> None:
    """Work besides the plan: in the history of the item, not in its due date."""
    book = book_of(tmp_path, tasks=[task("grease", "press", every="7 days")])
    write_each(book, '2026-03-04 10:00 sign P-07/grease for extra remark "was dry" by tom')
    line = line_at(book, "P-07/grease", "2026-03-04 10:00")
    assert (line.occurrence, line.last_done_at) == ("2026-03-08", None)
    assert book.history("P-07", 1)[0].text == '2026-03-04 10:00 sign P-07/grease for extra remark "was dry" by tom'


def test_grade_4_is_released_only_after_the_rework_and_its_second_signature(tmp_path: Path) -> None:
    """The reason names what is missing."""
    look = task("look", "die set", graded=True, strokes=5000)
    rework = task("rework", "die set", after_grade=3, second_signature="operator")
    book = book_of(tmp_path, tasks=[look, rework])
    write(book, "2026-03-02 08:00 sign DS-031/look for extra grade 4 by tom")
    release = '2026-03-03 08:00 release DS-031 by lea because "reworked"'
    with pytest.raises(Refused, match=r"graded 4 .*, and DS-031/rework has not been signed"):
        write(book, release)
    asked = line_at(book, "DS-031/rework", "2026-03-02 09:00").occurrence
    number = number_of(write(book, f"2026-03-02 09:00 sign DS-031/rework for {asked} by tom"))
    with pytest.raises(Refused, match="DS-031/rework waits for its second signature"):
        write(book, release)
    write(book, f"2026-03-02 10:00 verify #{number} by ben")
    write(book, release)
