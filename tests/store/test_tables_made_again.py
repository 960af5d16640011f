"""Tables of an older program are no damage: they are made again from the entries, and only then compared."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, line_at, why_of, write
from tests.releases import another_rule, another_step, other_words, release
from upkeep.book import Book, Progress
from upkeep.errors import BookDamaged
from upkeep.service.backups import Backups

if TYPE_CHECKING:
    pass

TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 07:00 hold M-44 by ben because "a crack"
    2026-03-02 14:00 count P-07 1209410 by ana
"""
NOON = at("2026-03-02 12:00")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a closed book with a few entries."""
    with book_of(tmp_path, TOLD, tasks=[CLEAN]) as book:
        return book.path


def tables_of(path: Path) -> list[str]:
    """Everything in the file as text, whatever the order; but not of which state there were lines once.

    Of the search only what it finds: in how many pieces it lies depends on how the lines came in.
    """
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DELETE FROM tallies WHERE lines = 0")
        connection.execute("INSERT INTO lines_fts (lines_fts, rank) VALUES ('integrity-check', 1)")
        return sorted(line for line in connection.iterdump() if not line.startswith('INSERT INTO "lines_fts_'))


def older(path: Path) -> None:
    """Gives it tables as no program of today makes them: one too many, one word short, some empty, without a number."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(
            "DROP TABLE tables_number; DROP VIEW what_is_due; ALTER TABLE lines DROP COLUMN reasons; DELETE FROM marks;"
            "CREATE TABLE gone (since TEXT); CREATE VIEW went AS SELECT * FROM gone; UPDATE lines SET line = id;"
            "CREATE VIRTUAL TABLE words USING fts5 (word); INSERT INTO words VALUES ('of old');"
        )


def test_a_book_whose_tables_an_older_program_made_is_as_good_as_new(path: Path, tmp_path: Path) -> None:
    """It opens, shows the same board, proves clean and says what happened; so once only."""
    with Book.open(path) as book:
        board, proof = book.board(NOON), book.prove()
    as_new = tables_of(path)
    older(path)
    with Book.open(path) as book:
        report = book.prove()
        assert book.board(NOON) == board
    assert (report.tables_made_again, report.differences, report.rows) == (True, (), proof.rows)
    assert tables_of(path) == as_new
    with Book.open(path) as book:
        assert book.prove() == proof
        write(book, "2026-03-02 15:00 count P-07 1209500 by ana")
        assert book.prove().clean


def test_an_older_backup_answers_from_memory_and_stays_as_it_is(path: Path) -> None:
    """Not a byte of it changes, nor does anything appear beside it."""
    with Book.open(path) as book:
        board = book.board(NOON)
    older(path)
    before, beside = path.read_bytes(), sorted(path.parent.iterdir())
    with Book.open_copy(path) as copy:
        assert copy.board(NOON) == board
        report = copy.prove()
    assert (report.clean, report.tables_made_again) == (True, True)
    assert path.read_bytes() == before
    assert sorted(path.parent.iterdir()) == beside


# A new release


