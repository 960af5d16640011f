"""Counters replaced, set back or rolled over while nobody looked: an estimate with its mark.  Figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, line_at, strokes, task, why_of, write, write_each
from upkeep.errors import Refused

WEEK = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 22:00 count P-07 26000 by ana
"""
"""16,000 strokes in sixteen hours of the early and the late shift: 1,000 an hour while shifts run."""
NOBODY_KNOWS = '2026-03-03 12:00 restart P-07 from ? to 0 by tom because "smashed by the forklift"'


def test_a_counter_replaced_with_its_last_figure_unknown_goes_on_by_how_the_press_ran(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """At 12:00 fourteen hours later: what it does in them, between none and 56,000 at 4,000 an hour."""
    book = book_of(tmp_path, WEEK)
    said = Terminal(book.path, capsys).types(
        "2026-03-03 12:00", "restart", "P-07", "?", 0, "--because", "smashed by the forklift", "--by", "tom"
    )
    assert said.code == 0, said.err
    low, best, high = strokes(book, "DS-031", "2026-03-03 12:00")
    assert (low, high) == (16_000, 16_000 + 56_000)
    assert 16_000 < best < high
    assert " restart P-07 from ? rate " in book.history("P-07")[0].text
    write(book, "2026-03-03 14:00 count P-07 2100 by ana")
    after = strokes(book, "DS-031", "2026-03-03 14:00")
    assert after == (low + 2_100, best + 2_100, high + 2_100)
    assert strokes(book, "P-07", "2026-03-03 14:00") == after
    assert book.prove().differences == ()


def test_why_life_and_board_say_that_it_is_an_estimate_and_of_what(tmp_path: Path) -> None:
    """And the stop goes by the most it can have done."""
    book = book_of(tmp_path, WEEK, tasks=[task("inspect", "die set", strokes=60_000, stop_at=110)])
    write(book, NOBODY_KNOWS)
    line = line_at(book, "DS-031/inspect", "2026-03-03 12:00")
    assert (line.state, line.estimated) == ("stop", True)
    assert "because nobody knows what a counter showed when it was replaced)" in why_of(book, line)
    assert book.life("DS-031", at("2026-03-03 12:00")).doubts == ("unknown figure",)


def test_an_item_that_hung_there_for_a_part_of_it_did_a_part(tmp_path: Path) -> None:
    """However often it came and went: no more than the press can have done in all."""
    book = book_of(tmp_path, WEEK)
    write_each(
        book,
        f"""
        2026-03-03 07:00 unfit DS-031 by ana
        2026-03-03 08:00 fit DS-031 in M-12 by ana
        {NOBODY_KNOWS}
        """,
    )
    low, best, high = strokes(book, "DS-031", "2026-03-03 12:00")
    assert (low, high) == (16_000, 72_000)
    assert 16_000 < best < strokes(book, "M-12", "2026-03-03 12:00")[1]


def test_the_figure_found_later_puts_it_right(tmp_path: Path) -> None:
    """A photo shows 30,000: the estimate is gone."""
    book = book_of(tmp_path, WEEK)
    (number,) = write(book, NOBODY_KNOWS).entries
    found = NOBODY_KNOWS.replace("?", "30000").replace(' because "smashed by the forklift"', "")
    write(book, f'{found} recorded 2026-03-03 15:00 corrects #{number} because "a photo shows it"')
    assert strokes(book, "DS-031", "2026-03-03 15:00") == (20_000, 20_000, 20_000)
    assert book.prove().differences == ()


def test_a_counter_that_nobody_ever_read_has_nothing_to_go_on_from(tmp_path: Path) -> None:
    """What the new one shows is its first count."""
    book = book_of(tmp_path, "")
    with pytest.raises(Refused, match="P-07 was not read before, so there is nothing to start from"):
        write(book, NOBODY_KNOWS)


def test_a_short_counter_can_have_rolled_over_more_than_once(tmp_path: Path) -> None:
    """Four figures, ten hours at 4,000: 1,000 more is certain, and three rounds of 10,000 besides can be."""
    book = book_of(tmp_path, "2026-03-02 06:00 count P-03 9500 by ana", more=[item("P-03", digits=4)])
    write(book, "2026-03-02 16:00 count P-03 500 rolled-over by ana")
    assert strokes(book, "P-03", "2026-03-02 16:00") == (1_000, 1_000, 31_000)
    assert book.life("P-03", at("2026-03-02 16:00")).doubts == ("rolled over",)


def test_shares_are_rounded_once(tmp_path: Path) -> None:
    """Away from 07:00 to 07:30, 09:00 to 09:30 and 11:00 to 11:30 of eight hours with 1,000 strokes: 812.5."""
    book = book_of(tmp_path, "2026-03-02 06:00 count P-07 100 by ana\n2026-03-02 06:00 fit M-12 in P-07 by ana")
    write_each(
        book,
        "\n".join(
            ["2026-03-02 06:00 fit DS-031 in M-12 by ana"]
            + [
                f"2026-03-02 {hour:02}:{minutes:02} {move} by ana"
                for hour in (7, 9, 11)
                for minutes, move in ((0, "unfit DS-031"), (30, "fit DS-031 in M-12"))
            ]
            + ["2026-03-02 14:00 count P-07 1100 by ana"]
        ),
    )
    assert strokes(book, "DS-031", "2026-03-02 14:00") == (0, 812, 1_000)
