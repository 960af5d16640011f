"""What a sign-off of a line asks for: steps, points, gauges, who may sign."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.people.who_may import who_may
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.plant.energy import caution_said
from upkeep.plant.model import Item, Kind
from upkeep.quality.gauges import state_said
from upkeep.said import said
from upkeep.units.shifts import ShiftCalendar
from upkeep.views.board import BoardLine
from upkeep.views.rights import Wish
from upkeep.views.signing import GaugeChoice, SignForm
from upkeep.wording.holds import hold_said

MEANING = said("done by me")


def sign_form(context: Context, line: str) -> SignForm:
    """All that a sign-off of a line asks for; raises :class:`NotFound` with near misses."""
    shown = Boards(context).line(line)
    task = context.known.task(shown.task)
    gauges = () if task.gauge_class is None else gauges_of(context, task.gauge_class)
    return SignForm(
        line=replace(shown, occurrence=occurrence_signed(shown, context.known.calendar, context.moment)),
        caution=caution_said(task.energy, task.caution),
        steps=task.steps,
        points=task.points,
        graded=task.graded,
        gauges=tuple(gauges),
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


def gauges_of(context: Context, gauge_class: str) -> Iterator[GaugeChoice]:
    """The gauges of a class in use, each with whether it counts at the moment."""
    states = GaugeStates(context)
    for item in context.known.items.values():
        if item.kind is Kind.GAUGE and item.gauge_class == gauge_class and not item.scrapped:
            yield gauge_choice(context, item, states)


def gauge_choice(context: Context, gauge: Item, states: GaugeStates | None = None) -> GaugeChoice:
    """A gauge with whether it counts at the moment; ``states`` where those of others are asked for as well."""
    at, states = context.moment, states or GaugeStates(context)
    state, held = states.at(gauge.id, at), hold_reason(context, gauge.id)
    note = said("held: {why}", why=hold_said(held)) if held else state_said(state, at, context.known.zone)
    return GaugeChoice(gauge.id, gauge.title, state.valid and not held, note)
