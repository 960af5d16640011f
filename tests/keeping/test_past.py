"""The book as it stood: a past moment shows what a book with only the entries up to then would show."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from tests.by_hand import is_told
from tests.examples import examples
from tests.plants import (
    CLEAN,
    INSPECT,
    at,
    book_of,
    define,
    line_at,
    number_of,
    plant,
    state,
    strokes,
    task,
    why_of,
    write,
)
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import opened_copy, shop
from upkeep.book import Book
from upkeep.due.reason_list import Reasons
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.jobs import GiveUp, GoOn, Interrupt
from upkeep.entries.signing import Verify
from upkeep.entries.text import read_line
from upkeep.errors import NotFound, Refused

DAY = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:10 sign M-12/clean for 2026-03-02/early by ben
    2026-03-02 10:40 unfit M-12 at 1206950 by ana
    2026-03-02 10:55 fit M-12 in P-03 at 388120 by ana
    2026-03-02 12:00 hold DS-031 by ben because "burr"
    2026-03-02 14:00 count P-03 390240 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Monday 14:00, with the morning in it."""
    return book_of(tmp_path, DAY, tasks=[CLEAN, INSPECT])


def test_where_things_hung_then(book: Book) -> None:
    """At 08:00 M-12 was on P-07, at 10:45 on nothing, at 11:00 on P-03."""
    hung = [dict(book.hanging(at(f"2026-03-02 {time}"))).get("M-12") for time in ("05:59", "08:00", "10:45", "11:00")]
    assert hung == [None, "P-07", None, "P-03"]


def test_strokes_as_known_then(book: Book) -> None:
    """Before the 10:40 reading nothing was counted yet."""
    known = [strokes(book, "DS-031", f"2026-03-02 {time}")[1] for time in ("08:00", "10:40", "13:59", "14:00")]
    assert known == [0, 2_650, 2_650, 4_770]


def test_states_and_holds_as_they_were_then(book: Book) -> None:
    """The hold of 12:00 is not there at 11:59."""
    assert state(book, "DS-031/inspect", "2026-03-02 11:59") == "later"
    assert state(book, "DS-031/inspect", "2026-03-02 12:00") == "held"
    assert state(book, "M-12/clean", "2026-03-02 06:05") == "due"
    assert state(book, "M-12/clean", "2026-03-02 06:10") == "later"


def test_what_was_told_later_about_then_is_part_of_then(book: Book) -> None:
    """A reading of 08:00 typed in on Tuesday: the view of 08:00 has it, since it had happened."""
    assert strokes(book, "DS-031", "2026-03-02 08:00")[1] == 0
    write(book, "2026-03-02 08:00 count P-07 1205000 by ana recorded 2026-03-03 09:00")
    assert strokes(book, "DS-031", "2026-03-02 08:00")[1] == 700


def test_an_item_not_yet_in_the_book_is_not_there_though_its_past_was_told(book: Book) -> None:
    """P-99 came in on Tuesday with a count of Monday: on Monday the book knew no P-99."""
    tuesday = at("2026-03-03 08:00")
    book.load([define("item", "P-99", kind="press", title="new", digits=6)], tuesday, "lea", tuesday, "as it is now")
    write(book, "2026-03-02 13:00 count P-99 500 by ana recorded 2026-03-03 08:00")
    write(book, "2026-03-03 08:00 count P-99 900 by ana")
    assert strokes(book, "P-99", "2026-03-03 08:00")[1] == 400
    with pytest.raises(NotFound, match="There is no item 'P-99'"):
        book.life("P-99", at("2026-03-02 14:00"))
    assert book.board(at("2026-03-02 14:00")).total == 4


def test_the_interval_in_force_then(book: Book) -> None:
    """Shortened on Tuesday: Monday's line still says 5,000."""
    tuesday = at("2026-03-03 08:00")
    book.load([task("inspect", "die set", strokes=3000, graded=True)], tuesday, "lea", tuesday, "as it is now")
    assert line_at(book, "DS-031/inspect", "2026-03-02 14:00").due_strokes == 5_000
    assert line_at(book, "DS-031/inspect", "2026-03-03 08:00").due_strokes == 3_000


def test_a_counter_rolls_over_by_the_figures_it_had_then(book: Book) -> None:
    """P-03 rolled over at 1,000,000 on Tuesday; that its counter has seven figures is defined on Thursday."""
    write(book, "2026-03-03 07:00 count P-03 390300 by ana")
    write(book, "2026-03-09 07:00 count P-03 800000 by ana")
    write(book, "2026-03-16 07:00 count P-03 100000 rolled-over by ana")
    before = strokes(book, "P-03", "2026-03-16 07:00")
    seven = define("item", "P-03", kind="press", title="P-03", digits=7, max_rate=100_000, place="hall")
    thursday = at("2026-03-19 08:00")
    book.load([seven], thursday, "lea", thursday, "looked at the counter")
    assert strokes(book, "P-03", "2026-03-16 07:00") == before
    now = strokes(book, "P-03", "2026-03-19 08:00")[1]
    assert now - before[1] == 9_000_000


def test_the_shifts_in_force_then(book: Book) -> None:
    """A plant that goes over to one long shift on Tuesday had an early one on Monday."""
    tuesday = at("2026-03-03 05:00")
    long_day = {"name": "day", "start": "06:00", "end": "18:00", "days": ["MO", "TU", "WE", "TH", "FR"]}
    book.load([plant(shifts=[long_day])], tuesday, "lea", tuesday, "as it is now")
    assert line_at(book, "M-12/clean", "2026-03-02 06:05").occurrence == "2026-03-02/early"
    assert line_at(book, "M-12/clean", "2026-03-03 07:00").occurrence == "2026-03-03/day"


