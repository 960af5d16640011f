"""Counters that count otherwise: in tens, twice, downwards, set back each morning, or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, item, strokes, task, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

TERMS = '2026-03-02 06:00 configure-counter P-07 {} by tom because "a new counter"'
NO_COUNTER = item("P-03", digits=0, max_rate=3000)


def exactly(number: int) -> tuple[int, int, int]:
    """Low, best and high where nothing was guessed."""
    return number, number, number


@pytest.mark.parametrize(
    ("terms", "first", "second", "done"),
    [
        ("running digits 6 times 1.0", 1_000, 1_700, 700),
        ("running digits 6 times 10.0", 1_000, 1_070, 700),
        ("running digits 6 times 0.5", 1_000, 2_401, 700),
        ("countdown digits 5 times 1.0", 9_000, 8_300, 700),
        ("countdown digits 5 times 2.0", 9_000, 8_650, 700),
        ("resettable digits 4 times 1.0", 1_000, 1_700, 700),
    ],
)
def test_a_step_is_counted_the_way_the_counter_counts(
    tmp_path: Path, terms: str, first: int, second: int, done: int
) -> None:
    """In tens 70 counts are 700 strokes; counted twice 1,401 are 700, the half stroke left away; downwards 700 less."""
    counts = f"2026-03-02 06:00 count P-07 {first} by ana\n2026-03-02 14:00 count P-07 {second} by ana"
    assert strokes(book_of(tmp_path, f"{TERMS.format(terms)}\n{counts}"), "P-07", "2026-03-02 14:00") == exactly(done)


@pytest.mark.parametrize(("times", "done"), [(1.5, 1_050), (0.1, 70), (0.3333333, 233), (2.5, 1_750)])
def test_the_total_is_rounded_and_not_each_step(tmp_path: Path, times: float, done: int) -> None:
    """100 steps of 7 counts; in one book read one after the other, in the other all between told late."""
    readings = [f"2026-03-02 {6 + n // 60:02}:{n % 60:02} count P-07 {7 * n} by ana" for n in range(101)]
    configured = TERMS.format(f"running digits 6 times {times}").replace("06:00", "05:00")
    late = [f"{line} recorded 2026-03-02 15:00" for line in readings[1:-1]]
    for name in ("in-turn", "late"):
        (tmp_path / name).mkdir()
    in_turn = book_of(tmp_path / "in-turn", "\n".join([configured, *readings]))
    told_late = book_of(tmp_path / "late", "\n".join([configured, readings[0], readings[-1]]))
    assert strokes(told_late, "P-07", "2026-03-02 14:00") == exactly(done)
    for line in late[::7]:
        write(told_late, line)
    for book in (in_turn, told_late):
        assert strokes(book, "P-07", "2026-03-02 14:00") == exactly(done)
        assert book.prove().differences == ()


def test_what_was_counted_before_stays_as_it_was_counted(tmp_path: Path) -> None:
    """In tens from 06:00 on: the 1,000 before it are 1,000; a step is counted the way it began."""
    book = book_of(
        tmp_path,
        f"""
        2026-03-01 06:00 count P-07 0 by ana
        2026-03-02 06:00 count P-07 1000 by ana
        {TERMS.format("running digits 7 times 10.0")}
        2026-03-02 14:00 count P-07 1010 by ana
        """,
    )
    assert strokes(book, "P-07", "2026-03-02 06:00") == exactly(1_000)
    assert strokes(book, "P-07", "2026-03-02 14:00") == exactly(1_100)


def test_terms_told_late_count_again_what_was_read_since(tmp_path: Path) -> None:
    """The counter had counted in tens since 06:00, which is told at 15:00; struck, all is as before."""
    read = "2026-03-02 06:00 count P-07 0 by ana\n2026-03-02 14:00 count P-07 50 by ana"
    book = book_of(tmp_path, read)
    told = f"{TERMS.format('running digits 7 times 10.0')}".replace(" because", " recorded 2026-03-02 15:00 because")
    number = write(book, told).entries[0]
    assert strokes(book, "P-07", "2026-03-02 15:00") == exactly(500)
    write(book, f'2026-03-02 15:30 strike #{number} by lea because "wrong press"')
    assert strokes(book, "P-07", "2026-03-02 15:30") == exactly(50)
    assert book.prove().differences == ()


# Set back


def test_after_a_reset_what_is_shown_counts_and_what_nobody_read_may_have_been_done(tmp_path: Path) -> None:
    """4,000 at night, set back, 300 in the morning: 300 more, and at most the 4,000 an hour it can do in 16 hours."""
    book = book_of(tmp_path, "2026-03-01 06:00 count P-07 0 by ana\n2026-03-01 22:00 count P-07 4000 by ana")
    write(book, "2026-03-02 14:00 count P-07 300 after-reset by ana")
    assert strokes(book, "P-07", "2026-03-02 14:00") == (4_300, 4_300, 4_000 + 64_000)
    assert " count P-07 300 after-reset fastest 4000 by ana" in book.history("P-07")[0].text


def test_a_restart_counts_up_to_what_was_shown_and_on_from_what_is_shown_now(tmp_path: Path) -> None:
    """Shown 4,500 when it was set to 100, later 350: 4,500 and 250."""
    book = book_of(
        tmp_path,
        """
        2026-03-01 06:00 count P-07 0 by ana
        2026-03-01 22:00 restart P-07 from 4500 to 100 by tom because "set back"
        2026-03-02 14:00 count P-07 350 by ana
        """,
    )
    assert strokes(book, "P-07", "2026-03-02 14:00") == exactly(4_750)


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ("2026-03-02 14:00 count P-07 300 after-reset by ana", "P-07 counts down, so it is never set back to zero"),
        ('2026-03-02 14:00 restart P-07 from 8000 to 123456 by tom because "x"', "123,456 has more digits"),
        (
            "2026-03-02 14:00 restart P-07 from 8000 to 9000 by tom",
            "Say why the counter of P-07 shows a different figure",
        ),
        (
            '2026-03-02 14:00 configure-counter P-07 sideways digits 5 times 1.0 by tom because "x"',
            "'sideways' is not a way for a counter to count",
        ),
        ('2026-03-02 14:00 configure-counter P-07 running digits 2 times 1 by tom because "x"', "3 to 10 digits"),
        (
            '2026-03-02 14:00 configure-counter P-07 running digits 5 times 0 by tom because "x"',
            "0.01 to 1,000 strokes",
        ),
        (
            "2026-03-02 14:00 configure-counter P-07 running digits 5 times 1 by tom",
            "Say why the counter of P-07",
        ),
        (
            '2026-03-02 14:00 configure-counter P-07 running digits 5 times 1 by ben because "x"',
            "needs the role of maintenance",
        ),
        ("2026-03-02 14:00 count P-07 9001 by ana", "the count goes back from 9,000 to 9,001"),
    ],
)
def test_what_a_countdown_cannot_have_shown_is_refused(tmp_path: Path, told: str, sentence: str) -> None:
    """And what says too little about a counter."""
    book = book_of(tmp_path, f"{TERMS.format('countdown digits 5 times 1.0')}\n2026-03-02 06:00 count P-07 9000 by ana")
    with pytest.raises(Refused, match=sentence):
        write(book, told)


# None at all


def running(tmp_path: Path, text: str) -> Book:
    """P-03 has no counter; a module hangs on it."""
    hung = "2026-03-02 06:00 fit M-12 in P-03 by ana\n"
    return book_of(tmp_path, hung + text, tasks=[task("oil", "module", strokes=1000)], more=[NO_COUNTER])


def test_without_a_counter_the_quantities_are_the_strokes(tmp_path: Path) -> None:
    """2,400 and 600 pieces are 3,000 strokes of the press and of the module on it."""
    book = running(
        tmp_path,
        "2026-03-02 14:00 quantity P-03 2400 over 480 min by ana\n"
        "2026-03-02 22:00 quantity P-03 600 over 480 min by ana",
    )
    for key in ("P-03", "M-12"):
        assert strokes(book, key, "2026-03-02 22:00") == exactly(3_000)


def test_a_module_taken_out_in_the_middle_of_a_run_did_its_share(tmp_path: Path) -> None:
    """2,400 pieces from 14:00 to 22:00 and out at 16:00: a quarter, as a guess that says so."""
    book = running(
        tmp_path,
        """
        2026-03-02 14:00 quantity P-03 800 over 480 min by ana
        2026-03-02 16:00 unfit M-12 by ana
        2026-03-02 22:00 quantity P-03 2400 over 480 min by ana
        """,
    )
    assert strokes(book, "M-12", "2026-03-02 22:00") == (800, 1_400, 3_200)


def test_two_quantities_of_one_shift_add_up(tmp_path: Path) -> None:
    """Two orders ran in turn; the tally at the end of the shift names both over the whole shift."""
    book = running(
        tmp_path,
        "2026-03-02 14:00 quantity P-03 900 over 480 min order A-1 by ana\n"
        "2026-03-02 14:00 quantity P-03 700 over 480 min order A-2 by ana",
    )
    assert strokes(book, "P-03", "2026-03-02 14:00") == exactly(1_600)
    assert book.prove().differences == ()


def test_what_ran_at_the_same_time_is_shared_together(tmp_path: Path) -> None:
    """The module left in the middle of a shift of two orders: half of both, as a guess that says so."""
    book = running(
        tmp_path,
        """
        2026-03-02 10:00 unfit M-12 by ana
        2026-03-02 14:00 quantity P-03 900 over 480 min order A-1 by ana
        2026-03-02 14:00 quantity P-03 700 over 480 min order A-2 by ana
        """,
    )
    assert strokes(book, "M-12", "2026-03-02 14:00") == (0, 800, 1_600)
    assert book.life("P-03", book.zone.read("2026-03-02 14:00")).unattributed == 800


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ("2026-03-02 14:00 count P-03 100 by ana", "P-03 has no counter; enter the quantities"),
        ("2026-03-02 14:00 unfit M-12 at 100 by ana", "P-03 has no counter; enter the quantities"),
        ('2026-03-02 14:00 restart P-03 from 0 to 1 by tom because "x"', "P-03 has no counter"),
        ("2026-03-02 14:00 quantity P-03 2400 over 0 min by ana", "a run of 1 minute to 7 days"),
        (
            "2026-03-02 14:00 quantity P-03 24000 over 60 min by ana",
            r"24,000 pieces in 60 minutes is more than it",
        ),
        ("2026-03-02 14:00 quantity P-03 2400 over 480 min with M-12 by ana", "name the die set"),
    ],
)
def test_what_a_press_without_a_counter_cannot_have_is_refused(tmp_path: Path, told: str, sentence: str) -> None:
    """A count, a reset, or more pieces than it can make."""
    with pytest.raises(Refused, match=sentence):
        write(running(tmp_path, ""), told)


def test_found_to_have_no_counter_its_quantities_count_from_the_first(tmp_path: Path) -> None:
    """Defined with a counter that was never read, then without: what was made before is what it did."""
    book = book_of(tmp_path, "2026-03-02 14:00 quantity P-03 2400 over 480 min by ana")
    assert strokes(book, "P-03", "2026-03-02 14:00") == exactly(0)
    moment = book.zone.read("2026-03-02 15:00")
    book.load([NO_COUNTER], moment, "lea", moment, "as it is now")
    assert strokes(book, "P-03", "2026-03-02 15:00") == exactly(2_400)
    assert book.prove().differences == ()


def test_a_press_counted_one_way_is_not_defined_to_count_another(tmp_path: Path) -> None:
    """With counts read it keeps its counter, with quantities counted it gets none."""
    book = running(tmp_path, "2026-03-02 14:00 quantity P-03 800 over 480 min by ana")
    write_each(book, "2026-03-02 14:00 count P-07 0 by ana")
    moment = book.zone.read("2026-03-02 15:00")
    for changed in (item("P-03", digits=6), item("P-07", digits=0), item("P-07", digits=None)):
        with pytest.raises(Refused, match="a counter cannot be added or removed by changing the definition"):
            book.load([changed], moment, "lea", moment, "as it is now")


# UncountedStrokes


@pytest.mark.parametrize(
    ("way", "weight", "added"), [("hand", 1.0, 40), ("hand", 0.5, 20), ("set-up", 0.5, -20), ("dry", 0.1, -36)]
)
def test_strokes_besides_wear_by_their_weight(tmp_path: Path, way: str, weight: float, added: int) -> None:
    """By hand they add what they weigh; at set-up and dry the counter has counted them in full already."""
    book = book_of(
        tmp_path,
        f"""
        2026-03-02 06:00 count P-07 0 by ana
        2026-03-02 06:00 fit M-12 in P-07 by ana
        2026-03-02 06:00 fit DS-031 in M-12 by ana
        2026-03-02 10:00 uncounted M-12 {way} 40 weight {weight} by ana
        2026-03-02 14:00 count P-07 1000 by ana
        """,
    )
    for key in ("M-12", "DS-031"):
        assert strokes(book, key, "2026-03-02 14:00") == exactly(1_000 + added)
    assert strokes(book, "P-07", "2026-03-02 14:00") == exactly(1_000)


def test_strokes_besides_reach_a_limit_when_they_were_done_and_not_before(tmp_path: Path) -> None:
    """Due at 1,000: 995 counted on Monday, 10 by hand on Wednesday; it is due since Wednesday.

    And 1,010 counted on Monday are due since Monday, whatever is done by hand later.
    """
    for key, counted, due in (("P-07", 995, "2026-03-04 10:00"), ("P-08", 1_010, "2026-03-02 14:00")):
        folder = tmp_path / key
        folder.mkdir()
        book = book_of(
            folder,
            f"""
            2026-03-02 06:00 count {key} 0 by ana
            2026-03-02 14:00 count {key} {counted} by ana
            2026-03-04 10:00 uncounted {key} hand 10 by ana
            """,
            tasks=[task("oil", "press", strokes=1000)],
        )
        assert book.line(f"{key}/oil", book.zone.read("2026-03-05 06:00")).due_at == book.zone.read(due)
