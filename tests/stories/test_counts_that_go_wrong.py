"""Counters that roll over, are replaced, misread, bounce, stand still or are set back.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, item, line_at, number_of, state, strokes, task, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused

WIPE = task("wipe", "press", strokes=10_000, stop_at=110)
INSPECT = task("inspect", "die set", strokes=10_000, stop_at=110, graded=True)
SERVICE = task("service", "module", strokes=10_000, stop_at=110)
HANGING = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
"""


def exactly(number: int) -> tuple[int, int, int]:
    """Low, best and high where nothing was guessed."""
    return number, number, number


def asked(book: Book, about: str, moment: str) -> list[str]:
    """What the book asks about a press or module."""
    return [str(one.asks) for one in book.questions(at(moment)) if one.about == about]


# A six-figure counter passes 999,999


def test_a_rollover_is_offered_and_confirmed_with_one_word(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """998,700 and an hour later 001,450: 1,300 to the end of the counter and 1,450 after it, not -997,250."""
    book = book_of(tmp_path, "2026-03-02 06:00 count P-03 998700 by ana")
    terminal = Terminal(book.path, capsys)
    offered = terminal.types("2026-03-02 07:00", "count", "P-03", 1450, "--by", "ana")
    assert offered.code == 1
    assert "If the 6-digit counter rolled over, that is 2,750 strokes: confirm with 'rolled over'" in offered.err
    assert "997" not in offered.err
    confirmed = terminal.types("2026-03-02 07:00", "count", "P-03", 1450, "--rolled-over", "--by", "ana")
    assert confirmed.code == 0
    assert strokes(book, "P-03", "2026-03-02 07:00") == exactly(2_750)
    assert "count P-03 1450 rolled-over fastest 4000 by ana" in book.history("P-03")[0].text


# The counter's battery is dead, a new one starts at 0


def test_a_new_counter_goes_on_where_the_old_one_ended(tmp_path: Path) -> None:
    """5,110 under the old counter and 2,000 under the new one; what was before stays what it was."""
    book = book_of(tmp_path, HANGING)
    replaced = '2026-03-02 14:00 restart P-07 from 1209410 to 0 by tom because "battery dead, new counter"'
    write_each(book, f"{replaced}\n2026-03-02 22:00 count P-07 2000 by ana")
    for key in ("P-07", "M-12", "DS-031", "CP-a"):
        assert strokes(book, key, "2026-03-02 22:00") == exactly(5_110 + 2_000)
        assert strokes(book, key, "2026-03-02 14:00") == exactly(5_110)
    assert replaced in [line.text for line in book.history("P-07")]


def test_a_counter_is_not_replaced_without_a_reason(tmp_path: Path) -> None:
    """The old figure, the new one, who and why stay in the book."""
    book = book_of(tmp_path, HANGING)
    with pytest.raises(Refused, match="Say why the counter of P-07 shows a different figure"):
        write(book, "2026-03-02 14:00 restart P-07 from 1209410 to 0 by tom")


# 2,094,100 is typed for 1,209,410

TYPED = "2026-03-02 14:00 count P-07 2094100 by ana"


def test_a_count_the_press_cannot_have_reached_is_refused_and_moves_nothing(tmp_path: Path) -> None:
    """889,800 strokes in 8 hours are 111,225 an hour; this press does 4,000."""
    book = book_of(tmp_path, HANGING, tasks=[WIPE])
    before = line_at(book, "P-07/wipe", "2026-03-02 14:00")
    with pytest.raises(Refused, match="111,225 strokes an hour; this press does at most 4,000 an hour"):
        write(book, TYPED)
    assert line_at(book, "P-07/wipe", "2026-03-02 14:00") == before
    assert write(book, "2026-03-02 14:00 count P-07 1209410 by ana").changes == ()


def test_only_the_lead_overrides_it_with_a_reason_and_is_asked_about_it_again(tmp_path: Path) -> None:
    """Until somebody reads the counter again."""
    book = book_of(tmp_path, HANGING)
    for line in (f'{TYPED} because "I saw it"', TYPED.replace("ana", "lea")):
        with pytest.raises(Refused, match="111,225 strokes an hour"):
            write(book, line)
    write(book, f'{TYPED.replace("ana", "lea")} because "counter jumped, I saw it"')
    (question,) = asked(book, "P-07", "2026-03-02 15:00")
    assert 'more than its rate allows, and was accepted with a reason ("counter jumped, I saw it"' in question
    write(book, "2026-03-02 22:00 count P-07 2095000 by ana")
    assert asked(book, "P-07", "2026-03-02 22:00") == []


# At a change 12,000 was written for 21,000; nobody saw it for three weeks

MISREAD = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit DS-102 in M-44 by ana
    2026-03-03 06:00 unfit M-12 by ana
    2026-03-03 06:00 fit M-44 in P-07 by ana
"""
WRONG, RIGHT = "2026-03-03 06:00 count P-07 12000 by ana", "2026-03-03 06:00 count P-07 21000 by lea"
FOUND = "2026-03-24 09:00"
HIDDEN = ("DS-031/inspect", "M-12/service")


def misread(tmp_path: Path) -> tuple[Book, str]:
    """The book three weeks on, and the line that corrects it.  One of two jobs the wrong count asked for was done."""
    book = book_of(tmp_path, MISREAD, tasks=[INSPECT, SERVICE])
    wrong = number_of(write(book, WRONG))
    write(book, "2026-03-03 14:00 count P-07 25000 by ana")
    write(book, "2026-03-03 15:00 sign DS-102/inspect for 10000 grade 0 by tom")
    return book, f'{RIGHT} recorded {FOUND} corrects #{wrong} because "12 read for 21"'


def test_a_correction_weeks_later_tells_which_lines_the_wrong_count_hid_and_triggered(tmp_path: Path) -> None:
    """M-12 and its set did 11,000 and not 2,000; M-44 did 4,000 and not 13,000."""
    book, correction = misread(tmp_path)
    assert {state(book, line, FOUND) for line in HIDDEN} == {"later"}
    assert state(book, "M-44/service", FOUND) == "stop"
    moved = {change.line: (change.before.value, change.after.value) for change in write(book, correction).changes}
    assert moved == {**dict.fromkeys(HIDDEN, ("later", "stop")), "M-44/service": ("stop", "later")}
    assert strokes(book, "DS-031", FOUND) == exactly(11_000)
    assert strokes(book, "DS-102", FOUND) == exactly(4_000)
    assert book.prove().differences == ()


def test_work_done_for_a_wrong_count_stays_done(tmp_path: Path) -> None:
    """DS-102 was inspected for 13,000 strokes that were 4,000; the next inspection counts from there."""
    book, correction = misread(tmp_path)
    write(book, correction)
    line = line_at(book, "DS-102/inspect", FOUND)
    assert (line.last_done_at, line.last_done_by, line.strokes) == (at("2026-03-03 15:00"), "tom", 0)
    assert line.occurrence == "14000"


def test_a_wrong_count_and_its_correction_both_stay_visible(tmp_path: Path) -> None:
    """And what the plant knew before the correction can still be asked for."""
    book, correction = misread(tmp_path)
    later = number_of(write(book, correction))
    told = {line.text: line.corrected_by for line in book.history("P-07")}
    assert told[WRONG] == later
    assert told[correction] is None
    known_then = book.line("DS-031/inspect", at(FOUND), known_at=at("2026-03-24 08:59"))
    assert (known_then.strokes, known_then.state) == (2_000, "later")


def test_a_wrong_count_that_two_fittings_carry_is_corrected_in_one_go(tmp_path: Path) -> None:
    """21,000 was written for 12,000 with the module that came off and with the one that went on."""
    book = book_of(tmp_path, "\n".join(MISREAD.strip().splitlines()[:4]))
    off = number_of(write(book, "2026-03-03 06:00 unfit M-12 at 21000 by ana"))
    on = number_of(write(book, "2026-03-03 06:00 fit M-44 in P-07 at 21000 by ana"))
    write(book, "2026-03-03 14:00 count P-07 25000 by ana")
    tail = f'at 12000 by lea recorded {FOUND} corrects #{{}} because "21 read for 12"'
    lines = [
        f"2026-03-03 06:00 unfit M-12 {tail.format(off)}",
        f"2026-03-03 06:00 fit M-44 in P-07 {tail.format(on)}",
    ]
    with pytest.raises(Refused, match=f"Entry #{on} says 21,000 for the same moment|#{off}"):
        write(book, lines[0])
    write(book, "\n".join(lines))
    assert strokes(book, "M-12", FOUND) == exactly(2_000)
    assert strokes(book, "M-44", FOUND) == exactly(13_000)


# A module's own counter sees the ram bounce: 5,302 for 2,650

BOUNCES = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 count M-44 0 by ana
    2026-03-02 06:00 fit M-44 in P-07 at 10000 by ana
    2026-03-02 14:00 count P-07 12650 by ana
    2026-03-02 14:00 count M-44 5302 by ana
"""
COUNTED_TOO = item("M-44", digits=6)
FACTOR = 'configure-counter M-44 running digits 6 times 0.5 by tom because "sensor bounces, counts every stroke twice"'


def test_a_sensor_that_counts_twice_is_asked_about_and_the_press_counts(tmp_path: Path) -> None:
    """5,302 to 2,650 is a ratio of 2.00."""
    book = book_of(tmp_path, BOUNCES, more=[COUNTED_TOO])
    (question,) = asked(book, "M-44", "2026-03-02 14:00")
    assert "M-44 says 5,302 strokes, those of its presses say 2,650 (ratio 2.00). The press counter is used" in question
    assert strokes(book, "M-44", "2026-03-02 14:00") == exactly(2_650)


def test_its_factor_holds_from_the_moment_it_is_said_to_hold(tmp_path: Path) -> None:
    """From 14:00 on two counts are one stroke; the counts before that are left as they were."""
    book = book_of(tmp_path, BOUNCES, more=[COUNTED_TOO])
    write_each(
        book,
        f"""
        2026-03-02 14:00 {FACTOR}
        2026-03-02 22:00 count P-07 15300 by ana
        2026-03-02 22:00 count M-44 10604 by ana
        """,
    )
    assert asked(book, "M-44", "2026-03-02 22:00") == []
    assert FACTOR in book.history("M-44")[1].text
    assert strokes(book, "M-44", "2026-03-02 22:00") == exactly(5_300)
    write(book, "2026-03-03 06:00 count M-44 13604 by ana")
    (question,) = asked(book, "M-44", "2026-03-03 06:00")
    assert "M-44 says 4,151 strokes, those of its presses say 2,650" in question


# The counter of P-03 is set back to zero with every order

LOTS = """
    2026-03-02 06:00 configure-counter P-03 resettable digits 6 times 1.0 by lea because "set back with every order"
    2026-03-02 06:00 count P-03 30200 by ana
    2026-03-02 10:00 count P-03 41200 by ana
"""


def test_the_first_reading_after_a_reset_is_asked_about_and_lots_add_up(tmp_path: Path) -> None:
    """11,000 of the first lot and 300 of the second; 300 is not taken for the whole of what the press has done, which
    in that hour may have been 4,000."""
    book = book_of(tmp_path, LOTS)
    with pytest.raises(Refused, match="set back to zero since, confirm with 'after reset': 300 strokes count"):
        write(book, "2026-03-02 11:00 count P-03 300 by ana")
    write(book, "2026-03-02 11:00 count P-03 300 after-reset by ana")
    assert strokes(book, "P-03", "2026-03-02 11:00") == (11_300, 11_300, 11_000 + 4_000)


def test_what_the_counter_showed_before_the_reset_counts_if_somebody_saw_it(tmp_path: Path) -> None:
    """It was set back at 41,900: 700 strokes that the reading of 10:00 could not know."""
    book = book_of(tmp_path, LOTS)
    write_each(
        book,
        """
        2026-03-02 10:30 restart P-03 from 41900 to 0 by ana because "order A-2 begins"
        2026-03-02 11:00 count P-03 300 by ana
        """,
    )
    assert strokes(book, "P-03", "2026-03-02 11:00") == exactly(11_000 + 700 + 300)


# Strokes at set-up that no press counter sees


def test_set_up_strokes_that_nobody_counted_show_when_a_modules_own_counter_is_compared(tmp_path: Path) -> None:
    """In a week 200 of 5,200 strokes were done by hand: the press says 5,000, the module 5,200."""
    book = book_of(tmp_path, BOUNCES.split("2026-03-02 14:00")[0], more=[COUNTED_TOO])
    write_each(book, "2026-03-09 06:00 count P-07 15000 by ana\n2026-03-09 06:00 count M-44 5200 by ana")
    (question,) = asked(book, "M-44", "2026-03-09 06:00")
    assert "M-44 says 5,200 strokes, those of its presses say 5,000 (ratio 1.04)" in question


@pytest.mark.parametrize(("weight", "worn"), [(1, 5_200), (0.5, 5_100), (0, 5_000)])
def test_they_wear_as_much_as_the_plant_says_they_do(tmp_path: Path, weight: float, worn: int) -> None:
    """What a stroke by hand weighs is the plant's own rule, kept with the entry."""
    book = book_of(tmp_path, BOUNCES.split("2026-03-02 14:00")[0], more=[COUNTED_TOO], weights={"hand": weight})
    write_each(book, "2026-03-09 06:00 count P-07 15000 by ana\n2026-03-09 06:00 uncounted M-44 hand 200 by ana")
    assert strokes(book, "M-44", "2026-03-09 07:00") == exactly(worn)
    assert f" weight {float(weight)} " in book.history("M-44")[0].text


def test_strokes_of_a_press_that_no_module_did_are_asked_about(tmp_path: Path) -> None:
    """200 at set-up before anybody wrote which module went on."""
    book = book_of(
        tmp_path,
        """
        2026-03-02 06:00 count P-07 10000 by ana
        2026-03-02 07:00 fit M-12 in P-07 at 10200 by ana
        2026-03-02 14:00 count P-07 12000 by ana
        """,
    )
    assert book.life("P-07", at("2026-03-02 14:00")).unattributed == 200
    (question,) = asked(book, "P-07", "2026-03-02 14:00")
    assert question.startswith(
        "P-07 did 200 strokes with no module on it, according to this book. Which module was on it? Give them to it"
    )


LEFT = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-44 in P-08 by ana
    2026-03-02 07:00 count P-07 10300 by ana
    2026-03-02 07:00 unfit M-44 by ana
    2026-03-02 07:00 fit M-12 in P-07 at 10300 by ana
    2026-03-02 07:30 fit M-44 in P-08 by ana
    2026-03-02 14:00 count P-07 12000 by ana
"""


def test_they_can_be_given_to_a_module_although_another_was_fitted_later(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """300 strokes before M-12 went on; DS-102 hung there in a module nobody had written down."""
    more = [item("M-45", kind="module", place="rack")]
    book = book_of(tmp_path, f"2026-03-02 05:00 fit DS-102 in M-45 by ana\n{LEFT}", more=more)
    assert book.life("P-07", at("2026-03-02 14:00")).unattributed == 300
    terminal = Terminal(book.path, capsys)
    stay = ("fit", "M-45", "P-07", "--at", "2026-03-02 06:00", "--no-count", "--until", "2026-03-02 07:00")
    told = terminal.types("2026-03-02 15:00", *stay, "--by", "ana")
    assert told.code == 0, told.err
    assert book.life("P-07", at("2026-03-02 15:00")).unattributed == 0
    for key in ("M-45", "DS-102"):
        assert strokes(book, key, "2026-03-02 15:00") == exactly(300)
    assert strokes(book, "M-12", "2026-03-02 15:00") == exactly(1_700)
    assert book.prove().differences == ()
    refused = terminal.types("2026-03-02 15:00", *stay[:-1], "2026-03-02 08:00", "--by", "ana")
    assert refused.code == 1


def test_a_stay_told_afterwards_may_lie_before_what_the_item_did_since(tmp_path: Path) -> None:
    """M-12 itself hung there before; both lines come in one write."""
    book = book_of(tmp_path, LEFT)
    write(
        book,
        """
        2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana recorded 2026-03-02 15:00
        2026-03-02 06:50 unfit M-12 at P-07 10250 by ana recorded 2026-03-02 15:00
        """,
    )
    assert strokes(book, "M-12", "2026-03-02 15:00") == exactly(250 + 1_700)
    assert book.life("P-07", at("2026-03-02 15:00")).unattributed == 50
    assert book.prove().differences == ()
