"""Strokes that a press did and no module on it: with those of its modules they add up to what its counter says."""

from __future__ import annotations

from datetime import datetime

from upkeep.counting.marks import whole
from upkeep.counting.strokes import Stay, difference
from upkeep.keeping.context import Context
from upkeep.keeping.lookups import LookedUp
from upkeep.keeping.rows.counted import stay_from_row
from upkeep.plant.model import Kind


def unattributed(context: Context, press: str, at: datetime) -> int:
    """The strokes of a press up to an instant that no module did (best estimate)."""
    counts = context.whereabouts.counts
    modules = [item.id for item in context.known.items.values() if item.kind is Kind.MODULE]
    stays = [stay_from_row(row) for row in context.rows.strokes_on(press, modules)]
    done = sum(_done(counts, stay, at) for stay in stays if stay.start <= at)
    return counts.total_at(press, at).best - whole(done)


def _done(counts: LookedUp, stay: Stay, at: datetime) -> int:
    """What an item did in a stay, in parts of a stroke."""
    ended = stay.end is not None and stay.end <= at
    end = stay.end_total if ended and stay.end_total is not None else counts.total_at(stay.press, at)
    return difference(stay.start_total, end).parts