def test_a_new_table_is_there_after_the_first_opening(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table step: nobody has to do anything for it."""
    release(monkeypatch)
    with Book.open(path) as book:
        assert book.tables_made_again
        assert book._file.row("SELECT count(*) FROM remarks") == (0,)
        assert book.prove().clean


def test_a_new_rule_holds_for_every_line_after_the_first_opening(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule step: what the old rule gave is no damage."""
    another_rule(monkeypatch)
    release(monkeypatch)
    with Book.open(path) as book:
        assert line_at(book, "M-44/clean", "2026-03-02 12:00").place == "yard"
        assert (book.prove().clean, book.prove().tables_made_again) == (True, True)


def test_a_new_rule_under_the_old_number_is_told_as_damage_with_the_field(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Table, row and field; so that whoever forgot to raise the number hears of it."""
    another_rule(monkeypatch)
    with Book.open(path) as book:
        report = book.prove()
    assert (report.clean, report.tables_made_again) == (False, False)
    assert "lines M-44/clean: place is rack, the entries make it yard." in map(str, report.differences)


def test_a_nightly_backup_of_a_book_with_older_tables_is_kept(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether the book itself was opened since the release or only its copy is."""
    with Book.open(path) as book:
        another_rule(monkeypatch)
        release(monkeypatch)
        Backups(path.parent / "backups", path, 3).make(book, NOON)
    assert len(Backups(path.parent / "backups", path, 3).good()) == 1


def test_another_wording_leaves_an_untouched_book_clean(path: Path) -> None:
    """No sentence stands in the file: the board says the new one at once, the proof and the backup are as before."""
    with Book.open(path) as book:
        proof = book.prove()
        with other_words() as words:
            assert words in why_of(book, line_at(book, "M-44/clean", "2026-03-02 12:00"))
            assert book.prove() == proof
            assert Backups(path.parent / "backups", path, 3).make(book, NOON)[1] == proof.entries


def test_a_step_of_the_entries_with_tables_that_need_it_is_taken_at_the_first_opening(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """First the entries go forward, then the tables are made from them."""
    another_step(monkeypatch)
    with Book.open(path) as book:
        assert book.prove().clean
        assert book._file.row("SELECT crew FROM crews LIMIT 1") == (None,)
        write(book, "2026-03-02 15:00 count P-07 1209500 by ana")
        assert book.prove().clean


# By hand


def test_the_commands_say_that_the_tables_were_made_again(
    path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The proof says it and stays clean, a backup is made, and refilling by hand is for whoever asks."""
    terminal = Terminal(path, capsys)
    older(path)
    proven = terminal.types("2026-03-02 15:00", "prove")
    again = "Its tables were made by an older program and have been rebuilt.\n"
    assert (proven.code, proven.err, proven.out.startswith(f"{again}Clean: ")) == (0, "", True)
    assert terminal.types("2026-03-02 15:00", "prove").out == proven.out.removeprefix(again)
    older(path)
    assert terminal.types("2026-03-02 15:00", "backup", path.with_name("copy.book")).code == 0
    older(path.with_name("copy.book"))
    restored = Terminal(path.with_name("again.book"), capsys)
    assert restored.types("2026-03-02 15:00", "restore", path.with_name("copy.book"), "--by", "lea").code == 0
    assert terminal.types("2026-03-02 15:00", "refill").out.startswith("Computed rows rebuilt: ")
    older(path)
    assert terminal.types("2026-03-02 15:00", "refill").out == again


def test_refilling_puts_right_what_somebody_changed(path: Path) -> None:
    """The entries are the truth, and the chain says that they are."""
    with Book.open(path) as book:
        rows = book.prove().rows
        book._file.connection.execute("UPDATE lines SET place = 'nowhere'")
        assert not book.prove().clean
        assert book.refill() == rows
        assert book.prove().clean


def test_entries_that_cannot_be_re_played_leave_the_tables_as_they_are(path: Path) -> None:
    """The sentence says what to do; nothing is half."""
    older(path)
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(
            "DROP TRIGGER entries_never_change;"
            "UPDATE entries SET words = 'fly P-07' WHERE id = (SELECT max(id) FROM entries)"
        )
    before = tables_of(path)
    with pytest.raises(BookDamaged, match=r"cannot be replayed: .* restore the last good backup"):
        Book.open(path)
    assert tables_of(path) == before
    assert not path.with_name(f"{path.name}-refill").exists()


def test_whoever_opens_an_older_book_hears_how_far_it_is(path: Path) -> None:
    """Entries read, lines judged, rows filled in; each to its end."""
    older(path)
    heard: list[Progress] = []
    with Book.open(path, heard.append) as book:
        report = book.prove()
    ends = {one.stage: one.of for one in heard if one.done == one.of}
    assert list(ends) == ["reading", "judging", "filling"]
    assert (ends["reading"], ends["filling"]) == (report.entries, report.rows)
