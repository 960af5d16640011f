"""The board in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tui.fake_book import MORNING, FakeBook, by_strokes, line_at
from tui.present.board import due_text, head_rows, last_done_said, late_text, nothing_said, reason_text
from tui.present.columns import layout
from tui.present.moments import Now, age_said, near_said
from tui.present.state_words import MEANINGS, state_text, states_text
from upkeep.due.states import CALLING, State
from upkeep.units.instants import Zone
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.jobs import Job, Lock
from upkeep.wording.sentences import ENGLISH, Reader
from upkeep.wording.states import SIGNS
from upkeep.wording.text import width_of

NOW = Now(MORNING, Zone("Europe/Berlin"))
CALLED = BoardQuery(states=frozenset(CALLING))


def test_every_state_has_its_own_sign_and_a_meaning() -> None:
    """Two states are never told apart by colour."""
    assert set(SIGNS) == set(MEANINGS) == set(State)
    assert len(set(SIGNS.values())) == len(State)


def test_a_state_is_a_sign_and_a_word() -> None:
    """Both are there, so one of them is enough."""
    assert state_text(State.OVERDUE, ENGLISH) == "!! overdue"


@pytest.mark.parametrize(
    ("line", "text"),
    [
        (by_strokes("DS-1", "wear", State.OPEN, 192_400, 200_000), "192,400 of 200,000 strokes"),
        (by_strokes("DS-1", "wear", State.OPEN, 192_400, 200_000, estimated=True), "~192,400 of 200,000 strokes"),
        (line_at("M-12", "clean"), "Mon 2026-03-02 early"),
        (line_at("M-12", "oil", occurrence="2026-03-02", each_shift=False), "Mon 2026-03-02"),
        (line_at("M-12", "look", due_day=None), ""),
        (line_at("M-12", "turn", due_day=None, occurrence="fitting.812"), "since the fitting of 2026-03-02 06:00"),
    ],
)
def test_why_a_line_is_due_in_a_few_words(line: BoardLine, text: str) -> None:
    """Strokes with their unit, or the day with its name and shift."""
    assert due_text(line, NOW.zone, ENGLISH) == text


def test_strokes_are_shortened_before_they_are_cut() -> None:
    """The figures stay whole in a narrow column."""
    line = by_strokes("DS-1", "wear", State.OPEN, 192_400, 200_000)
    assert [due_text(line, NOW.zone, ENGLISH, width) for width in (24, 16)] == [
        "192,400 of 200,000 st.",
        "192,400/200,000",
    ]


@pytest.mark.parametrize(
    ("state", "late"),
    [(State.DUE, "26 h"), (State.OVERDUE, "26 h"), (State.STOP, "26 h"), (State.OPEN, ""), (State.HELD, "")],
)
def test_only_a_line_that_is_due_is_late(state: State, late: str) -> None:
    """A line that is merely open has no age."""
    assert late_text(line_at("M-12", "clean", state, due_at=MORNING - timedelta(hours=26)), NOW) == late


@pytest.mark.parametrize(("seconds", "late"), [(-1, ""), (0, "0 min"), (60, "1 min")])
def test_a_line_is_late_from_the_very_second_it_is_due(seconds: int, late: str) -> None:
    """Not a second before."""
    line = line_at("M-12", "clean", State.DUE, due_at=MORNING - timedelta(seconds=seconds))
    assert late_text(line, NOW) == late


@pytest.mark.parametrize(
    ("minutes", "text"), [(-5, "0 min"), (59, "59 min"), (60, "1 h"), (2879, "47 h"), (2880, "2 days")]
)
def test_an_age_has_one_unit(minutes: int, text: str) -> None:
    """Rounded down."""
    assert str(age_said(timedelta(minutes=minutes))) == text


@pytest.mark.parametrize(
    ("back", "text"),
    [(timedelta(hours=1), "05:05"), (timedelta(days=1), "Sun 06:05"), (timedelta(days=40), "2026-01-21")],
)
def test_a_moment_is_as_short_as_it_stays_clear(back: timedelta, text: str) -> None:
    """Today the clock, this week the day and the clock, else the date."""
    assert str(near_said(MORNING - back, NOW)) == text


def test_never_done_is_said() -> None:
    """Not knowing of any time is not an empty cell."""
    assert str(last_done_said(line_at("M-12", "clean", last_done_at=None), NOW)) == "never"


@given(st.integers(min_value=60, max_value=250), st.text(max_size=60), st.sampled_from(State))
def test_a_row_is_as_wide_as_the_screen(width: int, title: str, state: State) -> None:
    """Whatever the width and the text, with columns that give way by rank."""
    line = line_at("M-12", "clean", state, title=title)
    columns = layout(width, ENGLISH)
    assert width_of(columns.row(line, NOW)) == width_of(columns.heads(ENGLISH)) == width


def test_a_wider_screen_shows_more_columns() -> None:
    """The first ones are always there."""
    narrow, wide = layout(80, ENGLISH).heads(ENGLISH).split(), layout(160, ENGLISH).heads(ENGLISH).split()
    assert set(narrow) < set(wide)
    assert {"state", "place", "item", "task", "due"} <= set(narrow)


def test_a_wider_screen_gives_the_task_its_room_before_it_shows_more_columns() -> None:
    """At 60 columns it still has room, beside the state, the item and why."""
    tasks = {width: next(cells for column, cells in layout(width, ENGLISH).columns if str(column.head) == "task")
             for width in (60, 80, 96, 110, 140)}  # fmt: skip
    assert tasks == {60: 19, 80: 19, 96: 34, 110: 34, 140: 34}
    heads = layout(60, ENGLISH).heads(ENGLISH).split()
    assert heads == ["state", "place", "item", "task", "due"]


def test_no_state_that_calls_for_somebody_is_cut_in_the_language_of_the_reader() -> None:
    """Longer words take their room from why the line is due."""
    spanish = Reader("es")
    (_, cells), *_ = layout(80, spanish).columns
    for state in CALLING:
        assert width_of(state_text(state, spanish)) <= cells
    assert layout(80, spanish).cells == 80


def test_a_press_that_is_locked_and_work_that_goes_on_have_a_sign_and_a_word() -> None:
    """Before why the line is due where there is room, else alone; whose they are stands under the list."""
    lock = Lock(7, "P-07", "main switch", "ben", "Ben Example", MORNING)
    job = Job(8, "M-12/clean", "M-12", "clean", "Clean", "P-07", MORNING, "ana", "Ana Example", MORNING, (), None, "",
              None, 0, "", 0)  # fmt: skip
    line = line_at("M-12", "clean", locks=(lock,), job=job)
    assert due_text(line, NOW.zone, ENGLISH).startswith("[X] locked, [>] in work, Mon 2026-03-02")
    assert due_text(line, NOW.zone, ENGLISH, 26) == "[X] locked, [>] in work"
    assert due_text(line, NOW.zone, ENGLISH, 14) == "[X] locked"
    assert due_text(replace(line, locks=()), NOW.zone, ENGLISH, 14) == "[>] in work"
    told = reason_text(line, NOW)
    assert "LOCKED: Ben Example at main switch" in told
    assert "Under way: Ana Example since" in told


def test_the_head_tells_plant_time_states_and_the_oldest_count() -> None:
    """And who is here, and which lines are shown."""
    book = FakeBook()
    board = book.board(MORNING, CALLED)
    rows = head_rows(board, CALLED, NOW, "Ana Example", 130, range(0, 7))
    text = " ".join(" ".join(rows).split())
    assert "Crimp shop North here: Ana Example Mon 2026-03-02 06:05 Europe/Berlin" in text
    assert "## 1 stop == 1 held !! 1 overdue ! 3 due > 1 open . 1 later || 1 paused - 1 not required" in text
    assert "Counts as of Sun 22:05 (P-07, the oldest)" in text
    assert "1-7 of 7 to do" in text


def test_quiet_states_are_summed_up_where_room_is_short() -> None:
    """The calling ones never are."""
    counts = FakeBook().board(MORNING).by_state
    assert states_text(counts, 79, ENGLISH).endswith("> 1 open   3 others")


def test_a_plant_without_counts_says_so() -> None:
    """Instead of a moment that nobody read a counter."""
    board = FakeBook(counts={}).board(MORNING, CALLED)
    assert "No press has been counted yet" in head_rows(board, CALLED, NOW, "", 100, range(0))[2]


@pytest.mark.parametrize(
    ("query", "key"), [(BoardQuery(search="x"), "Press x"), (CALLED, "Press t"), (BoardQuery(), "no lines yet")]
)
def test_an_empty_board_says_which_key_widens_it(query: BoardQuery, key: str) -> None:
    """Nobody stands before an empty screen without a way on."""
    assert key in str(nothing_said(query))
