"""Every page of the kept book, read in a made-up language, has no English but what the plant wrote.

Kept book 8 has every kind of entry but those of the shelf and of planned weeks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from io import BytesIO
from itertools import chain
from pathlib import Path

import pytest
from freezegun import freeze_time
from pypdf import PdfReader

from demo_plant.build import build
from tests.clock import Clock
from tests.kept_book import books, copy_of
from tests.station.visitor import Plant
from tests.templates import LETTERS, in_letters, write_letters
from tests.wording.reading import Written
from tui.screens.frame.item_pages import item_papers
from tui.screens.frame.pages import PAPERS
from upkeep.book import Book
from upkeep.cli.run import run
from upkeep.errors import StrokebookError
from upkeep.papers.board_text import why_text
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.plant.model import Kind
from upkeep.station.server.desk import Desk
from upkeep.station.server.gate import Rates
from upkeep.station.server.setting import Setting
from upkeep.wording import sentences
from upkeep.wording.sentences import Reader, text

READER = Reader(LETTERS)
AT = datetime(2026, 3, 9, 12, 0, tzinfo=UTC)
"""In the middle of what the kept book tells."""


@pytest.fixture(scope="module", autouse=True)
def catalogues(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with the catalogue of the made-up language, and commands that are read in it."""
    import sys

    folder = tmp_path_factory.mktemp("catalogues")
    write_letters(folder)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sentences, "CATALOGUES", folder)
        for name, module in list(sys.modules.items()):
            if name.startswith("upkeep.cli") and hasattr(module, "READER"):
                patched.setattr(module, "READER", READER)
        yield folder


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of kept book 8."""
    (eighth,) = (each for each in books() if each.stem == "book-8")
    return copy_of(eighth, tmp_path_factory.mktemp("kept"))


@pytest.fixture(scope="module")
def book(kept: Path) -> Iterator[Book]:
    """The same, open."""
    with Book.open(kept) as book:
        yield book


@pytest.fixture(scope="module")
def written(book: Book) -> Written:
    """What the plant wrote in it, and what is a word of a command or of an address in any language."""
    words = [line.occurrence for line in book.board(AT).rows if line.occurrence != "extra"]
    words.append(book.week(AT, by="lea").letters)  # which stand for its rows
    return Written(
        book, "English", "strokebook", "hand-cycle", "first-piece", "guard", "pull", "block", "step", "tab", *words
    )


SEAL = re.compile(r"(?:[A-Z2-7]{5}-){4}[0-9A-Z]|[*]R\d+[.]\d+[.][A-Z2-7]{4}[0-9A-Z]")
"""The letters of a seal or of the code of a row, which are words of no language."""

ENDS_WITH = {"picture --check": 1}
"""With what a command ends that finds something: a kept book has lost its pictures."""


def printed(command: str, path: Path, at: datetime, capsys: pytest.CaptureFixture[str]) -> str:
    """What a command on a book prints at a moment, without checksums, seals and links of the chain."""
    capsys.readouterr()
    with freeze_time(at):
        assert run([*command.split(), "--book", str(path)]) == ENDS_WITH.get(command, 0), command
    return re.sub(r"\b[0-9a-f]{64}\b", "", SEAL.sub("", capsys.readouterr().out))


COMMANDS = (
    "board --all",
    "board --role operator",
    "faults",
    "faults FAULT",
    "figures --from 2026-03-01 --to 2026-03-09",
    "gauge",
    "gauge G-1",
    "hints --by lea",
    "keys",
    "life CP-b",
    "questions",
    "rights",
    "round P-03",
    "round rack",
    "suspect",
    "first-off DS-102",
    "forecast CP-a/worn",
    "causes P-03",
    "picture --check",
    "week --by lea",
    "prove",
)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_answers_in_the_language_of_its_reader(
    command: str, kept: Path, written: Written, capsys: pytest.CaptureFixture[str]
) -> None:
    with Book.open(kept) as book:
        fault = book.faults(AT).listing().faults[0].number
    assert written.english(printed(command.replace("FAULT", str(fault)), kept, AT, capsys)) == set()


def test_pages_of_many_figures_are_read_in_the_language_of_their_reader(
    long: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Charts, capability, pull tests, lives, wear: of the demo plant."""
    if not long:
        pytest.skip("the demo plant is made for it: --long")
    with build(tmp_path / "demo.book", end=AT, days=30, seed=7) as book:
        written = Written(book, "um", "block")
        sets = [item for item in book.known.items.values() if item.kind is Kind.DIE_SET][:3]
        of_sets = ("chart {} crimp-height", "capability {} crimp-height", "pulls {}", "life {}")
        families = {f"lives {item.family}" for item in sets}
        commands = [*families, *(command.format(item.id) for item in sets for command in of_sets)]
        for command in commands:
            assert written.english(printed(command, book.path, AT, capsys)) == set(), command


def test_why_a_line_is_due_is_told_in_the_language_of_its_reader(book: Book, written: Written) -> None:
    """Of every line, whatever asks for it or holds it."""
    for line in book.board(AT).rows:
        assert written.english(why_text(line, book.zone, book.names, READER)) == set(), line.line


def test_the_pages_of_the_screens_are_read_in_the_language_of_their_reader(book: Book, written: Written) -> None:
    """Those of the plant, and those of every item but its history and its dossier, which have the text of entries."""
    items = [item for item in book.known.items.values() if not item.scrapped]
    of_items = chain.from_iterable(item_papers(item.id, item.kind).items() for item in items)
    for name, paper in (*PAPERS.items(), *of_items):
        if name in ("history", "dossier"):
            continue
        try:
            page = paper.text(book, AT, READER)
        except StrokebookError as nothing:  # told below the page's title
            page = text(nothing.said, READER)
        assert written.english(page) == set(), (name, str(paper.title))


def test_the_weekly_list_is_printed_in_the_language_of_its_reader(book: Book, written: Written) -> None:
    document = PdfReader(BytesIO(week_pdf(book.week(AT, by="lea"), READER)))
    assert written.english(SEAL.sub("", " ".join(page.extract_text() for page in document.pages))) == set()


def test_the_pages_of_a_station_are_read_in_the_language_of_their_reader(kept: Path, written: Written) -> None:
    """Who is here, the count, the round, the form of a sign-off, what was found."""
    desk = Desk(Setting(kept, clock=Clock(AT), language=LETTERS))
    desk.open()
    try:
        visitor = Plant(desk, Clock(AT), kept, Rates(burst=1000)).visitor()
        for path in ("/", "/at/P-03/who", "/nowhere"):
            assert written.english(visitor.goes(path).text) == set(), path
        visitor.goes("/at/P-03/who").presses(in_letters("Go on"), person="ana")
        round_ = ("/at/P-03", "/at/P-03?count=later", "/at/P-03/count", "/at/P-03/found", "/at/P-03/found/not-fed")
        for path in (*round_, "/at/P-03/sign/P-03/wipe", "/at/P-03/sign/P-03/law", "/at/rack"):
            assert written.english(visitor.goes(path).text) == set(), path
            assert visitor.status == 200, path
    finally:
        desk.close()
