"""The round and the page of a line in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tui.fake_book import MORNING, FakeBook, by_strokes, line_at
from tui.present.moments import Now
from tui.present.page import SHOWN_AT_MOST, sections, title_text
from tui.present.walk import (
    count_rows,
    found_rows,
    hanging_rows,
    head_row,
    hold_rows,
    numbered_row,
    read_count,
    title_cells,
    to_sign_said,
)  # fmt: skip
from upkeep.due.states import State
from upkeep.plant.names import Names
from upkeep.units.instants import NEVER, Zone
from upkeep.views.board import LineDetail
from upkeep.views.items import Hanging, HistoryLine, LifeNumbers
from upkeep.views.jobs import Job, Lock
from upkeep.views.round import FoundHere, RoundRow
from upkeep.wording.sentences import ENGLISH
from upkeep.wording.text import width_of

NOW = Now(MORNING, Zone("Europe/Berlin"))


ENTRY = HistoryLine(
    7, MORNING, MORNING, "2026-03-02", "ana", "Ana Example", "sign", "2026-03-02 06:01 sign M-12/x for y by ana"
)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("1204300", 1204300),
        ("1,204,300", 1204300),
        ("1 204 300", 1204300),
        ("1.204.300", 1204300),
        (" 7 ", 7),
        ("0007", 7),
    ],
)
def test_a_count_may_have_grouped_thousands(text: str, count: int) -> None:
    """However people group them."""
    assert read_count(text) == count


@pytest.mark.parametrize("text", ["", "12.5", "1,2", "-5", "12a", "1,20,300", "12 5", "."])
def test_what_is_no_count_is_not_guessed(text: str) -> None:
    """A decimal point is no grouping."""
    assert read_count(text) is None


@given(st.integers(min_value=0, max_value=10**12))
def test_a_count_reads_back_as_it_is_shown(count: int) -> None:
    """With its groups."""
    assert read_count(f"{count:,}") == count


def test_the_head_of_a_round_tells_place_shift_and_time() -> None:
    """And when the shift ends."""
    walk = FakeBook().round("P-07", MORNING)
    row = " ".join(head_row(walk, "Press at the window", NOW, 80).split())
    assert row == "P-07 Press at the window early shift, ends 14:00 Mon 2026-03-02 06:05"
    assert "no shift is running now" in head_row(replace(walk, shift=None, shift_ends=None), "", NOW, 80)


def test_a_hold_is_framed_and_says_what_must_not_run() -> None:
    """A round without holds has no frame."""
    rows = hold_rows(FakeBook(held_for={"M-12": "finger cracked"}).round("P-07", MORNING), 60, ENGLISH)
    assert set(rows[0]) == {"="} == set(rows[-1])
    assert "HOLD M-12 module MUST NOT RUN: finger cracked" in rows[1]
    assert hold_rows(FakeBook().round("P-07", MORNING), 60, ENGLISH) == ()


def test_a_hold_that_just_fits_its_frame_stands_in_one_row() -> None:
    """One letter more takes a second row; every row is as wide as its frame."""
    room = 60 - 6 - len("HOLD M-12 module MUST NOT RUN: ")
    for letters, rows in ((room, 3), (room + 1, 4)):
        words = "x" * (letters - 2) + " y"
        shown = hold_rows(FakeBook(held_for={"M-12": words}).round("P-07", MORNING), 60, ENGLISH)
        assert (len(shown), {len(row) for row in shown}) == (rows, {60})


def test_the_count_shows_the_last_and_the_expected_range() -> None:
    """Each in its own row; a press never counted says so."""
    book = FakeBook()
    assert count_rows(book.round("P-07", MORNING), NOW) == (
        "last      1,204,300, Sun 22:05",
        "expected  1,204,300 to 1,209,300",
    )
    assert count_rows(book.round("P-03", MORNING), NOW) == ("P-03 has not been counted yet.",)
    assert count_rows(book.round("rack-2", MORNING), NOW) == ("No press here; nothing to count.",)


@given(st.integers(min_value=76, max_value=200), st.text(max_size=50))
def test_a_numbered_row_fits(width: int, title: str) -> None:
    """Whatever the title."""
    row = RoundRow(1, line_at("M-12", "clean", title=title), done=False)
    assert width_of(numbered_row(row, 25, None, NOW, width)) == width


def test_a_ticked_row_names_who_did_it_at_eighty_columns() -> None:
    """Titles give way to the names, however long both are."""
    line = line_at("M-12", "clean", title="Clean the press, its table and the scrap box", last_done_by="mirja")
    rows = [RoundRow(1, line, done=True), RoundRow(2, line, done=False)]
    now = replace(NOW, names=Names([("mirja", 1, "Mirja Castellon")]))
    title = title_cells(rows, now, 76)
    assert numbered_row(rows[0], title, None, now, 76).rstrip().endswith("06:05 Mirja Castellon")
    assert "Clean the press, its table" in numbered_row(rows[0], title, None, now, 76)
    assert numbered_row(rows[0], title, None, now, 76).index("M-12") == numbered_row(
        rows[1], title, None, now, 76
    ).index("M-12")


def test_a_job_under_way_stands_in_its_row_with_sign_word_and_name() -> None:
    """Before why the line is due."""
    job = Job(8, "M-12/clean", "M-12", "clean", "Clean", "P-07", MORNING, "ana", "Ana Example", MORNING, (), MORNING,
              "shift ends", None, 0, "", 0)  # fmt: skip
    row = RoundRow(1, line_at("M-12", "clean", job=job), done=False)
    assert "[||] paused: Ana Example" in numbered_row(row, 25, None, NOW, 76)


def test_locks_stand_above_the_lines_and_what_the_last_shift_left_under_what_hangs_here() -> None:
    """As large as a hold."""
    lock = Lock(7, "P-07", "main switch", "ben", "Ben Example", MORNING)
    walk = replace(FakeBook().round("P-07", MORNING), locks=(lock,), not_accepted="2026-03-01/late")
    assert "LOCKED P-07 MUST NOT RUN: Ben Example at main switch" in "".join(hold_rows(walk, 80, ENGLISH))
    assert "Nobody has accepted the late shift of Sun 2026-03-01 yet" in hanging_rows(walk, 78, ENGLISH)[-1]


def test_a_numbered_row_says_this_shift() -> None:
    """And more where there is room, never half a word of it."""
    row = RoundRow(1, line_at("M-12", "daily-clean"), done=False)
    assert "this shift · due 5 min ago" in numbered_row(row, 25, "2026-03-02/early", NOW, 76)
    assert "takes 4 min · last done Sun 06:05 ana" in numbered_row(row, 25, None, NOW, 156)


def test_what_is_left_is_counted_with_its_time() -> None:
    """All done is said."""
    walk = FakeBook().round("P-07", MORNING)
    assert str(to_sign_said(walk)) == "2 to sign here, about 9 min"
    assert str(to_sign_said(replace(walk, lines=()))) == "Everything here is done for now."


def test_what_was_found_this_shift_stands_latest_first() -> None:
    """In words; what has no room is counted."""
    found = tuple(FoundHere(entry, MORNING, "Ana Example", "DS-031", "Burr on the barrel") for entry in (9, 8, 5))
    rows = found_rows(replace(FakeBook().round("P-07", MORNING), found=found), NOW, 80, 2)
    assert rows == (*["   06:05 Ana Example: Burr on the barrel, DS-031"] * 2, "   and 1 more")


def test_what_was_done_this_shift_is_ticked_and_says_by_whom_and_when() -> None:
    """A long name stands where it has room."""
    line = line_at("M-12", "daily-clean", State.LATER, last_done_at=MORNING, last_done_by="ana")
    row = RoundRow(3, line, done=True)
    names = Now(MORNING, NOW.zone, Names([("ana", 1, "Ana Example")]))
    assert " ".join(numbered_row(row, 25, None, names, 76).split()) == "ok done Daily clean M-12 06:05 Ana Example"
    longer = Now(MORNING, NOW.zone, Names([("ana", 1, "Anastasia Exampleforth")]))
    assert numbered_row(row, 25, None, longer, 60).split()[-1] == "06:05"
    assert numbered_row(row, 25, None, longer, 90).rstrip().endswith("06:05 Anastasia Exampleforth")


def test_what_sits_side_by_side_stands_in_brackets() -> None:
    """Whatever has something in it says so with an arrow."""
    inside = (("P-03", None, 0), ("M-03", "P-03", 1), ("CB-3", "M-03", 2), ("DS-38", "M-03", 2), ("IP-38", "DS-38", 3))
    hanging = tuple(Hanging(item, "part", item, outer, depth, None) for item, outer, depth in inside)
    walk = replace(FakeBook().round("P-07", MORNING), hanging=hanging)
    nested = "P-03 part > M-03 part > (CB-3 part, DS-38 part > IP-38 part)"
    assert hanging_rows(walk, 100, ENGLISH) == (f"Fitted here: {nested}",)


def test_what_hangs_here_is_told_outermost_first() -> None:
    """A place without a press is told apart."""
    book = FakeBook()
    assert hanging_rows(book.round("P-07", MORNING), 78, ENGLISH)[0].startswith(
        "Fitted here: DS-031 module > P-07 module"
    )
    assert hanging_rows(book.round("rack-2", MORNING), 78, ENGLISH)[0] == "Stands here: M-90 module"


def page_of(detail: LineDetail) -> str:
    """The page as text."""
    return "\n".join(row for heading, rows in sections(detail, NOW, 76) for row in (heading, *rows))


def test_the_page_tells_state_why_edges_and_source() -> None:
    """In plant time."""
    text = page_of(FakeBook().detail("DS-031/wear-inspection", MORNING))
    assert "## stop: past its hard stop: must not run until it is done" in text
    assert "due      Fri 2026-02-27 06:05" in text
    assert "221,480 of 200,000 strokes, 21,480 over" in text
    assert "Lock the press off" in text
    assert "Interval from: plant default, no source." in text
    assert "No entry yet." in text


def test_an_edge_that_never_comes_is_left_out() -> None:
    """A line without a hard stop has no row for one."""
    line = by_strokes("DS-1", "wear", State.LATER, 1, 100, due_at=NEVER, overdue_at=None, stop_at=None)
    text = page_of(LineDetail(line, LifeNumbers("DS-1", (1, 1, 1), None, None, 0, None, False, None, None), ()))
    assert "never" not in text
    assert "1 of 100 strokes, 99 left" in text


def test_an_estimated_life_shows_its_band() -> None:
    """Best, least and most, and that it is estimated."""
    life = LifeNumbers("DS-1", (900, 1_000, 1_200), (5, 6, 7), (0, 10, 20), 1, 300, True, MORNING, MORNING, 55)
    text = page_of(LineDetail(by_strokes("DS-1", "w", State.OPEN, 10, 90, estimated=True, strokes_high=20), life, ()))
    assert "since new         1,000 strokes (at least 900, at most 1,200)" in text
    assert "since rework 1    6 strokes (at least 5, at most 7)" in text
    assert "life left         300 strokes at least" in text
    assert "since inspection  10 strokes (at least 0, at most 20), Mon 2026-03-02 06:05" in text
    assert "Strokes are estimated: best 10 strokes, at most 20 strokes." in text
    assert "with no module on it 55 strokes" in text


def test_history_marks_what_was_struck_or_corrected() -> None:
    """Both stay visible; more than a page holds is counted."""
    detail = FakeBook().detail("G-1/calibration", MORNING)
    history = (replace(ENTRY, entry=9, struck_by=10), replace(ENTRY, entry=8, corrected_by=9), ENTRY)
    text = page_of(replace(detail, history=history))
    assert "#9 STRUCK by #10  2026-03-02 06:01 sign" in text
    assert "#8 CORRECTED by #9" in text
    assert "awaits its second signature (quality technician): press v" in text
    many = page_of(replace(detail, history=(ENTRY,) * (SHOWN_AT_MOST + 3)))
    assert "3 older entries are in the book." in many


def test_the_title_names_task_item_and_place() -> None:
    """And what the item sits in."""
    line = line_at("DS-031", "wear", inside="M-12", last_done_at=MORNING - timedelta(days=1))
    assert title_text(line, ENGLISH) == "Wear: DS-031 DS-031 of the shop in M-12, at P-07"
