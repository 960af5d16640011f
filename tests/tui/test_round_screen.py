"""The round of an operator at a terminal, driven by keys."""

from __future__ import annotations

from dataclasses import replace
from threading import Event

import pytest
from textual.events import Paste

from tests.tui.fake_book import MORNING, SLUG, FakeBook, by_strokes, counted, line_at
from tests.tui.terminal import terminal
from tui.app import StrokebookApp
from tui.widgets.fields import CountField
from upkeep.due.states import State
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import Count
from upkeep.entries.faults import Fault, Hold
from upkeep.entries.signing import Sign
from upkeep.plant.people import Person

CLEAN = Sign(at=MORNING, by="ana", task="daily-clean", item="M-12", occurrence="2026-03-02/early", recorded_at=MORNING)


async def test_a_clean_is_signed_in_three_actions_by_somebody_unknown() -> None:
    """The short id with Enter, the number, Enter; the proof is large."""
    book = FakeBook()
    actions: list[tuple[str, ...]] = [(*"ana", "enter"), ("escape", "1"), ("enter",)]
    async with terminal(book, place="P-07") as here:
        for action in actions:
            await here.press(*action)
        assert book.written == [CLEAN]
        assert (
            "SIGNED 06:05 Ana Example: done by me. Daily clean on M-12, the early shift of Mon 2026-03-02" in here.text
        )
        assert "Press u within 60 s to undo." in here.text
    assert len(actions) <= 3


async def test_a_clean_is_signed_in_two_actions_by_somebody_known() -> None:
    """The number, Enter."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1")
        assert "CAUTION. Unplug, plug in hand. Local law and your plant's own procedure decide." in here.text
        assert "Your name will mean: done by me" in here.text
        await here.press("enter")
        assert book.written == [CLEAN]


async def test_a_wrong_sign_off_is_undone_with_one_key() -> None:
    """Both entries stay in the book, and the line calls again."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1", "enter")
        assert "1 to sign here" in here.text
        await here.wait(59)
        assert "Press u within 1 s to undo." in here.text
        await here.press("u")
        assert "UNDONE: Daily clean on M-12" in here.text
        assert "2 to sign here" in here.text
        assert [type(entry) for entry in book.written] == [Sign, Strike]


async def test_after_a_minute_nothing_is_undone() -> None:
    """The proof is gone and the key says what can still be done."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1", "enter")
        await here.wait(61)
        assert "SIGNED" not in here.text
        await here.press("u")
        assert "There is nothing left to undo here." in here.text
        assert len(book.written) == 1


async def test_the_round_forgets_who_was_here() -> None:
    """Two minutes without a key; before that it remembers."""
    async with terminal(counted(), place="P-07", by="ana") as here:
        await here.press("1", "enter")
        await here.wait(119)
        assert "Here: Ana Example (ana)." in here.text
        await here.wait(1)
        assert "Nobody has said who is here." in here.text
        await here.press("2")
        assert "type your short id" in here.text


async def test_another_person_types_over_the_known_name() -> None:
    """The field holds the known id selected, so nobody signs under a name left behind."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1")
        await here.type("ben", "enter")
        assert "SIGNED 06:05 Ben Sample" in here.text
        assert book.written[0].by == "ben"


async def test_a_count_typed_where_numbers_sign_signs_nothing() -> None:
    """Its figures land in the field of the short id and are refused."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.type("1204400", "enter")
        assert "has the short id '204400'" in here.text
        assert book.written == []


async def test_the_count_is_asked_first_when_this_shift_has_none() -> None:
    """One number and Enter; then the lines take the keys."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        assert "last 1,204,300, Sun 22:05" in here.text
        assert "expected 1,204,300 to 1,209,300" in here.text
        await here.type("1204400", "enter")
        assert "COUNTED P-07: 1,204,400, by Ana Example." in here.text
        assert book.written == [Count(at=MORNING, by="ana", press="P-07", value=1_204_400, recorded_at=MORNING)]
        await here.press("1")
        assert "Sign: Daily clean on M-12" in here.text


async def test_a_refused_count_says_why_in_place_and_is_typed_over() -> None:
    """Nothing is written until it is right."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.type("1200000", "enter")
        assert "1,200,000 is below the last count of P-07, 1,204,300. Look again." in here.text
        assert "Press y" not in here.text
        await here.type("1.5", "enter")
        assert "'1.5' is not a count." in here.text
        await here.type("1204500", "enter")
        assert "COUNTED P-07: 1,204,500" in here.text
        assert len(book.written) == 1


async def test_a_rollover_is_confirmed_with_one_key() -> None:
    """Offered by the refusal; the key does nothing before that."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("y")
        await here.type("55", "enter")
        assert "Press y: it rolled over." in here.text
        await here.press("y")
        assert "COUNTED P-07: 55, by Ana Example." in here.text
        count = book.written[-1]
        assert isinstance(count, Count)
        assert count.rolled_over


