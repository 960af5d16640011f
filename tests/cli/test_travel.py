"""An item leaves one plant's book with its history and enters another's: stated there, not verified, with the seal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, INSPECT, at, book_of, define, item, person, plant
from upkeep.book import Book

NOW, LATER = "2026-03-03 12:00", "2026-03-03 13:00"
TEXT = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit CP-a in DS-031 by ana
    2026-03-02 05:00 fit M-12 in P-07 at P-07 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 9000 by ana
    2026-03-02 14:00 unfit DS-031 at P-07 9000 to rack by ana
"""


@pytest.fixture
def there(tmp_path: Path) -> Path:
    """The book of the plant it leaves."""
    (tmp_path / "there").mkdir()
    with book_of(tmp_path / "there", TEXT, tasks=[CLEAN, INSPECT], name="Plant A") as book:
        return book.path


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """The book of the plant it comes to: another book, with items of its own under the same ids."""
    (tmp_path / "here").mkdir()
    path = tmp_path / "here" / "plant.book"
    given = [plant(name="Plant B"), define("place", "shelf", title="Shelf", area="toolroom", route=1)]
    given += [person("lea", "Lea", "maintenance lead", "quality technician"), item("CP-a")]
    start = at("2026-03-01 00:00")
    with Book.create(path) as book:
        book.load(given, start, "lea", start)
    return path


def test_a_die_set_comes_with_its_strokes_and_says_whose_word_that_is(
    there: Path, here: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "ds.json"
    a, b = Terminal(there, capsys), Terminal(here, capsys)
    left = a.types(NOW, "transfer-out", "DS-031", file, "--to", "Plant B", "--by", "lea", "--because", "merged")
    assert left.code == 0, left.err
    sent = json.loads(file.read_text())
    assert [one["definition"]["id"] for one in sent["items"]] == ["DS-031", "CP-a"]
    assert a.types(NOW, "fit", "DS-031", "M-44", "--by", "ana").code == 1  # it has left for good
    taken = b.types(NOW, "transfer-in", file, "--place", "shelf", "--by", "lea", "--because", "merged")
    assert (taken.code, "--rename CP-a=NEW-ID" in taken.err) == (1, True)
    taken = b.types(
        NOW, "transfer-in", file, "--place", "shelf", "--rename", "CP-a=CP-a2", "--by", "lea", "--because", "merged"
    )
    assert taken.code == 0, taken.err
    life = json.loads(b.types(LATER, "life", "DS-031", "--json").out)
    assert life["since_new"][1] == 9000
    assert json.loads(b.types(LATER, "life", "CP-a2", "--json").out)["before_book"] == 9000
    history = b.types(NOW, "history", "DS-031").out
    assert "stated, not verified: from Plant A, DS-031, 9,000 strokes there" in " ".join(history.split())
    assert b.types(NOW, "prove").code == 0
    assert a.types(NOW, "prove").code == 0


def test_what_still_hangs_does_not_leave(there: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = Terminal(there, capsys).types(NOW, "transfer-out", "M-12", tmp_path / "m.json", "--to", "B", "--by", "lea")
    assert (told.code, "M-12 is in P-07: take it out first" in told.err) == (1, True)
    assert not (tmp_path / "m.json").exists()


@pytest.mark.parametrize("content", ["", "{}", '{"strokebook_transfer": 2}', "[1]"])
def test_a_file_that_is_no_transfer_gets_a_sentence(
    here: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], content: str
) -> None:
    (tmp_path / "x.json").write_text(content)
    told = Terminal(here, capsys).types(NOW, "transfer-in", tmp_path / "x.json", "--place", "shelf", "--by", "lea")
    assert (told.code, "is no transfer of items" in told.err) == (1, True)
