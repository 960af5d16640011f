"""Counts, quantities and orders from files: good lines go in, bad ones are told, twice the same changes nothing."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.commands import Said, Terminal
from tests.plants import INSPECT, at, book_of, write, written_lines
from upkeep.book import Book
from upkeep.errors import BookUnavailable, Unreadable
from upkeep.said import said
from upkeep.sources.drop import COUNTS, KINDS, QUANTITIES, FileKind, kind_of, take

MOMENT = "2026-03-06 08:00:00"
COUNT, MADE, ORDER = "press,at,count", "press,at,pieces,minutes,item,order", "order,pieces,item,press,day"
GOOD = {
    "count": f"{COUNT}\nP-07,2026-03-02 06:00,1000\nP-07,2026-03-02 14:00,9000\n",
    "quantity": f"{MADE}\nP-07,2026-03-02 14:00,5000,240,DS-031,A-77\nP-08,2026-03-02 14:00,10,5,,\n",
    "order": f"{ORDER}\nA-77,30000,DS-031,P-07,2026-03-09\nA-78,100,DS-102,P-08,2026-03-10\n",
}
NOUNS = {told.word: str(told.noun) for told in KINDS}
REASON = '"counted again"'
BIG = 2_000


class Teller:
    """Somebody at a terminal who has files of a text."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.book = book_of(folder, tasks=[INSPECT], late_hours=200)
        self._file = folder / "told.csv"
        self._terminal = Terminal(self.book.path, capsys)

    def tells(self, kind: str, text: str) -> Said:
        """Gives a file with this text to a command."""
        self._file.write_text(text, encoding="utf-8")
        return self._terminal.types(MOMENT, kind, "--from", self._file, "--by", "ana")

    def types(self, *words: object) -> Said:
        """Types another command."""
        return self._terminal.types(MOMENT, *words)

    def newest(self, limit: int) -> list[str]:
        """The entries written last, oldest first, as the export prints them but for their salts."""
        return written_lines(self.book)[-limit:]

    def last(self) -> int:
        """The number of the last entry."""
        return self.book.newest_written(1)[0].entry


