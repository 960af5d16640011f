"""A printed list as a table of plain values: what CSV and spreadsheet are both made from."""

from __future__ import annotations

from datetime import date

from upkeep.frozen import frozen
from upkeep.papers.week.week_facts import due_said, last_done_said, window_said
from upkeep.said import Said, said, said_as, term
from upkeep.units.instants import Zone
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader, of_plant, text
from upkeep.wording.text import visible

Value = str | int | float | date | None


@frozen
class Table:
    """A list: its name, its columns, a value for each of them in every row (None: there is none)."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


_COLUMNS: tuple[Said, ...] = (
    said("row"), said("place"), said("area"), said("item"), said("task"), said("title"), said_as("column", "state"),
    said("due"), said("window"), said("due day"), said("strokes"), said("due at strokes"), said("minutes"),
    said("parts kit"), said("last done"), said("planned for"), said("by"), said("carried over"),
    said("after the freezing"),
)  # fmt: skip


def week_table(week: WeekList, reader: Reader) -> Table:
    """The weekly due list as a table; strokes and minutes are numbers, days are days, all else is text."""
    zone = Zone(week.zone)
    rows = tuple(
        (
            row.row, row.place, row.area, row.item, row.task, visible(of_plant(row.title, reader)),
            text(term(row.state, "state"), reader), text(due_said(row, zone), reader),
            text(window_said(row, zone), reader), row.due_day, row.strokes, row.due_strokes, row.minutes or None,
            text(said_as("kit", "yes") if row.kit else said_as("kit", "no"), reader),
            text(last_done_said(row, zone), reader), row.shift, row.person, row.carried or None, row.mark or None,
        )
        for row in week.rows
    )  # fmt: skip
    return Table(f"{week.week}", tuple(text(column, reader) for column in _COLUMNS), rows)
