"""Work that waits for the press to stand: due with the next change of tools while its window is open."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from upkeep.due.edges import Edges
from upkeep.due.facts import LineFacts, Setting
from upkeep.plant.model import Kind
from upkeep.units.instants import NEVER


def stopped_at(facts: LineFacts, opens: datetime, setting: Setting) -> datetime | None:
    """When tools were first changed, from the opening of the window on, on the press that an item is or hung on.

    None: they were not, or the task does not wait for a stop.  What hangs on no press does not stop.
    """
    if not facts.task.at_next_stop or opens == NEVER:
        return None
    item, counts = facts.item.id, setting.counts
    if facts.item.kind is Kind.PRESS:
        return counts.first_change_on(item, opens, NEVER)
    stay = counts.stay_from(item, opens)
    if stay is None or (stay.end is not None and stay.end < opens):
        stay = counts.stay_after(item, opens)
    return counts.first_change_on(stay.press, max(stay.start, opens), stay.end or NEVER) if stay is not None else None


def due_at_stop(edges: Edges, stopped: datetime | None) -> Edges:
    """The edges of work that a stop makes due; it is late only when it would have been anyway."""
    return edges if stopped is None else replace(edges, due=min(edges.due, stopped))
