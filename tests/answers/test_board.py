"""The board is a window on all lines: whatever window, filter or moment, it shows what each line says of itself."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.plants import CLEAN, INSPECT, at, book_of, define, item, task, why_of, write
from tests.shop_counters import STEP
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import opened_copy, shop
from upkeep.book import Board, BoardQuery, Book
from upkeep.due.states import BOARD_ORDER, State
from upkeep.papers.board_text import board_text
from upkeep.wording.sentences import ENGLISH

FIXED = task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO", by=["maintenance technician"])


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Tuesday 06:00: one module on a press, one press read long ago, a set held."""
    more = (item("DS-102", title="Straße GRÜN 6,3", family="tab"), item("P-08", place="shed"))
    shed = define("place", "shed", title="Shed", area="yard", route=9)
    return book_of(
        tmp_path,
        """
        2026-03-01 08:00 count P-08 500 by ana
        2026-03-02 06:00 count P-07 1204300 by ana
        2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
        2026-03-02 06:00 fit DS-031 in M-12 by ana
        2026-03-02 07:00 hold DS-102 by ben because "burr"
        2026-03-03 06:00 count P-07 1208500 by ana
        """,
        tasks=[CLEAN, INSPECT, FIXED],
        more=[*more, shed],
    )


NOW = "2026-03-03 06:00"


def test_the_most_urgent_state_comes_first(book: Book) -> None:
    """Held, overdue, due, open, later, not required; within a state the one that waits longest."""
    states = [line.state for line in book.board(at(NOW)).rows]
    assert states == sorted(states, key=BOARD_ORDER.index)
    assert [line.line for line in book.board(at(NOW)).rows] == [
        "DS-102/inspect", "M-12/clean", "P-03/guard", "P-07/guard", "P-08/guard", "DS-031/inspect", "M-44/clean",
    ]  # fmt: skip


FILTERS = {
    BoardQuery(states=frozenset({State.OVERDUE})): {"M-12/clean", "P-03/guard", "P-07/guard", "P-08/guard"},
    BoardQuery(place="P-07"): {"M-12/clean", "P-07/guard", "DS-031/inspect"},
    BoardQuery(area="toolroom"): {"DS-102/inspect", "M-44/clean"},
    BoardQuery(area="yard"): {"P-08/guard"},
    BoardQuery(item="M-12"): {"M-12/clean"},
    BoardQuery(task="guard"): {"P-03/guard", "P-07/guard", "P-08/guard"},
    BoardQuery(role="operator"): {"DS-102/inspect", "M-12/clean", "DS-031/inspect", "M-44/clean"},
    BoardQuery(role="stores"): set(),
    BoardQuery(search="DS-03"): {"DS-031/inspect"},
    BoardQuery(search="ds-031 P-07"): {"DS-031/inspect"},
    BoardQuery(search="grün STRASSE"): {"DS-102/inspect"},
    BoardQuery(search="%"): set(),
    BoardQuery(search="guard", area="press hall"): {"P-03/guard", "P-07/guard"},
}


@pytest.mark.parametrize("query", FILTERS, ids=str)
def test_a_filter_shows_the_lines_that_match_and_counts_them(book: Book, query: BoardQuery) -> None:
    """Every word of a search is somewhere in the line, upper or lower case, in any alphabet."""
    board = book.board(at(NOW), query)
    assert {line.line for line in board.rows} == FILTERS[query]
    assert board.total == len(board.rows)


def test_the_counts_are_as_old_as_the_oldest_press_still_in_the_plant(book: Book) -> None:
    """P-08 was read on Sunday; once it is scrapped, nobody waits for its count."""
    board = book.board(at(NOW))
    assert (board.counts_as_of, board.oldest_count_press) == (at("2026-03-01 08:00"), "P-08")
    book.load([item("P-08", scrapped="2026-03-03")], at(NOW), "lea", at(NOW), "as it is now")
    board = book.board(at(NOW))
    assert (board.counts_as_of, board.oldest_count_press) == (at(NOW), "P-07")
    assert "P-08/guard" not in {line.line for line in board.rows}


