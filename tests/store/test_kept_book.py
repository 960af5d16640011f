"""Every book that was ever kept opens with the program of today, proves clean and shows the board it showed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.kept_book import MOMENTS, WORDS, board_of, books, copy_of, export_of, shown, words_in
from tests.plants import write
from tests.releases import another_rule, another_step, other_words, release
from upkeep.book import Book
from upkeep.entries.kinds import VERBS
from upkeep.sources.exported import exported_lines


@pytest.fixture(params=books(), ids=lambda kept: str(kept.stem))
def kept(request: pytest.FixtureRequest) -> Path:
    """Each of the kept books."""
    path: Path = request.param
    return path


@pytest.fixture
def copy(kept: Path, tmp_path: Path) -> Path:
    """A copy of it."""
    return copy_of(kept, tmp_path)


def board(kept: Path) -> str:
    """The board it showed when it was kept, or since a rule was changed."""
    return board_of(kept).read_text(encoding="utf-8")


def test_a_kept_book_proves_clean_and_shows_the_board_it_showed(kept: Path, copy: Path) -> None:
    """With the tables it came with, and refilled."""
    with Book.open(copy) as book:
        assert shown(book) == board(kept)
        assert book.prove().differences == ()
        book.refill()
        assert shown(book) == board(kept)
        assert book.prove().differences == ()


def test_a_kept_book_is_exported_as_it_was(kept: Path, copy: Path) -> None:
    """Every entry says what it said, to the letter, and how it came in."""
    with Book.open(copy) as book:
        lines = [line.rpartition(" link ")[0] for line in book.export()]
        assert lines == [
            line.partition(" link ")[0] for line in export_of(kept).read_text(encoding="utf-8").splitlines()
        ]


def test_a_kept_export_becomes_that_book_again(kept: Path, copy: Path, tmp_path: Path) -> None:
    """With the same last link and the same board, by today's program and whatever its rules would say today."""
    with Book.open(copy) as book, Book.bring_back(tmp_path / "again.book", exported_lines(export_of(kept))) as again:
        proof = again.prove()
        assert (proof.clean, proof.hash) == (True, book.prove().hash)
        assert shown(again) == board(kept)


def test_every_kind_of_entry_stands_in_a_kept_book() -> None:
    """For a kind that is new, make and keep another book: ``python -m tests.kept_book --make NUMBER``."""
    lines = [line for kept in books() for line in export_of(kept).read_text(encoding="utf-8").splitlines()]
    assert {line.split(" ")[2] for line in lines} == set(VERBS)


def test_words_that_not_every_line_has_stand_in_a_kept_book() -> None:
    """Counts kept against others, confirmed ones, a figure nobody knew: made and kept as a new kind is."""
    lines = [line for kept in books() for line in export_of(kept).read_text(encoding="utf-8").splitlines()]
    assert words_in(lines) == set(WORDS)


def test_a_changed_sentence_makes_no_kept_book_bad(kept: Path, copy: Path) -> None:
    """What stands is shown as it was; only the words are others."""
    with other_words(), Book.open(copy) as book:
        assert shown(book) == board(kept)
        assert book.prove().differences == ()


def test_a_changed_rule_makes_the_tables_of_a_kept_book_again(
    kept: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It shows what the new rule says, here where items stand, and that is no damage."""
    another_rule(monkeypatch)
    release(monkeypatch)
    with Book.open(copy) as book:
        assert book.tables_made_again
        assert '"place": "yard"' in shown(book)
        assert book.prove().differences == ()


def test_another_table_stands_in_a_kept_book_after_its_first_opening(
    kept: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A table step."""
    release(monkeypatch)
    with Book.open(copy) as book:
        assert book._file.row("SELECT count(*) FROM remarks") == (0,)
        assert shown(book) == board(kept)
        assert book.prove().differences == ()


def test_another_step_of_the_entries_is_taken_by_a_kept_book(
    kept: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A schema step: old entries have nothing to say of it, and new ones go on behind them."""
    another_step(monkeypatch)
    with Book.open(copy) as book:
        assert book._file.row("SELECT crew FROM crews LIMIT 1") == (None,)
        assert shown(book) == board(kept)
        write(book, f'{book.zone.show(MOMENTS[-1])} note "goes on" by lea')
        assert book.prove().differences == ()
