"""A check fails: which strokes, on which presses, for which orders, since the last good check of the same kind.

Worked example, invented figures: die set DS-031 is measured good on Monday 06:15 on P-07, moves to P-03 with its module
at 10:40, and fails at 14:05.  P-07 counted 2,650 strokes meanwhile, P-03 2,120.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, task, write, write_each
from upkeep.book import Book
from upkeep.errors import NotFound, Refused
from upkeep.papers.suspect_text import hold_list_text
from upkeep.views.suspect import HoldList
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import ENGLISH

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 2}
BURR = {"id": "burr-height", "title": "Burr", "unit": "mm", "upper": 0.05, "part": "conductor punch"}
CRIMP = define(
    "crimp", "CR-1", title="Tab 2.8 on 0.5", family="tab", size="0.5 mm2", points=[HEIGHT, BURR], looks=["bellmouth"]
)
MORE = (
    CRIMP,
    item("DS-031", kind="die set", family="tab", place="rack"),
    item("DS-102", kind="die set", family="tab", place="rack"),
    item("G-2", kind="gauge", gauge_class="crimp micrometer"),
)
MORNING = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:15 count P-07 1204300 by ana
    2026-03-02 06:15 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.2 reel R-1 by ana
"""
MOVED = """
    2026-03-02 10:40 unfit M-12 at 1206950 by ana
    2026-03-02 10:40 quantity P-07 2600 over 260 min with DS-031 order A-76 by ana
    2026-03-02 10:55 fit M-12 in P-03 at 388120 by ben
    2026-03-02 14:00 quantity P-03 2100 over 180 min with DS-031 order A-77 by ben
    2026-03-02 14:00 unfit M-12 at 390240 by ben
"""
FAILED = "2026-03-02 14:05 check DS-031 last-off on P-03 of CR-1 with G-1 crimp-height=1.26,1.262 reel R-2 by lea"
LATER = at("2026-03-02 16:00")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """The example up to the failed check."""
    with book_of(tmp_path, MORNING + MOVED + FAILED, more=MORE) as opened:
        yield opened


def only(book: Book) -> HoldList:
    """The one open hold list."""
    (found,) = book.suspects(LATER).lists()
    return found


def per_press(found: HoldList) -> list[tuple[str, int]]:
    """Its lines as press and strokes."""
    return [(line.press, line.strokes) for line in found.lines]


def test_a_failed_height_holds_what_was_made_since_the_last_good_one_press_by_press(book: Book) -> None:
    """2,650 on P-07 and 2,120 on P-03, with counters, orders and people."""
    found = only(book)
    assert per_press(found) == [("P-07", 2650), ("P-03", 2120)]
    assert found.strokes == 4770
    first, second = found.lines
    assert (first.count_from, first.count_to, first.about) == (1204300, 1206950, False)
    assert (second.count_from, second.count_to) == (388120, 390240)
    assert [made.order for line in found.lines for made in line.quantities] == ["A-76", "A-77"]
    assert first.people == ("Ana",)
    assert second.people == ("Ben",)
    assert (found.start, found.end) == (at("2026-03-02 06:15"), at("2026-03-02 14:05"))


def test_set_up_strokes_are_no_product(book: Book) -> None:
    """Recorded set-up strokes are taken off the line they were done on."""
    write(book, "2026-03-02 11:00 uncounted DS-031 set-up 20 by ben")
    assert per_press(only(book)) == [("P-07", 2650), ("P-03", 2100)]


def test_a_count_that_was_not_taken_widens_the_window_to_all_it_may_be(tmp_path: Path) -> None:
    """Without the 10:40 count, the most that P-07 may have done with the set is suspect."""
    moved = MOVED.replace(" at 1206950", "")
    after = "2026-03-02 14:00 quantity P-07 2400 over 200 min by ana\n2026-03-02 14:00 count P-07 1209410 by ana"
    with book_of(tmp_path, MORNING + moved + after + "\n" + FAILED, more=MORE) as book:
        line = only(book).lines[0]
        assert line.low < line.best < line.strokes
        assert line.strokes == 1209410 - 1204300
        assert line.about


