"""An interval is shortened or lengthened, and a plant begins with no history.  All figures are invented."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, line_at, state, task, why_of, write_each
from upkeep.book import BoardQuery, Book
from upkeep.due.states import State
from upkeep.errors import Refused

# 20 die sets of one family, 17 of them beyond 40,000 strokes

SETS = [f"DS-{number:02}" for number in range(1, 21)]
DONE = {key: 45_000 if number < 17 else 30_000 for number, key in enumerate(SETS)}
FILES = {
    "plant.toml": '[plant]\nname = "Test plant"\nzone = "UTC"\nkeepers = ["lea", "ben"]\n',
    "places.csv": "id,title,area\nhall,Hall,press hall\n",
    "people.csv": "id,name,roles\nlea,Lea,maintenance lead\nben,Ben,operator\n",
    "items.csv": "id,kind,title,place,family,digits,max_rate\n"
    "P-09,press,Press 9,hall,,7,60000\nM-9,module,Module 9,,,,\n"
    + "".join(f"{key},die set,Tab 6.3,,tab-63,,\n" for key in SETS),
    "tasks.toml": """\
[[task]]
id = "inspect"
title = "Inspect the die set"
applies_to = "die set"
by = ["operator"]
strokes = 90000
source = "invented for this test"

[task.strokes_for]
tab-63 = 50000
""",
}
BEGAN, CHANGED = "2026-03-01 06:00", "2026-03-20 12:00"


def family_lines() -> Iterator[str]:
    """One die set after another runs on P-09; the first is inspected at 45,000 and runs as much again."""
    yield "2026-03-02 00:00 fit M-9 in P-09 at 0 by lea"
    shown = 0
    for hour, key in enumerate([SETS[0], *SETS]):
        moment = f"2026-03-{3 + hour // 20:02} {hour % 20:02}"
        yield f"{moment}:00 fit {key} in M-9 at {shown} by lea"
        shown += DONE[key]
        yield f"{moment}:50 unfit {key} at {shown} by lea"
        if hour == 0:
            yield f"{moment}:55 sign {key}/inspect for 50000 by lea"


@pytest.fixture
def plant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[Terminal, Path]:
    """The terminal of such a plant and the folder of its definition files."""
    folder, lines, book = tmp_path / "files", tmp_path / "lines.txt", tmp_path / "plant.book"
    folder.mkdir()
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    lines.write_text("\n".join(family_lines()), encoding="utf-8")
    terminal = Terminal(book, capsys)
    assert terminal.types(BEGAN, "new", folder, "--by", "lea").code == 0
    assert terminal.types("2026-03-20 06:00", "enter", lines).code == 0
    tasks = (folder / "tasks.toml").read_text(encoding="utf-8")
    (folder / "tasks.toml").write_text(tasks.replace("tab-63 = 50000", "tab-63 = 40000"), encoding="utf-8")
    return terminal, folder


def late(book: Book, moment: str) -> list[str]:
    """The lines that are overdue at a moment."""
    return [row.line for row in book.board(at(moment), BoardQuery(states=frozenset({State.OVERDUE}))).rows]


def test_before_a_shorter_interval_is_saved_it_tells_how_many_become_overdue_at_once(
    plant: tuple[Terminal, Path], tmp_path: Path
) -> None:
    """50,000 to 40,000 for the family: 17 of its 20 sets, and nothing is written yet."""
    terminal, folder = plant
    said = terminal.types(CHANGED, "new", folder, "--dry-run", "--by", "lea")
    assert "lines overdue at once: 17" in said.out
    assert "DS-17/inspect: open -> overdue. 45,000 of 40,000 strokes" in " ".join(said.out.split())
    with Book.open(tmp_path / "plant.book") as book:
        assert late(book, CHANGED) == []
        assert line_at(book, "DS-17/inspect", CHANGED).due_strokes == 50_000


def test_it_is_saved_with_a_reason_by_somebody_who_may(plant: tuple[Terminal, Path], tmp_path: Path) -> None:
    """Not without a word, not by an operator; who and why stay in the book."""
    terminal, folder = plant
    assert "Say why task inspect changes (--because)" in terminal.types(CHANGED, "new", folder, "--by", "lea").err
    because = ("--because", "burrs since February")
    refused = terminal.types(CHANGED, "new", folder, "--by", "ben", *because)
    assert (refused.code, "Ben (operator) may not add or change tasks" in refused.err) == (1, True)
    assert terminal.types(CHANGED, "new", folder, "--by", "lea", *because).code == 0
    with Book.open(tmp_path / "plant.book") as book:
        assert len(late(book, CHANGED)) == 17
        (change, *_) = [line.text for line in book.history() if "define task inspect" in line.text]
        assert change.endswith('by lea because "burrs since February"')


def test_those_that_become_overdue_can_be_spread(plant: tuple[Terminal, Path], tmp_path: Path) -> None:
    """Deferred one after another, each for the same reason: none is overdue at once, no two at the same stroke."""
    terminal, folder = plant
    said = terminal.types(CHANGED, "new", folder, "--stagger", 10, "--by", "lea", "--because", "burrs since February")
    assert said.code == 0
    with Book.open(tmp_path / "plant.book") as book:
        assert late(book, CHANGED) == []
        moved = [line_at(book, f"{key}/inspect", CHANGED).deferred_to for key in SETS[1:17]]
        points = sorted(int(to) for to in moved if to is not None)
        assert len(points) == 16
        assert all(earlier < later for earlier, later in pairwise(points))
        assert 45_000 < points[0] < points[-1] <= 45_000 + 40_000 // 2


def test_days_that_become_overdue_are_spread_over_the_days_asked_for(
    plant: tuple[Terminal, Path], tmp_path: Path
) -> None:
    """20 sets to be oiled weekly instead of every two months: two a day for ten days, the first ones tomorrow."""
    terminal, folder = plant
    tasks = folder / "tasks.toml"
    oil = '[[task]]\nid = "oil"\ntitle = "Oil"\napplies_to = "die set"\nby = ["operator"]\nsource = "invented"\n'
    tasks.write_text(f'{tasks.read_text(encoding="utf-8")}\n{oil}every = "60 days"\n', encoding="utf-8")
    why = ("--by", "lea", "--because", "drier air")
    assert terminal.types("2026-03-20 08:00", "new", folder, "--stagger", 10, *why).code == 0
    tasks.write_text(tasks.read_text(encoding="utf-8").replace("60 days", "7 days"), encoding="utf-8")
    assert terminal.types(CHANGED, "new", folder, "--stagger", 10, *why).code == 0
    with Book.open(tmp_path / "plant.book") as book:
        moved = Counter(line_at(book, f"{key}/oil", CHANGED).deferred_to for key in SETS)
        assert moved == {f"2026-03-{day}": 2 for day in range(21, 31)}
        assert state(book, "DS-01/oil", "2026-03-21 23:59") != "overdue"
        assert state(book, "DS-01/oil", "2026-03-22 00:00") == "overdue"


def test_what_was_in_time_stays_in_time(plant: tuple[Terminal, Path], tmp_path: Path) -> None:
    """DS-01 was inspected at 45,000 of 50,000; 40,000 came later and does not make that late."""
    terminal, folder = plant
    with Book.open(tmp_path / "plant.book") as book:
        before = book.board(at("2026-03-03 00:52"))
        assert terminal.types(CHANGED, "new", folder, "--by", "lea", "--because", "burrs").code == 0
        assert book.board(at("2026-03-03 00:52")).rows == before.rows
        assert line_at(book, "DS-01/inspect", "2026-03-03 00:52").state == "open"
        assert line_at(book, "DS-01/inspect", CHANGED).last_done_at == at("2026-03-03 00:55")


# An interval is lengthened when the work is late

SHORT, LONG = (task("inspect", "die set", strokes=strokes) for strokes in (4_000, 6_000))
LATE = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 15000 by ana
"""
LINE = "DS-031/inspect"


