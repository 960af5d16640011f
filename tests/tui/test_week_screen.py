"""The lead's Thursday at 80 x 24 without colour: the week by day, proposed, changed, agreed, frozen, by key alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import at, book_of, person, task, write_each
from tests.tui.terminal import SMALL, Terminal, terminal
from upkeep.book import Book
from upkeep.views.planned.week_plan import Stage

TASKS = [
    task(name, "press", every="7 days", late_days=2, minutes=minutes, by=["maintenance technician"])
    for name, minutes in (("lube", 20), ("belt", 30))
]
TOM = person("tom", "Tom", "maintenance technician", shifts=["early", "late"])
WEEK, THURSDAY = "2026-W11", "2026-03-05 10:00"


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three presses; the week of Thursday's plan is proposed already, and one before it three times in vain."""
    with book_of(tmp_path_factory.mktemp("week"), tasks=TASKS, more=[TOM]) as book:
        book.write([book.week_proposal(WEEK, at(THURSDAY), "lea")], at(THURSDAY))
        return book.path


@pytest.fixture
def path(plant: Path, tmp_path: Path) -> Path:
    """The same, for one test."""
    copy = tmp_path / plant.name
    copy.write_bytes(plant.read_bytes())
    return copy


async def opened(here: Terminal) -> None:
    """Goes from the lead's page to the plan of the next week."""
    await here.press("e")
    assert "Plan of 2026-W11: Mon 2026-03-09 to Sun 2026-03-15" in here.text


async def test_a_week_is_changed_agreed_and_frozen_by_key(path: Path) -> None:
    """Each key asks for what it needs and shows what was written; the next step waits for the one before."""
    async with terminal(lambda: Book.open(path), SMALL, clock=Clock(at("2026-03-05 10:05")), by="lea") as here:
        await opened(here)
        assert "Proposed; nobody has agreed to it yet." in here.text
        assert "h of work" in here.text
        await here.press("f")
        assert "is not agreed as it stands" in here.text
        await here.press("home", "m")
        assert "on which shift?" in here.text
        await here.type("2026-03-12, late", "enter")
        assert "by whom?" in here.text
        await here.type("tom", "enter")
        assert "WRITTEN: " in here.text
        assert "Changed since it was proposed" in here.text
        await here.press("home", "x")
        await here.type("the press is sold", "enter")
        assert "taken off by the lead" in here.text
        await here.press("a")
        assert "Agreed by Lea" in here.text
        await here.press("f")
        assert "Frozen as 2026-W11" in here.text
    with Book.open(path) as book:
        plan = book.week_plan(at("2026-03-05 11:00"), WEEK)
        assert plan.stage is Stage.FROZEN
        assert sum(row.shift == "2026-03-12/late" for row in plan.rows) == 1
        assert book.prove().differences == ()


async def test_who_may_not_plan_is_told_before_anything_is_asked(path: Path) -> None:
    """Ana is no lead: she reads the week, and no key of it writes."""
    async with terminal(lambda: Book.open(path), SMALL, clock=Clock(at("2026-03-05 10:05")), by="ana") as here:
        await opened(here)
        for key in ("p", "m", "x", "d", "a", "f"):
            await here.press(key)
            assert "maintenance lead" in " ".join(here.text.split())
        await here.press("left")
        assert "Plan of 2026-W10" in here.text
        await here.press("escape")
        assert "Plan of" not in here.rows[0]
    with Book.open(path) as book:
        assert book.newest_written(1)[0].kind == "propose"


async def test_a_job_that_was_carried_too_often_is_decided_with_a_sentence(path: Path) -> None:
    """It stands first on the screen; the week cannot be frozen before."""
    with Book.open(path) as book:
        for number, (week, day) in enumerate((("2026-W11", "05"), ("2026-W12", "12"), ("2026-W13", "19"))):
            now = at(f"2026-03-{day} 11:00")
            if number:
                book.write([book.week_proposal(week, now, "lea")], now)
            monday = int(day) + 4
            change = f"2026-03-{day} 11:01 plan-job {week} P-03/belt to 2026-03-{monday:02}/early with tom by lea"
            write_each(book, change)
            write_each(book, f"2026-03-{day} 11:02 agree-week {week} by lea")
            frozen = at(f"2026-03-{day} 11:03")
            book.write([book.week_freezing(week, frozen, "lea")], frozen)
        now = at("2026-03-26 11:00")
        book.write([book.week_proposal("2026-W14", now, "lea")], now)
        plan = book.week_plan(now, "2026-W14")
        assert any(row.asks for row in plan.rows), [(row.line, row.carried) for row in plan.rows]
    async with terminal(lambda: Book.open(path), SMALL, clock=Clock(at("2026-03-26 11:05")), by="lea") as here:
        await here.press("e")
        assert "Waiting for the lead, carried over too often" in here.text
        await here.press("a", "f")
        assert "carried over 3 times or more" in " ".join(here.text.split())
        await here.press("home", "d")
        assert "what becomes of it?" in here.text
        await here.type("give it hours", "enter")
        await here.type("Monday is kept for it", "enter")
        assert "WRITTEN: decision about" in here.text
