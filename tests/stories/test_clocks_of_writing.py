"""When an entry is written is said by the clock inside the write; a clock set back is marked, one far ahead asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, entries_of, number_of, write
from upkeep.book import Book
from upkeep.errors import ClockAhead, Refused

NOW = "2026-03-04 08:00"


def test_the_clock_is_asked_once_nobody_else_can_write(tmp_path: Path) -> None:
    """Whoever waited for another writer is stamped after him, so numbers and moments run the same way."""
    with book_of(tmp_path) as book, Book.open(book.path) as other:
        moments = iter([at("2026-03-02 06:00:09")])

        def clock() -> datetime:
            (before,) = other.newest_written(1)
            assert before.recorded_at == at("2026-03-02 06:00:05")
            return next(moments)

        write(other, "2026-03-02 06:00:05 count P-08 5 by ana")
        (count,) = entries_of(book, "2026-03-02 06:00 count P-07 5 by ana")
        book.write([replace(count, recorded_at=None)], clock)
        assert [line.recorded_at.second for line in book.newest_written(2)] == [9, 5]


def test_an_entry_of_a_clock_set_back_is_marked_and_proven_clean(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By more than the longest wait, 20 s; the writer, the history and the proof tell it, and the book stays good."""
    with book_of(tmp_path, "2026-03-04 08:00 count P-07 5000 by ana") as book:
        assert write(book, "2026-03-04 07:59:40 count P-08 100 by ana").notes == ()
        (before,) = book.newest_written(1)
        told = write(book, "2026-03-02 09:00 count P-03 100 by ana")
        assert "earlier than the entry before it" in str(told.notes[0])
        marked = {line.entry: line.clock_went_back for line in book.history()}
        assert [entry for entry, back in marked.items() if back] == [number_of(told)]
        report = book.prove()
        assert report.clean
        assert [str(notice) for notice in report.notices] == [
            f"Entry #{number_of(told)} says it was written 2026-03-02 09:00, but the one before it "
            "2026-03-04 07:59:40: a clock was set back."
        ]
        assert before.entry == number_of(told) - 1
    terminal = Terminal(tmp_path / "plant.book", capsys)
    assert "a clock was set back" in " ".join(terminal.types(NOW, "prove").out.split())
    assert "[written while the clock was set back]" in " ".join(terminal.types(NOW, "history", "P-03").out.split())


def test_a_clock_far_ahead_is_asked_about_before_it_writes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A terminal ten years ahead would keep every true count out for ten years."""
    book_of(tmp_path, "2026-03-04 08:00 count P-07 5000 by ana").close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    count = ("count", "P-07", "900000", "--by", "ana")
    said = terminal.types("2036-03-04 08:00", *count)
    assert said.code == 1
    assert "Is the clock right? Nothing was written." in " ".join(said.err.split())
    assert "--clock-is-right" in said.err
    assert terminal.types("2026-03-04 14:00", *("count", "P-07", "6000", "--by", "ana")).code == 0
    assert terminal.types("2036-03-04 08:00", "--clock-is-right", *count).code == 0
    with Book.open(tmp_path / "plant.book") as book:
        assert book.newest_written(1)[0].recorded_at == at("2036-03-04 08:00")


def test_a_plant_that_rested_for_months_is_not_asked(tmp_path: Path) -> None:
    """Ten months of silence are no fault of a clock; a day more is asked about."""
    with book_of(tmp_path, "2026-03-04 08:00 count P-07 5000 by ana") as book:
        entry = entries_of(book, "2026-12-28 07:00 count P-07 6000 by ana")
        with pytest.raises(ClockAhead, match="301 days before"):
            book.write(entry, at(NOW) + timedelta(days=301))
        book.write(entry, at(NOW) + timedelta(days=300))


def test_a_clock_that_has_the_next_year_is_asked_about(tmp_path: Path) -> None:
    """The likeliest slip of all, also where the plant was shut for weeks before; and ten years are told readably."""
    with book_of(tmp_path, "2026-03-04 08:00 count P-07 5000 by ana") as book:
        entry = entries_of(book, "2027-03-04 07:00 count P-07 6000 by ana")
        for days, told in ((365, "365 days before"), (365 + 21, "386 days before"), (3_653, "3,653 days before")):
            with pytest.raises(ClockAhead, match=told):
                book.write(entry, at(NOW) + timedelta(days=days))


def test_counts_and_fittings_told_late_need_the_lead_like_sign_offs(tmp_path: Path) -> None:
    """72 hours after it happened; quantities are booked when production books them."""
    with book_of(tmp_path, "2026-03-01 06:00 count P-07 1000 by ana") as book:
        late = "recorded 2026-03-05 08:00"
        for line in ("count P-07 2000 by ana", "fit M-12 in P-07 by ana"):
            with pytest.raises(Refused, match="more than 72 hours ago"):
                write(book, f"2026-03-02 06:00 {line} {late}")
            write(book, f"2026-03-02 06:00 {line.replace('ana', 'lea')} {late}")
        write(book, f"2026-03-02 06:00 quantity P-07 500 over 60 min by ana {late}")
