"""Entry 0: every book begins with its own id, the plant's zone and the form of its chain, and begins once."""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

import pytest

from tests.plants import at, book_of, define, person, plant, write, write_each, written_lines
from upkeep.book import Book
from upkeep.entries.bookkeeping import Begin, Note, Strike
from upkeep.entries.signing import Verify
from upkeep.errors import Refused, StrokebookError

BEGIN = "2026-03-01 00:00 begin {book} zone {zone} chain {form} by lea"
SOME_ID = "6f9619ff-8b86-4d01-b42d-00cf4fc964ff"


def begin_of(book: Book) -> Begin:
    """The first entry of a book."""
    entry = book.entry(0)
    assert isinstance(entry, Begin)
    return entry


def test_a_book_begins_with_its_id_its_zone_and_the_form_of_its_chain(tmp_path: Path) -> None:
    """Signed by whoever writes first, at that moment; the numbers of all other entries begin with 1."""
    with book_of(tmp_path, zone="Europe/Berlin") as book:
        begin = begin_of(book)
        assert (begin.zone, begin.form, begin.by) == ("Europe/Berlin", 1, "lea")
        assert begin.at == book.entry(1).at == at("2026-03-01 00:00", "Europe/Berlin")
        assert UUID(begin.book).version == 4
        assert written_lines(book)[0] == BEGIN.format(book=begin.book, zone="Europe/Berlin", form=1)


def test_the_first_load_answers_with_the_numbers_of_what_it_loaded(tmp_path: Path) -> None:
    """The entry that the book writes itself is not among them, and no count of entries has it."""
    moment = at("2026-03-01 00:00")
    with Book.create(tmp_path / "new.book") as book:
        assert book.prove().entries == 0
        assert book.load([plant(), person("lea", "Lea")], moment, "lea", moment, "as it is now").entries == (1, 2)
        assert book.prove().entries == 2
        assert [line.entry for line in book.history()] == [2, 1, 0]


def test_every_book_has_an_id_of_its_own(tmp_path: Path) -> None:
    """Made from the same definitions at the same moment; what differs is chance."""
    moment, ids = at("2026-03-01 00:00"), set()
    for name in ("one", "other"):
        with Book.create(tmp_path / name) as book:
            book.load([plant()], moment, "lea", moment, "as it is now")
            ids.add(begin_of(book).book)
    assert len(ids) == 2


def test_a_book_whose_plant_is_not_defined_yet_begins_in_utc(tmp_path: Path) -> None:
    """As everything is read and shown until somebody says where the plant is."""
    moment = at("2026-03-01 00:00")
    with Book.create(tmp_path / "new.book") as book:
        book.load([person("lea", "Lea")], moment, "lea", moment, "as it is now")
        assert begin_of(book).zone == book.zone.name == "UTC"


def test_the_zone_is_settled_by_the_first_entry(tmp_path: Path) -> None:
    """Everything else about the plant may change; nothing is written where the zone would."""
    moment = at("2026-03-02 06:00")
    with book_of(tmp_path, zone="Europe/Berlin") as book:
        book.load([plant("Europe/Berlin", name="Renamed")], moment, "lea", moment, "as it is now")
        assert book.facts.name == "Renamed"
        before = written_lines(book)
        with pytest.raises(
            Refused, match="kept in the time zone Europe/Berlin, as its first entry says; UTC would shift"
        ):
            book.load([plant("UTC", name="Moved")], moment, "lea", moment, "as it is now")
        assert written_lines(book) == before


def test_nothing_is_written_where_the_first_write_names_two_zones(tmp_path: Path) -> None:
    """Not even the beginning."""
    moment = at("2026-03-01 00:00")
    with Book.create(tmp_path / "new.book") as book:
        two = [plant("Europe/Berlin"), define("place", "hall", title="Hall", area="A", route=1), plant("UTC")]
        with pytest.raises(Refused, match="kept in the time zone Europe/Berlin"):
            book.load(two, moment, "lea", moment, "as it is now")
        assert written_lines(book) == []


def test_a_book_begins_once(tmp_path: Path) -> None:
    """Nobody types a second beginning, of this book or of another."""
    with book_of(tmp_path) as book:
        before = written_lines(book)
        for line in (before[0], BEGIN.format(book=SOME_ID, zone="UTC", form=1)):
            with pytest.raises(Refused, match="This book already has its first entry"):
                write(book, line)
        assert written_lines(book) == before


def test_the_beginning_is_not_struck_corrected_or_verified(tmp_path: Path) -> None:
    """Whoever tries is told; the book goes on."""
    moment = at("2026-03-02 06:00")
    with book_of(tmp_path) as book:
        before = written_lines(book)
        for entry in (
            Strike(at=moment, by="lea", entry=0, because="no"),
            Verify(at=moment, by="lea", entry=0),
            Note(at=moment, by="lea", text="x", corrects=0, because="no"),
        ):
            with pytest.raises(Refused):
                book.write([entry], moment)
        assert written_lines(book) == before


@pytest.mark.parametrize(
    ("zone", "form", "told"),
    [
        ("Middle/Earth", 1, "'Middle/Earth' is not the name of a time zone"),
        ("UTC", 2, "is of form 2; this program knows"),
    ],
)
def test_a_beginning_that_this_program_cannot_go_on_from_is_refused(
    tmp_path: Path, zone: str, form: int, told: str
) -> None:
    """Of an export by a newer program, or one that somebody wrote by hand; then the book stays empty."""
    with Book.create(tmp_path / "new.book") as book:
        with pytest.raises(StrokebookError, match=told):
            write(book, BEGIN.format(book=SOME_ID, zone=zone, form=form))
        assert written_lines(book) == []


def test_a_past_moment_shows_the_beginning_too(tmp_path: Path) -> None:
    """A view of the past is made from the entries up to then, this one first."""
    text = "2026-03-02 06:00 fit M-12 in P-07 by ana\n2026-03-03 06:00 unfit M-12 by ana"
    with book_of(tmp_path) as book:
        write_each(book, text)
        assert book.hanging(at("2026-03-02 12:00")) == (("M-12", "P-07"),)
        assert book.hanging(at("2026-03-01 00:00")) == ()
