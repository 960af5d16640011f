"""Answers that take long in an old book tell a watch how far they are, and how far there is to go."""

from __future__ import annotations

from pathlib import Path

from tests.plants import at, book_of, write
from upkeep.progress import Progress

NOW = at("2026-03-02 18:00")


def test_answers_tell_how_far_they_are(tmp_path: Path) -> None:
    """An export, a history, open questions and faults: each tells its last of all."""
    told: list[Progress] = []
    with book_of(tmp_path) as book:
        write(book, "2026-03-02 05:00 fit M-12 in P-07 at P-07 100 by ana")
        write(book, "2026-03-02 06:00 unfit M-12 by ana")
        write(book, '2026-03-02 06:30 fault M-12 "stiff ram" by ana')
        write(book, "2026-03-02 14:00 count P-07 900 by ana")
        book._file.watch = told.append
        entries = len(list(book.export(told.append)))
        assert told.pop() == Progress("entries-worded", entries, entries)
        assert len(list(book.rows_of_entries(told.append))) == entries
        assert told.pop() == Progress("entries-worded", entries, entries)
        assert len(book.history(None, 3, NOW)) == 3
        assert told.pop() == Progress("entries-worded", 3, 3)
        assert any(question.about == "P-07" for question in book.questions(NOW))
        assert Progress("asked", 1, 1) in told
        assert book.faults(NOW).listing().faults
        assert told[-1] == Progress("cases", 1, 1)
