"""The weekly due list in a folder."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, task
from upkeep.book import Book
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.papers.week.week_text import week_text
from upkeep.service.lists import PRINTED_BY, is_written, write_list
from upkeep.wording.sentences import ENGLISH

MONDAY = at("2026-03-02 06:00")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with book_of(tmp_path, tasks=[task("grease", "press", every="7 days")]) as made:
        yield made


def test_a_list_is_text_and_pdf_of_the_same_week(book: Book, tmp_path: Path) -> None:
    """As the book shows it at that moment."""
    folder = tmp_path / "lists"
    assert not is_written(folder, "2026-W10")
    written = write_list(book, folder, "2026-W10", MONDAY)
    listed = book.week(MONDAY, by=PRINTED_BY)
    assert [path.name for path in written] == ["strokebook-2026-W10.txt", "strokebook-2026-W10.pdf"]
    assert written[0].read_bytes() == week_text(listed, ENGLISH).encode()
    assert written[1].read_bytes() == week_pdf(listed, ENGLISH)
    assert is_written(folder, "2026-W10")
    assert not is_written(folder, "2026-W11")
    assert {path.name for path in folder.iterdir()} == {path.name for path in written}


def test_a_list_is_never_written_over(book: Book, tmp_path: Path) -> None:
    """A second one carries the number of the last entry, a third a number of its own."""
    first = write_list(book, tmp_path, "2026-W10", MONDAY)
    kept = [path.read_bytes() for path in first]
    second = write_list(book, tmp_path, "2026-W10", at("2026-03-03 06:00"))
    third = write_list(book, tmp_path, "2026-W10", at("2026-03-04 06:00"))
    revision = book.week(MONDAY).revision
    assert second[0].name == f"strokebook-2026-W10-r{revision}.txt"
    assert third[0].name == f"strokebook-2026-W10-r{revision}-2.txt"
    assert [path.read_bytes() for path in first] == kept


def test_half_a_list_does_not_count(book: Book, tmp_path: Path) -> None:
    """A text without its PDF is left as it is, and both are written beside it."""
    (tmp_path / "strokebook-2026-W10.txt").write_text("somebody's own")
    assert not is_written(tmp_path, "2026-W10")
    write_list(book, tmp_path, "2026-W10", MONDAY)
    assert is_written(tmp_path, "2026-W10")
    assert (tmp_path / "strokebook-2026-W10.txt").read_text() == "somebody's own"
