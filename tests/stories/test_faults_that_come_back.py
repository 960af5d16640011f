"""Faults that come back: watched strokes, the rule for repeats, who has to know, and what the plant's records teach."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, number_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.views.faults import FaultCase

ON_PRESS = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
NOT_FED = '"Terminal not fed or half fed" listed not-fed'
PROOF = "hand-cycle,first-piece,guard"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A module with its die set on a press."""
    with book_of(tmp_path, ON_PRESS) as opened:
        yield opened


def mended(
    book: Book,
    day: str,
    hour: int,
    cause: str = "adjusted",
    *,
    on: str = "M-12",
    what: str = NOT_FED,
    closed: bool = True,
) -> int:
    """A fault that stopped nothing, reported, taken after 10 minutes, fixed in 20, proven, and closed if it can be."""
    number = number_of(write(book, f"{day} {hour:02}:00 fault {on} {what} by ben"))
    write_each(
        book,
        f"""
        {day} {hour:02}:10 repair #{number} taken by tom
        {day} {hour:02}:20 repair #{number} checked what clean {"no" if cause == "debris" else "yes"} by tom
        {day} {hour:02}:30 repair #{number} fixed cause {cause} text "{cause}, ok" by tom
        {day} {hour:02}:40 repair #{number} verified what {PROOF},pull by ana
        """,
    )
    if closed:
        write(book, f"{day} {hour:02}:50 repair #{number} closed by tom")
    return number


def case(book: Book, number: int, moment: str = "2026-03-31 16:00") -> FaultCase:
    """The fault at a moment."""
    return book.faults(at(moment)).case(number)


# Repeats


def test_nine_times_adjusted_is_not_closed_from_the_third_on(book: Book) -> None:
    """Two are closed as ever; each of the seven others asks for the root cause, and one analysis answers them all."""
    numbers = [mended(book, f"2026-03-{day:02}", 8, closed=False) for day in range(2, 11)]
    close = [f"2026-03-12 08:00 repair #{number} closed by tom" for number in numbers]
    write_each(book, "\n".join(close[:2]))
    for number, line in zip(numbers[2:], close[2:], strict=True):
        with pytest.raises(Refused, match="find the root cause"):
            write(book, line)
        assert case(book, number).repeat is not None
    assert case(book, numbers[1]).repeat is None

    write(book, f'2026-03-12 09:00 repair #{numbers[-1]} analysed cause air-low text "line too thin" by lea')
    with pytest.raises(Refused, match="'adjusted' does not settle a fault that comes back"):
        write(book, close[-1].replace("08:00", "09:05"))
    for number in numbers[2:]:
        write_each(
            book,
            f"""
            2026-03-12 10:00 repair #{number} fixed cause air-low text "own line for P-07" by tom
            2026-03-12 10:10 repair #{number} verified what {PROOF} by ana
            2026-03-12 10:20 repair #{number} closed by tom
            """,
        )
    assert {case(book, number).state for number in numbers} == {"closed"}
    assert case(book, numbers[-1]).cause == "air-low"
    assert book.prove().differences == ()


def test_a_stopped_item_is_not_released_while_its_repeated_fault_waits_for_the_cause(book: Book) -> None:
    """Third time within the days: fixed by adjusting and proven is not enough."""
    for day in (2, 3):
        mended(book, f"2026-03-0{day}", 8)
    number = mended(book, "2026-03-04", 8, what=f"{NOT_FED} stopped", closed=False)
    release = '2026-03-04 {} release M-12 by lea because "adjusted, ok"'
    with pytest.raises(Refused, match=f"fault #{number} .* is not analysed .it came 3 times within 14 days"):
        write(book, release.format("09:00"))
    write_each(
        book,
        f"""
        2026-03-04 09:30 repair #{number} analysed cause feed-parts text "spring tired" by lea
        2026-03-04 09:40 repair #{number} fixed cause feed-parts text "spring changed" by tom
        2026-03-04 09:50 repair #{number} verified what {PROOF} by ana
        """,
    )
    write(book, release.format("10:00"))


def test_after_the_analysis_the_count_begins_anew(book: Book) -> None:
    """One more a day later is one, not four."""
    numbers = [mended(book, f"2026-03-0{day}", 8, closed=day < 4) for day in (2, 3, 4)]
    write(book, f'2026-03-04 09:30 repair #{numbers[-1]} analysed cause feed-parts text "spring" by lea')
    assert case(book, mended(book, "2026-03-05", 8)).repeat is None