def test_a_good_pull_test_does_not_clear_a_burr(tmp_path: Path) -> None:
    """The window of a burr goes back to the last good burr, past later good heights."""
    text = (
        MORNING
        + """
        2026-03-02 06:15 check DS-031 first-off of CR-1 with G-2 burr-height=0.02 by ana
        2026-03-02 09:00 count P-07 1206000 by ana
        2026-03-02 09:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.2,1.2 by ana
        2026-03-02 10:00 count P-07 1206500 by ana
        2026-03-02 10:00 check DS-031 sample of CR-1 with G-2 burr-height=0.08 by lea
    """
    )
    with book_of(tmp_path, text, more=MORE) as book:
        found = only(book)
        assert (found.point, found.start, found.strokes) == ("burr-height", at("2026-03-02 06:15"), 2200)


def test_a_part_changed_within_the_window_decides_where_it_begins(tmp_path: Path) -> None:
    """A burr is the conductor punch's: what was made before that punch was fitted is not its work."""
    text = (
        MORNING
        + """
        2026-03-02 06:15 check DS-031 first-off of CR-1 with G-2 burr-height=0.02 by ana
        2026-03-02 09:00 unfit CP-a at 1206000 by ana
        2026-03-02 09:00 fit CP-b in DS-031 at 1206000 by ana
        2026-03-02 10:00 count P-07 1206500 by ana
        2026-03-02 10:00 check DS-031 sample of CR-1 with G-2 burr-height=0.08 by lea
    """
    )
    with book_of(tmp_path, text, more=MORE) as book:
        found = only(book)
        assert (str(found.start_why), found.strokes) == ("CP-b was fitted, with no good check since", 500)
        assert any("CP-b was fitted" in str(told) for told in found.changes) is False  # it begins the window


def test_changes_of_gauge_and_reel_do_not_shorten_a_window_but_stand_beside_it(tmp_path: Path) -> None:
    """They are what to suspect."""
    failed = FAILED.replace("with G-1", "with G-2")
    with book_of(tmp_path, MORNING + MOVED + failed, more=MORE) as book:
        found = only(book)
        assert found.strokes == 4770
        assert any("another gauge: G-1 at the good check, G-2" in str(told) for told in found.changes)


@pytest.mark.parametrize(("named", "ran"), [("reel R-2", True), ('remark "looks like reel R-2 did"', False)])
def test_what_ran_the_same_reel_is_named_and_a_remark_about_a_reel_is_none(
    tmp_path: Path, named: str, ran: bool
) -> None:
    """Only what a check gives as its reel counts."""
    other = f"\n2026-03-02 13:00 check DS-102 sample on P-03 of CR-1 with G-1 crimp-height=1.2,1.2 {named} by ben\n"
    with book_of(tmp_path, MORNING + MOVED + other + FAILED, more=MORE) as book:
        assert any("also ran reel R-2: DS-102" in str(told) for told in only(book).sideways) is ran


def test_a_gauge_found_to_read_wrong_makes_no_last_good_check(tmp_path: Path) -> None:
    """The window goes back to the good check by another gauge, and says which ones it passed over."""
    text = (
        MORNING.replace("with G-1", "with G-2")
        + """
        2026-03-02 08:00 count P-07 1205000 by ana
        2026-03-02 08:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.2,1.2 by ana
    """
    )
    failed = FAILED.replace("with G-1", "with G-2")
    with book_of(tmp_path, text + MOVED + failed, more=MORE) as book:
        assert only(book).strokes == 4070
        write(book, "2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea")
        found = only(book)
        assert found.strokes == 4770
        assert len(found.passed_over) == 1
        assert "G-1" in str(found.passed_over[0])


def test_each_line_is_judged_until_the_list_is_closed(book: Book) -> None:
    """A judged line stays open where the window grows after that."""
    number = only(book).number
    first, second = only(book).lines
    since = [f"{line.since:%Y-%m-%dT%H:%M:%SZ}" for line in (first, second)]
    write(book, f'2026-03-02 15:00 disposition #{number} P-07 since {since[0]} sorted by lea because "3 scrapped"')
    assert [line.open for line in only(book).lines] == [False, True]
    write(book, f'2026-03-02 15:10 disposition #{number} P-03 since {since[1]} scrapped by lea because "all"')
    assert book.suspects(LATER).lists() == ()
    (closed,) = book.suspects(LATER).lists(closed=True)
    assert [line.judged.how for line in closed.lines if line.judged] == ["sorted", "scrapped"]
    number_of_unfit = next(line.entry for line in book.history("M-12") if "unfit M-12 at P-07" in line.text)
    write(book, f'2026-03-02 10:40 unfit M-12 at P-07 1207000 by lea corrects #{number_of_unfit} because "misread"')
    assert [line.press for line in only(book).lines if line.open] == ["P-07"]
    assert book.prove().clean


