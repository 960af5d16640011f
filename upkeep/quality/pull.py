"""The smallest pull force a crimp has to bear, and what a few good pulls say about the rest."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.errors import Refused
from upkeep.plant.crimps import PULL, Crimp, PullTable, smallest_force
from upkeep.said import Quoted, listed, said


def table_of(crimp: Crimp, tables: Mapping[str, PullTable]) -> PullTable | None:
    """The table a crimp takes its smallest pull force from; None: its drawing says it, or nobody does.

    A drawing (the limit of the crimp's own point) stands before any table.
    """
    drawn = any(point.id == PULL and point.lower is not None for point in crimp.points)
    if drawn or crimp.pull_table is None:
        return None
    if crimp.pull_table not in tables:
        raise Refused(
            said(
                "{crimp} names a pull table, {table}, that does not exist.",
                table=Quoted(crimp.pull_table),
                crimp=crimp.id,
            )
        )
    return tables[crimp.pull_table]


def smallest_of(crimp: Crimp, table: PullTable) -> float:
    """What a table asks of a crimp, by its wire size as given; nothing is converted.

    Refuses a table that nobody of quality has compared with the plant's own copy, and a size it has not.
    """
    if table.checked_by is None:
        raise Refused(
            said(
                "Quality has not compared pull table {table} ({title}, {edition}) with the plant's own copy; "
                "nothing is judged by it until 'checked_by' says who did.",
                table=table.id,
                title=table.title,
                edition=table.edition,
            )
        )
    force = smallest_force(table.forces, crimp.size)
    if force is None:
        raise Refused(
            said(
                "Pull table {table} has no wire size {size}; its sizes: {sizes}. Sizes are not converted.",
                table=table.id,
                size=Quoted(crimp.size),
                sizes=listed(table.forces),
            )
        )
    return force


def name_of(table: PullTable) -> str:
    """The name kept with a result: title and edition."""
    return f"{table.title}, {table.edition}"
