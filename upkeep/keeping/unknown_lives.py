"""Parts whose life is not known."""

from __future__ import annotations

from upkeep.keeping.lookups import Rows
from upkeep.units.instants import NEVER, utc_text

LIFE_UNKNOWN = "life unknown"
"""The happening that nobody knows any more what an item has done; no task waits for it."""


def unknown_since(rows: Rows, item: str) -> int | None:
    """The entry that says that the life of an item is not known: none is left until a graded inspection or a rework.

    None: its life is known, or it was inspected or reworked since.
    """
    unknown = rows.last_happening(item, LIFE_UNKNOWN, utc_text(NEVER))
    if unknown is None:
        return None
    graded, rework = rows.last_graded(item), rows.last_rework(item)
    since = max((row.at, row.entry) for row in (unknown, graded, rework) if row is not None)
    return unknown.entry if since == (unknown.at, unknown.entry) else None
