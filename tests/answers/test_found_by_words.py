"""Lines found by words: parts of words and letters of every language, whatever signs somebody types."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.plants import at, book_of, item, task, write
from upkeep.book import Board, BoardQuery, Book

NOW = at("2026-03-02 12:00")
TITLES = {
    "D-1": "Crimp set 0.35, wide",
    "D-2": "Straße der Größe",
    "D-3": 'the "old" one',
    "D-4": "Обжимной штамп",
    "D-5": "\u0130stanbul \u0131\u015f\u0131k",
    "D-6": "100% * (spare) AND near",
    "D-7": "圧着金型",
    "D-8": "cafe\u0301 and café",
    "D-9": "O'Neil_a^b",
}
"""Items of a shop that names them in many languages, and with signs that mean something to a search elsewhere."""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """One line for each."""
    with shop(tmp_path_factory.mktemp("words")) as made:
        yield made


def shop(folder: Path) -> Book:
    """A book of such a shop."""
    items = [item(key, kind="die set", title=title, place="rack") for key, title in TITLES.items()]
    return book_of(folder, tasks=[task("look-after", "die set", every="7 days")], more=items)


def found(book: Book, words: str) -> list[str]:
    """The lines on the board for some words, by name."""
    board: Board = book.board(NOW, BoardQuery(search=words))
    assert board.total == len(board.rows)
    return sorted(row.line for row in board.rows)


def held(book: Book, words: str) -> list[str]:
    """The lines of the whole board whose name, titles, place or area have every word in them."""
    rows = book.board(NOW, BoardQuery()).rows
    texts = {row.line: f"{row.line} {row.title} {row.item_title} {row.place} {row.area}".casefold() for row in rows}
    return sorted(line for line, text in texts.items() if all(word in text for word in words.casefold().split()))


LETTERS = "".join(sorted({*"".join(TITLES.values()), *'"*()^:+-_%\0'}))
PARTS = [title[start:end] for title in TITLES.values() for start in range(3) for end in range(start + 1, len(title))]


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(st.one_of(st.sampled_from(PARTS), st.text(LETTERS, max_size=6)), max_size=3).map(" ".join))
def test_what_has_every_word_in_it_is_found_and_nothing_else(book: Book, words: str) -> None:
    """As somebody would find it by eye, small and capital letters being one."""
    assert found(book, words) == held(book, words)


def test_a_line_is_found_by_the_name_its_item_has_now(tmp_path: Path) -> None:
    """Not by the one it had; a scrapped item is not found at all.  Held against every line by SQLite itself."""
    with shop(tmp_path) as book:
        named = item("D-1", kind="die set", title="Crimp set 0.50, narrow", place="rack")
        gone = item("D-2", kind="die set", title="Straße der Größe", place="rack", scrapped="2026-03-02")
        book.load([named, gone], at("2026-03-02 08:00"), "lea", at("2026-03-02 08:00"), "as it is now")
        assert found(book, "narrow") == ["D-1/look-after"]
        assert found(book, "wide") == []
        assert found(book, "strasse") == held(book, "strasse") == []
        assert_search_is_whole(book)
        book.refill()
        assert found(book, "narrow") == ["D-1/look-after"]
        assert_search_is_whole(book)


def assert_search_is_whole(book: Book) -> None:
    """SQLite's own check of what the search keeps against the table it was made of; it raises where they differ."""
    with book._file.writing():
        book._file.connection.execute("INSERT INTO lines_fts (lines_fts, rank) VALUES ('integrity-check', 1)")


def test_a_sign_off_leaves_the_search_alone(tmp_path: Path) -> None:
    """It moves no word, so it writes nothing there."""
    with shop(tmp_path) as book:
        kept = "SELECT id, block FROM lines_fts_data ORDER BY id"
        before = book._file.rows(kept)
        write(book, "2026-03-08 11:00 sign D-4/look-after for 2026-03-08 by tom")
        assert book._file.rows(kept) == before
        assert found(book, "штамп") == ["D-4/look-after"]


def test_a_past_is_searched_by_the_names_of_then(tmp_path: Path) -> None:
    """Whether or not its board was looked at before, and one past after another."""
    with shop(tmp_path) as book:
        named = item("D-1", kind="die set", title="Crimp set 0.50, narrow", place="rack")
        book.load([named], at("2026-03-02 13:00"), "lea", at("2026-03-02 13:00"), "as it is now")
        later = at("2026-03-02 13:00")
        write(book, "2026-03-08 11:00 sign D-4/look-after for 2026-03-08 by tom")
        for moment, words in ((NOW, "wide"), (later, "narrow"), (NOW, "wide")):
            assert book.board(moment).total == book.board(at("2026-03-08 12:00")).total
            for word in ("wide", "narrow", "штамп"):
                lines = {"штамп": ["D-4/look-after"], words: ["D-1/look-after"]}.get(word, [])
                assert [row.line for row in book.board(moment, BoardQuery(search=word)).rows] == lines
