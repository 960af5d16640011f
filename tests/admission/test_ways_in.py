"""One admission for every way in: the same work gets the same caution and the same refusal at a screen, in the shell,
from a file, from a list that is merged and from a sheet off the wall."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.clock import Clock
from tests.commands import Terminal
from tests.plants import at, book_of, entries_of, person, task, write
from tests.station.visitor import Visitor
from tests.tui.terminal import LARGE
from tests.tui.terminal import terminal as screen
from upkeep.book import Book
from upkeep.entries.signing import Sign
from upkeep.station.server.app import application
from upkeep.station.server.desk import Desk
from upkeep.station.server.gate import Rates
from upkeep.station.server.setting import Setting
from upkeep.wording.cautions import caution_for
from upkeep.wording.sentences import ENGLISH, text

OIL = task("oil", "module", by=["operator"], every="7 days", early_days=3, energy="lock", caution="The nozzle is hot.")
PEOPLE = [
    person("quin", "Quin", "stores"),
    person("rob", "Rob", "operator", training=[{"work": "oil", "since": "2026-01-01", "until": "2026-03-01"}]),
    *(
        person(key, name, "operator", training=[{"work": "oil", "since": "2026-01-01"}])
        for key, name in (("ana", "Ana"), ("ben", "Ben"))
    ),
]
TOLD = """
    2026-03-01 22:00 count P-07 1000 by ana
    2026-03-01 22:00 fit M-12 in P-07 by ana
    2026-03-02 06:05 count P-07 1100 by lea
"""
BEGAN = "2026-02-23 00:00"
MONDAY, MORNING = "2026-03-02 07:00", "2026-03-02 06:00"
OCCURRENCE = "2026-03-02"
CAUTION = (
    "CAUTION for M-12/oil: Lock the press off, bleed the air and try to start it before hands go in. The nozzle is "
    "hot. Local law and your plant's own procedure decide."
)

ON_THE_PAGE = "CAUTION " + CAUTION.partition(": ")[2]
"""Over the form of the line itself."""

Way = Callable[[Path, Terminal, str], Awaitable[str]]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A module on a press whose slides are due to be oiled by somebody who is trained for it."""
    with book_of(tmp_path, TOLD, tasks=[OIL], more=PEOPLE, training=["oil"], begins=BEGAN) as book:
        return book.path


async def in_the_shell(path: Path, shell: Terminal, by: str) -> str:
    told = shell.types(MONDAY, "sign", "M-12/oil", "--for", OCCURRENCE, "--by", by)
    return told.out + told.err


async def from_a_file(path: Path, shell: Terminal, by: str) -> str:
    return _entered(path, shell, by)


async def from_a_list_that_is_merged(path: Path, shell: Terminal, by: str) -> str:
    return _entered(path, shell, by, "--merge")


async def from_a_sheet(path: Path, shell: Terminal, by: str) -> str:
    """The list was printed before anybody signed."""
    with Book.open(path) as book:
        revision = max(line.entry for line in book.history(limit=100) if line.at < at(MORNING))
        listed = book.week_of_revision(revision, "2026-W10", at=at("2026-03-01 23:30"))
        row = next(row.row for row in listed.rows if row.line == "M-12/oil")
    typed = path.with_name("sheet.txt")
    typed.write_text(f"{row} {MONDAY} {by}\n")
    head = ["--revision", revision, "--week", "2026-W10", "--printed", "2026-03-01 23:30", "--by", "lea"]
    head += ["--rows", listed.letters]
    told = shell.types(f"{MONDAY}:30", "sheet", typed, *head)
    return told.out + told.err


async def at_a_screen(path: Path, shell: Terminal, by: str) -> str:
    async with screen(lambda: Book.open(path), place="P-07", clock=Clock(at(MONDAY)), size=LARGE) as here:
        round_text = " ".join(here.text.split())
        await here.press("1")
        box = " ".join(here.text.split())
        await here.type(by, "enter")
        return f"{round_text} {box} {here.text}"


async def on_a_page(path: Path, shell: Terminal, by: str) -> str:
    with browser(path) as visitor:
        before = visitor.is_here(by).goes("/at/P-07/sign/M-12/oil").text
        if visitor.status == 200:
            visitor.presses(f"Sign as {by.title()}")
        return f"{before} {visitor.text}"


@contextmanager
def browser(path: Path) -> Iterator[Visitor]:
    """A browser at the station of the press."""
    desk = Desk(Setting(path, clock=Clock(at(MONDAY))))
    desk.open()
    try:
        app = application(desk, Rates(burst=1000))
        yield Visitor(TestClient(app, "http://localhost", client=("127.0.0.1", 50000)))
    finally:
        desk.close()


