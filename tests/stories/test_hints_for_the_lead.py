"""What stands out in how work is signed: told to the lead alone, and only where the plant has agreed to look."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.clock import Clock
from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, entries_of, task, write
from tests.tui.terminal import LARGE, terminal
from upkeep.book import Book
from upkeep.entries.origin import Origin, Proof, WayIn
from upkeep.errors import Refused
from upkeep.papers.hints_text import hints_text
from upkeep.views.hints import HintKind
from upkeep.wording.sentences import ENGLISH

AGREED = "works agreement of 2026-02-01"
TOLD = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 14:00 count P-07 32900 by ana
"""
OIL = task(
    "oil", "press", by=["operator"], every="1 year", start="2026-12-01", minutes=20, energy="unplug", caution="Unplug."
)


def plant(tmp_path: Path, **facts: Any) -> Book:
    return book_of(tmp_path, TOLD, tasks=[CLEAN, OIL], **facts)


def kinds(book: Book, moment: str = "2026-03-02 15:00") -> list[HintKind]:
    return [hint.kind for hint in book.signing_hints("lea", at(moment)).hints]


def test_nobody_looks_until_the_plant_has_agreed(tmp_path: Path) -> None:
    with plant(tmp_path) as book:
        for second in range(10, 24):
            sign(book, second)
        hints = book.signing_hints("lea", at("2026-03-02 15:00"))
        assert (hints.agreed, hints.hints) == (None, ())
        assert "Nobody looks at how work is signed in this plant." in hints_text(hints, book.zone, ENGLISH)


def sign(book: Book, second: int, station: str | None = None) -> int:
    (entry,) = entries_of(book, f"2026-03-02 10:00:{second} sign P-07/oil for extra by ben")
    return book.write([entry], entry.at, Origin(WayIn.PAGE, station, Proof.NONE)).entries[0]


def test_fast_signatures_are_told_with_their_arithmetic_to_the_lead_alone(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=0) as book:
        numbers = [sign(book, second) for second in (10, 13, 16, 19, 22)]
        page = " ".join(hints_text(book.signing_hints("lea", at("2026-03-02 15:00")), book.zone, ENGLISH).split())
        assert f"Looked for under this agreement: {AGREED}." in page
        assert "A hint accuses nobody" in page
        assert "5 sign-offs in 12 s, 3.0 s from one to the next." in page
        assert f"#{numbers[0]} and #{numbers[-1]}" in page
        for other in ("ana", "ben", "tom"):
            with pytest.raises(Refused, match="for the maintenance lead alone"):
                book.signing_hints(other, at("2026-03-02 15:00"))


def test_work_signed_while_the_press_ran_is_told_once_the_count_is_in(tmp_path: Path) -> None:
    """31,900 strokes in 8 h at 4,000 an hour leave 1.5 min to stand; the work is planned with 20."""
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=0) as book:
        sign(book, 10)
        (hint,) = book.signing_hints("lea", at("2026-03-02 15:00")).hints
        assert hint.kind is HintKind.RUNNING
        assert "the press did 31,900 strokes in 480 min; at 4,000 an hour at most it can have stood 1.5 min." in str(
            hint.seen
        )
        assert kinds(book, "2026-03-02 10:30") == []  # no count after it yet


def test_a_signature_at_another_place_is_told(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=0) as book:
        sign(book, 10, "press hall")
        sign(book, 40, "toolroom")
        assert kinds(book, "2026-03-02 13:00") == [HintKind.AFAR]


def test_work_at_the_bench_or_where_the_item_hung_before_is_not_far_off(tmp_path: Path) -> None:
    """A module is cleaned on its press and in the toolroom, where it is at home; not in an office."""
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=0) as book:
        for second, station in enumerate(("P-07", "press hall", "Hall", "toolroom", "rack", "office")):
            (entry,) = entries_of(book, f"2026-03-02 10:00:0{second} sign M-12/clean for extra by ben")
            book.write([entry], entry.at, Origin(WayIn.PAGE, station, Proof.NONE))
        hints = book.signing_hints("lea", at("2026-03-02 13:00")).hints
        assert [hint.kind for hint in hints] == [HintKind.AFAR, HintKind.BURST]
        assert "was signed at office, and M-12 is at press hall." in str(hints[0].seen)