def test_a_line_is_judged_once_and_by_a_named_role(book: Book) -> None:
    """An operator is refused, a second judgement too, and a line that the list has not."""
    number, line = only(book).number, only(book).lines[0]
    words = f"disposition #{number} P-07 since {line.since:%Y-%m-%dT%H:%M:%SZ} sorted"
    with pytest.raises(Refused, match="suspect product"):
        write(book, f'2026-03-02 15:00 {words} by ben because "looked"')
    write(book, f'2026-03-02 15:00 {words} by lea because "looked"')
    with pytest.raises(Refused, match="already has a disposition"):
        write(book, f'2026-03-02 15:05 {words} by lea because "looked"')
    with pytest.raises(NotFound, match="P-07 since"):
        write(book, f'2026-03-02 15:05 {words.replace("P-07", "P-08")} by lea because "looked"')


def test_a_set_that_runs_while_held_raises_an_alarm_and_its_product_is_suspect(tmp_path: Path) -> None:
    """The count goes in, the alarm names press and strokes, and the list counts from the hold."""
    text = (
        MORNING + '2026-03-02 07:00 hold DS-031 by lea because "chip seen"\n2026-03-02 07:00 count P-07 1204400 by ana'
    )
    with book_of(tmp_path, text, more=MORE) as book:
        written = write(book, "2026-03-02 08:00 count P-07 1204740 by ana")
        (alarm,) = [note for note in written.notes if str(note).startswith("ALARM")]
        assert "DS-031 on P-07" in str(alarm)
        assert "340 strokes" in str(alarm)
        found = only(book)
        assert (found.point, per_press(found)) == ("", [("P-07", 340)])


def test_a_held_set_is_fitted_only_with_a_reason_and_an_alarm(tmp_path: Path) -> None:
    """Refused as a plan; written as a fact where it hangs there all the same."""
    text = "2026-03-02 06:00 count P-07 10 by ana\n2026-03-02 06:00 fit M-12 in P-07 at 10 by ana"
    hold = '2026-03-02 07:00 hold DS-031 by lea because "chip seen"'
    with book_of(tmp_path, f"{text}\n{hold}", more=MORE) as book:
        with pytest.raises(Refused, match="is held: chip seen"):
            write(book, "2026-03-02 08:00 fit DS-031 in M-12 by ana")
        written = write(book, '2026-03-02 08:00 fit DS-031 in M-12 by ana because "found it there"')
        assert any(str(note).startswith("ALARM: DS-031 must not run") for note in written.notes)


def test_a_deviation_permit_ends_after_its_strokes(tmp_path: Path) -> None:
    """A named role, a reason, a number of strokes; within it no alarm, after it the alarm says it is used up."""
    text = (
        MORNING + '2026-03-02 07:00 hold DS-031 by lea because "chip seen"\n2026-03-02 07:00 count P-07 1204400 by ana'
    )
    with book_of(tmp_path, text, more=MORE) as book:
        with pytest.raises(Refused, match="may not grant a deviation permit"):
            write(book, '2026-03-02 07:05 permit DS-031 strokes 300 by ben because "order ends"')
        write(book, '2026-03-02 07:05 permit DS-031 strokes 300 by lea because "order ends, all looked at"')
        assert not write(book, "2026-03-02 08:00 count P-07 1204600 by ana").notes
        written = write(book, "2026-03-02 09:00 count P-07 1204800 by ana")
        assert any("deviation permit is used up" in str(note) for note in written.notes)
        with pytest.raises(Refused, match="needs no deviation permit"):
            write(book, '2026-03-02 09:05 permit DS-102 strokes 300 by lea because "x"')


