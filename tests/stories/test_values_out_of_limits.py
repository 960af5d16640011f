"""A value out of its limits on work that is not graded: the line stays open, and the item is held where the task says
so.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, line_at, state, task, why_of, write, write_each
from upkeep.errors import Refused

PRESSURE = {"id": "pressure", "title": "Air pressure", "unit": "bar", "lower": 5.0, "upper": 7.0}
LOOK = task("air-look", "press", each_shift=True, points=[PRESSURE])
HELD = task("air-look", "press", each_shift=True, points=[PRESSURE], hold_when_out=True)
RUN = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 08:00 count P-07 1500 by ana
"""
OUT = "2026-03-02 08:10 sign P-07/air-look for 2026-03-02/early pressure=4.2 by ana"


def test_the_line_stays_open_until_a_value_within_the_limits_is_signed(tmp_path: Path) -> None:
    """The writer is told so, the line says why, and an extra answers it as well."""
    book = book_of(tmp_path, RUN, tasks=[LOOK])
    notes = " ".join(map(str, write(book, OUT).notes))
    assert "Air pressure 4.2 bar is below its limit of 5 bar." in notes
    assert "P-07/air-look stays open until it is signed with values within the limits." in notes
    line = line_at(book, "P-07/air-look", "2026-03-02 08:30")
    assert line.state == "due"
    assert "a value was out of its limits 2026-03-02 08:10" in why_of(book, line)
    write(book, "2026-03-02 09:00 count P-07 2000 by ana")
    assert state(book, "P-07/air-look", "2026-03-02 09:00") == "overdue"
    write(book, f"2026-03-02 09:05 sign P-07/air-look for {line.occurrence} pressure=4.9 by ana")
    again = line_at(book, "P-07/air-look", "2026-03-02 09:10")
    assert (again.state, again.occurrence == line.occurrence) == ("due", False)
    write(book, "2026-03-02 09:20 sign P-07/air-look for extra pressure=5.9 by ana")
    assert state(book, "P-07/air-look", "2026-03-02 09:30") not in ("due", "overdue")
    assert book.prove().differences == ()


def test_it_is_asked_again_whatever_way_the_value_came_in(tmp_path: Path) -> None:
    """As an extra, by a correction of a good one, or by striking the good one after it."""
    book = book_of(tmp_path, RUN, tasks=[LOOK])
    (good,) = write_each(book, OUT.replace("4.2", "6.1"))
    assert state(book, "P-07/air-look", "2026-03-02 08:30") not in ("due", "overdue")
    slip = f'{OUT.replace(" by ana", "")} by ana corrects #{good.entries[0]} because "misread"'
    write(book, slip)
    assert state(book, "P-07/air-look", "2026-03-02 08:30") == "due"
    (later,) = write_each(book, "2026-03-02 08:40 sign P-07/air-look for extra pressure=6.0 by ana")
    assert state(book, "P-07/air-look", "2026-03-02 08:45") not in ("due", "overdue")
    write(book, f'2026-03-02 08:50 strike #{later.entries[0]} by ana because "that was P-08"')
    assert state(book, "P-07/air-look", "2026-03-02 08:55") == "due"
    assert book.prove().differences == ()


def test_where_the_task_says_so_the_item_is_held_until_measured_good_and_released(tmp_path: Path) -> None:
    """The lead's word alone does not do, nor does the good value without it; the work itself does not wait."""
    book = book_of(tmp_path, RUN, tasks=[HELD, task("wipe", "press", each_shift=True)])
    assert "P-07 is held" in " ".join(map(str, write(book, OUT).notes))
    line = line_at(book, "P-07/air-look", "2026-03-02 08:30")
    assert (line.state, state(book, "P-07/wipe", "2026-03-02 08:30")) == ("due", "held")
    with pytest.raises(Refused, match="has not been signed with good ones since"):
        write(book, '2026-03-02 08:40 release P-07 by lea because "looks fine"')
    write(book, f"2026-03-02 08:50 sign P-07/air-look for {line.occurrence} pressure=6.0 by ana")
    assert state(book, "P-07/wipe", "2026-03-02 08:55") == "held"
    write(book, '2026-03-02 09:00 release P-07 by lea because "regulator changed"')
    assert state(book, "P-07/wipe", "2026-03-02 09:01") != "held"
    assert book.prove().differences == ()


def test_what_an_entry_found_out_is_told_by_the_book_and_not_by_the_writer(tmp_path: Path) -> None:
    """Limits changed later do not judge it anew, and nobody writes the words away or in."""
    book = book_of(tmp_path, RUN, tasks=[LOOK])
    write(book, OUT.replace(" by ana", " out pressure holds by ana"))
    assert any("pressure=4.2 out pressure by ana" in line for line in book.export())
    (tmp_path / "other").mkdir()
    other = book_of(tmp_path / "other", RUN, tasks=[LOOK])
    write(other, OUT.replace("4.2", "6.2 out pressure"))
    assert state(other, "P-07/air-look", "2026-03-02 08:30") not in ("due", "overdue")
    wider = task("air-look", "press", each_shift=True, points=[{**PRESSURE, "upper": 6.0}])
    other.load([wider], at("2026-03-02 09:00"), "lea", at("2026-03-02 09:00"), "the regulator was changed")
    assert state(other, "P-07/air-look", "2026-03-02 09:30") not in ("due", "overdue")
