"""A set that lay in the rack for months, and readings beyond a warning whatever they were taken for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.plants import book_of, define, item, line_at, state, task, why_of, write, write_each
from upkeep.book import Book

FIRST_USE = task("first-use", "die set", after=["storage"], stop_days=0)
BEFORE = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-05 14:00 unfit M-12 at 9000 by ana
"""
BACK = "2026-10-05 06:00 fit M-12 in P-07 at 9000 by ana"
LINE = "DS-031/first-use"


def after_months(tmp_path: Path, *told: str, **facts: Any) -> Book:
    """The set of this page, back on the press after seven months; ``told`` happened before."""
    book = book_of(tmp_path, BEFORE, tasks=[FIRST_USE], **facts)
    write_each(book, "\n".join((*told, BACK)))
    return book


def test_seven_months_in_the_rack_ask_for_first_use_though_nobody_told_of_storage(tmp_path: Path) -> None:
    """Due as it comes onto the press, stopped as soon as it runs without; signed it is asked for no more."""
    with after_months(tmp_path) as book:
        line = line_at(book, LINE, "2026-10-05 07:00")
        assert (line.state, line.occurrence.split(".")[0]) == ("due", "storage")
        assert "since the storage of 2026-10-05 06:00" in why_of(book, line)
        write(book, "2026-10-05 08:00 count P-07 9100 by ana")
        assert state(book, LINE, "2026-10-05 08:00") == "stop"
        write(book, f"2026-10-05 08:30 sign {LINE} for {line.occurrence} by ana")
        assert state(book, LINE, "2026-10-05 09:00") == "not required"
        write_each(
            book, f"2026-10-06 06:00 unfit M-12 at 9500 by ana\n{BACK.replace('05', '07').replace('9000', '9500')}"
        )
        assert state(book, LINE, "2026-10-07 07:00") == "not required"
        assert book.prove().clean


def test_taken_off_and_hung_again_it_is_asked_for_still(tmp_path: Path) -> None:
    """A short stay in between does not make the long rest forgotten."""
    with after_months(tmp_path) as book:
        write_each(book, "2026-10-06 06:00 unfit M-12 at 9000 by ana\n2026-10-07 06:00 fit M-12 in P-07 at 9000 by ana")
        assert state(book, LINE, "2026-10-07 07:00") == "due"


@pytest.mark.parametrize(
    ("told", "facts"),
    [
        ((), {"rest_days": 365}),
        (
            (
                '2026-04-01 06:00 pause DS-031 by lea because "spare"',
                "2026-10-01 06:00 resume DS-031 by lea",
                "2026-10-01 07:00 sign DS-031/first-use for storage.{resume} by ana",
            ),
            {},
        ),
    ],
)
def test_a_rest_that_is_short_by_the_plants_own_figure_or_was_made_good_asks_nothing(
    tmp_path: Path, told: tuple[str, ...], facts: dict[str, Any]
) -> None:
    """365 days in plant.toml; or told as storage, brought back and made ready in the rack some days before."""
    book = book_of(tmp_path, BEFORE, tasks=[FIRST_USE], **facts)
    resume = 0
    for line in told:
        (resume,) = write(book, line.format(resume=resume)).entries
    write(book, BACK)
    assert state(book, LINE, "2026-10-05 07:00") == "not required"


def test_ninety_days_are_a_rest_and_a_day_less_is_none(tmp_path: Path) -> None:
    """From the minute it came off: the 5th of March 14:00 to the 3rd of June 14:00."""
    for name, moment, expected in (("a", "13:59", "not required"), ("b", "14:00", "due")):
        (tmp_path / name).mkdir()
        book = book_of(tmp_path / name, BEFORE, tasks=[FIRST_USE])
        write(book, f"2026-06-03 {moment} fit M-12 in P-07 at 9000 by ana")
        assert state(book, LINE, "2026-06-03 15:00") == expected


# Readings beyond a warning

SLUG = {"id": "slug-height", "title": "Slug", "unit": "mm", "upper": 1.25, "warn_upper": 1.21}
MEASURE = task("measure", "die set", points=[SLUG])
REWORK = task("rework", "die set", after_warning=["slug-height"])
CRIMP = define("crimp", "CR-1", title="Tab", family="tab", points=[{**SLUG, "readings": 1}])
TAB = item("DS-031", kind="die set", family="tab", place="rack")
MEASURED = (
    "sign DS-031/measure for extra slug-height=1.215 by ana",
    "check DS-031 slug of CR-1 slug-height=1.215 by ana",
)


@pytest.mark.parametrize("measured", MEASURED)
def test_a_reading_beyond_the_warning_asks_for_the_work_whatever_it_was_taken_for(
    tmp_path: Path, measured: str
) -> None:
    """On request, as an extra or in a check of pieces; a later one within it takes that back."""
    with book_of(tmp_path, tasks=[MEASURE, REWORK], more=[CRIMP, TAB]) as book:
        assert state(book, "DS-031/rework", "2026-03-02 06:00") == "not required"
        write(book, f"2026-03-02 08:00 {measured}")
        line = line_at(book, "DS-031/rework", "2026-03-02 09:00")
        assert line.state == "due"
        assert "slug-height" in why_of(book, line)
        write(book, f"2026-03-02 10:00 {measured.replace('1.215', '1.2')}")
        assert state(book, "DS-031/rework", "2026-03-02 10:00") == "not required"
        assert book.prove().clean
