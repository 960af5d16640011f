"""A book made again from the text of its export: the same entries, links and board, or a named line and nothing."""

from __future__ import annotations

import csv
import io
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import CLEAN, at, book_of, write
from upkeep.book import Book

ENTRIES = """
    2026-03-02 06:00 fit M-12 in P-07 at P-07 100 by ana
    2026-03-02 06:30 sign M-12/clean for 2026-03-02/early by ana
    2026-03-03 01:30 count P-07 4000 by ben because "night"
"""
LATER = "2026-03-06 08:00"


class Shop:
    """A book in Berlin, its export in a file, and somebody who makes it again."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.book = book_of(folder, ENTRIES, "Europe/Berlin", tasks=[CLEAN])
        write(self.book, '2026-03-29 03:30 remark M-12 "=1+1 after the clock change" by ana')
        self.path = self.book.path
        self.text, self.again = folder / "all.txt", folder / "again.book"
        self._terminal = Terminal(self.path, capsys)
        self.exports()

    def exports(self) -> Said:
        said = self._terminal.types(LATER, "export")
        self.text.write_text(said.out, encoding="utf-8")
        return said

    def changes(self, old: str, new: str) -> int:
        """Changes the export; the number of the first line that is another one."""
        lines = self.text.read_text(encoding="utf-8").splitlines()
        changed = [line.replace(old, new) for line in lines]
        self.text.write_text("\n".join(changed), encoding="utf-8")
        return next(number for number, (was, now) in enumerate(zip(lines, changed, strict=True), 1) if was != now)

    def makes(self) -> Said:
        return self._terminal.types(LATER, "restore", "--from-text", self.text, self.again)

    def types(self, *words: object) -> Said:
        return self._terminal.types(LATER, *words)


@pytest.fixture
def shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shop:
    """That shop."""
    return Shop(tmp_path, capsys)


@pytest.mark.parametrize("begins", ["as printed", "without its first line"])
def test_an_export_becomes_the_same_book(shop: Shop, begins: str) -> None:
    """Names and moments as they stand, the same last link, the same board; also where the heading was cut off."""
    if begins != "as printed":
        shop.text.write_text(shop.text.read_text(encoding="utf-8").partition("\n")[2], encoding="utf-8")
    said = shop.makes()
    assert (said.code, said.err) == (0, "")
    moment = at(LATER)
    with Book.open(shop.again) as again:
        proof = again.prove()
        assert proof.clean
        assert f"Last link: {proof.hash}" in said.out
        assert proof.hash == shop.book.prove().hash
        assert list(again.export()) == list(shop.book.export())
        assert again.board(moment) == shop.book.board(moment)
    assert [path.name for path in shop.again.parent.glob(".*")] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [(" count P-07 4000 ", " count P-07 4001 "), (" by ben ", " by tom "), ("03-03 01:30", "03-03 01:31")],
)
def test_the_first_line_that_was_changed_is_named(shop: Shop, old: str, new: str) -> None:
    """And no book is made."""
    line = shop.changes(old, new)
    said = shop.makes()
    assert said.code == 1
    assert f"Line {line} does not follow from the lines before it" in said.err
    assert "Nothing was made." in said.err
    assert not list(shop.again.parent.glob("*again*"))


def test_a_line_that_is_missing_is_noticed_at_the_next(shop: Shop) -> None:
    """Its link does not follow from the one before."""
    lines = shop.text.read_text(encoding="utf-8").splitlines(True)
    del lines[-2]
    shop.text.write_text("".join(lines), encoding="utf-8")
    said = shop.makes()
    assert f"Line {len(lines)} does not follow" in said.err
    assert not shop.again.exists()


def test_admission_is_not_asked(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule made stricter judges what is written from then on."""

    def never(*_: object) -> None:
        raise AssertionError("admission was asked")

    monkeypatch.setattr("upkeep.admission.admission.Admission.admitted", never)
    monkeypatch.setattr("upkeep.admission.admission.Admission.counted", never)
    monkeypatch.setattr("upkeep.admission.rules.check_moment", never)
    assert shop.makes().code == 0


def test_it_is_brought_back_under_a_new_name_only(shop: Shop) -> None:
    """A book that is there stays, and so does what another has left beside its name."""
    for name in ("again.book", "again.book-wal"):
        there = shop.again.with_name(name)
        there.write_text("something")
        said = shop.makes()
        assert (said.code, there.read_text()) == (1, "something")
        assert f"Already there: {there}" in said.err
        there.unlink()


def test_an_export_without_links_is_brought_back_with_a_word(shop: Shop) -> None:
    """As earlier programs print it: what cannot be compared is said."""
    lines = [line.partition(" link ")[0] for line in shop.text.read_text(encoding="utf-8").splitlines()]
    shop.text.write_text("\n".join(lines), encoding="utf-8")
    said = shop.makes()
    assert "Compare the last link" in said.out
    with Book.open(shop.again) as again:
        assert again.prove().hash == shop.book.prove().hash


def test_lines_that_people_typed_are_no_export(shop: Shop) -> None:
    """They are entered; the sentence names the line."""
    lines = [line.partition(" salt ")[0] for line in shop.text.read_text(encoding="utf-8").splitlines()]
    shop.text.write_text("\n".join(lines), encoding="utf-8")
    said = shop.makes()
    assert "Line 2 does not follow from the lines before it: it carries no salt" in said.err


def test_an_export_of_a_damaged_book_says_where_it_leaves_the_chain(shop: Shop) -> None:
    """All that can be read is printed; the sentence comes at the end, with the first number."""
    shop.book.close()
    with closing(sqlite3.connect(shop.path)) as connection:
        connection.execute("DROP TRIGGER entries_never_change")
        connection.execute("UPDATE entries SET words = 'count P-07 4001' WHERE words = 'count P-07 4000'")
        connection.commit()
        (number,) = connection.execute("SELECT id FROM entries WHERE words = 'count P-07 4001'").fetchone()
        (entries,) = connection.execute("SELECT count(*) FROM entries").fetchone()
    said = shop.exports()
    assert said.code == 1
    assert f"Entry #{number} of {shop.path} does not follow from the entries before it." in said.err
    assert len(said.out.splitlines()) == 1 + entries


def test_an_entry_that_is_no_text_is_told_by_its_number(shop: Shop) -> None:
    """A byte that no letter begins with: the export ends there."""
    shop.book.close()
    with closing(sqlite3.connect(shop.path)) as connection:
        connection.execute("DROP TRIGGER entries_never_change")
        connection.execute("UPDATE entries SET words = CAST(x'ff' AS TEXT) WHERE words = 'count P-07 4000'")
        connection.commit()
        (number,) = connection.execute("SELECT id FROM entries WHERE words = CAST(x'ff' AS TEXT)").fetchone()
    said = shop.exports()
    assert said.code == 1
    assert f"Entry #{number} of {shop.path} does not follow from the entries before it." in said.err


def test_the_table_holds_every_entry(shop: Shop, tmp_path: Path) -> None:
    """By the standard library's own reader; nothing in it is a formula, and no file is replaced unasked."""
    table = tmp_path / "all.csv"
    assert shop.types("export", "--csv", table).code == 0
    rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"))))
    assert len(rows) == shop.book.prove().entries + 1
    (count,) = [row for row in rows if row["words"] == "count P-07 4000"]
    assert (count["at"], count["by"], count["because"]) == ("2026-03-03T00:30:00Z", "ben", "night")
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
    assert shop.types("export", "--csv", table).code == 1
