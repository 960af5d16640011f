"""A reader of a made-up language finds no English but what the plant itself wrote.

Every template is written in Greek letters there, one for each Latin letter, so that what is left in Latin was not said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.papers.weeks import WEEKS
from tests.plants import CLEAN, book_of, write
from tests.templates import LETTERS, write_letters
from tests.tui.fake_book import MORNING, FakeBook
from tui.keys import Where, foot_at
from tui.present.board import head_rows
from tui.present.checking import occasion_rows
from tui.present.columns import layout
from tui.present.findings import finding_rows
from tui.present.moments import Now
from tui.present.signing import GRADES, grade_text
from tui.present.state_words import state_text
from tui.present.walk import count_rows, hanging_rows, head_row, numbered_row
from tui.screens.frame.help import help_rows
from upkeep.cli import options, saying
from upkeep.due.states import State
from upkeep.papers.fault_text import symptoms_text
from upkeep.papers.week.week_text import week_text
from upkeep.plant.names import Names
from upkeep.quality.symptoms import symptoms
from upkeep.scan_codes import row_code, seal_text
from upkeep.units.instants import Zone
from upkeep.views.board import BoardQuery
from upkeep.views.week import WeekList
from upkeep.wording import sentences
from upkeep.wording.sentences import Reader, text

READER = Reader(LETTERS)
NOW = Now(MORNING, Zone("Europe/Berlin"), Names(), READER)


@pytest.fixture(scope="module", autouse=True)
def catalogues(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with the catalogue of the made-up language."""
    folder = tmp_path_factory.mktemp("catalogues")
    write_letters(folder)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sentences, "CATALOGUES", folder)
        yield folder


def english(page: str, written: str = "") -> set[str]:
    """The words in Latin letters on a page that do not stand in what the plant wrote."""
    own = set(re.findall(r"[A-Za-z]{2,}", written))
    return {word for word in re.findall(r"[A-Za-z]{2,}", page) if word not in own}


def _of_plant(week: WeekList) -> str:
    rows = (f"{row.item} {row.place} {row.title} {row.task} {row.energy} {row.occurrence}" for row in week.rows)
    waiting = " ".join(question.about for question in week.waiting)
    codes = (str(row_code(week.revision, row.row, row.line)) for row in week.rows)
    printed = (seal_text(week.revision, week.link), week.letters, *codes)
    told = (week.plant, week.area or "", week.printed_by, week.oldest_count_press or "", waiting)
    return " ".join((*told, *printed, *rows))


@pytest.mark.parametrize("name", WEEKS)
def test_the_weekly_list_is_read_in_the_language_of_its_reader(name: str) -> None:
    """Heads, boxes, reasons, legend and page numbers."""
    assert english(week_text(WEEKS[name], READER), _of_plant(WEEKS[name])) == set()


@pytest.mark.parametrize("where", Where)
def test_the_keys_are_read_in_the_language_of_their_reader(where: Where) -> None:
    """At the foot and on the page of help."""
    foot = (f"{text(cap, READER)} {text(word, READER)}" for cap, word in foot_at(where))
    assert english(" ".join((*help_rows(where, READER), *foot))) == set()


def test_what_is_chosen_from_is_read_in_the_language_of_its_reader() -> None:
    """Occasions, grades, states and symptoms."""
    rows = (*occasion_rows(READER), *(grade_text(grade, READER) for grade in GRADES), *finding_rows(READER))
    assert english(" ".join((*rows, *(state_text(state, READER) for state in State)))) == set()
    ids = " ".join(symptom.id for symptom in symptoms())
    assert english(symptoms_text(symptoms(), READER), ids) == set()


def test_the_board_and_a_round_are_read_in_the_language_of_their_reader() -> None:
    """Their heads, columns and rows."""
    book = FakeBook()
    board, walk, columns = book.board(MORNING), book.round("P-07", MORNING), layout(400, READER)
    lines = (*board.rows, *walk.lines)
    rows = (
        *head_rows(board, BoardQuery(), NOW, "", 400, range(3)),
        columns.heads(READER),
        *(columns.row(line, NOW) for line in board.rows),
        head_row(walk, "", NOW, 400),
        *hanging_rows(walk, 400, READER),
        *count_rows(walk, NOW),
        *(numbered_row(row, 60, walk.shift, NOW, 400) for row in walk.rows),
    )
    written = " ".join(
        f"{line.item} {line.place} {line.title} {line.last_done_by} {line.area} {line.occurrence} {walk.shift}"
        for line in lines
    )
    assert english(" ".join(rows), f"{board.plant} {NOW.zone.name} {written}") == set()


def test_what_an_entry_moved_is_read_in_the_language_of_its_reader(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The states before and after among it."""
    monkeypatch.setattr(saying, "READER", READER)
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        written = write(book, '2026-03-02 08:00 hold M-12 by ana because "cracked"')
        options.say_written(book, written)
        source = book.known.task("clean").source
    lines = " ".join(change.line for change in written.changes)
    assert written.changes
    assert english(capsys.readouterr().out, f"{lines} cracked Ana {source}") == set()


def test_english_that_was_not_said_is_found() -> None:
    """The same page read in English is full of it."""
    assert {"Weekly", "Printed", "initials"} <= english(week_text(WEEKS["week_mixed"], Reader()))
