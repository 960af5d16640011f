"""Measured points that say "press": the shut height of that press is asked for, and the set is held on it till then.

The slug of one set is good on P-07 and high on P-08, so it is not the die.  All figures are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.units.instants import utc_text
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import ENGLISH

SLUG = {"id": "slug-height", "title": "Slug height", "unit": "mm", "lower": 1.17, "warn_upper": 1.23, "upper": 1.3}
SHUT = {"id": "shut-height", "title": "Shut height", "unit": "mm", "lower": 135.76, "upper": 135.84}
TASKS = [
    task("inspect", "die set", strokes=50_000, graded=True, points=[SLUG]),
    task("shut", "press", every="1 year", points=[SHUT]),
]
GOOD_ON_P_07 = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 count P-08 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:30 sign P-07/shut for extra shut-height=135.8 by tom
    2026-03-02 06:30 sign P-08/shut for extra shut-height=135.8 by tom
    2026-03-02 07:00 check DS-031 slug slug-height=1.2 by ana
    2026-03-02 08:00 unfit M-12 at 1000 by ana
    2026-03-02 08:05 fit M-12 in P-08 at 0 by ana
"""
HIGH_ON_P_08 = "2026-03-04 08:10 check DS-031 slug slug-height=1.24 by ana"
LINE = "P-08/shut"


def plant(tmp_path: Path) -> Book:
    return book_of(tmp_path, GOOD_ON_P_07, tasks=TASKS)


def held_on(book: Book, press: str, moment: str) -> dict[str, str]:
    """What the round of a press says is held there, and why."""
    hanging = book.round(press, at(moment)).hanging
    return {one.item: hold_text(one.hold, ENGLISH) for one in hanging if one.hold is not None}


def test_the_line_of_the_shut_height_is_opened_and_says_what_was_measured(tmp_path: Path) -> None:
    """Of that press and of no other; the work itself answers it, good or not."""
    with plant(tmp_path) as book:
        assert state(book, LINE, "2026-03-04 08:00") == "later"
        notes = " ".join(map(str, write(book, HIGH_ON_P_08).notes))
        assert "The shut height of P-08 is asked for, and DS-031 is held on P-08 until it is measured" in notes
        line = line_at(book, LINE, "2026-03-04 08:30")
        assert line.state == "due"
        assert "what was measured on DS-031 2026-03-04 08:10 says that the press is at fault" in why_of(book, line)
        assert state(book, "P-07/shut", "2026-03-04 08:30") == "later"
        write(book, f"2026-03-04 09:00 sign {LINE} for {line.occurrence} shut-height=135.81 by tom")
        assert state(book, LINE, "2026-03-04 09:30") == "later"
        assert book.prove().differences == ()


def test_the_set_is_held_on_that_press_alone_until_its_shut_height_is_measured_good(tmp_path: Path) -> None:
    """Fitted elsewhere it runs; a value out of limits releases nothing."""
    with plant(tmp_path) as book:
        write(book, HIGH_ON_P_08)
        assert list(held_on(book, "P-08", "2026-03-04 08:30")) == ["DS-031"]
        assert (
            "on P-08 until the shut height of P-08 is measured" in held_on(book, "P-08", "2026-03-04 08:30")["DS-031"]
        )
        write(book, "2026-03-04 08:40 unfit M-12 at 100 by ana")
        with pytest.raises(Refused, match="DS-031 is held on P-08 until its shut height is measured"):
            write(book, "2026-03-04 08:45 fit M-12 in P-08 at 100 by ana")
        write(book, "2026-03-04 08:50 fit M-12 in P-07 at 1000 by ana")
        assert held_on(book, "P-07", "2026-03-04 08:55") == {}
        write(book, "2026-03-04 09:00 unfit M-12 at 1500 by ana")
        write(book, f"2026-03-04 09:10 sign {LINE} for extra shut-height=135.9 by tom")
        assert state(book, LINE, "2026-03-04 09:15") == "due"
        with pytest.raises(Refused, match="held on P-08"):
            write(book, "2026-03-04 09:20 fit M-12 in P-08 at 100 by ana")
        write(book, f"2026-03-04 09:30 sign {LINE} for extra shut-height=135.8 by tom")
        write(book, "2026-03-04 09:40 fit M-12 in P-08 at 100 by ana")
        assert held_on(book, "P-08", "2026-03-04 09:45") == {}
        assert list(held_on(book, "P-08", "2026-03-04 08:35")) == ["DS-031"]  # as it stood
        assert book.prove().differences == ()


def test_strokes_on_that_press_raise_an_alarm_and_a_permit_lets_it_run(tmp_path: Path) -> None:
    """What holds on one press only is a hold there like any other."""
    with plant(tmp_path) as book:
        write(book, HIGH_ON_P_08)
        write(book, "2026-03-04 08:20 count P-08 100 by ana")
        notes = " ".join(map(str, write(book, "2026-03-04 09:00 count P-08 400 by ana").notes))
        assert "DS-031 on P-08 must not run" in notes
        write(book, '2026-03-04 09:05 permit DS-031 strokes 5000 by lea because "first pieces are good"')
        notes = " ".join(map(str, write(book, "2026-03-04 10:00 count P-08 800 by ana").notes))
        assert "DS-031 on P-08 must not run" not in notes


