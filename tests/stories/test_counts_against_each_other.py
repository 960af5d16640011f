"""A count that cannot be true beside an earlier one, and what the operator, the screen and the lead can do about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, number_of, strokes, write
from upkeep.book import Book
from upkeep.errors import Contradicted, PerhapsReset, PerhapsRolledOver, Refused

HANGING = """
    2026-03-02 06:00 count P-07 1472212 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1472212 by ana
"""
WRONG = "2026-03-03 06:02 count P-07 1572221 by ana"


def misread(tmp_path: Path) -> tuple[Book, int]:
    """A count of 100,000 too many that fell into the range, and the number of its entry."""
    book = book_of(tmp_path, HANGING, more=[item("P-07", max_rate=5000)])
    return book, number_of(write(book, WRONG))


def asked(book: Book, moment: str) -> list[str]:
    """What the book asks about P-07."""
    return [str(one.asks) for one in book.questions(at(moment)) if one.about == "P-07"]


def test_a_refused_count_names_the_entry_that_stands_against_it(tmp_path: Path) -> None:
    """Its number, who wrote it and when, and the second answer."""
    book, number = misread(tmp_path)
    with pytest.raises(Contradicted) as refused:
        write(book, "2026-03-03 14:00 count P-07 1480000 by ben")
    assert refused.value.entry == number
    assert f"Against it stands #{number}, written by Ana, 2026-03-03 06:02." in str(refused.value)
    assert "If that one is wrong, say so ('the earlier one is wrong'): the count is kept" in str(refused.value)
    assert "future" not in str(refused.value)


def test_it_says_where_the_earlier_entry_lies_in_the_future(tmp_path: Path) -> None:
    """A terminal whose clock was a day ahead wrote it."""
    book = book_of(tmp_path, HANGING)
    write(book, "2026-03-09 06:00 count P-07 1500000 by ana recorded 2026-03-09 06:00")
    with pytest.raises(Contradicted, match=r"for 2026-03-09 06:00, which is in the future"):
        write(book, "2026-03-03 14:00 count P-07 1501000 by ben recorded 2026-03-03 14:00")


def test_the_second_answer_keeps_the_count_as_a_question_and_nobody_is_stuck(tmp_path: Path) -> None:
    """It moves nothing until the lead has settled it; the next shift can answer the same."""
    book, number = misread(tmp_path)
    before = strokes(book, "M-12", "2026-03-03 15:00")
    kept = write(book, f"2026-03-03 14:00 count P-07 1480000 disputes #{number} by ben")
    assert any("Kept as read; it does not count yet" in str(note) for note in kept.notes)
    assert strokes(book, "M-12", "2026-03-03 15:00") == before
    (question,) = asked(book, "2026-03-03 15:00")
    assert question.startswith(f"Ben read 1,480,000 on the counter of P-07 at 2026-03-03 14:00 (#{number_of(kept)})")
    assert f"#{number} of 2026-03-03 06:02, written by Ana, is wrong" in question
    write(book, f"2026-03-03 22:00 count P-07 1485000 disputes #{number} by ana")
    assert len(asked(book, "2026-03-03 23:00")) == 2
    assert book.prove().differences == ()


def test_the_lead_settles_all_of_it_in_one_step(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The wrong figure is put right and what was kept against it counts."""
    book, number = misread(tmp_path)
    write(book, f"2026-03-03 14:00 count P-07 1480000 disputes #{number} by ben")
    write(book, f"2026-03-03 22:00 count P-07 1485000 disputes #{number} by ana")
    terminal = Terminal(book.path, capsys)
    told = terminal.types("2026-03-04 08:00", "settle", number, 1472221, "--because", "1 read for 0", "--by", "lea")
    assert told.code == 0
    assert strokes(book, "M-12", "2026-03-03 23:00") == (12_788,) * 3
    assert asked(book, "2026-03-04 09:00") == []
    assert book.prove().differences == ()


