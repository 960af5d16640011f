"""Strokes at set-up or dry: the press counted them, so they take no more off a life than it put on.  All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, item, number_of, strokes, write, write_each
from upkeep.errors import Refused

RUN = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 3488 by ana
"""


def test_set_up_strokes_take_no_more_off_a_life_than_the_press_counted(tmp_path: Path) -> None:
    """10,000 typed for 100 on a set that did 2,488: its life would stand at 0 for ever."""
    book = book_of(tmp_path, RUN, weights={"set-up": 0.5})
    told = (
        "10,000 strokes of DS-031 were entered as done at set-up or dry; P-07 counted at most 2,488 while it hung there"
    )
    with pytest.raises(Refused, match=told):
        write(book, "2026-03-02 14:00 uncounted DS-031 set-up 10000 by ana")
    write(book, "2026-03-02 14:00 uncounted DS-031 set-up 100 by ana")
    assert strokes(book, "DS-031", "2026-03-02 14:01") == (2_438, 2_438, 2_438)


def test_several_of_them_together_take_no_more_either(tmp_path: Path) -> None:
    """1,500 and 1,500 are more than 2,488; the second one corrected to 900 goes in."""
    book = book_of(tmp_path, RUN, weights={"dry": 0})
    first = number_of(write(book, "2026-03-02 13:00 uncounted DS-031 dry 1500 by ana"))
    with pytest.raises(Refused, match="3,000 strokes of DS-031"):
        write(book, "2026-03-02 14:00 uncounted DS-031 dry 1500 by ana")
    write(book, f'2026-03-02 13:00 uncounted DS-031 dry 2400 by ana corrects #{first} because "misread"')
    assert strokes(book, "DS-031", "2026-03-02 14:01") == (88, 88, 88)


def test_before_the_press_is_read_again_they_may_be_what_it_can_have_done_since(tmp_path: Path) -> None:
    """P-07 does at most 4,000 an hour: in a quarter of an hour 1,000 (and what minutes round), not 5,000."""
    book = book_of(tmp_path, "\n".join(RUN.splitlines()[:4]), weights={"set-up": 0.5})
    write(book, "2026-03-02 06:15 uncounted DS-031 set-up 300 by ana")
    with pytest.raises(Refused, match=r"5,300 strokes of DS-031 .* counted at most 1,060"):
        write(book, "2026-03-02 06:15 uncounted DS-031 set-up 5000 by ana")


def test_a_set_that_hung_on_no_press_has_no_counted_strokes_that_could_wear_less(tmp_path: Path) -> None:
    """By hand in the toolroom they are entered as such."""
    book = book_of(tmp_path, RUN, weights={"set-up": 0.5})
    with pytest.raises(Refused, match=r"DS-102 .* it was on no press.*entered as 'hand'"):
        write(book, "2026-03-02 14:00 uncounted DS-102 set-up 10 by ana")
    write(book, "2026-03-02 14:00 uncounted DS-102 hand 10 by ana")


def test_a_count_corrected_later_makes_a_question_of_them(tmp_path: Path) -> None:
    """2,000 at set-up fitted 2,488; the press did 488."""
    book = book_of(tmp_path, RUN, weights={"set-up": 0.5})
    number = number_of(write(book, "2026-03-02 14:00 uncounted DS-031 set-up 2000 by ana"))
    assert not [one for one in book.questions(at("2026-03-02 15:00")) if "set-up" in str(one.asks)]
    count = next(line.entry for line in book.history("P-07") if "3488" in line.text)
    write(book, f'2026-03-02 14:00 count P-07 1488 by ana corrects #{count} because "misread"')
    (asked,) = [str(one.asks) for one in book.questions(at("2026-03-02 15:00")) if "set-up" in str(one.asks)]
    assert "counted at most 488" in asked
    assert f"correct or strike #{number}" in asked


def test_where_nobody_knows_how_fast_a_press_runs_they_are_taken_as_told(tmp_path: Path) -> None:
    """The next count says whether it can be."""
    book = book_of(tmp_path, RUN, weights={"set-up": 0.5}, more=[item("P-07", max_rate=None)])
    write(book, "2026-03-02 15:00 uncounted DS-031 set-up 5000 by ana")
    write_each(book, "2026-03-02 22:00 count P-07 3500 by ana")
    assert any("set-up" in str(one.asks) for one in book.questions(at("2026-03-02 22:00")))
