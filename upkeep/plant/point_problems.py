"""What may be wrong with measured points: ids given twice, limits out of order, a nominal that cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from upkeep.plant.definition import Given, Problem
from upkeep.plant.schema import PointRow, missing_from

_LIMITS = ("lower", "warn_lower", "warn_upper", "upper")


def points_problems(
    points: list[tuple[Given, dict[str, Any]]], whole: Mapping[Any, Mapping[str, Any]], owner: str
) -> Iterator[Problem]:
    """What is wrong with the points of a task or crimp (``owner``), each judged by the ``whole`` point of its id."""
    lines: dict[str, int | None] = {}
    for given, point in points:
        key = point.get("id")
        yield from missing_from(PointRow, given, whole.get(key, point))
        if key in lines:
            yield given.problem("id", f"{key!r} again (first on line {lines[key]})", f"each point of a {owner} once")
        elif key is not None:
            lines[key] = given.line
        yield from _limit_problems(given, whole.get(key, point))
        yield from _nominal_problems(given, whole.get(key, point))


def _limit_problems(given: Given, point: Mapping[str, Any]) -> Iterator[Problem]:
    set_limits = [(name, point[name]) for name in _LIMITS if name in point]
    for (below, low), (above, high) in pairwise(set_limits):
        if low > high:
            allowed = f"limits in order: {' <= '.join(_LIMITS)}"
            yield given.problem(below, f"{below} {low:g} above {above} {high:g}", allowed)


def _nominal_problems(given: Given, point: Mapping[str, Any]) -> Iterator[Problem]:
    nominal, steps = point.get("nominal"), point.get("steps", [])
    if nominal is None:
        return
    if steps and nominal not in steps:
        yield given.problem("nominal", f"{nominal:g}, which is no step", "one of the steps")
    lower, upper = point.get("lower", nominal), point.get("upper", nominal)
    if not lower <= nominal <= upper:
        yield given.problem("nominal", f"{nominal:g} beyond a limit", f"a number {lower:g} to {upper:g}")
