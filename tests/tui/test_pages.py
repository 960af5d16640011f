"""Pages of text at a terminal: suspect product and open questions, over a real book."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, INSPECT, at, book_of, define, item, write, write_each
from tests.tui.terminal import LARGE, SMALL, terminal
from upkeep.book import Book

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
SLUG = {**HEIGHT, "id": "slug-height", "title": "Slug height", "upper": 1.2}
MORE = (
    define("crimp", "CR-1", title="Tab on 0.5", family="tab", points=[HEIGHT, SLUG]),
    item("DS-031", kind="die set", family="tab", place="rack"),
)
FAILED = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2 by ana
    2026-03-02 08:00 count P-07 1206950 by ana
    2026-03-02 08:00 check DS-031 sample of CR-1 with G-1 crimp-height=1.26 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which a check failed this morning."""
    with book_of(tmp_path, FAILED, tasks=[CLEAN, INSPECT], more=MORE) as book:
        yield book.path


async def test_suspect_product_is_two_keys_from_the_board(path: Path) -> None:
    """The list with its lines, at 80 columns; esc goes back to the board."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=SMALL) as here:
        await here.press("b", "l", "enter")
        assert "2,650 strokes suspect" in here.text
        assert "P-07" in here.text
        assert all(len(row) <= 80 for row in here.rows)
        await here.press("escape")
        assert "to do" in here.text


async def test_a_page_follows_the_book(path: Path) -> None:
    """What is judged elsewhere leaves the page."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00"))) as here:
        await here.press("l")
        await here.type("about", "enter")
        assert "Questions about the counts" in here.text


async def test_pages_of_the_plant_are_offered_by_name(path: Path) -> None:
    """Open faults, the figures of the month, the gauges: the same texts as on the command line."""
    with Book.open(path) as book:
        write(book, '2026-03-02 08:10 fault M-12 "feeds only half" by ana')
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=SMALL) as here:
        for name, words in (("faults", "feeds only half"), ("figures", "Definition."), ("gauges", "crimp micrometer")):
            await here.press("l")
            await here.type(name[:4], "enter")
            assert words in here.text
            assert all(len(row) <= 80 for row in here.rows)
            await here.press("escape")


async def test_the_page_of_a_line_leads_to_the_pages_of_its_item(path: Path) -> None:
    """Life, checks, history; esc goes back to the page of the line."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=SMALL) as here:
        await here.press("b", "t", "enter")
        pages = (("life", "since new"), ("checks", "SET-UP DS-031"), ("history", "fit DS-031 in M-12"))
        for name, words in pages:
            await here.press("l")
            assert "Which page about DS-031?" in here.text
            await here.type(name, "enter")
            assert words in here.text
            await here.press("escape")
            assert "When it is due" in here.text


async def test_a_trend_is_drawn_as_plain_text(path: Path) -> None:
    """Over the strokes of the set, with its limits; every row of the plot stays within 80 columns."""
    worn = "".join(
        f"2026-03-02 {hour:02d}:00 count P-07 {1206950 + 3000 * (hour - 8)} by ana\n"
        f"2026-03-02 {hour:02d}:00 check DS-031 audit of CR-1 with G-1 slug-height={1.15 + 0.004 * (hour - 8)} by ana\n"
        for hour in range(9, 16)
    )
    with Book.open(path) as book:
        write_each(book, worn)
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 16:00")), size=LARGE) as here:
        await here.press("t", "slash")
        await here.type("DS-031", "enter", "enter", "l", "enter")
        assert "Life of DS-031, with its trend" in here.rows[0]
        assert "upper limit" in here.text
        assert "measured (means)" in here.text
        assert all(len(row) <= 80 for row in here.rows[1:-2])


async def test_a_page_the_book_refuses_says_why(tmp_path: Path) -> None:
    """In place of the page, which is never left as something that still comes."""
    with book_of(tmp_path, "2026-03-02 06:00 fit M-12 in P-07 by ana", tasks=[CLEAN]) as book:
        path = book.path
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-02-20 09:00"))) as here:
        await here.press("l")
        await here.type("figures", "enter")
        assert "Being prepared" not in here.text
        assert "book began" in here.text


MISREAD = """
    2026-03-02 06:00 count P-07 1204300 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1204300 by ana
    2026-03-02 07:00 count P-07 1207310 by ana