@pytest.fixture
def teller(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Teller:
    """Somebody at a terminal."""
    return Teller(tmp_path, capsys)


@pytest.mark.parametrize(
    ("kind", "entries"),
    [
        ("count", ["count P-07 1000", "count P-07 9000"]),
        ("quantity", ["quantity P-07 5000 over 240 min with DS-031 order A-77", "quantity P-08 10 over 5 min"]),
        (
            "order",
            [
                "order A-77 30000 with DS-031 on P-07 from 2026-03-09",
                "order A-78 100 with DS-102 on P-08 from 2026-03-10",
            ],
        ),
    ],
)
def test_a_good_file_goes_in_once(teller: Teller, kind: str, entries: list[str]) -> None:
    """Each line becomes an entry; the second time the book says all of it already."""
    said = teller.tells(kind, GOOD[kind])
    assert (said.code, said.err) == (0, "")
    assert f"told.csv: {NOUNS[kind]} entered: 2; already known: 0; refused: 0." in said.out
    assert [entry in line for entry, line in zip(entries, teller.newest(2), strict=True)] == [True, True]
    last = teller.last()
    again = teller.tells(kind, GOOD[kind])
    assert again.out == f"told.csv: {NOUNS[kind]} entered: 0; already known: 2; refused: 0.\n"
    assert (again.code, teller.last()) == (0, last)
    assert teller.book.prove().clean


@pytest.mark.parametrize("kind", list(GOOD))
def test_a_line_twice_in_one_file_goes_in_once(teller: Teller, kind: str) -> None:
    """As programs that write a file again from its beginning leave it."""
    text = GOOD[kind] + GOOD[kind].partition("\n")[2]
    assert f": {NOUNS[kind]} entered: 2; already known: 2; refused: 0." in teller.tells(kind, text).out


@pytest.mark.parametrize("kind", list(GOOD))
def test_what_was_struck_stays_struck(teller: Teller, kind: str) -> None:
    """The file still tells it, and somebody has found that it never was true."""
    teller.tells(kind, GOOD[kind])
    last = teller.last()
    assert teller.types("strike", last, "--because", "another press", "--by", "lea").code == 0
    assert f": {NOUNS[kind]} entered: 0; already known: 2" in teller.tells(kind, GOOD[kind]).out
    assert teller.last() == last + 1


def test_what_was_corrected_stays_corrected(teller: Teller) -> None:
    """A quantity that was counted again by hand."""
    teller.tells("quantity", GOOD["quantity"])
    number = teller.last()
    write(
        teller.book,
        f"2026-03-02 14:00 quantity P-08 9 over 5 min by ana recorded 2026-03-06 07:00 "
        f"corrects #{number} because {REASON}",
    )
    assert "quantities entered: 0; already known: 2" in teller.tells("quantity", GOOD["quantity"]).out


def test_semicolons_and_columns_in_any_order_are_read(teller: Teller) -> None:
    """As a spreadsheet in half of Europe writes them; columns nobody asked for are passed over."""
    text = "\ufeffminutes;press;shift;pieces;at\r\n240;P-07;early;5000;2026-03-02 14:00\r\n"
    assert "quantities entered: 1" in teller.tells("quantity", text).out
    assert "quantity P-07 5000 over 240 min" in teller.newest(1)[0]


@pytest.mark.parametrize(
    ("kind", "line", "reason"),
    [
        ("count", "P-70,2026-03-02 14:00,9100", "There is no press 'P-70' in this book. Did you mean"),
        ("count", "P-07,2026-03-02 15:00,-5", "'-5' is not a count; write it like 4812 or 4,812."),
        ("count", "P-07,2026-03-02 14:30,8000", "P-07"),
        ("quantity", "M-12,2026-03-02 14:00,10,5,,", "M-12 is a module."),
        ("quantity", "P-07,2026-03-02 14:00,ten,5,,", "'ten' is not a number of pieces; write it like 4812 or 4,812."),
        ("quantity", "P-07,2026-03-02 14:00,10,,,", "'' is not a number of minutes; write it like 4812 or 4,812."),
        ("quantity", "P-07,2026-03-02 14:00,10,0,,", "1 minute to 7 days"),
        ("quantity", "P-07,2026-03-02 14:00,10,5,M-12,", "M-12 is a module; name the die set"),
        ("quantity", "P-07,02.03.2026 14:00,10,5,,", "'02.03.2026 14:00' is not a date and time"),
        ("quantity", "P-07,2026-03-09 14:00,10,5,,", "is in the future"),
        ("order", "A-79,0,DS-031,P-07,2026-03-09", "An order must be for at least 1 piece."),
        ("order", "A 79,5,DS-031,P-07,2026-03-09", "This cannot be kept as an entry"),
        ("order", ",5,DS-031,P-07,2026-03-09", "This cannot be kept as an entry"),
        ("order", "A-79,5,DS-999,P-07,2026-03-09", "There is no item 'DS-999' in this book."),
        ("order", "A-79,5,DS-031,P-07,next week", "'next week' is not a date"),
    ],
)
def test_a_bad_line_is_told_and_costs_no_other(teller: Teller, kind: str, line: str, reason: str) -> None:
    """With the number it has in the file and the sentence somebody typing it would have read."""
    first, *rest = GOOD[kind].splitlines()
    said = teller.tells(kind, "\n".join([first, rest[0], line, "", rest[1]]))
    assert said.code == 1
    assert f": {NOUNS[kind]} entered: 2; already known: 0; refused: 1." in said.out
    assert said.err.startswith("line 3: ")
    assert reason in said.err


def test_an_order_beyond_a_limit_is_minded(teller: Teller) -> None:
    """As where it is typed in."""
    said = teller.tells("order", GOOD["order"])
    assert "Note: order A-77 (30,000 pieces) goes" in said.out


@pytest.mark.parametrize("kind", ["count", "quantity", "order"])
def test_a_file_without_a_column_changes_nothing(teller: Teller, kind: str) -> None:
    """It is another file; its columns are named."""
    said = teller.tells(kind, "press,item\nP-07,DS-031\n")
    assert said.code == 1
    assert "the first line must name the columns" in said.err


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        (("quantity", "P-07", 500, "--by", "ana"), "--minutes, or a file with --from"),
        (("order", "A-77", 500, "--by", "ana"), "or a file with --from"),
        (("count", "P-07", "--by", "ana"), "or a file with --from"),
    ],
)
def test_without_a_file_all_has_to_be_typed(teller: Teller, words: tuple[object, ...], asked: str) -> None:
    """Half a fact is none."""
    said = teller.types(*words)
    assert said.code == 2
    assert asked in said.err


