"""The history of the demo plant: the same from the same seed, and awkward in every way the program has to bear."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from demo_plant import definitions
from demo_plant.build import build
from demo_plant.measuring import Wear
from demo_plant.shop import Shop, first_fittings
from tests.demo_month import DAYS, copied
from tests.demo_month import NOW as END
from tests.plants import written_lines
from upkeep.book import BoardLine, Book
from upkeep.due.states import State
from upkeep.plant.model import Kind, item_from


@pytest.fixture(scope="module")
def book(demo_month: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """A month of the demo plant, ending in the middle of an early shift."""
    with Book.open(copied(demo_month, tmp_path_factory.mktemp("demo") / "book")) as built:
        yield built


@pytest.fixture(scope="module")
def lines(book: Book) -> list[str]:
    """Every entry as its line of text, in the order written."""
    return written_lines(book)


@pytest.fixture(scope="module")
def board(book: Book) -> list[BoardLine]:
    """All lines at the end."""
    return list(book.board(END, limit=5000).rows)


def those_with(lines: list[str], *pieces: str) -> list[str]:
    return [line for line in lines if all(piece in line for piece in pieces)]


def test_the_same_seed_gives_the_same_book(tmp_path: Path) -> None:
    """And another seed another one."""
    exports = []
    for name, seed in (("one", 7), ("again", 7), ("other", 8)):
        with build(tmp_path / name, end=END, days=4, seed=seed) as built:
            exports.append(list(built.export()))
    assert exports[0] == exports[1]
    assert exports[0] != exports[2]


@pytest.mark.parametrize("end", [END + timedelta(days=3, hours=16), END - timedelta(hours=5)])
def test_a_history_may_end_outside_every_shift(tmp_path: Path, end: datetime) -> None:
    """At a weekend or at night; nothing is written that has not happened by then."""
    with build(tmp_path / "plant.db", end=end, days=2) as built:
        last = built.last_moment()
        assert last is not None
        assert end - timedelta(days=2) < last <= end


def test_the_book_of_the_demo_plant_proves_itself(book: Book) -> None:
    """Every projection equals a replay of the entries."""
    assert book.prove().differences == ()


def test_the_history_is_as_large_as_a_month_of_work(lines: list[str]) -> None:
    """Counts, daily signatures, first and last pieces and rounds of twelve presses on two shifts."""
    assert 4_500 < len(lines) < 7_500


def test_most_lines_at_the_end_are_for_later(board: list[BoardLine]) -> None:
    """A handful asks for work, some daily work of the running shift is still to do, nothing has reached its stop."""
    states = [line.state for line in board]
    asking = [line for line in board if line.state in (State.OPEN, State.DUE, State.OVERDUE)]
    assert states.count(State.LATER) > 300
    assert 10 < len(asking) < 60
    assert any(line.each_shift and line.state is State.DUE for line in asking)
    assert State.STOP not in states


def test_one_line_is_left_overdue(board: list[BoardLine]) -> None:
    """Of a die set that waits in a rack."""
    overdue = [line for line in board if line.state is State.OVERDUE]
    assert [(line.item_kind, line.place[:2]) for line in overdue] == [(Kind.DIE_SET, "R-")]


def test_a_gauge_and_a_die_set_are_held_at_the_end(book: Book, board: list[BoardLine]) -> None:
    """A micrometer that was dropped, and the set of a sample that failed; its product waits to be judged."""
    (waiting,) = [one for one in book.suspects(END).lists() if one.point == "bellmouth"]
    assert {line.item for line in board if line.state is State.HELD} == {"G-02", waiting.item}
    assert waiting.strokes > 0


def test_suspect_product_was_judged_before(book: Book) -> None:
    """An earlier failed sample: every line of its hold list is judged, the set released."""
    closed = [one for one in book.suspects(END).lists(closed=True) if one.point == "bellmouth" and not one.open]
    assert [line.judged.how for one in closed for line in one.lines if line.judged] == ["sorted"]


def test_every_run_begins_with_a_first_piece_that_is_measured(book: Book, lines: list[str]) -> None:
    """Five readings and what is judged by eye, on every press that ran."""
    assert len(those_with(lines, " check ", " first-off ")) > 400
    assert {
        word for line in those_with(lines, " check ", " first-off ") for word in line.split() if ":bad" in word
    } == set()
    assert those_with(lines, " check ", " as-found ")
    assert those_with(lines, " check ", " set-up ", " dial=")


def test_the_dropped_micrometer_is_found_to_read_wrong(lines: list[str]) -> None:
    """Eight micrometres low."""
    assert len(those_with(lines, " out-of-tolerance G-02 off -0.008 ")) == 1


def test_a_worn_punch_leaves_for_ever_and_a_new_one_takes_its_place(book: Book, lines: list[str]) -> None:
    """Out, in and retired within two minutes."""
    worn = [line.split()[3] for line in those_with(lines, " retire ", " worn ")]
    assert worn
    sits = {item for item, _ in book.hanging(END)}
    assert not sits & set(worn)


def test_a_six_figure_counter_rolls_over(lines: list[str]) -> None:
    """Confirmed with the reading."""
    assert those_with(lines, " count P-04 ", "rolled-over")


def test_a_count_is_missing(book: Book, lines: list[str]) -> None:
    """One late shift of one press has no reading at its start, all others have."""
    starts = [shift.start for shift in book.calendar.between(END - timedelta(days=DAYS - 1), END) if shift.end <= END]
    missing = [
        (press.id, book.zone.show(start))
        for start in starts
        for press in book.items()
        if press.kind is Kind.PRESS and not those_with(lines, f"{book.zone.show(start)} count {press.id} ")
    ]
    assert [press for press, _ in missing] == ["P-05"]


def test_a_misread_count_is_corrected_by_a_later_entry(lines: list[str]) -> None:
    """Both stay, with the reason."""
    (correction,) = those_with(lines, " count P-08 ", " corrects #", "figures swapped")
    number = int(correction.partition("corrects #")[2].split()[0])
    wrong = lines[number]
    assert wrong.split()[:4] == correction.split()[:4]
    assert int(wrong.split()[4]) - int(correction.split()[4]) == 300


def test_every_entry_says_how_it_came_in(lines: list[str]) -> None:
    """Definitions from files (the shelf's by a lead with a password), work on the screens, some of it signed on paper.

    The plant goes by codes from its first definition on.
    """
    assert lines[0].split()[2] == "begin"
    definitions = [line for line in lines[1:] if line.split()[2] == "define"]
    of_the_shelf = [line for line in definitions if line.split()[3] == "spare"]
    assert {line.partition(" via ")[2] for line in of_the_shelf} == {"file proof password"}
    by_the_plant = sum(line.endswith(" via file proof none") for line in definitions)
    assert by_the_plant >= len(definitions) - len(of_the_shelf) - 1
    counts = those_with(lines, " count P-07 ")
    proven_by = {line.partition(" via ")[2] for line in counts}
    assert proven_by == {'screen station "Hall B" proof code', 'screen station "Hall B" proof password'}
    on_paper = those_with(lines, " via sheet proof paper entered-by yara")
    assert {line.split()[2] for line in on_paper} == {"sign"}
    assert all(" via " in line for line in lines)
    assert not [line for line in lines if " proof none" in line and line not in definitions and " begin " not in line]


def test_daily_work_from_paper_is_typed_in_on_a_later_day(lines: list[str]) -> None:
    """With the moment of the act and the moment of typing."""
    typed = [line for line in those_with(lines, " sign ", " recorded ", " via sheet ") if "P-07/" in line]
    assert typed
    assert {line.split()[0] < line.partition(" recorded ")[2].split()[0] for line in typed} == {True}


def test_a_chipped_punch_is_graded_held_replaced_scrapped_verified_and_released(lines: list[str]) -> None:
    """In that order, on one die set."""
    (graded,) = those_with(lines, "/die-inspection for extra grade 4")
    die_set = graded.split()[3].partition("/")[0]
    (rework,) = those_with(lines, f" sign {die_set}/die-rework for 2026-")
    new = rework.partition("scrapped, ")[2].split()[0]
    story = [
        graded,
        *those_with(lines, f" hold {die_set} ", "grade 4"),
        *those_with(lines, f" fit {new} in {die_set} "),
        *those_with(lines, " define item CP-", '"scrapped"'),
        rework,
        *those_with(lines, f" verify #{lines.index(rework)} "),
        *those_with(lines, f" release {die_set} "),
    ]
    assert len(story) == 7
    assert [lines.index(line) for line in story] == sorted(lines.index(line) for line in story)


def test_a_scrapped_part_makes_no_lines(book: Book, board: list[BoardLine]) -> None:
    """And is known as scrapped."""
    scrapped = [item for item in book.items() if item.scrapped is not None]
    assert [item.kind for item in scrapped] == [Kind.CONDUCTOR_PUNCH]
    assert not [line for line in board if line.item == scrapped[0].id]


def test_die_sets_rest_in_storage(lines: list[str], board: list[BoardLine]) -> None:
    """Two went in, one came back and was made ready; the other's lines are paused."""
    (stored, back) = (those_with(lines, " pause DS-"), those_with(lines, " resume DS-"))
    assert (len(stored), len(back)) == (2, 1)
    assert those_with(lines, f" sign {back[0].split()[3]}/first-use ")
    assert len({line.item for line in board if line.state is State.PAUSED}) == 1


def test_a_lubrication_is_done_late(lines: list[str]) -> None:
    """After the day it was planned for; late stays late."""
    signs = those_with(lines, " sign P-06/lube-press for ")
    late = [sign for sign in signs if sign.split()[0] > sign.split()[5]]
    assert late


def test_a_module_is_changed_without_a_count(lines: list[str], board: list[BoardLine]) -> None:
    """What it and the other did stays an estimate, and lines say so."""
    assert [line for line in those_with(lines, " fit M-", " in P-10 ") if " at " not in line]
    assert any(line.estimated for line in board)


def test_nobody_signs_before_the_book_began_or_after_the_end(book: Book) -> None:
    """The history fills its days and no more."""
    newest = book.last_moment()
    assert newest is not None
    assert END - timedelta(hours=4) < newest <= END


def test_slug_heights_grow_with_strokes() -> None:
    """Linear with a scatter of some thousandths, in figures of 0.001 mm."""
    items = {item.id: item for item in (item_from(one.content) for one in definitions() if one.what == "item")}
    shop = Shop(items, dict.fromkeys(["P-01"], 0), dict(first_fittings(items.values())))
    wear = Wear(shop, Random(1))
    die_set = shop.die_set_on("P-01")
    assert die_set is not None
    drifts = []
    for _ in range(3):
        shop.run("P-01", 100_000)
        drifts.append(wear.drift_mm(die_set))
    assert drifts == pytest.approx([drifts[0], 2 * drifts[0], 3 * drifts[0]])
    assert 0.001 < drifts[0] < 0.007
    wear.make_as_new(die_set)
    assert wear.drift_mm(die_set) == 0
