"""Putting away: who may, what cannot be, and what happens where it runs all the same.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, person, state, task, why_of, write, write_each
from upkeep.admission.resting import RestAdmission
from upkeep.book import Book
from upkeep.entries.faults import Pause
from upkeep.errors import Refused
from upkeep.wording.sentences import ENGLISH, text

INSPECT = task("inspect", "die set", strokes=5000, stop_at=110, graded=True)
GREASE = task("grease", "press", every="7 days")
OIL = task("oil", "die set", every="7 days")
FIRST_USE = task("first-use", "die set", after=["storage"], stop_days=0)
TASKS = (INSPECT, GREASE, OIL, FIRST_USE)
STORES = person("sam", "Sam", "stores")
ON_THE_PRESS = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
"""


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("DS-031", "DS-031 hangs on P-07. Take it off first"),
        ("M-12", "M-12 hangs on P-07. Take it off first"),
        ("P-07", "M-12 hangs on P-07. Take it off first.*a press is put out of use empty"),
    ],
)
def test_nothing_on_a_press_is_put_away_nor_a_press_with_something_on_it(tmp_path: Path, key: str, says: str) -> None:
    """Its lines would be silent while it runs."""
    with book_of(tmp_path, ON_THE_PRESS, tasks=TASKS) as book, pytest.raises(Refused, match=says):
        write(book, f'2026-03-02 07:00 pause {key} by lea because "spare"')


def test_taken_off_a_set_is_put_away_by_the_lead_or_stores_and_its_press_then_too(tmp_path: Path) -> None:
    """At the very minute it comes off; an operator does neither."""
    off = "2026-03-02 08:00 unfit M-12 at 1500 by ana"
    with book_of(tmp_path, ON_THE_PRESS + off, tasks=TASKS, more=[STORES]) as book:
        with pytest.raises(Refused, match=r"Ben \(operator\)"):
            write(book, '2026-03-02 08:00 pause DS-031 by ben because "spare"')
        write(book, '2026-03-02 08:00 pause DS-031 by sam because "spare"')
        write(book, '2026-03-02 08:00 pause P-07 by lea because "to be sold"')
        assert state(book, "DS-031/oil", "2026-03-02 09:00") == "paused"
        assert state(book, "P-07/grease", "2026-03-02 09:00") == "paused"


def test_nothing_is_hung_on_a_press_that_is_out_of_use(tmp_path: Path) -> None:
    """Not the module, and no set in a module that hangs there; in the rack a part goes into a stored set."""
    told = (
        '2026-03-02 05:00 pause P-07 by lea because "to be sold"\n2026-03-02 05:00 pause DS-102 by lea because "spare"'
    )
    with book_of(tmp_path, told, tasks=TASKS) as book:
        with pytest.raises(Refused, match=r"P-07 has been in storage or out of use since .*to be sold.*Bring it back"):
            write(book, "2026-03-02 06:00 fit M-12 in P-07 by ana")
        write(book, "2026-03-02 06:00 fit CP-a in DS-102 by ana")


def test_a_count_that_moves_on_a_press_out_of_use_raises_an_alarm_and_ends_its_rest(tmp_path: Path) -> None:
    """An empty press that was put away runs: whoever enters the count hears it, and its work is asked for again."""
    told = '2026-03-02 06:00 count P-07 1000 by ana\n2026-03-02 06:00 pause P-07 by lea because "to be sold"'
    with book_of(tmp_path, told, tasks=TASKS) as book:
        same = write(book, "2026-03-02 14:00 count P-07 1000 by ana")
        assert not [note for note in same.notes if "ALARM" in text(note, ENGLISH)]
        assert state(book, "P-07/grease", "2026-03-20 12:00") == "paused"
        written = write(book, "2026-03-16 14:00 count P-07 1400 by ana")
        (alarm,) = [text(note, ENGLISH) for note in written.notes if "ALARM" in text(note, ENGLISH)]
        assert "ALARM: P-07 has been in storage or out of use since 2026-03-02 06:00 and has done 400 strokes" in alarm
        assert [change.line for change in written.changes if change.before == "paused"] == ["P-07/grease"]
        assert state(book, "P-07/grease", "2026-03-20 12:00") == "overdue"
        assert any("400 strokes" in text(asked.asks, ENGLISH) for asked in book.questions(at("2026-03-16 15:00")))
        with pytest.raises(Refused, match="has run since it was put away"):
            write(book, '2026-03-16 15:00 pause P-07 by lea because "again"')
        write(book, "2026-03-16 15:00 resume P-07 by lea")
        asked = [text(question.asks, ENGLISH) for question in book.questions(at("2026-03-16 15:00"))]
        assert not [asks for asks in asked if "storage" in asks]
        assert book.prove().clean


def paused_on_a_press(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """A book of before the rule: set and press were put away where they hang."""
    monkeypatch.setitem(RestAdmission.JUDGES, Pause, lambda *_: None)
    book = book_of(folder, ON_THE_PRESS, tasks=TASKS)
    write_each(
        book,
        """
        2026-03-02 07:00 pause P-07 by lea because "lazy"
        2026-03-02 07:00 pause DS-031 by lea because "lazy"
        """,
    )
    monkeypatch.undo()
    return book


def test_an_old_book_with_a_set_put_away_on_its_press_asks_the_lead(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It opens, and says what to do before anything runs."""
    with paused_on_a_press(tmp_path, monkeypatch) as book:
        asked = {question.about: text(question.asks, ENGLISH) for question in book.questions(at("2026-03-02 08:00"))}
        assert "yet hangs on P-07" in asked["DS-031"]
        assert "yet M-12 hangs on it" in asked["P-07"]


def test_a_set_put_away_on_its_press_does_not_run_past_its_limit_in_silence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """8,000 strokes past 5,000: alarms for press and set, the inspection is past its stop, first use is asked for."""
    with paused_on_a_press(tmp_path, monkeypatch) as book:
        write(book, "2026-03-02 07:00 count P-07 1000 by ana")
        written = write(book, "2026-03-05 07:00 count P-07 9000 by ana")
        alarms = [text(note, ENGLISH) for note in written.notes if "ALARM" in text(note, ENGLISH)]
        assert any("DS-031 on P-07 has been in storage or out of use" in alarm for alarm in alarms)
        assert any("ALARM: P-07 has been in storage or out of use" in alarm for alarm in alarms)
        assert state(book, "DS-031/inspect", "2026-03-05 08:00") == "stop"
        assert state(book, "DS-031/first-use", "2026-03-05 08:00") == "stop"
        assert state(book, "DS-031/oil", "2026-03-20 08:00") == "overdue"
        assert "since the storage of 2026-03-02 07:00" in why_of(
            book, line_at(book, "DS-031/first-use", "2026-03-05 08:00")
        )
        assert book.prove().clean


def test_strokes_that_may_all_lie_before_it_was_put_away_end_no_rest(tmp_path: Path) -> None:
    """Nobody read the counter as the press went out of use: the next count proves nothing."""
    told = """
        2026-03-02 06:00 count P-07 1000 by ana
        2026-03-02 10:00 pause P-07 by lea because "to be sold"
    """
    with book_of(tmp_path, told, tasks=TASKS) as book:
        written = write(book, "2026-03-02 14:00 count P-07 1400 by ana")
        assert not [note for note in written.notes if "ALARM" in text(note, ENGLISH)]
        assert state(book, "P-07/grease", "2026-03-20 12:00") == "paused"
