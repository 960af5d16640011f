"""The weekly due list as text pages."""

from __future__ import annotations

import pytest

from tests.papers.weeks import GOLDEN, WEEKS, row, week
from upkeep.papers.frame.framed_text import LINES
from upkeep.papers.frame.pages import page_text
from upkeep.papers.week.week_rows import week_cells
from upkeep.papers.week.week_text import week_text
from upkeep.wording.sentences import ENGLISH
from upkeep.wording.text import WIDTH, width_of


@pytest.mark.parametrize("name", WEEKS)
def test_pages_are_as_they_were_looked_at(name: str) -> None:
    """Byte for byte; ``python -m tests.papers.weeks`` writes them anew."""
    assert week_text(WEEKS[name], ENGLISH).encode() == (GOLDEN / f"{name}.txt").read_bytes()


def test_no_page_is_wider_than_80_columns_or_longer_than_60_lines() -> None:
    """Whatever people have written."""
    rows = [
        row(1, title="word " * 700, place="B" * 32, item="A" * 32),
        row(12345, title="線" * 90, strokes=10**90, due_strokes=10**90),
        *(row(number) for number in range(2, 200)),
    ]
    pages = week_text(week(rows, plant="Plant " * 40, printed_by="Somebody " * 20), ENGLISH).split("\f")
    for page in pages:
        assert page.count("\n") <= LINES
        assert max(width_of(line) for line in page.splitlines()) <= WIDTH
        assert page.endswith("Write down the time you did the work, not the time you write.\n")


def test_pages_are_counted() -> None:
    """Page x of y stands at the right end of each page's first line."""
    pages = week_text(week(row(number) for number in range(1, 201)), ENGLISH).split("\f")
    assert len(pages) > 9
    for number, page in enumerate(pages, 1):
        assert page.splitlines()[0].endswith(f" {page_text(number, len(pages), ENGLISH)}")


def test_every_row_stands_once_with_room_to_write() -> None:
    """Also over many pages."""
    listed = week(row(number) for number in range(1, 201))
    lines, boxes = week_text(listed, ENGLISH).splitlines(), week_cells(listed, ENGLISH).boxes
    numbers = [int(line[:5]) for line in lines if line[:5].strip().isdigit()]
    assert numbers == list(range(1, 201))
    assert sum(all(f"{box} __" in line for box in boxes) for line in lines) == 200


def test_a_long_text_goes_on_overleaf() -> None:
    """A row longer than a page is parted, and nothing of it is lost."""
    words = [f"w{number}" for number in range(1500)]
    text = week_text(week([row(1, title=" ".join(words))]), ENGLISH)
    assert text.count("\f") > 1
    assert [word for word in text.replace(";", " ").split() if word in set(words)] == words


def test_week_53_reaches_into_january() -> None:
    """28 December 2026 to 3 January 2027 is week 53 of 2026 (ISO 8601)."""
    assert week_text(WEEKS["week_53"], ENGLISH).startswith(
        "Weekly due list 2026-W53   Mon 2026-12-28 to Sun 2027-01-03"
    )


def test_text_from_people_cannot_command_a_printer() -> None:
    """Control characters are written as numbers; the only ones on a page are line and form feeds."""
    text = week_text(WEEKS["week_mixed"], ENGLISH)
    assert "[U+0007]" in text
    assert "[U+001B]" in text
    assert {letter for letter in text if not letter.isprintable()} == {"\n"}


def test_the_pages_own_words_are_ascii() -> None:
    """So that any printer has them; only people's own texts have other letters."""
    assert week_text(WEEKS["week_two_pages"], ENGLISH).isascii()


def test_work_is_added_up_in_hours() -> None:
    """Minutes are summed; jobs of unknown length are counted apart."""
    listed = week([row(1, minutes=90.0), row(2, minutes=0.0), row(3, minutes=7.5)])
    assert "3 jobs, 1 h 38 min of work, 1 without minutes." in week_cells(listed, ENGLISH).heading[0]
    assert "1 job, 0 h 12 min of work." in week_cells(week([row(1)]), ENGLISH).heading[0]


def test_an_estimate_is_marked_once() -> None:
    """Before the strokes, whether or not a day stands there as well."""
    counted = {"strokes": 5, "due_strokes": 9, "estimated": True}
    cells = week_cells(week([row(1, due_day=None, **counted), row(2, **counted)]), ENGLISH)
    assert [one.facts.partition("; late")[0] for one in cells.rows] == [
        "est. 5 of 9 strokes",
        "Mon 2; est. 5 of 9 strokes",
    ]