def test_a_set_past_its_hard_stop_is_not_fitted_without_a_permit(tmp_path: Path) -> None:
    """Strokes past the stop bar it like a hold."""
    life = task("change-punch", "conductor punch", strokes=1000, stop_at=110)
    text = (
        MORNING
        + """
        2026-03-02 09:00 count P-07 1205500 by ana
        2026-03-02 09:00 unfit CP-a at 1205500 by ana
    """
    )
    with book_of(tmp_path, text, tasks=[life], more=MORE) as book:
        with pytest.raises(Refused, match="past the hard stop of CP-a/change-punch"):
            write(book, "2026-03-02 10:00 fit CP-a in DS-102 by ana")
        write(book, '2026-03-02 10:00 permit CP-a strokes 100 by lea because "no other punch today"')
        written = write(book, "2026-03-02 10:05 fit CP-a in DS-102 by ana")
        assert any("its deviation permit is good for 100 strokes more" in str(note) for note in written.notes)


def test_a_bad_value_while_setting_is_lifted_by_measuring_again_one_in_the_run_is_not(tmp_path: Path) -> None:
    """Adjust and measure again at set-up; in the run somebody releases the set."""
    with book_of(tmp_path, MORNING, more=MORE) as book:
        bad = "check DS-031 {} of CR-1 with G-1 crimp-height=1.26,1.2 by ana"
        good = "check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.2 by ana"
        write(book, f"2026-03-02 06:30 {bad.format('first-off')}")
        assert "adjust and measure again" in hold_text(book.holds()[0].reason, ENGLISH)
        write(book, f"2026-03-02 06:40 {good}")
        assert book.holds() == ()
        write(book, f"2026-03-02 07:30 {bad.format('sample')}")
        write(book, f"2026-03-02 07:40 {good}")
        assert "failed check (sample): crimp-height" in hold_text(book.holds()[0].reason, ENGLISH)
        write_each(book, '2026-03-02 08:00 release DS-031 by lea because "adjusted, 20 measured"')
        assert book.holds() == ()
        assert book.prove().clean


def test_after_a_crash_a_set_does_not_run_until_it_was_inspected(tmp_path: Path) -> None:
    """Whoever counts is told; another press is refused; the graded inspection lifts it."""
    inspect = task("inspect", "die set", graded=True, after=["crash"])
    text = (
        MORNING + '2026-03-02 07:00 fault P-07 "double feed" crash by ana\n2026-03-02 07:00 count P-07 1204400 by ana'
    )
    with book_of(tmp_path, text, tasks=[inspect], more=MORE) as book:
        written = write(book, "2026-03-02 07:30 count P-07 1204500 by ana")
        assert any("not inspected since a crash" in str(note) for note in written.notes)
        write(book, "2026-03-02 07:40 unfit DS-031 at 1204500 by ana")
        with pytest.raises(Refused, match="not inspected since a crash"):
            write(book, "2026-03-02 07:50 fit DS-031 in M-44 by ana")
        occurrence = book.line("DS-031/inspect", at("2026-03-02 08:00")).occurrence
        write(book, f"2026-03-02 08:00 sign DS-031/inspect for {occurrence} grade 1 by ana")
        write(book, "2026-03-02 08:10 fit DS-031 in M-44 by ana")


def test_a_result_that_turns_bad_with_its_gauge_opens_a_window_of_its_own(tmp_path: Path) -> None:
    """A micrometer that read 8 um low passed 1.246 mm, which is 1.254: beyond 1.25, and nobody had held it."""
    text = (
        MORNING.replace("with G-1", "with G-2")
        + """
        2026-03-02 08:00 count P-07 1205000 by ana
        2026-03-02 08:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.246,1.2 by ana
        2026-03-02 09:00 count P-07 1205600 by ana
        2026-03-02 09:00 check DS-031 sample of CR-1 with G-2 crimp-height=1.2,1.2 by ana
    """
    )
    with book_of(tmp_path, text, more=MORE) as book:
        assert book.suspects(LATER).lists() == ()
        write(book, "2026-03-02 15:00 out-of-tolerance G-1 off -0.008 by lea")
        found = only(book)
        assert per_press(found) == [("P-07", 1300)]
        assert "once the error of its gauge is taken off (-0.008" in str(found.found)
        assert book.suspects(LATER).hold_list(found.number) == found