def test_looking_back_changes_nothing(book: Book) -> None:
    """The present is what it was, and the file too."""
    now = at("2026-03-02 14:00")
    before, version = book.board(now), book.version()
    for hour in range(6, 14):
        book.board(at(f"2026-03-02 {hour:02d}:00"))
    assert book.board(now) == before
    assert book.version() == version


def test_a_moment_before_the_book_shows_an_empty_plant(book: Book) -> None:
    """No lines, no items, no error."""
    assert book.board(at("2026-02-01 00:00")).total == 0
    assert book.hanging(at("2026-02-01 00:00")) == ()


# Any day, any moment


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@examples(6, 50)
@given(day=st.lists(acts, min_size=20, max_size=45), share=st.floats(0, 1))
def test_a_past_moment_is_a_book_of_the_entries_up_to_then(shop_file: Path, day: list[Act], share: float) -> None:
    """Board, lives, and what hung where: the view of then and a second book agree.

    The second book is told what counts of those entries, by all that is known now, in the order in which it happened.
    A day is left out where an entry could only be told with something in the book that happened after the moment.
    """
    with opened_copy(shop_file) as book:
        do_all(book, day)
        told = {number: read_line(line, book.zone) for number, line in enumerate(book.export())}
        moments = sorted({entry.at for entry in told.values()})
        moment = moments[min(int(share * len(moments)), len(moments) - 1)]
        seen = what_is_seen(book, moment)
    with opened_copy(shop_file) as second:
        try:
            tell(second, told, moment)
        except (Refused, NotFound):
            reject()
        assert what_is_seen(second, moment) == seen


def tell(book: Book, entries: dict[int, Entry], until: datetime) -> None:
    """Writes the entries that count and had happened by a moment, as they happened, under numbers of their own."""
    given = book.prove().entries
    numbers = {number: number for number in range(1, given + 1)}
    happened = [number for number, entry in entries.items() if entry.at <= until]
    taken_out = {entries[number].at: number for number in happened if isinstance(entries[number], Unfit)}

    def order(number: int) -> tuple[datetime, bool, int]:
        """As numbered, but for a fitting that had to wait for what was taken out in the same minute."""
        entry = entries[number]
        return entry.at, isinstance(entry, Fit) and number < taken_out.get(entry.at, 0), number

    for number in sorted(happened, key=order):
        entry = entries[number]
        if number > given and is_told(number, entries) and not isinstance(entry, Strike):
            entry = replace(entry, corrects=None)
            if isinstance(entry, Verify):
                if entry.entry not in numbers:
                    continue  # of a sign-off that does not count
                entry = replace(entry, entry=numbers[entry.entry])
            if isinstance(entry, Interrupt | GoOn | GiveUp):
                if entry.job not in numbers:
                    continue  # of a job that did not begin
                entry = replace(entry, job=numbers[entry.job])
            numbers[number] = number_of(book.write([entry], max(entry.at, entry.recorded_at or entry.at)))


def what_is_seen(book: Book, moment: datetime) -> list[object]:
    """All that a moment shows, but for the numbers of entries."""
    board = book.board(moment, limit=500)
    lines = [
        (
            re.sub(r"#[0-9]+", "#", why_of(book, line)),
            replace(
                line,
                reasons=Reasons(()),
                occurrence=re.sub(r"\.[0-9]+$", ".", line.occurrence),
                unverified=line.unverified and 1,
                job=line.job and replace(line.job, number=1),
                locks=tuple(replace(lock, number=1) for lock in line.locks),
            ),
        )
        for line in board.rows
    ]
    known = {line.item for line in board.rows}
    lives = [book.life(item, moment) for item in sorted(known)]
    return [
        sorted(lines, key=lambda pair: pair[1].line),
        board.by_state,
        board.counts_as_of,
        book.hanging(moment),
        lives,
    ]


def test_a_closed_book_leaves_no_log_behind_whatever_past_was_looked_at(tmp_path: Path) -> None:
    """A connection to a past that stayed open would keep what was written last out of the file and of its copies."""
    with book_of(tmp_path, "2026-03-02 06:00 count P-07 1000 by ana\n2026-03-03 06:00 count P-07 2000 by ana") as book:
        seen = [book.board(book.zone.read(f"2026-03-02 0{hour}:00")) for hour in (7, 8, 9)]
    assert seen
    assert [file.name for file in tmp_path.iterdir()] == [book.path.name]


def test_a_past_that_is_still_read_stays_what_it_is_while_another_is_asked_for(book: Book) -> None:
    """Faults seen from 11:00, read only after 10:00 and 9:00 were looked at: that of 10:30 is still among them."""
    write(book, '2026-03-02 10:30 fault M-12 "burr" by ana')
    faults = book.faults(book.zone.read("2026-03-02 11:00"))
    assert strokes(book, "DS-031", "2026-03-02 10:00")[1] == 0
    assert not book.faults(book.zone.read("2026-03-02 09:00")).listing().faults
    assert [fault.item for fault in faults.listing().faults] == ["M-12"]
    assert strokes(book, "DS-031", "2026-03-02 10:40")[1] == 2_650