def test_what_is_drawn_asks_somebody_else_for_two_days_and_is_drawn_alike_by_everybody(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
        again = list(book.signing_hints("lea", at("2026-03-02 13:00")).hints)
        assert [(hint.kind, hint.entries) for hint in again] == [(HintKind.AGAIN, (number,))]
        assert "Let somebody other than Ben look at it." in str(again[0].seen)
        assert book.signing_hints("lea", at("2026-03-02 13:00")).hints == tuple(again)
        assert kinds(book, str(book.zone.show(at("2026-03-02 10:00") + timedelta(days=3)))).count(HintKind.AGAIN) == 0


def test_a_struck_sign_off_gives_no_hint(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
        (strike,) = entries_of(book, f"2026-03-02 10:00:30 strike #{number} by ben")
        book.write([strike], strike.at)
        assert kinds(book) == []


LOOKED = '2026-03-02 11:00 looked-again #{} differs "slides dry" by {}'


def test_what_was_seen_at_another_look_closes_the_draw_and_is_told_to_the_lead_alone(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
        write(book, LOOKED.format(number, "tom"))
        (hint,) = book.signing_hints("lea", at("2026-03-02 13:00")).hints
        assert (hint.kind, hint.by, hint.entries[0]) == (HintKind.LOOKED, "tom", number)
        page = " ".join(hints_text(book.signing_hints("lea", at("2026-03-02 13:00")), book.zone, ENGLISH).split())
        assert "P-07/oil, signed by Ben 2026-03-02 10:00:10: it is not as signed. 'slides dry'" in page
        for line in (book.newest_written(1)[0], *book.history("P-07")):
            assert "slides dry" not in line.text
            assert "differs" not in line.text
        assert book.newest_written(1)[0].kind == "looked-again"
        assert any("slides dry" in line for line in book.export())
        assert book.prove().clean


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (LOOKED, "did the work of"),
        (LOOKED.replace('"slides dry"', '" "').replace("by {}", "by tom"), "Say what you saw"),
        (LOOKED.replace("11:00", "09:00").replace("by {}", "by tom"), "look at it after that"),
    ],
)
def test_another_look_is_by_another_person_after_the_work_with_words(tmp_path: Path, line: str, why: str) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
        with pytest.raises(Refused, match=why):
            write(book, line.format(number, "ben"))


def test_work_is_looked_at_again_once_and_only_where_it_was_drawn(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
        write(book, LOOKED.format(number, "tom"))
        with pytest.raises(Refused, match="already been looked at again"):
            write(book, LOOKED.format(number, "ana"))


def test_work_that_was_not_drawn_is_not_looked_at_again(tmp_path: Path) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=0) as book:
        number = sign(book, 10)
        with pytest.raises(Refused, match="no sign-off that was drawn"):
            write(book, LOOKED.format(number, "tom"))


def test_another_look_is_entered_in_the_shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
    shell = Terminal(book.path, capsys)
    told = shell.types(
        "2026-03-02 11:00", "looked-again", f"#{number}", "--agrees", "--text", "all well", "--by", "tom"
    )
    assert told.code == 0
    assert "it is as signed. 'all well'" in " ".join(
        shell.types("2026-03-02 11:05", "hints", "--by", "lea").out.split()
    )


async def test_another_look_is_entered_on_the_page_of_the_lead(tmp_path: Path) -> None:
    """In the name of whoever looked; the one who signed is sent away before anything is asked."""
    with plant(tmp_path, hints_agreed=AGREED, recheck_percent=100) as book:
        number = sign(book, 10)
    clock = Clock(at("2026-03-02 11:00"))
    async with terminal(lambda: Book.open(book.path), by="lea", clock=clock, size=LARGE) as here:
        await here.press("l")
        await here.type("how work", "enter", "l")
        await here.type("ben", "enter")
        assert f"Ben did the work of #{number}; somebody else must look at it. Ask" in " ".join(here.text.split())
        await here.press("l")
        await here.type("tom", "enter", "enter")
        assert "Type y where the work is as it was signed" in here.text
        await here.type("n", "enter")
        await here.type("slides dry", "enter")
        assert f"LOOKED AT #{number} AGAIN: Tom." in here.text
        assert "it is not as signed. 'slides dry'" in " ".join(here.text.split())
        await here.press("l")
        assert "No work waits to be looked at again." in here.text
    with Book.open(book.path) as again:
        assert again.newest_written(1)[0].by == "tom"
