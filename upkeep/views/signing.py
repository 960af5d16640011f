"""What a sign-off asks for, as a frozen view; and what was filled into it, as its measured points."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Said
from upkeep.views.board import BoardLine

if TYPE_CHECKING:
    from upkeep.entries.signing import Sign


@frozen
class GaugeChoice:
    """A gauge that may measure the points of a task; ``valid`` False names its reason in ``note``."""

    id: str
    title: str
    valid: bool
    note: Said


@frozen
class GaugesForm:
    """The gauges of a class; ``likely`` is the one used in this run, or the only one that counts (None: neither)."""

    gauge_class: str
    choices: tuple[GaugeChoice, ...]
    likely: str | None


@frozen
class Taken:
    """Values of a point as a check has them: its gauge (None: it asks for none), its entry and its moment."""

    point: str
    values: tuple[float, ...]
    gauge: str | None
    entry: int
    at: datetime


@frozen
class Caution:
    """What to mind before hands go in, the lines it is for, and their kind of energy control."""

    text: Said
    lines: tuple[str, ...]
    energy: str


@frozen
class SignForm:
    """All a sign-off asks for, cautions first.  ``gauges`` are those of each kind that its points ask for, ``classes``
    the kind each point asks for (one that asks for none is not in it); ``taken`` what was measured in a check of the
    same set-up and need not be typed again.  ``photo`` is what is photographed with it (empty: nothing); ``signers``
    are the people who may sign it; ``calibrates``: it is the calibration of a gauge, and its certificate may be told
    with it."""

    line: BoardLine
    caution: Said
    steps: tuple[str, ...]
    points: tuple[Point, ...]
    graded: bool
    gauges: tuple[GaugesForm, ...]
    classes: Mapping[str, str]
    taken: tuple[Taken, ...]
    photo: str
    meaning: Said
    signers: tuple[tuple[str, str], ...]
    calibrates: bool = False


def taken_by_point(form: SignForm) -> Mapping[str, Taken]:
    """What a form offers to take over, by point."""
    return {taken.point: taken for taken in form.taken}


def with_measured(
    sign: Sign, form: SignForm, values: Mapping[str, tuple[float, ...]], gauges: Mapping[str, str | None]
) -> Sign:
    """A sign-off with the points of its form: ``values`` are those measured for it, by point, with ``gauges`` by kind;
    what is not among them is taken over from its check, where the form offers that."""
    from upkeep.entries.signing import measured_with  # where somebody signs: a board reads no entries

    if not form.points:
        return replace(sign, gauge=next(filter(None, gauges.values()), None))
    offered = taken_by_point(form)
    taken = {key: offered[key] for key in offered if key not in values}
    known = {**values, **{key: each.values for key, each in taken.items()}}
    keys = [point.id for point in form.points if point.id in known]
    points = tuple((key, known[key]) for key in dict.fromkeys((*keys, *known)))
    by = {key: gauges.get(form.classes[key]) if key in form.classes else None for key in values}
    told = replace(sign, points=points, taken=tuple((key, taken[key].entry) for key, _ in points if key in taken))
    return measured_with(told, {**by, **{key: each.gauge for key, each in taken.items()}})


def asked_gauges(form: SignForm, values: Mapping[str, tuple[float, ...]]) -> tuple[str, ...]:
    """The kinds of gauges that have to be named for what was measured, in the order in which points ask for them."""
    return tuple(
        dict.fromkeys(
            form.classes[point.id] for point in form.points if point.id in values and point.id in form.classes
        )
    )
