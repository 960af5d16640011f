"""A counter that stands still while pieces are made: the strokes go on by the pieces.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

from tests.plants import at, book_of, define, item, line_at, lines_of, strokes, task, why_of, write, write_each
from upkeep.book import Book

HEIGHT = {"id": "height", "title": "Height", "unit": "mm", "upper": 1.2}


def exactly(number: int) -> tuple[int, int, int]:
    """Low, best and high where nothing was guessed."""
    return number, number, number


def asked(book: Book, about: str, moment: str) -> list[str]:
    """What the book asks about a press."""
    return [str(one.asks) for one in book.questions(at(moment)) if one.about == about]


HANGING_STILL = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
STOOD_ON = """
    2026-03-02 14:00 count P-07 10000 by ana
    2026-03-02 14:00 quantity P-07 900 over 480 min with DS-031 order A-1 by ana
    2026-03-02 22:00 count P-07 10000 by ana
    2026-03-02 22:00 quantity P-07 1100 over 480 min with DS-031 order A-1 by ana
    2026-03-03 06:00 count P-07 10000 by ana
"""
STOOD = HANGING_STILL + STOOD_ON


def test_a_counter_that_stands_still_for_three_shifts_while_pieces_were_made_is_asked_about(tmp_path: Path) -> None:
    """Two shifts may be an idle press; three with 2,000 pieces are a counter to look at."""
    book = book_of(tmp_path, STOOD)
    (question,) = asked(book, "P-07", "2026-03-03 06:00")
    assert "has shown 10,000 since 2026-03-02 06:00, yet 2,000 pieces were made. Has it stopped?" in question


def test_cleans_of_shifts_in_which_pieces_were_made_are_asked_for_though_the_counter_stood_still(
    tmp_path: Path,
) -> None:
    """2,000 pieces in the early and the late shift: the module ran, whatever its counter says."""
    clean = task("clean", "module", by=["operator"], each_shift=True)
    book = book_of(tmp_path, STOOD, tasks=[clean])
    line = line_at(book, "M-12/clean", "2026-03-03 06:00")
    assert (line.state, line.occurrence, line.missed) == ("overdue", "2026-03-02/early", 1)
    idle = "\n".join(line for line in STOOD.splitlines() if " quantity " not in line)
    (tmp_path / "idle").mkdir()
    still = book_of(tmp_path / "idle", idle, tasks=[clean])
    assert line_at(still, "M-12/clean", "2026-03-03 06:00").occurrence != "2026-03-02/early"
    assert book.prove().differences == ()


def test_a_press_that_stands_still_and_makes_nothing_is_left_alone(tmp_path: Path) -> None:
    """An idle press is no broken counter."""
    book = book_of(tmp_path, "\n".join(line for line in STOOD.splitlines() if " quantity " not in line))
    assert asked(book, "P-07", "2026-03-03 06:00") == []


def test_what_was_made_meanwhile_counts_for_the_tools_and_stays_marked(tmp_path: Path) -> None:
    """2,000 pieces are 2,000 strokes of the press, module, die set and parts though no counter saw them, or none."""
    book = book_of(tmp_path, HANGING_STILL, tasks=[task("inspect", "die set", strokes=2_000)])
    told = [write(book, line) for line in lines_of(STOOD_ON)]
    assert [change.line for written in told for change in written.changes] == ["DS-031/inspect"]
    for key in ("P-07", "M-12", "DS-031"):
        assert strokes(book, key, "2026-03-02 14:00") == (0, 900, 900)
        assert strokes(book, key, "2026-03-03 06:00") == (0, 2_000, 2_000)
    line = line_at(book, "DS-031/inspect", "2026-03-03 06:00")
    assert (line.state, line.estimated) == ("due", True)
    assert "a counter stood still, and the pieces made meanwhile are taken for its strokes" in why_of(book, line)
    assert book.life("DS-031", at("2026-03-03 06:00")).doubts == ("stood still",)
    assert book.prove().differences == ()


def test_a_counter_known_to_stand_still_need_not_be_read_on(tmp_path: Path) -> None:
    """800 pieces more that nobody read a figure to; read again with 700, it had counted: these are what was done."""
    book = book_of(tmp_path, STOOD)
    write(book, "2026-03-03 14:00 quantity P-07 800 over 480 min with DS-031 by ana")
    assert strokes(book, "DS-031", "2026-03-03 14:00") == (0, 2_800, 2_800)
    assert strokes(book, "DS-031", "2026-03-03 10:00") == (0, 2_000, 2_000)
    write(book, "2026-03-03 15:00 count P-07 10700 by ana")
    assert strokes(book, "DS-031", "2026-03-03 15:00") == (700, 2_700, 2_700)
    assert book.prove().differences == ()


def test_pieces_made_before_anybody_saw_the_counter_stand_still_wait_for_the_next_reading(tmp_path: Path) -> None:
    """It may have counted them: until it is read nobody knows."""
    book = book_of(tmp_path, HANGING_STILL)
    write(book, "2026-03-02 14:00 quantity P-07 900 over 480 min with DS-031 by ana")
    assert strokes(book, "DS-031", "2026-03-02 14:00") == exactly(0)
    write(book, "2026-03-02 14:30 count P-07 10000 by ana")
    assert strokes(book, "DS-031", "2026-03-02 14:30") == (0, 900, 900)


def test_who_hung_there_for_a_part_of_the_pieces_did_its_share_of_them(tmp_path: Path) -> None:
    """Taken off after six of the eight hours: 675 of 900, or none, or all; M-44, which came then, did the rest."""
    book = book_of(tmp_path, HANGING_STILL)
    write_each(
        book,
        """
        2026-03-02 12:00 unfit M-12 at 10000 by ana
        2026-03-02 12:00 fit M-44 in P-07 at 10000 by ana
        2026-03-02 14:00 count P-07 10000 by ana
        2026-03-02 14:00 quantity P-07 900 over 480 min by ana
        """,
    )
    assert strokes(book, "DS-031", "2026-03-02 14:00") == (0, 675, 900)
    assert strokes(book, "M-44", "2026-03-02 14:00") == (0, 225, 900)
    assert strokes(book, "P-07", "2026-03-02 14:00") == (0, 900, 900)


def test_what_people_told_of_it_themselves_is_not_counted_twice(tmp_path: Path) -> None:
    """2,000 pieces were made; whoever tells 1,500 strokes of them knows these, and 500 stay an estimate."""
    book = book_of(tmp_path, STOOD)
    write(book, "2026-03-03 06:00 uncounted M-12 stood-still 1500 by ana")
    assert strokes(book, "DS-031", "2026-03-03 06:01") == (1_500, 2_000, 2_000)
    write(book, "2026-03-03 06:00 uncounted M-12 stood-still 700 by ana")
    assert strokes(book, "DS-031", "2026-03-03 06:01") == exactly(2_200)
    assert " stood-still 700 " in book.history("M-12")[0].text


def test_product_made_while_the_counter_stood_still_is_suspect(tmp_path: Path) -> None:
    """Good on Monday at six, bad on Tuesday at seven: what two shifts made in between is on the hold list."""
    crimp = define("crimp", "CR-1", title="Tab", family="tab", points=[HEIGHT])
    book = book_of(tmp_path, HANGING_STILL, more=[crimp, item("DS-031", kind="die set", family="tab")])
    write(book, "2026-03-02 06:00 check DS-031 first-off on P-07 of CR-1 with G-1 height=1.1 by ana")
    write_each(book, STOOD_ON)
    write(book, "2026-03-03 07:00 check DS-031 sample on P-07 of CR-1 with G-1 height=1.3 by ana")
    (held,) = book.suspects(at("2026-03-03 07:00")).lists()
    assert held.strokes == 2_000
    assert [(line.low, line.best, line.strokes) for line in held.lines] == [(0, 2_000, 2_000)]