def lengthened(tmp_path: Path) -> Book:
    """5,000 of 4,000 strokes were done; then somebody makes it 6,000."""
    book = book_of(tmp_path, LATE, tasks=[SHORT])
    moment = at("2026-03-04 08:00")
    told = book.load([LONG], moment, "lea", moment, because="looked good last time")
    assert [(change.line, change.before, change.after) for change in told.changes] == [(LINE, "overdue", "open")]
    return book


def test_a_longer_interval_does_not_make_in_time_what_was_late(tmp_path: Path) -> None:
    """On 3 March it was overdue, and is so for whoever looks back."""
    book = lengthened(tmp_path)
    assert state(book, LINE, "2026-03-04 09:00") == "open"
    line = line_at(book, LINE, "2026-03-03 09:00")
    assert (line.state, line.due_strokes) == ("overdue", 4_000)


def test_the_change_stands_in_the_history_with_both_intervals(tmp_path: Path) -> None:
    """Who, when, why, from what to what."""
    book = lengthened(tmp_path)
    after, before = [line.text for line in book.history() if "define task inspect" in line.text]
    assert '"strokes":6000' in after
    assert after.startswith("2026-03-04 08:00 ")
    assert after.endswith('by lea because "looked good last time"')
    assert '"strokes":4000' in before


