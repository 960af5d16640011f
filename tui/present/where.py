"""Where everything is, in words: a heading a place, under it what stands there, deeper what sits in it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from tui.present.moments import Now, wall_said
from tui.present.sections import Shown
from tui.present.words import between
from upkeep.said import said, said_many, term
from upkeep.views.overview.whereabouts import Whereabouts, WhereRow
from upkeep.wording.sentences import text
from upkeep.wording.text import fit
from upkeep.wording.where import STANDINGS

_ITEM, _KIND, _STANDING = 15, 17, 19


def name_of(row: WhereRow) -> object:
    """What a row is known by."""
    return row.item


def where_rows(found: Whereabouts, now: Now, width: int) -> tuple[Shown[WhereRow], ...]:
    """All of it, place by place."""
    return tuple(_rows(found, now, width))


def _rows(found: Whereabouts, now: Now, width: int) -> Iterator[Shown[WhereRow]]:
    if not found.rows:
        yield Shown(text(said("Nothing matches. Esc clears what is searched."), now.reader), None)
    for place, rows in groupby(found.rows, key=lambda row: (row.place, row.area)):
        here = list(rows)
        items = said_many("{n} item", "{n} items", n=len(here))
        heading = said("{place}   {area}   {items}", place=place[0], area=place[1], items=items)
        yield Shown(text(heading, now.reader), None)
        for row in here:
            yield Shown(_row(row, now, width), row)


def _row(row: WhereRow, now: Now, width: int) -> str:
    """The item as deep as it sits; its kind, how it is there, what it is called and whose it is."""
    item = f"{'   ' * row.depth}{row.item}"
    title = said("{title}", title=row.title)
    if row.owner is not None:
        title = said("of {owner}: {title}", title=row.title, owner=row.owner)
    cells = (
        fit(item, _ITEM), fit(text(term(row.kind, "kind"), now.reader), _KIND),
        fit(text(STANDINGS[row.standing], now.reader), _STANDING),
        fit(text(title, now.reader), max(width - _ITEM - _KIND - _STANDING - 4, 8)),
    )  # fmt: skip
    return " ".join(cells)


def where_head(found: Whereabouts, now: Now, width: int, past: bool) -> str:
    """How many items are shown, and as of when."""
    shown = said_many("Where everything is: {n} item", "Where everything is: {n} items", n=found.total)
    if past:
        shown = said_many(
            "Where everything was: {n} item, as it stood then", "Where everything was: {n} items, as it stood then",
            n=found.total,
        )  # fmt: skip
    return between(f" {text(shown, now.reader)}", f"{text(wall_said(now.at, now.zone), now.reader)} ", width)
