"""Every table made from entries at a glance; and which rows come and go with one entry."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, get_args

from upkeep.store.rows.counts import (
    BESIDES,
    MADE,
    MARKS,
    ORDERS,
    REWORKS,
    TERMS,
    BesidesRow,
    MadeRow,
    OrderRow,
    ReworkRow,
    TermsRow,
)
from upkeep.store.rows.definitions import DEFINITIONS, WITHOUT_EFFECT
from upkeep.store.rows.findings import (
    DISPOSALS,
    FAULTS,
    MEASURED,
    MISREADS,
    NARROWINGS,
    OVERRIDES,
    PICTURES,
    REPAIRS,
    RETIRED,
    DisposalRow,
    FaultRow,
    MeasuredRow,
    MisreadRow,
    NarrowingRow,
    OverrideRow,
    PictureRow,
    RepairRow,
    RetiredRow,
)
from upkeep.store.rows.lines import LINES
from upkeep.store.rows.places import (
    FITTINGS,
    STAYS,
)
from upkeep.store.rows.signatures import (
    DEFERRALS,
    HAPPENINGS,
    SIGN_OFFS,
    STANDINGS,
    STATED,
    StatedRow,
)
from upkeep.store.rows.table import R, Table

PROJECTIONS: tuple[Table[NamedTuple], ...] = (
    DEFINITIONS, WITHOUT_EFFECT, TERMS, MARKS, MADE, BESIDES, REWORKS, ORDERS, STATED, MEASURED, MISREADS, DISPOSALS,
    NARROWINGS, OVERRIDES, FAULTS, REPAIRS, RETIRED, PICTURES, FITTINGS, STAYS, SIGN_OFFS, DEFERRALS, HAPPENINGS,
    STANDINGS, LINES,
)  # fmt: skip
"""Every table made from entries, in the order in which they are compared and filled."""

EntryRow = (
    TermsRow | MadeRow | BesidesRow | ReworkRow | OrderRow | StatedRow | MeasuredRow | MisreadRow | DisposalRow
    | NarrowingRow | OverrideRow | FaultRow | RepairRow | RetiredRow | PictureRow
)  # fmt: skip
"""Rows that come with one entry and go when it loses its effect; nothing else moves them."""

_HOLDING: Mapping[type[NamedTuple], Table[NamedTuple]] = {table.row: table for table in PROJECTIONS}


def table_of(row: type[R]) -> Table[R]:
    """The table that holds rows of a type."""
    return _HOLDING[row]  # type: ignore[return-value]


ENTRY_TABLES: tuple[Table[NamedTuple], ...] = tuple(_HOLDING[row] for row in get_args(EntryRow))
"""The tables of such rows."""
