"""Making and writing the entries of a check: one for each gauge that measured."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from tui.screens.frame.desk import Desk, Here, Signed
from upkeep.entries.checking import Check
from upkeep.frozen import frozen
from upkeep.said import Said, listed, said, term

MEANING = said("measured by me.")
"""What a name under a check stands for."""


@frozen
class Measured:
    """The readings of one point, with the gauge that took them (None: it asks for none)."""

    point: str
    values: tuple[float, ...]
    gauge: str | None
    broke: tuple[str, ...] = ()


def checks_of(head: Check, measured: Iterable[Measured], looks: tuple[tuple[str, bool], ...]) -> tuple[Check, ...]:
    """The entries of a check: ``head`` says of what; what no gauge measured goes with the first of them."""
    by_gauge: dict[str | None, list[Measured]] = {}
    for measured_point in measured:
        by_gauge.setdefault(measured_point.gauge, []).append(measured_point)
    free = by_gauge.pop(None, [])
    groups = list(by_gauge.items()) or [(None, [])]
    entries = []
    for place, (gauge, taken) in enumerate(groups):
        checks = (*taken, *free) if place == 0 else tuple(taken)
        points = tuple((measured_point.point, measured_point.values) for measured_point in checks)
        broke = tuple(how for measured_point in checks for how in measured_point.broke)
        entries.append(replace(head, gauge=gauge, points=points, broke=broke, looks=looks if place == 0 else ()))
    return tuple(entries)


async def checked_as(desk: Desk, by: Here, entries: tuple[Check, ...], typed: Said | None) -> Signed:
    """Writes a check and remembers it at the desk, for the proof and for undo; raises what the book refuses.

    ``typed`` is what the typed values say; None: nothing.
    """
    written = await desk.written(*entries, by=by)
    first = entries[0]
    numbers = listed(f"#{number}" for number in written.entries)
    what = said(
        "{occasion} of {item}, {entries}", occasion=term(first.occasion, "occasion"), item=first.item, entries=numbers
    )
    if typed is not None:
        what = said("{what}: {typed}", what=what, typed=typed)
    desk.here = by
    return desk.remember(written, by, first.at, what, MEANING, first.item)


def head_of(at: datetime, by: Here, item: str, occasion: str, crimp: str, named: dict[str, str]) -> Check:
    """What all entries of a check have in common."""
    order, reel, wire = (named[key] or None for key in ("order", "reel", "wire"))
    return Check(
        at=at, by=by.id, item=item, occasion=occasion, crimp=crimp, order=order, reel=reel, wire=wire,
        remark=named["remark"],
    )  # fmt: skip
