"""Each way into the book leaves its mark on the entry: by which way, where, how the name was proven, who typed it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import CLEAN, INSPECT, book_of, item, write, write_each, written_lines
from upkeep.book import Book
from upkeep.entries.origin import IN_A_SHELL, NOT_KNOWN, Origin, Proof, WayIn
from upkeep.errors import NotFound, Refused

MOMENT = "2026-03-02 07:00:00"
COUNT = "2026-03-02 06:30 count P-07 5 by ana"
HEAD = ("way_in", "station", "proof", "entered_by")
NAMES = (
    "entry", "at", "recorded_at", "shift_day", "by", "by_name", "kind", "text", "struck_by", "corrected_by", *HEAD,
    "clock_went_back",
)  # fmt: skip


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A plant's book, open beside whoever types."""
    return book_of(tmp_path, tasks=[CLEAN, INSPECT])


def newest(book: Book) -> Origin:
    """How the entry written last came in."""
    return book.entry(book.newest_written(1)[0].entry).origin


def types(book: Book, capsys: pytest.CaptureFixture[str], *words: object) -> Said:
    """A command typed on the morning of the second of March."""
    said = Terminal(book.path, capsys).types(MOMENT, *words)
    assert said.code == 0, said.err
    return said


def enters(book: Book, capsys: pytest.CaptureFixture[str], text: str) -> Said:
    """A file of entry lines is entered."""
    lines = book.path.with_suffix(".txt")
    lines.write_text(text, encoding="utf-8")
    return Terminal(book.path, capsys).types(MOMENT, "enter", lines)


def test_a_command_came_by_the_shell_and_nothing_proved_the_name(
    book: Book, capsys: pytest.CaptureFixture[str]
) -> None:
    """A count, an undo, a correction: whatever is typed."""
    types(book, capsys, "hold", "M-12", "--because", "chip", "--by", "lea")
    assert newest(book) == IN_A_SHELL == Origin(WayIn.SHELL, None, Proof.NONE, None)
    types(book, capsys, "undo", "--by", "lea")
    assert newest(book) == IN_A_SHELL
    types(book, capsys, "count", "P-07", "5", "--by", "ana")
    types(
        book, capsys, "correct", book.newest_written(1)[0].entry, "count", "P-07", "6", "--because", "x", "--by", "ana"
    )
    assert newest(book) == IN_A_SHELL


def test_lines_and_tables_came_from_files(book: Book, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Entry lines, counts, what was done before the book."""
    from_a_file = Origin(WayIn.FILE, None, Proof.NONE, None)
    assert enters(book, capsys, COUNT).code == 0
    assert newest(book) == from_a_file
    for command, text in (
        ("count", "press,at,count\nP-07,2026-03-02 06:40,9\n"),
        ("stated", "item,task,done\nDS-031,inspect,2026-02-20\n"),
    ):
        table = tmp_path / f"{command}.csv"
        table.write_text(text, encoding="utf-8")
        types(book, capsys, command, *(["--from"] if command == "count" else []), table, "--by", "lea")
        assert newest(book) == from_a_file


def test_a_line_may_say_where_and_by_whom_it_was_written(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """As the list of another terminal does; it came in by a file all the same."""
    assert enters(book, capsys, f'{COUNT} via screen station "Hall A" entered-by ben').code == 0
    assert newest(book) == Origin(WayIn.FILE, "Hall A", Proof.NONE, "ben")


def test_who_typed_it_is_somebody_the_book_knows(book: Book) -> None:
    """In a run of counts as for any other entry."""
    before = written_lines(book)
    for line in (COUNT, '2026-03-02 06:30 hold M-12 by lea because "chip"'):
        with pytest.raises(NotFound, match="There is no person 'nobody' in this book"):
            write(book, f"{line} entered-by nobody")
    assert written_lines(book) == before


def test_a_station_is_a_text_like_any_other(book: Book) -> None:
    """Five hundred characters, and no more."""
    with pytest.raises(Refused, match="A text may have at most 500 characters"):
        write(book, f"{COUNT} station {json.dumps('x' * 501)}")
    write(book, f"{COUNT} station {json.dumps('Hall A, ' + chr(34) + 'left' + chr(34))}")
    assert newest(book).station == 'Hall A, "left"'


def test_history_as_json_has_the_head_under_names_that_stay(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """Words where something is known, "not known" or null where nothing is; the text leaves it out."""
    write(book, f'{COUNT} via sheet station "Office" proof paper entered-by lea')
    write(book, '2026-03-02 06:31 hold M-12 by lea because "chip"')
    held, counted, *_ = json.loads(types(book, capsys, "history", "--json").out)
    assert tuple(counted) == NAMES
    assert [counted[name] for name in HEAD] == ["sheet", "Office", "paper", "lea"]
    assert [held[name] for name in HEAD] == ["not known", None, "not known", None]
    assert counted["text"] == COUNT


def test_a_whole_export_makes_the_same_book_wherever_its_plant_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Id, zone, salts, heads known and not known, corrections: up to the last link of the chain."""
    text = """
        2026-03-02 06:00 count P-07 1000 by ana
        2026-03-02 06:30 count P-07 1100 by ana via shell proof none
        2026-03-02 06:40 count P-07 1200 by ana recorded 2026-03-02 06:50 corrects #{count} because "twice" via screen
        2026-03-02 06:45 fault M-12 "burr" by ben via sheet station "Office" proof paper entered-by lea
    """
    with book_of(tmp_path, zone="Europe/Berlin", more=[item("P-07", max_rate=100_000)]) as book:
        write_each(book, text.format(count=book.prove().entries + 2))
        with Book.create(tmp_path / "again.book") as again:
            said = enters(again, capsys, "\n".join(book.export()))
            assert said.code == 0, said.err
            assert again.prove().clean
            assert again.prove().hash == book.prove().hash
            assert list(again.export()) == list(book.export())
            assert newest(again) == Origin(WayIn.SHEET, "Office", Proof.PAPER, "lea")
            assert again.entry(1).origin == NOT_KNOWN


def test_a_living_book_takes_no_salt_from_a_line(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever knows the salt of an entry could try names against its hash."""
    known = "0f" * 16
    assert enters(book, capsys, f"{COUNT} salt {known}").code == 0
    assert salt_of_last(book) != known


def salt_of_last(book: Book) -> str:
    """The salt of the entry written last."""
    return list(book.export())[-1].rpartition(" salt ")[2]