def test_another_symptom_or_another_item_is_no_repeat(book: Book) -> None:
    """Three faults that have nothing to do with one another; words count as the same where they are the same."""
    mended(book, "2026-03-02", 8)
    mended(book, "2026-03-02", 9, what='"Unusual noise or heat" listed noise-heat')
    third = mended(book, "2026-03-02", 10, on="M-44")
    assert case(book, third).repeat is None
    words = [mended(book, "2026-03-02", hour, what='"Squeaks  at start"') for hour in (11, 12)]
    last = mended(book, "2026-03-02", 13, what='"squeaks at START"', closed=False)
    repeat = case(book, last).repeat
    assert repeat is not None
    assert repeat.faults == (*words, last)


def test_far_apart_in_days_but_not_in_strokes_it_repeats(book: Book) -> None:
    """Three times in 4,000 strokes of the module, over weeks."""
    mended(book, "2026-03-02", 8)
    write(book, "2026-03-10 06:00 count P-07 3000 by ana")
    mended(book, "2026-03-18", 8)
    write(book, "2026-03-25 06:00 count P-07 5000 by ana")
    repeat = case(book, mended(book, "2026-03-30", 8, closed=False)).repeat
    assert repeat is not None
    assert str(repeat.within) == "within 20,000 strokes"


# The watch


def test_a_repair_is_watched_for_1000_strokes_of_its_item(book: Book) -> None:
    """400 done: watched; 1,000 done: passed."""
    number = mended(book, "2026-03-02", 8, "debris")
    write(book, "2026-03-02 08:50 count P-07 2000 by ana")
    for shown, state, done in ((2400, "watched", 400), (2999, "watched", 999), (3000, "passed", 1000)):
        write(book, f"2026-03-02 {shown // 100 - 10:02}:00 count P-07 {shown} by ana")
        watch = case(book, number).watch
        assert watch is not None
        assert (watch.state, watch.strokes, watch.of) == (state, done, 1000)


def test_it_came_back_within_the_watch(book: Book) -> None:
    """300 strokes after the repair; the plant sets how long it watches."""
    number = mended(book, "2026-03-02", 8, "debris")
    write_each(book, "2026-03-02 08:50 count P-07 2000 by ana\n2026-03-02 10:00 count P-07 2300 by ana")
    again = mended(book, "2026-03-02", 10, "debris")
    watch = case(book, number).watch
    assert watch is not None
    assert (watch.state, watch.strokes, watch.again) == ("came back", 300, again)
    assert case(book, again).watch is not None


def test_a_plant_may_watch_for_less(tmp_path: Path) -> None:
    """200 strokes: the same symptom after 300 is a new fault."""
    with book_of(tmp_path, ON_PRESS, watch_strokes=200) as book:
        number = mended(book, "2026-03-02", 8, "debris")
        write_each(book, "2026-03-02 08:50 count P-07 2000 by ana\n2026-03-02 10:00 count P-07 2300 by ana")
        mended(book, "2026-03-02", 10, "debris")
        watch = case(book, number).watch
        assert watch is not None
        assert watch.state == "passed"


def test_while_a_fault_is_open_nothing_is_watched(book: Book) -> None:
    """The watch begins with the release or the closing."""
    assert case(book, mended(book, "2026-03-02", 8, closed=False)).watch is None


# Who has to know


def asked(book: Book, moment: str) -> list[str]:
    """The open questions about faults."""
    return [str(one.asks) for one in book.questions(at(moment)) if str(one.asks).startswith("Fault")]


def test_a_press_that_stands_still_is_asked_about_after_half_an_hour(book: Book) -> None:
    """The lead after 30 minutes, the manager after two hours, nobody after the release."""
    number = number_of(write(book, f"2026-03-02 08:00 fault M-12 {NOT_FED} stopped by ben"))
    assert asked(book, "2026-03-02 08:30") == []
    (sentence,) = asked(book, "2026-03-02 08:31")
    assert sentence.startswith(f"Fault #{number} on M-12, Terminal not fed or half fed, needs attention: lead since ")
    assert "not fixed, not verified (hand-cycle, first-piece, guard)" in sentence
    assert "manager" in asked(book, "2026-03-02 10:01")[0]
    write_each(
        book,
        f"""
        2026-03-02 10:10 repair #{number} fixed cause air-low text "valve opened" by tom
        2026-03-02 10:20 repair #{number} verified what {PROOF} by ana
        """,
    )
    assert asked(book, "2026-03-02 10:25")[0].endswith("It is waiting to be released.")
    write(book, '2026-03-02 10:30 release M-12 by lea because "feeds again"')
    assert asked(book, "2026-03-02 12:00") == []