def test_what_it_made_on_that_press_meanwhile_opens_a_hold_list(tmp_path: Path) -> None:
    """From the check on, until the shut height is good or it leaves; what it made on the other press is not suspect."""
    with plant(tmp_path) as book:
        write_each(
            book,
            f"""
            2026-03-04 08:05 count P-08 50 by ana
            {HIGH_ON_P_08}
            2026-03-04 09:00 count P-08 400 by ana
            """,
        )
        (listed,) = book.suspects(at("2026-03-04 09:30")).lists("DS-031")
        assert str(listed.found).startswith("ran while held: on P-08 until the shut height of P-08 is measured")
        assert [(line.press, line.strokes) for line in listed.lines] == [("P-08", 350)]
        assert str(listed.end_why) == "still held on P-08"
        number = listed.number
        write_each(
            book,
            f"""
            2026-03-04 09:40 unfit M-12 at 500 by ana
            2026-03-04 09:50 fit M-12 in P-07 at 1000 by ana
            2026-03-04 11:00 count P-07 1700 by ana
            2026-03-04 12:00 sign {LINE} for extra shut-height=135.8 by tom
            2026-03-04 12:10 unfit M-12 at 1800 by ana
            2026-03-04 12:20 fit M-12 in P-08 at 500 by ana
            2026-03-04 13:00 count P-08 900 by ana
            """,
        )
        (listed,) = book.suspects(at("2026-03-04 14:00")).lists("DS-031")
        assert [(line.press, line.strokes) for line in listed.lines] == [("P-08", 450)]
        assert str(listed.end_why) == "shut height of P-08 measured good"
        since = utc_text(listed.lines[0].since)
        write(book, f'2026-03-04 15:00 disposition #{number} P-08 since {since} sorted by lea because "all measured"')
        assert book.suspects(at("2026-03-04 16:00")).lists("DS-031") == ()
        assert book.suspects(at("2026-03-04 16:00")).hold_list(number).lines[0].strokes == 450
        then = book.suspects(at("2026-03-04 09:30"))
        assert [(line.press, line.strokes) for line in then.hold_list(number).lines] == [("P-08", 350)]
        assert book.prove().differences == ()


def test_where_the_whole_set_is_held_the_hold_on_the_press_lists_nothing_twice(tmp_path: Path) -> None:
    """Held by hand half an hour later: what it made until then is on the one list, what it made after on the other."""
    with plant(tmp_path) as book:
        write_each(
            book,
            f"""
            2026-03-04 08:10 count P-08 50 by ana
            {HIGH_ON_P_08}
            2026-03-04 08:40 count P-08 400 by ana
            2026-03-04 08:40 hold DS-031 by ben because "burr"
            2026-03-04 09:00 count P-08 600 by ana
            """,
        )
        lists = book.suspects(at("2026-03-04 09:30")).lists("DS-031")
        assert [[line.strokes for line in one.lines] for one in lists] == [[350], [200]]
        assert str(lists[0].end_why) == "what it made from then on is on another list"


def test_a_good_slug_elsewhere_says_press_once_and_does_not_ask_again(tmp_path: Path) -> None:
    """High on P-08 first, then good on P-07: the second check says it, and is not repeated once P-08 is measured."""
    first = GOOD_ON_P_07.replace("    2026-03-02 07:00 check DS-031 slug slug-height=1.2 by ana\n", "")
    with book_of(tmp_path, first, tasks=TASKS) as book:
        write(book, HIGH_ON_P_08)
        assert state(book, LINE, "2026-03-04 08:30") == "later"  # it may still be the die
        write_each(
            book,
            """
            2026-03-04 08:40 unfit M-12 at 100 by ana
            2026-03-04 08:50 fit M-12 in P-07 at 1000 by ana
            2026-03-04 09:00 check DS-031 slug slug-height=1.2 by ana
            """,
        )
        assert state(book, LINE, "2026-03-04 09:05") == "due"
        assert state(book, "P-07/shut", "2026-03-04 09:05") == "later"
        write(book, f"2026-03-04 09:10 sign {LINE} for extra shut-height=135.8 by tom")
        write(book, "2026-03-04 09:20 check DS-031 slug slug-height=1.2 by ana")
        assert state(book, LINE, "2026-03-04 09:30") == "later"
        assert held_on(book, "P-07", "2026-03-04 09:30") == {}
        assert book.prove().differences == ()


def test_a_struck_or_corrected_reading_takes_its_doubt_back(tmp_path: Path) -> None:
    """By a sign-off as by a check: what was misread asks for nothing."""
    with plant(tmp_path) as book:
        inspected = "2026-03-04 08:10 sign DS-031/inspect for extra grade 2 slug-height=1.24 by tom"
        (told,) = write(book, inspected).entries
        assert state(book, LINE, "2026-03-04 08:30") == "due"
        write(book, f'{inspected.replace("1.24", "1.2")} corrects #{told} because "misread"')
        assert state(book, LINE, "2026-03-04 08:30") == "later"
        (told,) = write(book, HIGH_ON_P_08).entries
        assert state(book, LINE, "2026-03-04 08:30") == "due"
        write(book, f'2026-03-04 08:35 strike #{told} by ana because "wrong set"')
        assert state(book, LINE, "2026-03-04 08:40") == "later"
        assert held_on(book, "P-08", "2026-03-04 08:40") == {}
        assert book.prove().differences == ()
