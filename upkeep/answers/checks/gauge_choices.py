"""The gauges somebody may choose, those that count first, and the one that is likely."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.plant.model import Item, Kind
from upkeep.quality.gauges import state_said
from upkeep.said import said
from upkeep.views.signing import GaugeChoice, GaugesForm
from upkeep.wording.holds import hold_said


def gauges_form(context: Context, gauge_class: str, used: Sequence[str | None]) -> GaugesForm:
    """The gauges of a class: the likely one first, then those that count; ``used`` are those used lately, in order."""
    choices = list(gauges_of(context, gauge_class))
    counting = [choice.id for choice in choices if choice.valid]
    lately = [gauge for gauge in used if gauge in counting]
    likely = lately[-1] if lately else counting[0] if len(counting) == 1 else None
    choices.sort(key=lambda choice: (choice.id != likely, not choice.valid))
    return GaugesForm(gauge_class, tuple(choices), likely)


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