def test_what_may_hurt_and_what_may_be_bad_is_asked_about_at_once(book: Book) -> None:
    """Safety officer and quality, with the very minute of the report."""
    write_each(
        book,
        """
        2026-03-02 08:00 fault P-07 "Guard or stop not right" listed guard by ben
        2026-03-02 08:00 fault DS-031 "Burr on both sides" listed burr-both-sides by ben
        """,
    )
    told = " ".join(asked(book, "2026-03-02 08:00"))
    assert "safety officer since" in told
    assert "quality since" in told


def test_nobody_is_called_for_what_is_gone_for_ever(book: Book) -> None:
    """A broken punch is thrown away, not repaired; its fault stays in the list."""
    number = number_of(write(book, '2026-03-02 08:00 fault CP-a "leg broken off" stopped by ben'))
    assert len(asked(book, "2026-03-02 09:00")) == 1
    write(book, '2026-03-02 09:30 retire CP-a broken by lea because "leg broken off"')
    assert asked(book, "2026-03-02 12:00") == []
    assert case(book, number).open
    assert case(book, number, "2026-03-02 09:00").calls


# What the records teach


def test_the_plants_own_causes_come_first_after_a_few_records(book: Book) -> None:
    """The table begins with low air; here it was the fifth cause, the tape, four times of seven."""
    first = book.faults(at("2026-03-01 12:00")).causes("not-fed")
    assert [one.cause.id for one in first.likely] == ["air-low", "debris", "feed-speed", "feed-parts", "tape"]
    causes = ["tape", "debris", "tape", "adjusted", "tape", "debris", "air-low", "tape"]
    for day, cause in enumerate(causes, 2):
        mended(book, f"2026-03-{day:02}", 8, cause, on=("M-12", "M-44")[day % 2], closed=False)
    found = book.faults(at("2026-03-31 12:00")).causes("not-fed", "M-12")
    assert [one.cause.id for one in found.likely] == ["tape", "debris", "air-low", "feed-speed", "feed-parts"]
    assert [(one.confirmed, one.of) for one in found.likely] == [(4, 7), (2, 7), (1, 7), (0, 7), (0, 7)]
    assert found.adjusted == 1
    debris = found.likely[1]
    assert (debris.found_by, debris.minutes) == ((("clean", 2),), 20)
    assert [(one.item, one.cause) for one in found.before] == [("M-12", cause) for cause in causes[::2]][::-1]


def test_a_symptom_told_in_words_teaches_by_the_causes_confirmed(book: Book) -> None:
    """They stand under 'other', with the words of the repair."""
    mended(book, "2026-03-02", 8, "loose", what='"rattles"')
    mended(book, "2026-03-02", 10, "other", what='"smells"', on="M-44")
    found = book.faults(at("2026-03-31 12:00")).causes("other")
    assert {(one.cause.id, one.confirmed, one.of) for one in found.likely} == {("loose", 1, 2), ("other", 1, 2)}
    assert [one.done for one in found.before] == ["other, ok", "loose, ok"]


def test_faults_are_shared_by_item_module_cause_and_reel(tmp_path: Path) -> None:
    """Three on a set and one on a press; the reel is that of the last check within a day, else it is not known."""
    point = {"id": "crimp-height", "title": "Height", "unit": "mm", "lower": 1.1, "upper": 1.3}
    more = [define("crimp", "CR-1", title="Tab", family="tab", points=[point]), item("DS-031", family="tab")]
    with book_of(tmp_path, ON_PRESS, more=more) as book:
        write(book, "2026-03-02 07:00 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2 reel R-1 by ana")
        bellmouth = '"Bellmouth missing or too long" listed bellmouth'
        for hour, cause in ((8, "worn"), (10, "feed-position")):
            mended(book, "2026-03-02", hour, cause, on="DS-031", what=bellmouth)
        mended(book, "2026-03-05", 8, "worn", on="DS-031", what='"tab bent"')
        mended(book, "2026-03-02", 12, "counter", on="P-07", what='"Counter not counting" listed no-count')
        found = book.faults(at("2026-03-31 12:00")).listing(shares=True, limit=1)
        assert [len(found.faults), found.hidden] == [1, 3]
        shares = {one.by: {share.name: share.faults for share in one.shares} for one in found.pareto}
        assert shares["item"] == {"DS-031": 3, "P-07": 1}
        assert shares["module"] == {"M-12": 4}
        assert shares["cause"] == {"worn": 2, "feed-position": 1, "counter": 1}
        assert shares["reel"] == {"R-1": 3}
        assert {one.by: one.unknown for one in found.pareto} == {
            "item": 0, "module": 0, "symptom": 1, "cause": 0, "reel": 1,
        }  # fmt: skip
        assert (found.restored, found.mean_restoration) == (4, 50)
        of_press = book.faults(at("2026-03-31 12:00")).listing("P-07").faults
        assert [one.item for one in of_press] == ["DS-031", "P-07", "DS-031", "DS-031"]