WAYS: list[Way] = [
    in_the_shell, from_a_file, from_a_list_that_is_merged, from_a_sheet, at_a_screen, on_a_page,
]  # fmt: skip
SHOWN = (at_a_screen, on_a_page)
"""Ways in that show what they ask; the others are typed whole."""
TYPED = [way for way in WAYS if way not in SHOWN]


def _entered(path: Path, shell: Terminal, by: str, *how: str) -> str:
    lines = path.with_name("lines.txt")
    lines.write_text(f"{MONDAY} sign M-12/oil for {OCCURRENCE} by {by}\n")
    told = shell.types(MONDAY, "enter", lines, *how)
    return told.out + told.err


def one_line(page: str) -> str:
    """Words without the breaks and borders of a page."""
    return " ".join(page.replace("┃", " ").split())


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
async def test_the_caution_comes_before_the_signature(path: Path, capsys: pytest.CaptureFixture[str], way: Way) -> None:
    """The energy control, what else the task cautions of and who decides, with the line it is for, once."""
    told = one_line(await way(path, Terminal(path, capsys), "ana"))
    assert (CAUTION if way is not on_a_page else ON_THE_PAGE) in told
    if way not in SHOWN:
        assert told.count("CAUTION") == 1
        assert told.index(CAUTION) < told.index("signed by Ana" if way is from_a_sheet else "Written as")
    with Book.open(path) as book:
        (entry,) = entries_of(book, f"{MONDAY} sign M-12/oil for extra by ana")
        assert isinstance(entry, Sign)
        assert " sign M-12/oil for 2026-03-02 by ana" in book.newest_written(1)[0].text
        (caution,) = book.write([entry], at("2026-03-02 07:10")).cautions
        assert text(caution_for(caution), ENGLISH) == CAUTION


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
@pytest.mark.parametrize("by", ["quin", "rob"])
async def test_whoever_may_not_is_refused_in_the_same_words(
    path: Path, capsys: pytest.CaptureFixture[str], way: Way, by: str
) -> None:
    """Without the role, or with training that ran out; nothing is written."""
    with Book.open(path) as book:
        before = book.newest_written(1)[0].entry
        refused = book.refusals(entries_of(book, f"{MONDAY} sign M-12/oil for {OCCURRENCE} by {by}"), at(MONDAY))
    told = one_line(await way(path, Terminal(path, capsys), by))
    assert str(refused[0]) in told
    assert "Ask Ana or Ben." in told
    assert ("ran out on 2026-03-01" if by == "rob" else "needs the role") in str(refused[0])
    with Book.open(path) as book:
        assert book.newest_written(1)[0].entry == before


@pytest.mark.parametrize("way", TYPED, ids=lambda way: way.__name__)
async def test_a_second_sign_off_is_told_when_by_whom_and_by_which_entry_it_was_done(
    path: Path, capsys: pytest.CaptureFixture[str], way: Way
) -> None:
    """Whoever comes second hears it, whichever way the first one came in."""
    with Book.open(path) as book:
        (number,) = write(book, f"{MORNING} sign M-12/oil for {OCCURRENCE} by ana").entries
    told = one_line(await way(path, Terminal(path, capsys), "ben"))
    first = (
        "Ana (#{}) was first, 2026-03-02 06:00" if way is from_a_list_that_is_merged else "Ana, 2026-03-02 06:00 (#{})"
    )
    assert first.format(number) in told


async def test_without_an_occurrence_the_shell_tells_who_was_first_as_well(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Then the next one is meant, and its window is not open yet."""
    with Book.open(path) as book:
        (number,) = write(book, f"{MORNING} sign M-12/oil for {OCCURRENCE} by ana").entries
    told = Terminal(path, capsys).types(MONDAY, "sign", "M-12/oil", "--by", "ben").err
    assert "M-12/oil is not open yet: its window opens 2026-03-06 00:00." in told
    assert f"It was last done: Ana, 2026-03-02 06:00 (#{number})." in told


def test_on_a_page_the_second_hears_it_too(path: Path) -> None:
    """The first signature came while the page was open."""
    with browser(path) as visitor:
        visitor.is_here("ben").goes("/at/P-07/sign/M-12/oil")
        with Book.open(path) as book:
            (number,) = write(book, f"{MORNING} sign M-12/oil for {OCCURRENCE} by ana").entries
        visitor.presses("Sign as Ben")
        assert f"is already signed: Ana, 2026-03-02 06:00 (#{number})" in visitor.text


async def test_at_a_screen_the_second_hears_it_too(path: Path) -> None:
    """The first signature came while the box was open."""
    async with screen(lambda: Book.open(path), place="P-07", clock=Clock(at(MONDAY)), size=LARGE) as here:
        await here.press("1")
        with Book.open(path) as book:
            (number,) = write(book, f"{MORNING} sign M-12/oil for {OCCURRENCE} by ana").entries
        await here.type("ben", "enter")
        assert f"is already signed: Ana, 2026-03-02 06:00 (#{number})" in one_line(here.text)
