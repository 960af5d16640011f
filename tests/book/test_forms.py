"""A form writes once, however often it is sent, by whichever program, and whatever happened in between."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import CLEAN, at, book_of, entries_of, write
from upkeep.book import Book
from upkeep.entries.form import FormNumber
from upkeep.errors import Refused, Unreadable

COUNT = "2026-03-02 06:00 count P-07 100 by ana"
WHEN = at("2026-03-02 06:01")


def form_now(book: Book, byte: int = 1) -> FormNumber:
    """A form that is shown now, its random bytes all the same one."""
    return FormNumber(book.newest_written(1)[0].entry, bytes([byte] * 16))


def test_a_form_sent_twice_is_written_once_and_answers_with_the_same_numbers(tmp_path: Path) -> None:
    with book_of(tmp_path) as book:
        form = form_now(book)
        counted = entries_of(book, f"{COUNT}\n2026-03-02 06:00 count P-08 200 by ana")
        first = book.write(counted, WHEN, form=form)
        write(book, "2026-03-02 06:02 count P-03 5 by ana")
        again = book.write(counted, at("2026-03-02 06:09"), form=form)
        assert again.entries == first.entries == (first.entries[0], first.entries[0] + 1)
        assert [line.kind for line in book.history("P-07")].count("count") == 1
        assert book.prove().clean


def test_another_program_that_opens_the_book_later_knows_the_form(tmp_path: Path) -> None:
    with book_of(tmp_path) as book:
        form = form_now(book)
        first = book.write(entries_of(book, COUNT), WHEN, form=form)
    with Book.open(tmp_path / "plant.book") as later:
        assert later.write(entries_of(later, COUNT), WHEN, form=FormNumber.read(str(form))).entries == first.entries
        assert [line.kind for line in later.history("P-07")].count("count") == 1


def test_the_same_words_on_another_form_are_written_again(tmp_path: Path) -> None:
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        note = entries_of(book, '2026-03-02 06:00 remark P-07 "noisy" by ana')
        numbers = [book.write(note, WHEN, form=form_now(book, byte)).entries for byte in (1, 2)]
        assert numbers[0] != numbers[1]


def test_what_was_refused_can_be_sent_again_on_the_same_form(tmp_path: Path) -> None:
    with book_of(tmp_path) as book:
        form = form_now(book)
        with pytest.raises(Refused):
            book.write(entries_of(book, "2026-03-02 06:00 count P-07 1000000000 by ana"), WHEN, form=form)
        assert book.write(entries_of(book, COUNT), WHEN, form=form).entries


@pytest.mark.parametrize(
    "text", ["", "7", "7-12", "-1-" + "0" * 32, "7-" + "G" * 32, "7-" + "0" * 33, " 7-" + "0" * 32]
)
def test_a_number_that_is_none_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(Unreadable, match="Open it again"):
        FormNumber.read(text)