async def test_a_letter_is_no_key_while_the_count_is_asked() -> None:
    """It is not taken either, and the foot names what can be pressed."""
    async with terminal(FakeBook(), place="P-07", by="ana") as here:
        assert " ".join(here.rows[-2:]).split() == ["enter", "write", "esc", "lines"]
        for letter in "fuboy":
            await here.press(letter)
            assert "Only the figures of the counter go in here; Esc leaves the field." in here.text
        await here.press("escape", "f")
        assert "Found on" in here.text


async def test_who_is_here_is_asked_before_the_count_and_the_count_before_the_round() -> None:
    """One question after another; whoever goes back from them walks the round."""
    async with terminal(FakeBook(), place="P-07") as here:
        assert "Who is here?" in here.text
        await here.type("ana", "enter")
        await here.type("1204400", "enter")
        assert "COUNTED P-07: 1,204,400, by Ana Example." in here.text
        await here.press("1")
        assert "Sign: Daily clean on M-12" in here.text
    async with terminal(FakeBook(), place="P-07") as here:
        await here.press("escape", "i")
        assert "Daily clean: M-12" in here.text


async def test_the_next_shift_begins_with_who_and_the_count_again() -> None:
    """The terminal stood open over the change of shift."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        assert "Who is here?" not in here.text
        await here.wait(8 * 3600)
        assert "Who is here?" in here.text


async def test_nothing_typed_or_pasted_is_shortened() -> None:
    """It is taken whole or refused aloud."""
    async with terminal(FakeBook(), place="P-07", by="ana") as here:
        await here.type("12345678901234567890")
        await here.press("1")
        assert "At most 20 characters fit here, so the 1 that came were not taken." in here.text
        here.app.screen.query_one(CountField).value = ""
        for pasted, why in (("9" * 30, "the 30 that came"), ("12\n34", "the 2 lines that came"), ("12a4", "Only the")):
            here.app.post_message(Paste(pasted))
            await here.settle()
            assert why in here.text
            assert here.app.screen.query_one(CountField).value == ""


async def test_a_refused_count_is_answered_with_a_key_or_typed_anew() -> None:
    """The answers have the keys, and the foot names them; a figure begins another count."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.type("55", "enter")
        assert " ".join(here.rows[-2:]).split()[:2] == ["y", "yes"]
        await here.type("1204400", "enter")
        assert [entry.value for entry in book.written if isinstance(entry, Count)] == [1_204_400]


async def test_something_found_is_written_in_three_actions() -> None:
    """A number, whether it stands still, the name; on the item of the selected line."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("f")
        await here.press("9", "enter")
        await here.press("n")
        await here.press("enter")
        fault = book.written[-1]
        assert isinstance(fault, Fault)
        assert (fault.item, fault.symptom) == ("M-12", "Terminal not fed or half fed")
        assert (fault.listed, fault.stopped) == ("not-fed", False)


async def test_holds_are_shown_large_as_soon_as_somebody_else_writes_them() -> None:
    """The other process wrote; this terminal looks every second."""
    book = counted()
    async with terminal(book, place="P-07") as here:
        assert "MUST NOT RUN" not in here.text
        book.held_for["M-12"] = "feed finger cracked"
        book.written.append(Hold(at=MORNING, by="ben", item="M-12", because="feed finger cracked"))
        await here.wait(1)
        assert "HOLD M-12 module MUST NOT RUN: feed finger cracked" in here.text


async def test_typing_goes_on_while_the_round_is_refreshed() -> None:
    """What stands in the field stays."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.type("12044")
        book.written.append(Hold(at=MORNING, by="ben", item="M-12", because="x"))
        await here.wait(1)
        await here.type("00", "enter")
        assert "COUNTED P-07: 1,204,400" in here.text


async def test_a_line_with_readings_opens_the_long_form() -> None:
    """The number is the same."""
    book = counted()
    book.forms["M-12/daily-clean"] = {"points": (SLUG,)}
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1")
        assert "Slug height 1 of 2 (1.2 to 1.3 mm)" in here.text


def many_lines() -> FakeBook:
    """A book with twenty lines at one place."""
    lines = [line_at(f"M-{number:02d}", "clean") for number in range(1, 21)]
    return FakeBook(lines=lines, counts={"P-07": (1, MORNING)})


async def test_a_number_stays_with_its_line_and_what_is_done_stays_ticked() -> None:
    """The hand that learned a number signs no other line with it."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        before = here.row_with("Press clean").split()[0]
        await here.press("1", "enter")
        assert here.row_with("Press clean").split()[0] == before
        assert "ok done Daily clean M-12 06:05 ana" in " ".join(here.row_with("ok done").split())
        await here.press("1")
        assert "Daily clean on M-12 is done: ana, 06:05." in here.text
        assert len(book.written) == 1


async def test_after_a_sign_off_the_next_line_to_do_is_selected() -> None:
    """Enter signs one after the other."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("enter", "enter")
        await here.press("enter", "enter")
        assert [entry.task for entry in book.written if isinstance(entry, Sign)] == ["daily-clean", "press-clean"]


