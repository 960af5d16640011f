"""What a sign-off says of its measured points: the gauge of each, and what was taken over from a check."""

from __future__ import annotations

from upkeep.admission.gauges import check_gauge_counts
from upkeep.answers.checks.gauge_states import GaugeStates, gauge_of
from upkeep.answers.checks.taken_over import TakenOver
from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Point, Task
from upkeep.plant.values.gauging import gauge_class_of
from upkeep.said import Numeral, Said, said, said_as

_RESTS_ON_GAUGES = 2
"""From this grade on something follows from what was measured, so each gauge has to have counted."""


def check_measured(context: Context, sign: Sign, item: Item, task: Task) -> list[Said]:
    """What the writer has to know of the gauges of a sign-off; refuses a point without its gauge, one by a gauge of
    another kind, and values that no check of the same set-up has."""
    points = {point.id: point for point in task.points}
    for key, _ in sign.points:
        _check_gauge_kind(context, sign, task, points[key])
    _check_taken(context, sign, item, task)
    if sign.gauge is not None and not sign.points:
        gauge_of(context.known, sign.gauge, sign.at)
        return check_gauge_counts(context, sign.gauge, sign.at)
    gauges = list(dict.fromkeys(filter(None, (sign.gauge_of(key) for key, _ in sign.measured))))
    notes = [note for gauge in gauges for note in check_gauge_counts(context, gauge, sign.at)]
    if sign.grade is not None and sign.grade >= _RESTS_ON_GAUGES:
        _check_valid(context, sign, gauges)
    return notes


def _check_gauge_kind(context: Context, sign: Sign, task: Task, point: Point) -> None:
    wanted, key = gauge_class_of(task, point), sign.gauge_of(point.id)
    if wanted is not None and key is None:
        raise Refused(
            said(
                "Say which {gauge_class} measured {point}; a reading is only as good as its gauge.",
                gauge_class=wanted,
                point=point.title,
            )
        )
    if key is None:
        return
    gauge = gauge_of(context.known, key, sign.at)
    if wanted is not None and gauge.gauge_class != wanted:
        raise Refused(
            said(
                "{point} is measured with a {gauge_class}; {gauge} is a {other_class}.",
                point=point.title,
                gauge_class=wanted,
                gauge=gauge.id,
                other_class=str(gauge.gauge_class),
            )
        )


def _check_valid(context: Context, sign: Sign, gauges: list[str]) -> None:
    """Refuses a grade that rests on a gauge which did not count."""
    states = GaugeStates(context)
    for gauge in gauges:
        state = states.at(gauge, sign.at)
        if not state.valid:
            raise Refused(
                said(
                    "Grade {grade} rests on what was measured, and {gauge} is not valid ({why}). Measure with a valid "
                    "gauge. If {item} must not run meanwhile, hold it.",
                    grade=sign.grade or 0,
                    gauge=gauge,
                    why=state.why,
                    item=sign.item,
                )
            )


def _check_taken(context: Context, sign: Sign, item: Item, task: Task) -> None:
    """Refuses values said to be taken over that no check of this set-up has."""
    if not sign.taken:
        return
    there = {(taken.point, taken.entry): taken for taken in TakenOver(context).of(item, task, sign.at)}
    values = dict(sign.points)
    for point, number in sign.taken:
        taken = there.get((point, number))
        if taken is None:
            raise Refused(
                said(
                    "#{entry} has no {point} that can be taken over: it is no check of this set-up, its gauge did not "
                    "count, or a part was changed since. Measure it again.",
                    entry=Numeral(number),
                    point=point,
                )
            )
        if taken.values != values[point] or taken.gauge != sign.gauge_of(point):
            raise Refused(
                said(
                    "{point} is not as #{entry} has it, measured with {gauge}. Measure it again, or take it over as it "
                    "is.",
                    point=point,
                    entry=Numeral(number),
                    gauge=taken.gauge or said_as("gauge", "none"),
                )
            )
