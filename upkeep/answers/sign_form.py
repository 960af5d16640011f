"""What a sign-off of a line asks for: steps, points, gauges, who may sign."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.answers.checks.gauge_choices import gauges_form
from upkeep.answers.checks.taken_over import TakenOver, checks_of_set_up
from upkeep.answers.people.who_may import who_may
from upkeep.entries.checking import Check
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.keeping.context import Context
from upkeep.plant.energy import caution_said
from upkeep.plant.values.gauging import gauge_class_of
from upkeep.said import said
from upkeep.units.shifts import ShiftCalendar
from upkeep.views.board import BoardLine
from upkeep.views.rights import Wish
from upkeep.views.signing import SignForm

MEANING = said("done by me")


def sign_form(context: Context, line: str) -> SignForm:
    """All that a sign-off of a line asks for; raises :class:`NotFound` with near misses."""
    shown = Boards(context).line(line)
    item, task = context.known.item(shown.item), context.known.task(shown.task)
    classes = {point.id: gauge for point in task.points if (gauge := gauge_class_of(task, point)) is not None}
    kinds = dict.fromkeys((*filter(None, (task.gauge_class,)), *classes.values()))
    run = checks_of_set_up(context, item.id, context.moment) if kinds else []
    used = [recorded.entry.gauge for recorded in run if isinstance(recorded.entry, Check)]
    return SignForm(
        line=replace(shown, occurrence=occurrence_signed(shown, context.known.calendar, context.moment)),
        caution=caution_said(task.energy, task.caution),
        steps=task.steps,
        points=task.points,
        graded=task.graded,
        gauges=tuple(gauges_form(context, kind, used) for kind in kinds),
        classes=classes,
        taken=TakenOver(context).latest(item, task, context.moment),
        photo=task.photo,
        meaning=MEANING,
        signers=who_may(context, Wish("sign", item=shown.item, task=shown.task), context.moment),
        calibrates=task == context.known.calibration,
    )


def occurrence_signed(line: BoardLine, calendar: ShiftCalendar, at: datetime) -> str:
    """What a sign-off answers where its writer names no occurrence: of every shift's work that of the shift in which it
    was done.  What an earlier shift left stays missed in that one's name."""
    running = calendar.at(at)
    if not line.each_shift or running is None or not isinstance(occurrence_of(line.occurrence), OfShift):
        return line.occurrence
    return running.key if calendar.named(line.occurrence).end <= running.start else line.occurrence