async def test_a_number_of_two_figures_is_typed_whole() -> None:
    """Where another figure may follow it waits, and says so; Enter ends it."""
    async with terminal(many_lines(), place="P-07", by="ana") as here:
        await here.press("1")
        assert "Number 1: Enter takes it, or type its next figure." in here.text
        await here.press("0")
        assert "Sign: Clean on M-10" in here.text
        await here.press("escape", "2", "enter")
        assert "Sign: Clean on M-02" in here.text
        await here.press("escape", "7")
        assert "Sign: Clean on M-07" in here.text


async def test_a_number_without_a_line_says_so() -> None:
    """And points to the key for counts."""
    async with terminal(counted(), place="P-07") as here:
        await here.press("7")
        assert "No line here has the number 7. To enter a count, press c first." in here.text


async def test_another_place_is_picked() -> None:
    """By a part of its name."""
    async with terminal(counted(), place="P-07") as here:
        await here.press("p")
        await here.type("door", "enter")
        assert here.rows[0].startswith(" P-03")
        await here.press("escape", "i")
        assert "Feed check: M-44" in here.text


async def test_an_unknown_place_is_refused_with_those_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    """Before any screen shows."""
    app = StrokebookApp(FakeBook, lambda: MORNING, place="P-99")
    async with app.run_test():
        pass
    told = " ".join(capsys.readouterr().err.split())
    assert app.return_code == 1
    assert "There is no press or place 'P-99' in this book." in told
    assert "Presses and places here: P-03, P-07, P-09, lab, rack-2." in told


async def test_a_place_without_a_press_has_no_field_for_a_count() -> None:
    """And the key says so."""
    async with terminal(FakeBook(), place="rack-2") as here:
        assert "Stands here: M-90 module" in here.text
        await here.press("c")
        assert "There is no press at rack-2, so there is nothing to count." in here.text


async def test_the_empty_count_field_leads_to_the_lines() -> None:
    """Enter without a number goes on."""
    book = FakeBook()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("enter", "1", "enter")
        assert book.written == [CLEAN]
        await here.press("c", "escape", "2")
        assert "Sign: Press clean" in here.text


async def test_nobody_counts_or_reports_without_saying_who() -> None:
    """Going back from the question writes nothing."""
    book = FakeBook()
    async with terminal(book, place="P-07") as here:
        await here.type("1204400", "enter", "escape")
        await here.press("f", "escape")
        assert book.written == []


async def test_a_line_done_elsewhere_meanwhile_is_refused_by_name() -> None:
    """The box stays, with who signed first."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1")
        book.write([replace(CLEAN, by="ben")], MORNING)
        await here.press("enter")
        assert "is already signed: Ben Sample, 06:01 (#812)." in here.text
        assert len(book.written) == 1


async def test_each_caution_stands_above_the_lines_once_with_those_it_is_for() -> None:
    """Before anybody puts a hand in; what holds for all of them says so."""
    lines = [
        line_at("M-12", "daily-clean"), by_strokes("M-12", "oil", State.DUE, 9, 8, energy="lock"),
        by_strokes("DS-031", "look", State.DUE, 9, 8, energy="lock"),
    ]  # fmt: skip
    async with terminal(FakeBook(lines=lines), place="P-07") as here:
        told = " ".join(here.text.split())
        assert "CAUTION for M-12/daily-clean: Unplug the press" in told
        locked = "CAUTION for M-12/oil, DS-031/look: Lock the press off, bleed the air and try to start it before"
        assert locked in told
        assert told.count("Lock the press off") == told.count("Unplug the press") == 1
    async with terminal(FakeBook(lines=lines[1:]), place="P-07") as here:
        assert "CAUTION for all lines here: Lock the press off" in " ".join(here.text.split())


async def test_work_done_by_two_is_written_as_an_extra_with_one_key() -> None:
    """Offered only when somebody else was first."""
    book = counted()
    async with terminal(book, place="P-07", by="ana") as here:
        await here.press("1")
        assert "Ctrl+R" not in here.text
        book.write([replace(CLEAN, by="ben")], MORNING)
        await here.press("enter")
        assert "Ctrl+R writes it anyway." in here.text
        await here.press("ctrl+r")
        assert "Daily clean on M-12, as an extra" in here.text
        assert book.written[-1] == replace(CLEAN, occurrence="extra")


async def test_a_scanner_that_types_faster_than_the_book_answers_is_heard() -> None:
    """The short id is held until the people are known."""

    class Slow(FakeBook):
        def people(self) -> tuple[Person, ...]:
            assert known.wait(60)
            return super().people()

    known = Event()
    known.set()
    book = Slow(counts={"P-07": (1_204_300, MORNING)})
    async with terminal(book, place="P-07") as here:
        known.clear()
        await here.pilot.press("o", *"ana", "enter")
        known.set()
        await here.settle()
        assert "Here: Ana Example (ana)." in here.text
