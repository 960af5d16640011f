"""A slug height against those of the checks before it: same set, same conductor punch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from statistics import fmean

from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.quality.jumps import ENOUGH, SLUG, SLUG_JUMP, usual
from upkeep.said import Figure, Said, said
from upkeep.store.then import LAST
from upkeep.units.instants import utc_text


def with_jump(check: Check, context: Context) -> tuple[Check, list[Said]]:
    """The check with what the book says of a jump, and the sentence for whoever measured."""
    readings = dict(check.points).get(SLUG)
    if readings is None:
        return check, []
    before = list(_heights_before(check, context))[::-1]
    height = fmean(readings)
    found = usual(before)
    if found is None:
        return check, []
    jumped = found.jumped(height)
    judged = replace(check, looks=(*check.looks, (SLUG_JUMP, not jumped)))
    if not jumped:
        return judged, []
    notice = said(
        "STOP: the slug height jumped by {jump} mm from what the {n} checks before it lead to expect; 99 steady "
        "checks in 100 stay within {within} mm of it. Something in the press or the die has moved or broken, or the "
        "gauge reads wrong: check the gauge and measure again, then check the shut height of the press. {item} is "
        "held.",
        jump=Figure(height - found.expected, "+.3f"),
        n=len(before),
        within=Figure(found.within, ".3f"),
        item=check.item,
    )
    return judged, [notice]


def _heights_before(check: Check, context: Context) -> Iterator[float]:
    """The mean slug heights before a check since its conductor punch was fitted, newest first.

    Those that jumped are left out; what was measured before a jump that was released says nothing any more: from there
    on what is usual is learnt anew.
    """
    at = utc_text(check.at)
    inside = context.rows.fittings_in(check.item, at)
    fitted = [row.start for row in inside if context.known.item(row.item).kind is Kind.CONDUCTOR_PUNCH]
    since = max((moment for moment in fitted if moment <= at), default="")
    released = context.findings.last_release(check.item, at) or ""
    taken = 0
    for row in context.findings.back_from(check.item, SLUG, at, LAST):
        if row.at < since or taken == ENOUGH:
            return
        recorded = context.entries.by_number(row.entry)
        if recorded is None or recorded.id == check.corrects or not isinstance(recorded.entry, Check):
            continue
        jumped = not dict(recorded.entry.looks).get(SLUG_JUMP, True)
        if jumped and row.at <= released:
            return
        if not jumped:
            taken += 1
            yield fmean(dict(recorded.entry.points)[SLUG])
