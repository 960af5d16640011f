"""Entries about what was measured on pieces, and about gauges that read wrong."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from enum import StrEnum
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item
from upkeep.entries.reader import ID, VALUE, Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import said

OCCASIONS = ("set-up", "first-off", "as-found", "as-left", "slug", "sample", "reel", "last-off", "audit")
"""When a check is made: the settings written down at set-up; the first and the last piece; what was found before
adjusting and left after it; a solder slug, hand cycled; a sample from the run; at a new reel; besides the plan."""


WHILE_SETTING = ("set-up", "first-off", "as-found", "as-left", "slug")
"""Occasions at which a bad value is adjusted and measured again: a good one later lifts the hold by itself."""


_FIGURES = 9
"""Decimals a true value is judged by, far beyond any gauge: 1.142 + 0.008 lies on 1.15, not beside it."""


Limits = tuple[str, float | None, float | None]
"""A characteristic with its lower and upper limit; None: no limit on that side."""


class Lot(StrEnum):
    """What pieces are made from or for that is told by number: a reel of terminals, a lot of wire, an order."""

    REEL = "reel"
    WIRE = "wire"
    ORDER = "order"


@frozen(kw_only=True)
class Check(Entry):
    """Pieces, a solder slug or settings were measured on a die set (or module) on a press.

    ``occasion`` is one of :data:`OCCASIONS`; ``crimp`` the definition of terminal and wire that was run; ``points`` the
    readings by characteristic, one ``gauge`` for all; ``limits`` those that held then, put in by the book; ``looks``
    what was judged by eye, good or bad; ``broke`` how each pulled piece broke and ``table`` the name and edition of the
    pull table its minimum came from.  ``press`` is put in by the book where it is left out.  ``doubts``
    is put in by the book: the press that is at fault by the measured points, and not the die (None: they do not say so,
    or it was written before the book looked).
    """

    item: str
    occasion: str
    press: str | None = None
    crimp: str | None = None
    gauge: str | None = None
    points: tuple[tuple[str, tuple[float, ...]], ...] = ()
    limits: tuple[Limits, ...] = ()
    looks: tuple[tuple[str, bool], ...] = ()
    broke: tuple[str, ...] = ()
    table: str = ""
    order: str | None = None
    reel: str | None = None
    wire: str | None = None
    remark: str = ""
    doubts: str | None = None

    def verdicts(self, off: float = 0.0) -> dict[str, bool]:
        """Each characteristic that can be judged, and whether it is good.

        ``off`` is how much too high the gauge read, in the unit of the point: it is taken away before judging.
        """
        limits = {key: (lower, upper) for key, lower, upper in self.limits}
        judged = {key: _within(values, limits[key], off) for key, values in self.points if key in limits}
        return {**judged, **dict(self.looks)}

    @property
    def measured(self) -> tuple[tuple[str, tuple[float, ...]], ...]:
        """The points that were measured: all of a check."""
        return self.points

    def gauge_of(self, point: str) -> str | None:
        """The gauge that measured a point: the one of the check."""
        return self.gauge

    @property
    def failed(self) -> tuple[str, ...]:
        """The characteristics that are bad."""
        return tuple(key for key, good in self.verdicts().items() if not good)


def _within(values: tuple[float, ...], limits: tuple[float | None, float | None], off: float) -> bool:
    lower, upper = limits
    true = [round(value - off, _FIGURES) for value in values]
    return all((lower is None or value >= lower) and (upper is None or value <= upper) for value in true)


@frozen(kw_only=True)
class OutOfTolerance(Entry):
    """A gauge was found to read wrong: ``off`` is its reading less the true value, in the unit it measures.

    It is held from here; what it measured since its last good calibration or block check is in doubt.
    """

    item: str
    off: float


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


def _check(e: Check) -> str:
    words = [f"{e.item} {e.occasion}"]
    for keyword, value in (("on", e.press), ("of", e.crimp), ("with", e.gauge)):
        words += [f"{keyword} {value}"] if value is not None else []
    words += [f"{point}={','.join(map(repr, values))}" for point, values in e.points]
    words += [f"{look}:{'good' if good else 'bad'}" for look, good in e.looks]
    if e.limits:
        words.append("within")
        words += [f"{point}={_limit(lower)}:{_limit(upper)}" for point, lower, upper in e.limits]
    words += [f"broke {','.join(e.broke)}"] if e.broke else []
    words += [f"table {quoted(e.table)}"] if e.table else []
    for keyword, value in (("order", e.order), ("reel", e.reel), ("wire", e.wire)):
        words += [f"{keyword} {value}"] if value is not None else []
    words += [f"doubts {e.doubts}"] if e.doubts is not None else []
    words += [f"remark {quoted(e.remark)}"] if e.remark else []
    return " ".join(words)


def _limit(value: float | None) -> str:
    return "" if value is None else repr(value)


def _read_check(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"item": r.id(said("a die set")), "occasion": r.word(said("the occasion, like first-off"))}
    read |= r.ids_after(press="on", crimp="of", gauge="with")
    read["points"] = tuple(iter(r.point, None))
    read["looks"] = tuple(iter(lambda: _read_look(r), None))
    if r.keyword("within"):
        read["limits"] = tuple(iter(lambda: _read_limits(r), None))
    if r.keyword("broke"):
        read["broke"] = r.ids(said("how each piece broke, separated by commas,"))
    if r.keyword("table"):
        read["table"] = r.json(str, said("the quoted name of a table"))
    read |= r.ids_after(order="order", reel="reel", wire="wire", doubts="doubts")
    if r.keyword("remark"):
        read["remark"] = r.json(str, said("a quoted remark"))
    return read


def _read_look(r: Reader) -> tuple[str, bool] | None:
    look, colon, verdict = r.peek().partition(":")
    if not colon or "=" in look:
        return None
    if not ID.match(look) or verdict not in ("good", "bad"):
        raise r.fail(said("a look like burr:good or burr:bad"))
    r.word(said("a look"))
    return look, verdict == "good"


def _read_limits(r: Reader) -> Limits | None:
    point, equals, limits = r.peek().partition("=")
    if not equals:
        return None
    lower, colon, upper = limits.partition(":")
    sides = [side for side in (lower, upper) if side]
    if not (ID.match(point) and colon) or not all(VALUE.match(side) and math.isfinite(float(side)) for side in sides):
        raise r.fail(said("limits like crimp-height=1.15:1.25"))
    r.word(said("limits"))
    return point, float(lower) if lower else None, float(upper) if upper else None


def _read_out_of_tolerance(r: Reader) -> dict[str, Any]:
    item = r.id(said("a gauge"))
    r.expect("off")
    return {"item": item, "off": r.value(said("how much too high it reads"))}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Check,
        "check",
        'item occasion ["on" press] ["of" crimp] ["with" gauge] {point "=" value{","value}} '
        '{look ":" ("good" | "bad")} ["within" {point "=" [value] ":" [value]}] ["broke" how{","how}] '
        '["table" text] ["order" id] ["reel" id] ["wire" id] ["doubts" press] ["remark" text]',
        _check,
        _read_check,
        under_item,
    ),
    EntryKind(
        OutOfTolerance,
        "out-of-tolerance",
        'gauge "off" value',
        lambda e: f"{e.item} off {e.off!r}",
        _read_out_of_tolerance,
        under_item,
        standing=True,
        act=Act.GAUGE_OUT,
    ),
)
