"""A book's file: opened only where it is one, brought forward with everything in it, copied while in use."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.plants import CLEAN, at, book_of, line_at, write
from upkeep.book import Book
from upkeep.errors import BookDamaged, BookUnavailable
from upkeep.store import schema
from upkeep.store.entries import EntryStore
from upkeep.store.file import APPLICATION_ID, BookFile

if TYPE_CHECKING:
    from sqlite_utils import Database
    from sqlite_utils.migrations import Migrations

TOLD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 14:00 count P-07 1209410 by ana
"""


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """An open book with a few entries."""
    return book_of(tmp_path, TOLD, tasks=[CLEAN])


# What is no book


def test_a_book_is_never_made_over_a_file_that_is_there(tmp_path: Path) -> None:
    """Whatever the file is."""
    there = tmp_path / "notes.txt"
    there.write_text("mine", encoding="utf-8")
    with pytest.raises(BookUnavailable, match="already exists"):
        Book.create(there)
    assert there.read_text(encoding="utf-8") == "mine"


def test_a_path_without_a_file_says_how_a_book_is_made(tmp_path: Path) -> None:
    """And makes none by the way."""
    with pytest.raises(BookUnavailable, match=r"There is no book at .*nowhere\.book\. Make one with"):
        Book.open(tmp_path / "nowhere.book")
    with pytest.raises(BookUnavailable, match="There is no book at"):
        Book.open(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_book_in_a_folder_that_is_not_there_is_a_sentence_and_no_file(tmp_path: Path) -> None:
    """SQLite's own words stay behind it."""
    with pytest.raises(BookUnavailable, match="Check the path and its folder's permissions"):
        Book.create(tmp_path / "no" / "plant.book")


@pytest.mark.parametrize("content", [b"", b"a text of some length " * 200, b"SQLite format 3\0" + b"\0" * 4096])
def test_a_file_that_is_no_book_is_refused_and_left_as_it_is(tmp_path: Path, content: bytes) -> None:
    """Empty, a text, or only the beginning of a database."""
    other = tmp_path / "other"
    other.write_bytes(content)
    with pytest.raises(BookDamaged):
        Book.open(other)
    assert other.read_bytes() == content
    assert [file.name for file in tmp_path.iterdir()] == ["other"]


def test_another_programs_database_is_refused_and_left_as_it_is_to_the_byte(tmp_path: Path) -> None:
    """Looking at it must not turn its journal into ours."""
    other = tmp_path / "other.db"
    with closing(sqlite3.connect(other)) as connection:
        connection.executescript("CREATE TABLE things (name TEXT); INSERT INTO things VALUES ('mine');")
    before = other.read_bytes()
    with pytest.raises(BookDamaged, match=r"other\.db is not a Strokebook file\."):
        Book.open(other)
    assert other.read_bytes() == before


def test_a_book_of_a_newer_program_is_refused_and_left_as_it_is(book: Book) -> None:
    """The sentence names both schemas."""
    book._file.connection.execute(f"PRAGMA user_version = {schema.VERSION + 1}")
    book.close()
    before = book.path.read_bytes()
    newer = f"was written by a newer Strokebook \\(schema {schema.VERSION + 1}, this one knows {schema.VERSION}\\)"
    with pytest.raises(BookDamaged, match=newer):
        Book.open(book.path)
    assert book.path.read_bytes() == before


def test_a_book_of_before_the_chain_is_refused_with_the_reason_and_left_as_it_is(tmp_path: Path) -> None:
    """It says that no path and no permission is at fault."""
    path = tmp_path / "old.book"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(
            f"PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = 1;"
            "CREATE TABLE entries (id INTEGER PRIMARY KEY, words TEXT NOT NULL, hash TEXT NOT NULL) STRICT;"
        )
    before = path.read_bytes()
    with pytest.raises(BookDamaged, match="did not chain its entries yet"):
        Book.open(path)
    assert path.read_bytes() == before


# What every connection and table has


def test_every_connection_is_set_to_keep_what_it_confirmed(book: Book) -> None:
    """Write-ahead log, full synchronisation, foreign keys, recursive triggers: made and opened alike."""
    with closing(BookFile.open(book.path)) as opened:
        for file in (book._file, opened):
            settings = [
                file.row(f"PRAGMA {name}")
                for name in ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers")
            ]
            assert settings == [("wal",), (2,), (1,), (1,)]


def test_every_table_of_ours_is_strict(book: Book) -> None:
    """No text slips into a number, whatever program writes it."""
    tables = book._file.rows("SELECT name, strict FROM pragma_table_list WHERE type = 'table' AND schema = 'main'")
    ours = {name: strict for name, strict in tables if not name.startswith(("sqlite_", "_sqlite"))}
    assert {"entries", "marks", "stays", "lines", "tallies"} <= set(ours)
    assert set(ours.values()) == {1}
    with pytest.raises(sqlite3.IntegrityError, match="cannot store TEXT value in INTEGER column"):
        book._file.connection.execute("UPDATE marks SET total = 'many'")


def test_every_view_opens_for_somebody_with_a_database_browser(book: Book) -> None:
    """History in words, what is due, where things hang, press counts, measurements."""
    with closing(sqlite3.connect(f"{book.path.as_uri()}?mode=ro", uri=True)) as reader:
        views = [row[0] for row in reader.execute("SELECT name FROM sqlite_master WHERE type = 'view'")]
        filled = {view: reader.execute(f"SELECT count(*) FROM {view}").fetchone()[0] for view in views}
        assert reader.execute("SELECT * FROM where_things_hang").fetchall() == [
            ("M-12", "module", "Item M-12", "P-07", "Item P-07", "2026-03-02T06:00:00Z", "2026-03-02 06:00:00")
        ]
        words = "SELECT words, signed_by, way_in, station, proof, entered_by FROM history_in_words ORDER BY entry DESC"
        assert reader.execute(words).fetchone() == ("count P-07 1209410", "Ana", "not known", None, "not known", None)
    assert filled.pop("measurements") == 0  # nothing was measured in this book
    assert len(filled) == 4
    assert all(filled.values()), filled


def test_the_history_for_people_says_how_an_entry_came_in(book: Book) -> None:
    """By which way, at which station, how the name was proven, and who typed it."""
    write(book, '2026-03-02 15:05 count P-07 1209500 by ana via screen station "Hall A" proof code entered-by ben')
    (head,) = book._file.rows(
        "SELECT way_in, station, proof, entered_by FROM history_in_words ORDER BY entry DESC LIMIT 1"
    )
    assert tuple(head) == ("screen", "Hall A", "code", "Ben")


def test_the_tally_of_lines_is_what_a_count_of_them_gives(book: Book) -> None:
    """It is kept by triggers, line by line."""
    write(book, '2026-03-02 15:00 hold M-44 by ben because "x"')
    write(book, "2026-03-02 15:00 unfit M-12 by ana")
    counted = dict(book._file.rows("SELECT standing, count(*) FROM lines GROUP BY standing"))
    kept = dict(book._file.rows("SELECT standing, lines FROM tallies WHERE lines > 0"))
    assert kept == counted
    assert counted["held"] == 1


# Forward


def with_a_step_more(ran: list[str]) -> Migrations:
    """Today's steps and one that tomorrow's program might bring."""
    steps = schema_steps()

    @steps(name="m999_remarks")
    def m999_remarks(db: Database) -> None:
        db.executescript("CREATE TABLE remarks (entry INTEGER, remark TEXT) STRICT;")
        if db["entries"].count:  # a proof makes an empty book beside this one, to compare how both are made
            ran.append("m999")

    return steps


schema_steps = schema.steps


def test_a_book_of_an_older_program_is_brought_forward_with_everything_in_it(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The step runs once; entries, hashes and computed tables stay, and writing goes on."""
    entries, proof, exported = list(EntryStore(book._file).all()), book.prove(), list(book.export())
    book.close()
    ran: list[str] = []
    monkeypatch.setattr(schema, "steps", lambda: with_a_step_more(ran))
    monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
    for _ in range(2):
        with Book.open(book.path) as forward:
            assert list(EntryStore(forward._file).all()) == entries
            assert forward.prove() == proof
            assert list(forward.export()) == exported
            assert forward._file.row("PRAGMA user_version") == (schema.VERSION,)
            assert forward._file.row("SELECT count(*) FROM remarks") == (0,)
    assert ran == ["m999"]
    with Book.open(book.path) as forward:
        write(forward, "2026-03-02 15:00 count P-07 1209500 by ana")
        assert forward.prove().differences == ()


def test_a_step_that_fails_leaves_the_book_as_it_was(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a step is no step; the older program still opens it."""
    proof = book.prove()
    book.close()

    def steps() -> Migrations:
        ordered = schema_steps()

        @ordered(name="m999_broken")
        def m999_broken(db: Database) -> None:
            db.execute("CREATE TABLE half (one INTEGER)")
            db.execute("CREATE TABLE lines (two INTEGER)")

        return ordered

    with monkeypatch.context() as tomorrow:
        tomorrow.setattr(schema, "steps", steps)
        tomorrow.setattr(schema, "VERSION", schema.VERSION + 1)
        with pytest.raises(BookUnavailable, match="table lines already exists"):
            Book.open(book.path)
    with Book.open(book.path) as again:
        assert again.prove() == proof
        assert again._file.row("SELECT count(*) FROM sqlite_master WHERE name = 'half'") == (0,)


def test_a_book_that_cannot_be_made_whole_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a full disk; with room the same command makes it."""

    def no_room(file: BookFile) -> None:
        raise sqlite3.OperationalError("database or disk is full")

    with monkeypatch.context() as full:
        full.setattr(BookFile, "_make_tables", no_room)
        with pytest.raises(BookUnavailable, match="is full"):
            Book.create(tmp_path / "plant.book")
    assert list(tmp_path.iterdir()) == []
    Book.create(tmp_path / "plant.book").close()


def test_a_book_whose_making_was_cut_short_is_finished_when_it_is_opened(tmp_path: Path) -> None:
    """Marked as ours, no table in it yet."""
    path = tmp_path / "plant.book"
    with closing(BookFile.create(path)) as made:
        tables = [row[0] for row in made.rows("SELECT name FROM sqlite_master WHERE type IN ('table', 'view')")]
    assert "entries" in tables
    begun = tmp_path / "begun.book"
    with closing(sqlite3.connect(begun)) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute("PRAGMA journal_mode = WAL")
    with Book.open(begun) as book:
        assert book.prove().differences == ()


# Copies


def test_a_backup_is_the_whole_book_and_follows_nothing_written_later(book: Book, tmp_path: Path) -> None:
    """It opens by itself, with the same hash; what is written then goes into the book alone."""
    copy = tmp_path / "copies" / "monday.book"
    book.backup(copy)
    proof = book.prove()
    write(book, "2026-03-02 15:00 count P-07 1209500 by ana")
    with Book.open(copy) as backup:
        assert backup.prove() == proof
        assert backup.life("P-07", at("2026-03-02 15:00")).since_new == (5_110, 5_110, 5_110)
        assert line_at(backup, "M-12/clean", "2026-03-02 14:00").state == "overdue"
    assert not list(copy.parent.glob(".*"))


def test_a_backup_never_overwrites(book: Book, tmp_path: Path) -> None:
    """Nor does it leave a part of itself behind."""
    taken = tmp_path / "monday.book"
    taken.write_text("older", encoding="utf-8")
    with pytest.raises(BookUnavailable, match="a backup never overwrites"):
        book.backup(taken)
    assert taken.read_text(encoding="utf-8") == "older"
    with pytest.raises(BookUnavailable, match="cannot be written"):
        book.backup(taken / "below" / "a.book")


def test_a_second_reader_sees_what_was_written_and_its_version_moves(book: Book) -> None:
    """Two terminals on one file: the poll tells, the view follows."""
    with Book.open(book.path) as other:
        before = other.version()
        assert other.version() == before
        write(book, "2026-03-02 15:00 count P-07 1209500 by ana")
        assert other.version() != before
        assert other.life("P-07", at("2026-03-02 15:00")).since_new[1] == 5_200
