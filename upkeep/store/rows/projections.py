"""Every table made from entries at a glance; and which rows come and go with one entry."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, get_args

from upkeep.store.rows.counts import (
    COUNTER_CONFIGURATIONS,
    DISPUTED_COUNTS,
    MADE_WHILE_STILL,
    MARKS,
    ORDERS,
    QUANTITIES,
    REWORKS,
    UNCOUNTED_STROKES,
    CounterConfigurationRow,
    DisputedRow,
    OrderRow,
    QuantityRow,
    ReworkRow,
    UncountedRow,
)
from upkeep.store.rows.definitions import DEFINED, DEFINITIONS, WITHOUT_EFFECT, DefinedRow
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
    DispositionRow,
    DoubtedPressRow,
    FaultRow,
    LotRow,
    MeasuredRow,
    OutOfToleranceRow,
    PermitRow,
    PictureRow,
    RepairRow,
    RestrictionRow,
    RetiredRow,
)
from upkeep.store.rows.lines import LINES
from upkeep.store.rows.places import (
    FITTINGS,
    PUTS,
    STAYS,
    PutRow,
)
from upkeep.store.rows.plans import ABSENCES, WEEK_STEPS, AbsenceRow, WeekStepRow
from upkeep.store.rows.shelf import OUTSIDE, PURCHASES, SHELF_MOVES, OutsideRow, PurchaseRow, ShelfMoveRow
from upkeep.store.rows.signatures import (
    DEFERRALS,
    HAPPENINGS,
    SIGN_OFFS,
    STANDINGS,
    STATED,
    StatedRow,
)
from upkeep.store.rows.table import R, Table
from upkeep.store.rows.under_way import HANDOVERS, UNDER_WAY, HandoverRow

PROJECTIONS: tuple[Table[NamedTuple], ...] = (
    DEFINITIONS, DEFINED, WITHOUT_EFFECT, COUNTER_CONFIGURATIONS, MARKS, QUANTITIES, MADE_WHILE_STILL,
    UNCOUNTED_STROKES, REWORKS, ORDERS, STATED, MEASURED, LOTS, OUT_OF_TOLERANCE, DOUBTED_PRESSES, DISPOSITIONS,
    RESTRICTIONS, PERMITS, FAULTS, REPAIRS, RETIRED, PICTURES, DISPUTED_COUNTS, FITTINGS, PUTS, STAYS, SIGN_OFFS,
    DEFERRALS, HAPPENINGS, STANDINGS, UNDER_WAY, HANDOVERS, SHELF_MOVES, PURCHASES, OUTSIDE, ABSENCES, WEEK_STEPS,
    LINES,
)  # fmt: skip
"""Every table made from entries, in the order in which they are compared and filled."""

EntryRow = (
    DefinedRow | CounterConfigurationRow | QuantityRow | UncountedRow | ReworkRow | OrderRow | StatedRow | MeasuredRow |
    LotRow | OutOfToleranceRow | DispositionRow | RestrictionRow | PermitRow | FaultRow | RepairRow | RetiredRow |
    PictureRow | DisputedRow | DoubtedPressRow | HandoverRow | PutRow |
    ShelfMoveRow | PurchaseRow | OutsideRow | AbsenceRow | WeekStepRow
)  # fmt: skip
"""Rows that come with one entry and go when it loses its effect; nothing else moves them."""

_HOLDING: Mapping[type[NamedTuple], Table[NamedTuple]] = {table.row: table for table in PROJECTIONS}


def table_of(row: type[R]) -> Table[R]:
    """The table that holds rows of a type."""
    return _HOLDING[row]  # type: ignore[return-value]


ENTRY_TABLES: tuple[Table[NamedTuple], ...] = tuple(_HOLDING[row] for row in get_args(EntryRow))
"""The tables of such rows."""
