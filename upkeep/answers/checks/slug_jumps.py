"""A slug height against those of the checks before it: same set, same conductor punch; sisters tell its scatter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from itertools import islice
from statistics import fmean

from upkeep.entries.checking import Check
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.quality.jumps import ENOUGH, ENOUGH_FREEDOM, LEAST_CHECKS, SLUG, SLUG_JUMP, Usual, scatter_of, usual
from upkeep.said import Figure, Said, listed, said
from upkeep.stats.scatters import Scatter
from upkeep.store.then import LAST
from upkeep.units.instants import utc_text

Taken = Callable[[int, Check], bool]
"""Whether a check counts, by its entry number."""


def with_jump(check: Check, context: Context) -> tuple[Check, list[Said]]:
    """The check with what the book says of a jump, and the sentence for whoever measured."""
    readings = dict(check.points).get(SLUG)
    if readings is None:
        return check, []
    before = _heights(check.item, check.at, context, lambda entry, told: entry != check.corrects)
    if len(before) < LEAST_CHECKS:
        return check, []
    height, found = fmean(readings), usual(before, dict(_sisters(check, context)))
    jumped = found.jumped(height)
    judged = replace(check, looks=(*check.looks, (SLUG_JUMP, not jumped)))
    if not jumped:
        return judged, []
    notice = said(
        "STOP: the slug height jumped by {jump} mm from what the {n} checks before it lead to expect; 99 steady "
        "checks in 100 stay within {within} mm of it{scatter}. Something in the press or the die has moved or broken, "
        "or the gauge reads wrong: check the gauge and measure again, then check the shut height of the press. {item} "
        "is held.",
        jump=Figure(height - found.expected, "+.3f"),
        n=len(before),
        within=Figure(found.within, ".3f"),
        scatter=_by_whose_scatter(found),
        item=check.item,
    )
    return judged, [notice]


def _by_whose_scatter(found: Usual) -> Said:
    if found.sisters:
        return said(", as this set and {sisters} scatter", sisters=listed(found.sisters))
    return said(", as this set alone scatters: no other of its family tells more")


def _sisters(check: Check, context: Context) -> Iterator[tuple[str, Scatter]]:
    """How the sets of the same family scatter whose slugs were crushed for the same crimp and measured with the same
    kind of gauge; no more of them than tell enough."""
    set_, gauge, told = context.known.item(check.item), _kind_of_gauge(check, context), 0

    def is_alike(_: int, other: Check) -> bool:
        return other.crimp == check.crimp and _kind_of_gauge(other, context) == gauge

    for key, item in context.known.items.items():
        if key == set_.id or item.family is None or (item.family, item.kind) != (set_.family, set_.kind):
            continue
        heights = _heights(key, check.at, context, is_alike)
        if len(heights) >= LEAST_CHECKS:
            scatter = scatter_of(heights)
            yield key, scatter
            told += scatter.freedom
        if told >= ENOUGH_FREEDOM:
            return


def _kind_of_gauge(check: Check, context: Context) -> str | None:
    return None if check.gauge is None else context.known.item(check.gauge).gauge_class


def _heights(item: str, moment: datetime, context: Context, taken: Taken) -> list[float]:
    """The mean slug heights of the checks of a set before a moment since its conductor punch was fitted, in order.

    Those that jumped are left out; what was measured before a jump that was released says nothing any more: from there
    on what is usual is learnt anew.
    """
    return list(islice(_back_from(item, moment, context, taken), ENOUGH))[::-1]


def _back_from(item: str, moment: datetime, context: Context, taken: Taken) -> Iterator[float]:
    at = utc_text(moment)
    inside = context.rows.fittings_in(item, at)
    fitted = [row.start for row in inside if context.known.item(row.item).kind is Kind.CONDUCTOR_PUNCH]
    since = max((start for start in fitted if start <= at), default="")
    released = context.findings.last_release(item, at) or ""
    for row in context.findings.back_from(item, SLUG, at, LAST):
        if row.at < since:
            return
        recorded = context.entries.by_number(row.entry)
        if recorded is None or not isinstance(recorded.entry, Check) or not taken(row.entry, recorded.entry):
            continue
        jumped = not dict(recorded.entry.looks).get(SLUG_JUMP, True)
        if jumped and row.at <= released:
            return
        if not jumped:
            yield fmean(dict(recorded.entry.points)[SLUG])
