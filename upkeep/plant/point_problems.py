"""What may be wrong with measured points: ids given twice, limits out of order, a nominal that cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from upkeep.plant.definition import Given, Problem
from upkeep.plant.schema import PointRow, missing_from
from upkeep.said import Figure, Numeral, Quoted, said

_LIMITS = ("lower", "warn_lower", "warn_upper", "upper")


def points_problems(
    points: list[tuple[Given, dict[str, Any]]], whole: Mapping[Any, Mapping[str, Any]], owner: str
) -> Iterator[Problem]:
    """What is wrong with the points of a task or crimp (``owner``), each judged by the ``whole`` point of its id."""
    lines: dict[str, int] = {}
    for given, point in points:
        key = point.get("id")
        yield from missing_from(PointRow, given, whole.get(key, point))
        if key in lines:
            yield given.problem(
                "id",
                said("{id} again (first on line {line})", id=Quoted(key), line=Numeral(lines[key])),
                said("each point of a {owner} once", owner=owner),
            )
        elif key is not None:
            lines[key] = given.line or 0
        yield from _limit_problems(given, whole.get(key, point))
        yield from _nominal_problems(given, whole.get(key, point))


def _limit_problems(given: Given, point: Mapping[str, Any]) -> Iterator[Problem]:
    set_limits = [(name, point[name]) for name in _LIMITS if name in point]
    for (below, low), (above, high) in pairwise(set_limits):
        if low > high:
            allowed = said("limits in order: {limits}", limits=" <= ".join(_LIMITS))
            yield given.problem(
                below,
                said(
                    "{below} {low} above {above} {high}",
                    below=below,
                    low=Figure(low),
                    above=above,
                    high=Figure(high),
                ),
                allowed,
            )


def _nominal_problems(given: Given, point: Mapping[str, Any]) -> Iterator[Problem]:
    nominal, steps = point.get("nominal"), point.get("steps", [])
    if nominal is None:
        return
    if steps and nominal not in steps:
        yield given.problem(
            "nominal",
            said("{nominal}, which is not one of the steps", nominal=Figure(nominal)),
            said("one of the steps"),
        )
    lower, upper = point.get("lower", nominal), point.get("upper", nominal)
    if not lower <= nominal <= upper:
        yield given.problem(
            "nominal",
            said("{nominal} beyond a limit", nominal=Figure(nominal)),
            said("a number {lower} to {upper}", lower=Figure(lower), upper=Figure(upper)),
        )