"""


@pytest.fixture
def contradicted(tmp_path: Path) -> Iterator[tuple[Path, int]]:
    """The file of a book in which a count is kept against an earlier one, and the number of that one."""
    with book_of(tmp_path, MISREAD, tasks=[CLEAN]) as book:
        earlier = book.newest_written(1)[0].entry
        write(book, f"2026-03-02 08:00 count P-07 1206950 disputes #{earlier} by ben")
    yield book.path, earlier
    with Book.open(book.path) as book:
        assert book.prove().clean


NINE = "2026-03-02 09:00"


@pytest.mark.parametrize(
    ("keys", "strokes"),
    [
        (("enter", *"1204310", "enter"), 2650),
        (("down", "enter"), 2650),
        (("down", "down", "enter"), 3010),
    ],
)
async def test_the_lead_settles_which_count_is_wrong_on_the_page_that_asks(
    contradicted: tuple[Path, int], keys: tuple[str, ...], strokes: int
) -> None:
    """With what the counter showed, without a figure, or for the earlier one; the question is gone then."""
    path, earlier = contradicted
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter")
        assert f"#{earlier} of 2026-03-02 07:00, written by Ana, is wrong" in here.text
        await here.press("s", *keys)
        assert "kept against it: 2026-03-02 08:00 count P-07 1206950" in here.text
        await here.press("enter")
        assert "Say how you know" in here.text
        await here.type("read again", "enter")
        assert f"SETTLED #{earlier}, by Lea." in here.text
        assert "written by Ana, is wrong" not in here.text
    with Book.open(path) as book:
        assert book.disputed(at(NINE)) == ()
        assert book.life("M-12", at(NINE)).since_new[1] == strokes
        assert 'because "read again"' in book.newest_written(1)[0].text


async def test_a_figure_that_is_none_is_asked_for_again(contradicted: tuple[Path, int]) -> None:
    """Nothing is written, and the reason stays in its field."""
    path, _ = contradicted
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter", "s", "enter", "enter")
        await here.type("read again", "enter")
        assert "read again" in here.text
        assert "SETTLED" not in here.text
        await here.press("escape")
    with Book.open(path) as book:
        assert len(book.disputed(at(NINE))) == 1


async def test_what_was_settled_is_undone_from_the_board(contradicted: tuple[Path, int]) -> None:
    """All its entries: the question stands there again."""
    path, earlier = contradicted
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter", "s", "down", "enter")
        await here.type("read again", "enter", "escape", "u")
        assert f"UNDONE: what was settled about #{earlier}, by Lea." in here.text
    with Book.open(path) as book:
        assert [one.entry for one in book.disputed(at(NINE))] == [earlier]


async def test_only_who_may_correct_settles_a_count(contradicted: tuple[Path, int]) -> None:
    """It is said before anything is asked, and who may be asked."""
    path, _ = contradicted
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter", "s")
        told = " ".join(here.text.split())
        assert "Ben (operator) may not strike somebody else's entry" in told
        assert "Ask Lea." in told
        assert "was read wrong" not in told


async def test_what_was_seen_is_said_on_the_page_that_asks(contradicted: tuple[Path, int]) -> None:
    """By those who may, once; it is asked no more, and can be undone."""
    path, earlier = contradicted
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter", "n")
        assert "What has been seen?" in here.text
        await here.press("enter")
        assert "SEEN by Lea: P-07. It is asked no more." in here.text
        assert f"#{earlier} of 2026-03-02 07:00" not in here.text
        await here.press("n")
        assert "Nothing waits to be seen here." in here.text
        await here.press("escape", "u")
        assert "UNDONE: what was seen about P-07, by Lea." in here.text
        await here.press("o")
        await here.type("ben", "enter", "l")
        await here.type("about", "enter", "n")
        assert "Ben (operator) may not say that a question or alarm was seen" in " ".join(here.text.split())
    with Book.open(path) as book:
        assert [one.about for one in book.questions(at(NINE))] == ["P-07"]


async def test_of_several_readings_the_one_to_settle_is_picked(contradicted: tuple[Path, int]) -> None:
    """And where none is contradicted the key says so."""
    path, earlier = contradicted
    with Book.open(path) as book:
        write_each(book, "2026-03-02 06:00 count P-08 900 by ana\n2026-03-02 07:00 count P-08 990 by ana\n")
        other = book.newest_written(1)[0].entry
        write(book, f"2026-03-02 08:00 count P-08 950 disputes #{other} by ben")
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at(NINE)), size=SMALL) as here:
        await here.press("l")
        await here.type("about", "enter", "s")
        assert "Which reading?" in here.text
        for number in (earlier, other):
            if number == other:
                await here.press("s")
            else:
                await here.type("P-07", "enter")
            await here.press("down", "enter")
            await here.type("smudged", "enter")
            assert f"SETTLED #{number}" in here.text
        await here.press("s")
        assert "nothing to settle here" in here.text


async def test_what_becomes_of_a_line_is_entered_by_quantity_from_the_page(path: Path) -> None:
    """One key on the page of suspect product, then only fields: what, how many, why (11 actions with the page)."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=LARGE) as here:
        await here.press("b", "l", "enter", "d")
        assert "Which hold list" in here.text
        await here.press("1")  # sorted
        await here.type("2600", "enter")  # line 1 and its list stand there already; scrapped, released, reworked
        await here.press("enter", "enter")
        await here.type("bins 4 to 6", "enter")
        await here.press("enter", "enter", "enter")
        assert "2,600 pieces are told of; the line has at least 2,650 strokes" in here.text
        with Book.open(path) as book:
            (judged,) = [line.text for line in book.history() if "disposition" in line.text]
        assert "sorted" in judged
        assert "scrapped=2600" in judged


async def test_the_evidence_of_a_die_set_is_read_from_its_page(path: Path) -> None:
    """Its checks, its charts, the gauges that measured it with their records, how many good pulls prove what."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(at("2026-03-02 09:00")), size=LARGE) as here:
        await here.press("b", "t", "enter")
        pages = (("checks", "SET-UP DS-031"), ("gauges that", "crimp micrometer"), ("pull", "59 good: up to 5 %"))
        for name, words in (*pages, ("control", "at least 8 values are needed")):
            await here.press("l")
            await here.type(name, "enter")
            assert words in here.text, name
            await here.press("escape")
