"""A set is taken out and put back between two counts: it can do no more than its press.  Invented figures, arithmetic.

The press counts 1,000 strokes from 06:00 to 14:00, whatever was looked at meanwhile.
"""

from __future__ import annotations

from pathlib import Path

from tests.plants import at, book_of, define, item, line_at, state, strokes, task, why_of

LINE = "DS-031/look"
HUNG = """
    2026-06-01 06:00 count P-07 100 by ana
    2026-06-01 06:00 fit M-12 in P-07 by ana
    2026-06-01 06:00 fit DS-031 in M-12 by ana
"""
IN_AND_OUT = """
    2026-06-01 07:00 unfit DS-031 by ana
    2026-06-01 07:30 fit DS-031 in M-12 by ana
    2026-06-01 09:00 unfit DS-031 by ana
    2026-06-01 09:30 fit DS-031 in M-12 by ana
    2026-06-01 11:00 unfit DS-031 by ana
    2026-06-01 11:30 fit DS-031 in M-12 by ana
"""
COUNTED = "2026-06-01 14:00 count P-07 1100 by ana"


def test_a_set_can_do_no_more_than_its_press(tmp_path: Path) -> None:
    """Three absences without a count: 1,000 at most, and not 4,000; no stop at 3,300."""
    book = book_of(tmp_path, HUNG + IN_AND_OUT + COUNTED, tasks=[task("look", "die set", strokes=3_000, stop_at=110)])
    least, best, most = strokes(book, "DS-031", "2026-06-01 14:00")
    assert (least, most) == (0, 1_000)
    assert 0 < best < 1_000
    assert state(book, LINE, "2026-06-01 14:00") == "later"
    assert book.prove().clean


def test_a_count_in_between_makes_it_narrower(tmp_path: Path) -> None:
    """A count at 08:00, told a day later: up to then it can have done no more than the 300 of it."""
    late = "2026-06-01 08:00 count P-07 400 by ana recorded 2026-06-02 06:00"
    book = book_of(tmp_path, HUNG + IN_AND_OUT + COUNTED + "\n" + late)
    least, _, most = strokes(book, "DS-031", "2026-06-02 07:00")
    assert (least, most) == (0, 1_000)
    by_eight = book.life("DS-031", at("2026-06-01 08:00")).since_new
    assert by_eight[::2] == (0, 300)
    assert book.prove().clean


def test_a_stop_is_not_older_than_the_doubt_that_makes_it(tmp_path: Path) -> None:
    """On 1 June exactly 2,900 of 3,000 were done; taken out on 8 June without a count it may have done 3,400."""
    text = """
        2026-06-01 14:00 count P-07 3000 by ana
        2026-06-08 06:00 count P-07 3000 by ana
        2026-06-08 06:48 unfit DS-031 by ana
        2026-06-08 14:00 count P-07 3500 by ana
    """
    tasks = [task("look", "die set", strokes=3_000, plan_from=100, late_strokes=200, stop_at=110)]
    book = book_of(tmp_path, HUNG + text, tasks=tasks)
    line = line_at(book, LINE, "2026-06-09 06:00")
    assert line.state == "stop"
    assert [
        edge for edge in (line.due_at, line.overdue_at, line.stop_at) if edge and edge < at("2026-06-08 06:48")
    ] == []
    assert state(book, LINE, "2026-06-05 06:00") == "later"
    assert "between 2,900 and 3,400" in why_of(book, line)


def test_a_hold_list_holds_no_more_than_the_press_did(tmp_path: Path) -> None:
    """Good at 06:05, out from 08:00 to 08:30, bad at 13:00: each line up to 1,000, both together as well."""
    height = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
    crimp = define("crimp", "CR-1", title="Tab", family="tab", size="0.5 mm2", points=[height])
    text = """
        2026-06-01 06:05 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2 by ana
        2026-06-01 08:00 unfit DS-031 by ana
        2026-06-01 08:30 fit DS-031 in M-12 by ana
        2026-06-01 13:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.3 by ana
    """
    book = book_of(tmp_path, HUNG + text + COUNTED, more=[crimp, item("DS-031", family="tab")])
    (found,) = book.suspects(at("2026-06-01 15:00")).lists()
    assert [line.strokes for line in found.lines] == [1_000, 1_000]
    assert found.strokes == 1_000
