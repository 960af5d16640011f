"""The demo plant's definition files: what stands in the invented plant."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta
from pathlib import Path

import pytest

from demo_plant import definitions
from tests.plants import at
from upkeep.book import Book
from upkeep.plant.definition import Definition
from upkeep.plant.model import Energy, Kind, Task, item_from, task_from
from upkeep.plant.people import person_from
from upkeep.plant.values.facts import facts_from

DEFINITIONS = definitions()
TASKS = [task_from(definition.content) for definition in DEFINITIONS if definition.what == "task"]
ITEMS = [item_from(definition.content) for definition in DEFINITIONS if definition.what == "item"]


def of(what: str) -> list[Definition]:
    return [definition for definition in DEFINITIONS if definition.what == what]


def test_the_plant_says_that_it_is_a_demo() -> None:
    """On every screen and paper that shows its name."""
    facts = facts_from(of("plant")[0].content)
    assert facts.name.startswith("Demo plant")
    assert [(shift.name, shift.start, shift.end) for shift in facts.shifts] == [
        ("early", "06:00", "14:00"),
        ("late", "14:00", "22:00"),
    ]


def test_the_plant_has_the_size_of_a_small_crimp_shop() -> None:
    """Twelve presses in three areas, with more modules and die sets than can hang at once."""
    kinds = Counter(item.kind for item in ITEMS)
    assert (kinds[Kind.PRESS], kinds[Kind.MODULE], kinds[Kind.DIE_SET], kinds[Kind.GAUGE]) == (12, 20, 40, 10)
    assert kinds[Kind.CONDUCTOR_PUNCH] > kinds[Kind.DIE_SET]
    press_areas = {place.content["area"] for place in of("place") if place.key.startswith("P-")}
    assert press_areas == {"Hall A", "Hall B", "Sample shop"}
    assert len(of("person")) == 30
    assert 20 <= len(TASKS) <= 30


def test_some_counters_have_six_figures() -> None:
    """So that one rolls over in a quarter of a year."""
    assert {item.digits for item in ITEMS if item.kind is Kind.PRESS} == {6, 7}


def test_every_role_of_every_task_is_somebodys() -> None:
    """No line waits for a signature that nobody can give."""
    held = {role for definition in of("person") for role in person_from(definition.content).roles}
    for task in TASKS:
        assert set(task.by) & held
        assert task.second_signature is None or task.second_signature in held


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_every_task_tells_its_source(task: Task) -> None:
    """A figure of the demo plant's own says so; it is never taken for a standard."""
    own_figures = task.strokes or task.strokes_for or any(point.upper or point.lower for point in task.points)
    if own_figures:
        assert task.source.startswith("own figure of the demo plant")
    assert task.source


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_every_task_with_hands_in_the_press_opens_with_a_caution(task: Task) -> None:
    """And leaves the decision to local law and the plant's own procedure."""
    if task.energy is not Energy.LOOK:
        assert "Local law and your plant's own procedure decide" in task.caution


def test_somebodys_training_ends_whenever_the_demo_is_looked_at(tmp_path: Path) -> None:
    """So that the reminder can be seen on any day; who tests the guards in it is trained for good."""
    with Book.create(tmp_path / "demo.db") as book:
        book.load(DEFINITIONS, at("2025-01-01 06:00"), "yara", at("2025-01-01 06:00"))
        for day in range(0, 1400, 20):
            assert book.training_ends(at("2025-01-02 06:00") + timedelta(days=day)), day
    appointed = [one for one in map(person_from, (d.content for d in of("person"))) if "appointed person" in one.roles]
    assert all(row.until is None for person in appointed for row in person.training)
    assert all(person.training for person in appointed)