def test_an_entry_answers_with_the_lines_it_moved_and_no_others(book: Book) -> None:
    """A count that opens the inspection says so, with the reason the board then shows."""
    (change,) = write(book, "2026-03-03 07:00 count P-07 1209300 by ana").changes
    assert (change.line, change.before, change.after) == ("DS-031/inspect", State.OPEN, State.DUE)
    assert why_of(book, change) == why_of(book, book.line("DS-031/inspect", at("2026-03-03 07:00")))
    assert write(book, "2026-03-03 07:10 count P-07 1209301 by ana").changes[0].after == State.OVERDUE
    assert write(book, "2026-03-03 07:20 count P-07 1209302 by ana").changes == ()


def test_of_the_held_lines_of_an_item_the_first_that_matches_stands_for_them(book: Book) -> None:
    """Three tasks of a held set are one row on the page, of a search the first it finds; asked for, they are three."""
    book.load([task(f"{name}-set", "die set", every="7 days") for name in ("a", "b")], at(NOW), "lea", at(NOW), "new")
    folded = BoardQuery(states=frozenset({State.HELD}), holds_by_item=True)
    board = book.board(at(NOW), folded)
    assert [(line.line, line.lines_held, line.for_item) for line in board.rows] == [("DS-102/a-set", 3, True)]
    assert (board.total, board.by_state[State.HELD]) == (1, 3)
    assert [line.line for line in book.board(at(NOW), replace(folded, search="b-set")).rows] == ["DS-102/b-set"]
    assert len(book.board(at(NOW), BoardQuery(item="DS-102")).rows) == 3
    page = board_text(board, ENGLISH)
    assert "DS-102 (3 lines, see --item DS-102)" in page
    assert "Held until released: burr" in page


# Any day


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(day=st.lists(acts, min_size=20, max_size=50), later=st.integers(0, 2000), window=st.integers(1, 9))
def test_any_window_shows_what_each_line_says_of_itself(
    shop_file: Path, day: list[Act], later: int, window: int
) -> None:
    """States, totals and order are the same read in one go, in small windows, and line by line."""
    with opened_copy(shop_file) as book:
        moment = do_all(book, day).now + later * STEP
        board = book.board(moment, limit=1000)
        assert board.total == len(board.rows)
        assert {state: number for state, number in board.by_state.items() if number} == Counter(
            line.state for line in board.rows
        )
        paged = [
            line
            for offset in range(0, board.total, window)
            for line in book.board(moment, offset=offset, limit=window).rows
        ]
        assert tuple(paged) == board.rows
        assert [book.line(line.line, moment) for line in board.rows] == list(board.rows)
        for state in State:
            only = book.board(moment, BoardQuery(states=frozenset({state})), limit=1000)
            assert only.rows == tuple(line for line in board.rows if line.state is state)
        assert_holds_are_folded(book, moment, board, window)


def assert_holds_are_folded(book: Book, moment: datetime, board: Board, window: int) -> None:
    """Held lines come one an item, the first by name, which says how many wait; whatever the window or the filter."""
    held = Counter(line.item for line in board.rows if line.state is State.HELD)
    seen = set[str]()
    expected = []
    for line in board.rows:
        assert line.lines_held == (held[line.item] if line.state is State.HELD else 0)
        if line.state is not State.HELD or line.item not in seen:
            expected.append(replace(line, for_item=line.lines_held > 1))
            seen |= {line.item} if line.state is State.HELD else set()
    folded = BoardQuery(holds_by_item=True)
    total = book.board(moment, folded, limit=1).total
    pages = [book.board(moment, folded, offset=offset, limit=window) for offset in range(0, total, window)]
    assert [line for page in pages for line in page.rows] == expected
    assert pages[0].by_state == board.by_state
    for place in {line.place for line in expected} - {"-"}:
        placed = book.board(moment, replace(folded, place=place), limit=1000)
        assert list(placed.rows) == [line for line in expected if line.place == place]


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(day=st.lists(acts, min_size=20, max_size=40))
def test_between_two_announced_changes_no_line_changes_its_state(shop_file: Path, day: list[Act]) -> None:
    """A screen may sleep until the next change the book announces, and is then told which lines it moved."""
    with opened_copy(shop_file) as book:
        moment = do_all(book, day).now
        for _ in range(6):
            following = book.next_change(moment)
            if following is None:
                break
            before = {line.line: line.state for line in book.board(moment, limit=1000).rows}
            just = {line.line: line.state for line in book.board(following - timedelta(seconds=1), limit=1000).rows}
            after = {line.line: line.state for line in book.board(following, limit=1000).rows}
            assert just == before
            moved = {line for line in after if after[line] is not before[line]}
            assert moved <= set(book.changed_lines(moment, following))
            moment = following