def test_three_bad_lines_among_two_thousand_cost_no_other(teller: Teller) -> None:
    """A month of quantities: 1,997 entries, three lines told."""
    start = at("2026-03-01 06:00")
    lines = [f"P-07,{start + timedelta(minutes=3 * n):%Y-%m-%d %H:%M},{n},2,DS-031,A-{n % 9}" for n in range(BIG)]
    lines[17] = "P-99,2026-03-01 07:00,5,2,,"
    lines[900] = "P-07,2026-03-02 07:00,5,0,,"
    lines[1_999] = "P-07,2026-02-28 07:00,5,2,,"
    text = "\n".join([MADE, *lines])
    said = teller.tells("quantity", text)
    assert "told.csv: quantities entered: 1,997; already known: 0; refused: 3." in said.out
    assert [line.partition(":")[0] for line in said.err.splitlines()] == ["line 19", "line 902", "line 2001"]
    assert "quantities entered: 0; already known: 1,997; refused: 3." in teller.tells("quantity", text).out


@pytest.mark.parametrize("told", KINDS, ids=lambda told: told.word)
def test_the_first_line_says_what_a_file_tells(tmp_path: Path, told: FileKind) -> None:
    """Whichever columns it has besides."""
    file = tmp_path / "some.csv"
    file.write_text(GOOD[told.word].replace("\n", ",remark\n", 1), encoding="utf-8")
    assert kind_of(file) is told


@pytest.mark.parametrize("first", ["", "press,when,count", f"{COUNT},pieces,minutes", "P-07,2026-03-02 06:00,1000"])
def test_a_first_line_that_says_nothing_clear_is_never_guessed(tmp_path: Path, first: str) -> None:
    """Neither where no kind fits nor where two do."""
    file = tmp_path / "some.csv"
    file.write_text(first, encoding="utf-8")
    with pytest.raises(Unreadable, match="the first line does not say what is in the file"):
        kind_of(file)


def test_a_book_that_fails_is_no_fault_of_the_lines(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk, a book busy for too long: nothing is said to be wrong with the file."""
    file = tmp_path / "some.csv"
    file.write_text(GOOD["count"], encoding="utf-8")

    def full(self: Book, *_: object) -> None:
        raise BookUnavailable(said("The disk is full."))

    with book_of(tmp_path) as book:
        monkeypatch.setattr(Book, "write_fresh", full)
        with pytest.raises(BookUnavailable):
            take(book, file, COUNTS, "ana", at("2026-03-06 08:00"))


@settings(max_examples=15, deadline=None)
@given(bad=st.lists(st.booleans(), min_size=1, max_size=24))
def test_every_line_is_either_in_the_book_or_told(tmp_path_factory: pytest.TempPathFactory, bad: list[bool]) -> None:
    """Wherever the bad lines stand."""
    folder = tmp_path_factory.mktemp("told")
    lines = [f"P-07,2026-03-02 06:{n:02d},{n},{0 if wrong else 1},," for n, wrong in enumerate(bad)]
    (folder / "some.csv").write_text("\n".join([MADE, *lines]), encoding="utf-8")
    with book_of(folder) as book:
        taken = take(book, folder / "some.csv", QUANTITIES, "ana", at("2026-03-06 08:00"))
        told = [entry.pieces for entry in book.entries_of("P-07", "quantity")]  # type: ignore[attr-defined]
    assert told == [n for n, wrong in enumerate(bad) if not wrong]
    problems = [int(str(line).split()[1][:-1]) for line in taken.problems]
    assert problems == [n + 2 for n, wrong in enumerate(bad) if wrong]
