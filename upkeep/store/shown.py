"""What of each table stood at a moment, as SQL: the one place that says it, for all that reads a book's past."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from upkeep.store.rows.counts import (
    COUNTER_CONFIGURATIONS,
    DISPUTED_COUNTS,
    MADE_WHILE_STILL,
    MARKS,
    ORDERS,
    QUANTITIES,
    REWORKS,
    UNCOUNTED_STROKES,
)
from upkeep.store.rows.definitions import DEFINED
from upkeep.store.rows.findings import (
    DISPOSITIONS,
    DOUBTED_PRESSES,
    FAULTS,
    LOTS,
    MEASURED,
    OUT_OF_TOLERANCE,
    PERMITS,
    PICTURES,
    REPAIRS,
    RESTRICTIONS,
    RETIRED,
)
from upkeep.store.rows.places import FITTINGS, PUTS, STAYS
from upkeep.store.rows.plans import ABSENCES, WEEK_STEPS
from upkeep.store.rows.shelf import OUTSIDE, PURCHASES, SHELF_MOVES
from upkeep.store.rows.signatures import DEFERRALS, HAPPENINGS, SIGN_OFFS, STATED
from upkeep.store.rows.table import Table
from upkeep.store.rows.under_way import HANDOVERS, UNDER_WAY


@dataclass(frozen=True)
class Dial:
    """The SQL of a moment.

    ``unknown`` is that of the items nobody had defined by then; None: there are none.  ``entry`` is that of a number:
    of what was told at the moment itself only entries with a lower one are shown; None: all are.
    """

    moment: str
    unknown: str | None
    entry: str | None = None


@dataclass(frozen=True)
class Shown:
    """How a table is shown.

    Attributes:
        table: The table.
        since: The column with the moment from which a row stands.
        items: The columns that name items.
        open: Columns that are empty until something happens, each with the moment at which it does.
        confirmed: Columns of that kind that only tell what is known of the row: who gave a second signature, and when.
        counted: Whether its rows are counts, or what is known of the time before the book.
        told: Whether its rows were told by somebody: of two at one moment the one with the higher number came later.
        more: A further condition.
    """

    table: Table[NamedTuple]
    since: str
    items: tuple[str, ...] = ("item",)
    open: tuple[tuple[str, str], ...] = ()
    confirmed: tuple[tuple[str, str], ...] = ()
    counted: bool = False
    told: bool = False
    more: str = ""


def _ended(*columns: str) -> tuple[tuple[str, str], ...]:
    return tuple((column, "b.until") for column in columns)


_VERIFIED = "(SELECT e.at FROM main.entries e WHERE e.id = b.verified_through)"

_COUNTED = " AND (b.item <> b.press OR EXISTS (SELECT 1 FROM main.marks m WHERE m.press = b.press AND m.at <= {then}))"
"""A press is on itself from its first count on."""

SHOWN = (
    Shown(DEFINED, "at", (), told=True),
    Shown(MARKS, "at", ("press",), counted=True),
    Shown(COUNTER_CONFIGURATIONS, "since", ("press",), counted=True),
    Shown(QUANTITIES, "until", ("press",), counted=True),
    Shown(MADE_WHILE_STILL, "known_from", ("press",), counted=True),
    Shown(UNCOUNTED_STROKES, "at", counted=True),
    Shown(DISPUTED_COUNTS, "at", ("press",), counted=True),
    Shown(REWORKS, "at"),
    Shown(ORDERS, "at"),
    Shown(PUTS, "at"),
    Shown(STATED, "at", counted=True),
    Shown(MEASURED, "at", told=True),
    Shown(LOTS, "at", told=True),
    Shown(OUT_OF_TOLERANCE, "at", ("gauge",)),
    Shown(DOUBTED_PRESSES, "at", ("item", "press")),
    Shown(DISPOSITIONS, "at", ()),
    Shown(RESTRICTIONS, "at", ()),
    Shown(PERMITS, "at"),
    Shown(FAULTS, "at", told=True),
    Shown(REPAIRS, "at", ()),
    Shown(RETIRED, "at"),
    Shown(PICTURES, "at"),
    Shown(FITTINGS, "start", ("item", "inside"), _ended("until", "ended_by", "left_to")),
    Shown(
        STAYS,
        "start",
        ("item", "press"),
        _ended("until", "end_low", "end_low_next", "end_best", "end_rest", "end_high_last", "end_high"),
        counted=True,
        more=_COUNTED,
    ),
    Shown(
        SIGN_OFFS, "at", confirmed=(("verified_by", _VERIFIED), ("verified_through", _VERIFIED)), told=True
    ),
    Shown(DEFERRALS, "at"),
    Shown(HAPPENINGS, "at"),
    Shown(UNDER_WAY, "at", open=_ended("until", "ended_by"), told=True),
    Shown(HANDOVERS, "at", ()),
    Shown(SHELF_MOVES, "at", (), told=True),
    Shown(PURCHASES, "at", ()),
    Shown(OUTSIDE, "at", told=True),
    Shown(ABSENCES, "at", ()),
    Shown(WEEK_STEPS, "at", ()),
)  # fmt: skip
"""Every table with a moment in it."""


def select(shown: Shown, schema: str, dial: Dial, *, confirmed: bool) -> str:
    """The SQL that reads a table of a schema as it stood, of its rows named ``b``; more conditions may follow.

    ``confirmed`` says whether what was confirmed later is shown as not yet confirmed.
    """
    ends = dict(shown.open + (shown.confirmed if confirmed else ()))
    columns = (
        f"CAST(CASE WHEN {ends[name]} <= {dial.moment} THEN b.{name} END AS {kind}) AS {name}"
        if name in ends
        else f"b.{name}"
        for name, kind in shown.table.types.items()
    )
    come = f"likely(b.{shown.since} <= {dial.moment})"
    if shown.told and dial.entry is not None:
        come = f"b.{shown.since} <= {dial.moment} AND {_before(f'b.{shown.since}', 'b.entry', dial)}"
    known = "".join(f" AND b.{item} NOT IN {dial.unknown}" for item in shown.items if dial.unknown is not None)
    more = shown.more.format(then=dial.moment)
    return f"SELECT {', '.join(columns)} FROM {schema}.{shown.table.name} b WHERE {come}{known}{more}"


def _before(at: str, entry: str, dial: Dial) -> str:
    return f"({at} < {dial.moment} OR {entry} < {dial.entry})"


def entries(schema: str, dial: Dial) -> str:
    """The SQL that reads the entries of a schema that had happened; more conditions may follow."""
    come = "at <= " + dial.moment
    if dial.entry is not None:
        come += f" AND {_before('at', 'id', dial)}"
    if dial.unknown is not None:
        come += f" AND (item IS NULL OR kind = 'define' OR item NOT IN {dial.unknown})"
    return f"SELECT * FROM {schema}.entries WHERE {come}"