def test_nobody_but_who_may_strike_what_others_wrote_settles_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ben cannot make his own count the right one."""
    book, number = misread(tmp_path)
    write(book, f"2026-03-03 14:00 count P-07 1480000 disputes #{number} by ben")
    terminal = Terminal(book.path, capsys)
    refused = terminal.types("2026-03-04 08:00", "settle", number, 1472221, "--because", "I know", "--by", "ben")
    assert refused.code == 1
    assert len(asked(book, "2026-03-04 09:00")) == 1


def test_without_a_figure_the_wrong_reading_is_taken_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of a fitting only its count: it was fitted all the same."""
    book = book_of(tmp_path, HANGING, more=[item("P-07", max_rate=5000)])
    number = number_of(write(book, "2026-03-03 06:02 unfit M-12 at 1572221 by ana"))
    write(book, f"2026-03-03 14:00 count P-07 1480000 disputes #{number} by ben")
    terminal = Terminal(book.path, capsys)
    assert terminal.types("2026-03-04 08:00", "settle", number, "--because", "misread", "--by", "lea").code == 0
    low, _, high = strokes(book, "M-12", "2026-03-04 09:00")
    assert (low, high) == (0, 7_788)


def test_where_the_earlier_one_stands_the_counts_against_it_are_struck(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The lead went and looked."""
    book, number = misread(tmp_path)
    write(book, f"2026-03-03 14:00 count P-07 1480000 disputes #{number} by ben")
    terminal = Terminal(book.path, capsys)
    words = ("settle", number, "--right", "--because", "it is 1,572,221", "--by", "lea")
    assert terminal.types("2026-03-04 08:00", *words).code == 0
    assert asked(book, "2026-03-04 09:00") == []
    assert terminal.types("2026-03-04 09:00", *words).err.startswith(f"No count is kept against #{number}")


def test_the_command_takes_the_second_answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The entry it stands against is looked up by the book."""
    book, number = misread(tmp_path)
    terminal = Terminal(book.path, capsys)
    words = ("count", "P-07", 1480000, "--by", "ben")
    assert terminal.types("2026-03-03 14:00", *words).code == 1
    assert terminal.types("2026-03-03 14:00", *words, "--earlier-wrong").code == 0
    assert f"count P-07 1480000 disputes #{number} by ben" in book.history("P-07")[0].text


def test_a_count_can_only_stand_against_a_reading_of_its_own_counter(tmp_path: Path) -> None:
    """Neither against another press nor against an entry that reads none."""
    book, number = misread(tmp_path)
    with pytest.raises(Refused, match=f"#{number} is not a reading of P-08"):
        write(book, f"2026-03-03 14:00 count P-08 1480000 disputes #{number} by ben")


# How the counter came to a lower figure is confirmed wherever a count is given

NEAR_THE_END = "2026-03-02 06:00 count P-03 998700 by ana"


@pytest.mark.parametrize(
    "words",
    [
        "count P-03 1450 rolled-over",
        "fit M-12 in P-03 at 1450 rolled-over",
        "fit M-12 in P-03 at P-03 1450 rolled-over",
    ],
)
def test_a_rollover_is_confirmed_with_a_count_and_with_a_fitting(tmp_path: Path, words: str) -> None:
    """2,750 strokes; without the word the refusal names it."""
    book = book_of(tmp_path, NEAR_THE_END)
    with pytest.raises(PerhapsRolledOver, match=r"'rolled over' \(--rolled-over; rolled-over on a sheet"):
        write(book, f"2026-03-02 07:00 {words.replace(' rolled-over', '')} by ana")
    write(book, f"2026-03-02 07:00 {words} by ana")
    assert strokes(book, "P-03", "2026-03-02 07:00") == (2_750,) * 3
    assert book.prove().differences == ()


def test_a_rollover_is_confirmed_when_something_is_taken_out_or_swapped(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A swap reads the counter once, for what comes off and what goes on."""
    book = book_of(tmp_path, f"{NEAR_THE_END}\n2026-03-02 06:00 fit M-12 in P-03 at 998700 by ana")
    terminal = Terminal(book.path, capsys)
    words = ("fit", "M-44", "P-03", "--swap", "--count", 1450, "--by", "ana")
    assert terminal.types("2026-03-02 07:00", *words).code == 1
    assert terminal.types("2026-03-02 07:00", *words, "--rolled-over").code == 0
    assert strokes(book, "M-12", "2026-03-02 07:00") == (2_750,) * 3
    write(book, "2026-03-02 08:00 unfit M-44 at 2450 by ana")
    assert strokes(book, "M-44", "2026-03-02 08:00") == (1_000,) * 3


def test_set_back_is_confirmed_with_a_fitting_and_in_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A counter that is set back with every order."""
    way = 'configure-counter P-03 resettable digits 6 times 1.0 by lea because "set back with every order"'
    book = book_of(tmp_path, f"2026-03-02 06:00 {way}\n2026-03-02 06:00 count P-03 30200 by ana")
    with pytest.raises(PerhapsReset, match="--after-reset"):
        write(book, "2026-03-02 10:00 fit M-12 in P-03 at 300 by ana")
    write(book, "2026-03-02 10:00 fit M-12 in P-03 at 300 after-reset by ana")
    file = tmp_path / "counts.csv"
    file.write_text("press;at;count;confirmed\nP-03;2026-03-02 11:00;200;after reset\nP-03;2026-03-02 12:00;9;maybe\n")
    told = Terminal(book.path, capsys).types("2026-03-02 13:00", "count", "--from", file, "--by", "ana")
    assert "counts entered: 1" in told.out + told.err
    assert (
        "'maybe' confirms nothing of a count; leave it empty or write rolled-over or after-reset" in told.out + told.err
    )
    assert strokes(book, "P-03", "2026-03-02 12:00")[0] == 500


# The range in which a count is expected


def test_closed_time_adds_nothing_to_the_expected_range(tmp_path: Path) -> None:
    """Friday 22:00 to Monday 06:02: no shift ran but for two minutes, 56 hours at 4,000 would be 224,000."""
    book = book_of(tmp_path, "2026-03-06 22:00 count P-07 1472221 by ana", shifts=[
        {"name": "early", "start": "06:00", "end": "14:00", "days": ["MO", "TU", "WE", "TH", "FR"]},
        {"name": "late", "start": "14:00", "end": "22:00", "days": ["MO", "TU", "WE", "TH", "FR"]},
    ])  # fmt: skip
    assert book.round("P-07", at("2026-03-09 06:03")).expected == (1_472_221, 1_472_421)
    assert book.round("P-07", at("2026-03-07 12:00")).expected == (1_472_221, 1_472_221)


def test_after_a_counter_was_replaced_the_range_starts_from_there(tmp_path: Path) -> None:
    """1,209,438 was replaced by a counter that shows 998,700."""
    book = book_of(
        tmp_path,
        """
        2026-03-02 06:00 count P-07 1209438 by ana
        2026-03-02 07:00 restart P-07 from 1209438 to 998700 by tom because "new counter"
        """,
    )
    walk = book.round("P-07", at("2026-03-02 08:00"))
    assert (walk.last_count, walk.expected) == (998_700, (998_700, 1_002_700))


def test_two_swapped_figures_are_suggested_before_another_press(tmp_path: Path) -> None:
    """1,427,300 for 1,472,300, though it would fit P-08."""
    book = book_of(tmp_path, "2026-03-02 06:00 count P-07 1472212 by ana\n2026-03-02 06:00 count P-08 1427000 by ana")
    with pytest.raises(Refused, match=r"would be 1,472,300\. It would fit P-08 \(last 1,427,000\)"):
        write(book, "2026-03-02 07:00 count P-07 1427300 by ana")
