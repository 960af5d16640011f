"""Work that waits for parts stands so on the lead's page and on the weekly list, frozen or not."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, write
from tests.stories.test_the_shelf import CHANGE, LINE, MORE
from upkeep.book import Book
from upkeep.papers.week.week_text import week_text
from upkeep.views.overview.home import GoingOn
from upkeep.wording.sentences import ENGLISH

FRIDAY = "2026-03-06 12:00"
MISSING = "SP-SPRING, 1 piece short, expected 2026-03-12"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Two modules wait for two springs each, and three lie there; more are ordered."""
    with book_of(tmp_path, tasks=[CHANGE], more=MORE) as made:
        write(made, "2026-03-02 07:00 receive SP-SPRING 3 by sam")
        write(made, "2026-03-02 07:00 buy SP-SPRING 5 expected 2026-03-12 by sam")
        yield made


def on_home(book: Book, moment: str) -> list[tuple[str | None, str]]:
    """What waits for parts on the lead's page."""
    rows = book.home(at(moment)).now
    return [(row.item, str(row.what)) for row in rows if row.part is GoingOn.PARTS]


def test_the_lead_sees_what_waits_for_parts_and_when_they_come(book: Book) -> None:
    """The more urgent job gets what is there; a delivery ends it."""
    ((item, what),) = on_home(book, FRIDAY)
    assert (item, what.endswith(f"waits for parts: {MISSING}")) == ("M-44", True)
    write(book, "2026-03-06 08:00 receive SP-SPRING 5 by sam")
    assert on_home(book, FRIDAY) == []


def test_the_weekly_list_says_which_rows_wait_for_parts(book: Book) -> None:
    listed = book.week(at(FRIDAY), by="yara")
    assert {row.item: [part.short for part in row.short] for row in listed.rows} == {"M-12": [], "M-44": [1]}
    words = " ".join(week_text(listed, ENGLISH).split())
    assert f"waits for parts: {MISSING}" in words


def test_what_was_done_since_a_week_was_frozen_takes_nothing_from_its_kits(book: Book) -> None:
    """Nor does it stand among them any more."""
    book.write([book.week_proposal("2026-W10", at(FRIDAY), "lea")], at(FRIDAY))
    write(book, "2026-03-06 12:00 agree-week 2026-W10 by lea")
    book.write([book.week_freezing("2026-W10", at(FRIDAY), "lea")], at(FRIDAY))
    assert [kit.item for kit in book.kits(at(FRIDAY), "2026-W10").kits] == ["M-12", "M-44"]
    write(book, f"2026-03-06 13:00 sign {LINE} for 2026-03-08 used SP-SPRING=1 by tom")
    found = book.kits(at("2026-03-06 14:00"), "2026-W10")
    assert [(kit.item, kit.missing) for kit in found.kits] == [("M-44", ())]
