"""What general tools find in a book's file: tables and views for people, links, local time, values in columns."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, INSPECT, at, book_of, define, item, person, task
from upkeep.store import named

CRIMP = define(
    "crimp", "CR-1", title="Tab", family="tab", size="0.5 mm2",
    points=[{"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 2}],
)  # fmt: skip
DAY = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:15 check DS-031 first-off of CR-1 with G-1 crimp-height=1.2,1.21 by lea
    2026-03-30 06:15 count P-07 2000 by ana
"""


@pytest.fixture
def plant_file(tmp_path: Path) -> Path:
    """A book in Berlin, over the change to summer time."""
    seldom = task("oil", "press", every="400 days", early_days=0)
    more = [CRIMP, item("DS-031", family="tab")]
    book_of(tmp_path, DAY, "Europe/Berlin", tasks=[CLEAN, INSPECT, seldom], more=more).close()
    return tmp_path / "plant.book"


@pytest.fixture
def file(plant_file: Path) -> Iterator[sqlite3.Connection]:
    """Its file, as any tool opens it."""
    with closing(sqlite3.connect(f"file:{plant_file}?mode=ro", uri=True)) as connection:
        yield connection


def test_views_tell_the_time_on_the_wall_beside_utc(file: sqlite3.Connection) -> None:
    """In winter one hour ahead, in summer two."""
    told = file.execute("SELECT read_utc, read_local FROM press_counts ORDER BY 1").fetchall()
    assert told == [
        ("2026-03-02T05:00:00Z", "2026-03-02 06:00:00"),
        ("2026-03-30T04:15:00Z", "2026-03-30 06:15:00"),
    ]
    happened = "SELECT happened_local FROM history_in_words WHERE words LIKE 'count%' ORDER BY entry"
    assert [local for (local,) in file.execute(happened)] == ["2026-03-02 06:00:00", "2026-03-30 06:15:00"]


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"])
def test_the_wall_clock_is_that_of_the_zone_database(zone: str) -> None:
    """IANA zones as Python has them, every 997 hours and at every change, to the second."""
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.execute("CREATE TABLE wall_clock (since_utc TEXT PRIMARY KEY, seconds INTEGER)")
        named.set_wall_clock(connection, zone)
        told = connection.execute("SELECT since_utc, seconds FROM wall_clock ORDER BY 1").fetchall()
    changes = [(datetime.fromisoformat(since), seconds) for since, seconds in told]
    edges = [since - timedelta(seconds=ago) for since, _ in changes[1:] for ago in (0, 1)]
    moments = [datetime(1990, 1, 2, tzinfo=UTC) + n * timedelta(hours=997) for n in range(700)]
    for moment in (*moments, *edges):
        ahead = [seconds for since, seconds in changes if since <= moment][-1]
        assert timedelta(seconds=ahead) == moment.astimezone(ZoneInfo(zone)).utcoffset(), moment


def test_what_is_due_comes_most_urgent_first_with_title_area_and_item(file: sqlite3.Connection) -> None:
    """What never comes is NULL."""
    rows = file.execute("SELECT line, item_title, area, state_now, due_utc, due_local FROM what_is_due").fetchall()
    order = ["stop", "held", "overdue", "due", "open", "later", "paused", "not required"]
    places = [order.index(state) for _, _, _, state, _, _ in rows]
    assert places == sorted(places)
    by_line = {line: rest for line, *rest in rows}
    assert by_line["M-12/clean"][:2] == ["Item M-12", "press hall"]
    assert by_line["DS-031/inspect"][3:] == [None, None]


def test_values_measured_on_pieces_stand_in_a_column(file: sqlite3.Connection) -> None:
    """One row a reading."""
    told = file.execute("SELECT item, point, reading, value, good, measured_local FROM measurements").fetchall()
    assert told == [
        ("DS-031", "crimp-height", 1, 1.2, 1, "2026-03-02 06:15:00"),
        ("DS-031", "crimp-height", 2, 1.21, 1, "2026-03-02 06:15:00"),
    ]


def test_tools_can_follow_a_link_from_a_row_to_its_item_and_from_a_role_to_its_person(file: sqlite3.Connection) -> None:
    """By foreign keys; none leads nowhere."""
    for table in ("lines", "fittings", "measured", "marks", "faults", "sign_offs"):
        assert any(parent == "items" for _, _, parent, *_ in file.execute(f"PRAGMA foreign_key_list({table})"))
    assert [parent for _, _, parent, *_ in file.execute("PRAGMA foreign_key_list(roles)")] == ["people"]
    assert file.execute("PRAGMA foreign_key_check").fetchall() == []
    lead = "SELECT p.name FROM roles r JOIN people p ON p.id = r.person WHERE r.role = 'maintenance lead'"
    assert file.execute(lead).fetchall() == [("Lea",)]


def test_items_people_and_roles_follow_their_definitions_and_a_proof_looks_at_them(plant_file: Path) -> None:
    """Changed by a load, made again by a refill, named by the proof where somebody has changed them."""
    from upkeep.book import Book

    later = at("2026-04-01 08:00")
    with Book.open(plant_file) as book:
        book.load(
            [person("ben", "Ben Karl", "stores", formerly="Ben"), item("M-12", title="Module")],
            later,
            "lea",
            later,
            "as it is",
        )
        assert book.prove().clean
    with closing(sqlite3.connect(plant_file)) as file:
        assert file.execute("SELECT name, role FROM people JOIN roles ON person = id WHERE id = 'ben'").fetchall() == [
            ("Ben Karl", "stores")
        ]
        assert file.execute("SELECT title FROM items WHERE id = 'M-12'").fetchone() == ("Module",)
        file.execute("UPDATE items SET title = 'Another' WHERE id = 'M-12'")
        file.execute("DELETE FROM roles WHERE person = 'ben'")
        file.commit()
    with Book.open(plant_file) as book:
        report = book.prove()
        assert not report.clean
        assert any("The table items does not say" in str(found) for found in report.differences)
        assert any("The table roles does not say" in str(found) for found in report.differences)


def test_a_program_gets_every_line_and_entry_unless_it_asks_for_fewer(
    plant_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A person gets a page."""
    modules = [item(f"M-{number}", kind="module") for number in range(100, 170)]
    from upkeep.book import Book

    moment = at("2026-04-01 08:00")
    with Book.open(plant_file) as book:
        book.load(modules, moment, "lea", moment)
    terminal = Terminal(plant_file, capsys)
    board = json.loads(terminal.types("2026-04-01 09:00", "board", "--all", "--json").out)
    assert len(board) > 70
    assert len(json.loads(terminal.types("2026-04-01 09:00", "board", "--all", "--json", "--limit", 3).out)) == 3
    assert len(json.loads(terminal.types("2026-04-01 09:00", "history", "--json").out)) > 90
    assert "more lines (--limit)" in terminal.types("2026-04-01 09:00", "board", "--all").out
