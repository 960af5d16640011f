"""One page about a set-up: settings, first piece, adjusting, last piece, and who."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, write
from upkeep.book import Book
from upkeep.errors import NotFound
from upkeep.said import said

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 2}
MORE = (
    define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT], looks=["burr"]),
    item("DS-031", family="tab"),
)
TEXT = """
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:05 check DS-031 set-up of T-05 dial=15.0 cam=2.0 order A-1 by ana
    2026-03-02 06:15 check DS-031 set-up of T-05 dial=14.0 cam=2.0 order A-1 by ana
    2026-03-02 06:10 check DS-031 as-found of T-05 with G-1 crimp-height=1.26,1.262 by ana
    2026-03-02 06:20 check DS-031 as-left of T-05 with G-1 crimp-height=1.2,1.202 by ana
    2026-03-02 06:25 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.2 burr:good order A-1 reel R-1 by lea
    2026-03-02 13:50 check DS-031 last-off of T-05 with G-1 crimp-height=1.22,1.224 burr:good order A-1 by ben
    2026-03-02 14:10 check DS-031 set-up of T-05 dial=12.0 cam=2.0 order A-2 by ben
    2026-03-02 14:20 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.2 order A-2 by ben
"""


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A day of two set-ups with the same set on the same press."""
    return book_of(tmp_path, TEXT, more=MORE)


def test_a_page_holds_one_set_up_from_its_settings_to_its_last_piece(book: Book) -> None:
    """First-off against last-off, as found against as left: means and the share of the tolerance."""
    page = book.checks(at("2026-03-02 13:55")).set_up("DS-031")
    assert (page.press, page.since, page.until) == ("P-07", at("2026-03-02 06:00"), None)
    assert [row.occasion for row in page.checks] == ["set-up", "as-found", "set-up", "as-left", "first-off", "last-off"]
    (moved,) = page.first_to_last
    assert moved.first == pytest.approx(1.2)
    assert moved.last == pytest.approx(1.222)
    assert moved.moved == pytest.approx(0.022)
    assert moved.share == pytest.approx(0.22)
    (adjusted,) = page.found_to_left
    assert adjusted.moved == pytest.approx(-0.06)
    assert (page.orders, page.missing) == (("A-1",), ())


def test_before_any_set_up_the_answer_says_so(book: Book) -> None:
    """There is no moment to name at which one began."""
    with pytest.raises(NotFound, match=r"in this book\. No set-up of DS-031 had begun by then\.$"):
        book.checks(at("2026-03-02 05:00")).set_up("DS-031")


def test_nothing_is_set_up_on_a_press_that_was_never_checked(book: Book) -> None:
    """A press hangs on itself since ever: that is no set-up."""
    with pytest.raises(NotFound, match=r"No set-up of P-07 had begun by then\.$"):
        book.checks(at("2026-03-02 13:55")).set_up("P-07")
    with pytest.raises(NotFound, match=r"That set-up began 2026-03-02 06:00\.$"):
        book.checks(at("2026-03-02 06:01")).set_up("M-12")


def test_new_settings_begin_a_new_page(book: Book) -> None:
    """The second order of the day has its own; it still lacks its last piece."""
    page = book.checks(at("2026-03-02 15:00")).set_up("DS-031")
    assert (page.since, page.orders, page.missing) == (at("2026-03-02 14:10"), ("A-2",), (said("the last piece"),))
    assert book.checks(at("2026-03-03 15:00")).set_up("DS-031") == page


def test_the_first_piece_of_another_order_begins_a_new_page_too(book: Book) -> None:
    """Nothing was set anew, but the first piece is that of the new order."""
    write(book, "2026-03-02 18:00 check DS-031 last-off of T-05 with G-1 crimp-height=1.2,1.21 order A-2 by ben")
    write(book, "2026-03-02 18:30 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.21 order A-3 by ben")
    write(book, "2026-03-02 22:30 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.21 order A-3 by ben")
    second = book.checks(at("2026-03-02 18:29")).set_up("DS-031")
    assert (second.orders, second.missing) == (("A-2",), ())
    third = book.checks(at("2026-03-02 23:00")).set_up("DS-031")
    assert (third.orders, len(third.checks), third.since) == (("A-3",), 2, at("2026-03-02 18:30"))


def test_an_item_without_a_check_has_no_page(book: Book) -> None:
    """It says since when there is nothing."""
    with pytest.raises(NotFound, match="check in the set-up of 'DS-102'"):
        book.checks(at("2026-03-02 15:00")).set_up("DS-102")


def test_the_commands_write_and_show_it(book: Book, capsys: pytest.CaptureFixture[str]) -> None:
    """From the press to the page."""
    terminal = Terminal(book.path, capsys)
    told = terminal.types(
        "2026-03-02 22:00", "check", "DS-031", "last-off", "--crimp", "T-05", "--gauge", "G-1", "--point",
        "crimp-height=1.201,1.26", "--bad", "burr", "--order", "A-2", "--by", "ben",
    )  # fmt: skip
    assert told.code == 0
    assert "Note: crimp-height 1.26 is 0.01 mm above the limit of 1.25" in told.out
    page = terminal.types("2026-03-02 22:05", "first-off", "DS-031").out
    assert "OUT: crimp-height, burr" in page
    assert "burr BAD" in page
    assert max(map(len, page.splitlines())) <= 80
    rows = json.loads(terminal.types("2026-03-02 22:05", "first-off", "DS-031", "--json").out)["checks"]
    assert [row["occasion"] for row in rows] == ["set-up", "first-off", "last-off"]
    refused = terminal.types("2026-03-02 22:10", "check", "DS-031", "sample", "--point", "crimp-height", "--by", "ben")
    assert refused.code == 2