# Nobody knows when anything was last done

THOROUGH = task("thorough", "module", every="7 days", spread=True)
MODULES = [item(f"M-{number:02}", kind="module") for number in range(20, 34)]
FIRST_DAY = "2026-03-01 12:00"


def begun(tmp_path: Path) -> Book:
    """A plant that begins with 16 modules and no word of what was done before."""
    return book_of(tmp_path, tasks=[THOROUGH, task("inspect", "die set", strokes=5_000)], more=MODULES)


def test_on_its_first_day_nothing_is_overdue(tmp_path: Path) -> None:
    """Nor due: the first round of work is spread over the first interval."""
    book = begun(tmp_path)
    board = book.board(at(FIRST_DAY))
    assert {state for state, number in board.by_state.items() if number} == {State.LATER}


def test_the_first_round_is_spread_over_the_days_of_an_interval(tmp_path: Path) -> None:
    """16 modules over 7 days: two or three a day, none left out."""
    book = begun(tmp_path)
    lines = book.board(at(FIRST_DAY), BoardQuery(task="thorough")).rows
    days = [line.due_day for line in lines]
    assert {days.count(day) for day in set(days)} == {2, 3}
    assert len(set(days)) == 7
    assert "its place in the first 7 days, over which the items are spread" in why_of(book, lines[0])


def test_a_second_round_counts_from_the_day_each_was_done(tmp_path: Path) -> None:
    """So they stay apart."""
    book = begun(tmp_path)
    first, second = (f"M-{number}/thorough" for number in (20, 33))
    for line in (first, second):
        due = line_at(book, line, FIRST_DAY).occurrence
        write_each(book, f"{due} 10:00 sign {line} for {due} by tom")
    assert [line_at(book, line, "2026-03-08 11:00").occurrence for line in (first, second)] == [
        "2026-03-09", "2026-03-15",
    ]  # fmt: skip


def test_a_set_of_unknown_life_has_no_strokes_left_until_it_is_inspected(tmp_path: Path) -> None:
    """Found in a drawer: it is held, and an inspection frees it."""
    graded = task("inspect", "die set", strokes=5_000, graded=True)
    book = book_of(tmp_path, tasks=[graded])
    write_each(book, '2026-03-02 06:00 unknown-life DS-102 by tom because "found in a drawer"')
    assert state(book, "DS-102/inspect", "2026-03-02 06:00") == "due"
    with pytest.raises(Refused, match="DS-102 is held: life unknown: none is left until it is inspected"):
        write_each(book, "2026-03-02 07:00 fit DS-102 in M-44 by ana")
    write_each(book, "2026-03-02 08:00 sign DS-102/inspect for 5000 grade 1 by lea")
    write_each(book, "2026-03-02 09:00 fit DS-102 in M-44 by ana")
