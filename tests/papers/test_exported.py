"""The weekly list for other programs: read back by libraries that had no part in making it."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date, timedelta
from io import BytesIO, StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar
from python_calamine import CalamineWorkbook

from tests.examples import examples
from tests.papers.weeks import WEEKS
from upkeep.papers.exported.csv_file import csv_bytes
from upkeep.papers.exported.ics_file import week_calendar
from upkeep.papers.exported.tables import Table, week_table
from upkeep.papers.exported.xlsx_file import xlsx_bytes
from upkeep.views.week import WeekList
from upkeep.wording.sentences import ENGLISH
from upkeep.wording.text import visible

FORMULAS = ("=1+1", "+49 30", "-2", "@SUM(A1)", "\t=1", "https://example.org", "0012", "1e5")


@pytest.fixture
def mixed() -> WeekList:
    return WEEKS["week_mixed"]


def test_a_spreadsheet_has_every_row_text_as_text_and_numbers_as_numbers(mixed: WeekList) -> None:
    table = week_table(mixed, ENGLISH)
    read = CalamineWorkbook.from_filelike(BytesIO(xlsx_bytes(table))).get_sheet_by_name(mixed.week).to_python()
    assert [str(cell) for cell in read[0]] == list(table.columns)
    for found, row in zip(read[1:], table.rows, strict=True):
        assert [cell if cell != "" else None for cell in found] == [value if value != "" else None for value in row]
    assert xlsx_bytes(table) == xlsx_bytes(table)


def test_text_that_looks_like_a_formula_stays_text() -> None:
    """In the spreadsheet as it stands; in CSV with an apostrophe before what an office program would work out."""
    table = Table("2026-W10", ("text", "n"), tuple((words, 7) for words in FORMULAS))
    read = CalamineWorkbook.from_filelike(BytesIO(xlsx_bytes(table))).get_sheet_by_index(0).to_python()
    assert [row[0] for row in read[1:]] == list(FORMULAS)
    found = list(csv.reader(StringIO(csv_bytes(table).decode("utf-8-sig"), newline="")))
    assert [row[0] for row in found[1:]] == [f"'{one}" if one[0] in "=+-@\t" else one for one in FORMULAS]
    assert [row[1] for row in found[1:]] == ["7"] * len(FORMULAS)


def test_a_calendar_has_an_event_for_every_row(mixed: WeekList) -> None:
    """Once, with the day it is due, and no line longer than 75 octets."""
    made = week_calendar(mixed, ENGLISH)
    assert all(len(line) <= 75 for line in made.split(b"\r\n"))
    assert made.endswith(b"END:VCALENDAR\r\n")
    events = list(Calendar.from_ical(made).walk("VEVENT"))
    assert len({str(event["UID"]) for event in events}) == len(events) == len(mixed.rows)
    for event, row in zip(events, mixed.rows, strict=True):
        assert visible(row.title) in str(event["SUMMARY"])
        assert event["SEQUENCE"] == mixed.revision
        if row.due_day is not None and row.shift is None:
            assert event.decoded("DTSTART") == row.due_day
            assert event.decoded("DTEND") == row.due_day + timedelta(days=1)
        elif row.due_at is not None and row.shift is None:
            assert event.decoded("DTSTART") == row.due_at


def test_a_later_calendar_updates_and_cancels_the_same_events(mixed: WeekList) -> None:
    """The UID stays, the sequence rises, what was taken off the frozen list is cancelled."""
    moved = replace(mixed.rows[0], shift="2026-03-04/early", person="Ana", mark="moved")
    removed = replace(mixed.rows[1], mark="removed")
    later = replace(mixed, revision=mixed.revision + 5, rows=(moved, removed, *mixed.rows[2:]))
    first, second = (list(Calendar.from_ical(week_calendar(week, ENGLISH)).walk("VEVENT")) for week in (mixed, later))
    assert [event["UID"] for event in first] == [event["UID"] for event in second]
    assert all(int(str(new["SEQUENCE"])) > int(str(old["SEQUENCE"])) for old, new in zip(first, second, strict=True))
    assert second[0].decoded("DTSTART") == date(2026, 3, 4)
    assert [str(event["STATUS"]) for event in second[:3]] == ["CONFIRMED", "CANCELLED", "CONFIRMED"]
    (hers,) = Calendar.from_ical(week_calendar(later, ENGLISH, "Ana")).walk("VEVENT")
    assert hers["UID"] == second[0]["UID"]


@given(title=st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=120))
@examples(30, 300)
def test_any_title_comes_back_whole(title: str) -> None:
    """Commas, semicolons, backslashes, letters of four octets."""
    week = WEEKS["week_mixed"]
    week = replace(week, rows=(replace(week.rows[0], title=title),))
    made = week_calendar(week, ENGLISH)
    assert all(len(line) <= 75 for line in made.split(b"\r\n"))
    (event,) = Calendar.from_ical(made).walk("VEVENT")
    assert str(event["SUMMARY"]) == f"{week.rows[0].item}: {title}"