def test_two_failed_checks_of_one_window_are_one_list_as_long_as_the_longer(tmp_path: Path) -> None:
    """The set came off and went on again between them, still bad: numbered by the first, every line in it."""
    again = """
        2026-03-02 14:10 fit M-12 in P-07 at 1206950 by ben because "found there"
        2026-03-02 15:00 count P-07 1207050 by ben
        2026-03-02 15:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.27,1.27 by lea
    """
    with book_of(tmp_path, MORNING + MOVED + FAILED + again, more=MORE) as book:
        heights = [one for one in book.suspects(LATER).lists() if one.point]
        (found,) = heights
        assert per_press(found) == [("P-07", 2650), ("P-03", 2120), ("P-07", 100)]
        assert len(found.also) == 1
        assert book.suspects(LATER).hold_list(found.also[0]) == found


def test_a_hold_names_what_failed_in_one_order(tmp_path: Path) -> None:
    """A bad reading and a bad look in one check: kept and replayed alike."""
    with book_of(tmp_path, MORNING, more=MORE) as book:
        write(book, "2026-03-02 06:30 check DS-031 sample of CR-1 with G-1 crimp-height=1.26,1.2 bellmouth:bad by ana")
        assert "failed check (sample): bellmouth, crimp-height" in hold_text(book.holds()[0].reason, ENGLISH)
        assert book.prove().clean


def test_a_hold_list_names_orders_people_and_all_that_changed(tmp_path: Path) -> None:
    """An order known from checks alone; who fitted, set up, ran and checked; reel, wire lot, setting, part, press."""
    told = """
        2026-03-02 05:50 check DS-031 set-up of CR-1 dial=3.0 by tom
        2026-03-02 05:55 fit DS-031 in M-12 by tom
        2026-03-02 06:00 count P-07 1204300 by ana
        2026-03-02 06:00 fit M-12 in P-07 at 1204300 by tom
        2026-03-02 06:15 count P-07 1204300 by ana
        2026-03-02 06:15 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.2 order A-9 reel R-1 wire W-1 by lea
        2026-03-02 09:00 count P-07 1205000 by ben
        2026-03-02 09:00 unfit M-12 at 1205000 by ben
        2026-03-02 09:10 fit M-12 in P-07 at 1205000 by ben
        2026-03-02 09:20 check DS-031 set-up of CR-1 dial=3.5 by ben
        2026-03-02 09:30 fit CP-b in DS-031 by ben
        2026-03-02 10:00 count P-07 1205400 by ana
        2026-03-02 10:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.3,1.3 order A-9 reel R-2 wire W-2 by lea
    """
    with book_of(tmp_path, told, more=MORE) as book:
        found = only(book)
        before, after = found.lines
        assert (before.orders, after.orders) == (("A-9",), ("A-9",))
        assert before.people == ("Ana", "Ben", "Lea", "Tom")
        assert after.people == ("Ana", "Ben", "Lea")
        assert [str(change).partition("2026-03-02 ")[2] or str(change) for change in found.changes] == [
            "09:00 M-12 was taken out",
            "09:10 M-12 went into P-07",
            "09:20 set up again (CR-1)",
            "09:20 Dial of the crimp height: 3, then 3.5",
            "10:00 another reel: R-1, then R-2",
            "10:00 another wire lot: W-1, then W-2",
            "09:30 CP-b was fitted",
        ]
        assert found.strokes == 1100


def test_what_was_sorted_is_told_by_quantity(book: Book) -> None:
    """How many were released, reworked and scrapped (common practice, no source): no more than the line has;
    what is left out is told."""
    number, line = only(book).number, only(book).lines[0]
    since = f"{line.since:%Y-%m-%dT%H:%M:%SZ}"
    words = f'2026-03-02 15:00 disposition #{number} P-07 since {since} sorted {{}} by lea because "bins 4 to 6"'
    with pytest.raises(Refused, match=r"These are 2,651 pieces, and the line has at most 2,650 strokes"):
        write(book, words.format("released=2600 scrapped=51"))
    with pytest.raises(Refused, match="give 'sorted'"):
        write(book, words.format("released=1").replace(" sorted ", " scrapped "))
    written = write(book, words.format("released=2600 reworked=40 scrapped=3"))
    assert any("2,643 pieces are told of; the line has at least 2,650 strokes" in str(note) for note in written.notes)
    judged = only(book).lines[0].judged
    assert judged is not None
    assert judged.pieces == (("released", 2600), ("reworked", 40), ("scrapped", 3))
    page = hold_list_text(only(book), book.zone, ENGLISH)
    assert "2,600 released, 40 reworked, 3 scrapped" in " ".join(page.split())
    assert book.prove().clean
