"""Faults are planted one at a time, where a test could find them, and the same ones for the same seed."""

from __future__ import annotations

import pytest

from demo_plant.environment import ROOT
from tests.mutants.planting import faults_in
from tests.mutants.sampling import AIMS, GROUPS, sample


def others(source: str) -> set[str]:
    """A source with each of its faults."""
    return {fault.planted(source.encode()).decode() for fault in faults_in(source.encode())}


@pytest.mark.parametrize(
    ("source", "planted"),
    [
        ("a = b < c", {"a = b <= c", "a = b >= c"}),
        ("a = (b) is not (c)", {"a = (b) is (c)"}),
        ("a = 'ä' if b else c", {"a = 'ä' if (not (b)) else c"}),
        ("a = b + 1", {"a = b - 1", "a = b + 2"}),
        ("a = b + 'text'", set()),
        ("a = b and c", {"a = b or c"}),
        ("a = not b", {"a = bool(b)"}),
        ("a = True", {"a = False"}),
        ("f(b, c)", {"f(c, b)", "pass"}),
        ("a.b(1).c()", {"a.b(2).c()", "pass"}),
        ("def f() -> int:\n    return b", {"def f() -> int:\n    return None"}),
        ("a += b", {"pass"}),
        ("raise Refused(said('no {n}', n=1))", {"pass"}),
        ("a: Literal[1] = f'{2}'", set()),
        ("class A(Protocol):\n    b = 1", set()),
        ('"""1 < 2"""\nimport b', set()),
    ],
)
def test_each_fault_is_one_place_written_another_way(source: str, planted: set[str]) -> None:
    """Signs, numbers, conditions, arguments, statements; no texts, annotations or protocols."""
    assert others(source) == planted


def test_the_same_seed_draws_the_same_and_no_function_more_than_thrice() -> None:
    """Another seed draws others; every group has rooms that are there, and an aim."""
    assert set(AIMS) == set(GROUPS)
    assert all((ROOT / room).is_dir() for rooms in GROUPS.values() for room in rooms)
    drawn = sample(ROOT, "measured", 40, 11)
    assert drawn == sample(ROOT, "measured", 40, 11) != sample(ROOT, "measured", 40, 12)
    places = [(mutant.file, mutant.fault.function) for mutant in drawn]
    assert (len(drawn), max(places.count(place) for place in places) <= 3) == (40, True)


def test_every_room_with_rules_is_in_a_group() -> None:
    """Views hold no rules, errors and sentences are words."""
    rooms = {f"upkeep/{path.name}" for path in (ROOT / "upkeep").iterdir() if (path / "__init__.py").is_file()}
    grouped = {room for rooms in GROUPS.values() for room in rooms}
    assert rooms - grouped == {"upkeep/views"}
