"""Where everything is, as a page: place by place, what sits in something deeper than what stands beside it."""

from __future__ import annotations

from itertools import groupby

from upkeep.said import said, said_many, term
from upkeep.units.instants import Zone
from upkeep.views.overview.whereabouts import Whereabouts, WhereRow
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import padded, visible
from upkeep.wording.where import STANDINGS


def where_text(found: Whereabouts, zone: Zone, reader: Reader) -> str:
    """The page: how many items, as of when, and each under its place."""
    head = said_many("{n} item, as of {at}", "{n} items, as of {at}", n=found.total, at=zone.show(found.at))
    page = [text(head, reader)]
    for (place, area), rows in groupby(found.rows, key=lambda row: (row.place, row.area)):
        page += ["", text(said("{place}   {area}", place=place, area=area), reader)]
        page += [_row(row, reader) for row in rows]
    return "\n".join(map(visible, page)) + "\n"


def _row(row: WhereRow, reader: Reader) -> str:
    title = said("{title}", title=row.title)
    if row.owner is not None:
        title = said("of {owner}: {title}", title=row.title, owner=row.owner)
    item = padded(f"{'  ' * (row.depth + 1)}{row.item}", 17)
    kind = padded(text(term(row.kind, "kind"), reader), 18)
    return f"{item}{kind}{padded(text(STANDINGS[row.standing], reader), 20)}{text(title, reader)}"
