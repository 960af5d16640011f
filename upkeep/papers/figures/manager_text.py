"""The manager's page as text of 80 columns; its PDF says the same."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.figures.manager_rows import ManagerRow, manager_rows
from upkeep.said import Figure, Said, said, said_as
from upkeep.views.overview.manager import ManagerPage
from upkeep.wording.sentences import Reader, lines, text

UNKNOWN = "-"
"""Stands for a week of which nothing is known."""


def title_said(page: ManagerPage) -> Said:
    """What the page is, and of which week."""
    return said("MANAGER'S PAGE  {week}: {first} to {last}", week=page.week, first=page.first_day, last=page.last_day)


def value_text(value: float | None, reader: Reader) -> str:
    """A value of a week as the page writes it."""
    return UNKNOWN if value is None else text(said("{n}", n=Figure(value, ",.0f")), reader)


def decisions(rows: tuple[ManagerRow, ...]) -> Iterator[Said]:
    """What somebody must decide, in the order of the ten."""
    for row in rows:
        if row.decide is not None:
            yield said("[ ] {number}  {decide}", number=row.number, decide=row.decide)


def manager_text(page: ManagerPage, reader: Reader) -> str:
    """The page: the ten things, what to decide, what the figures mean."""
    rows = manager_rows(page)
    made = [*lines(title_said(page), reader), ""]
    for row in rows:
        made += _row(row, reader)
    made += ["", *lines(said("To decide"), reader)]
    told = [line for one in decisions(rows) for line in lines(one, reader, 2, 9)]
    made += told or lines(said_as("decisions", "nothing"), reader, 2)
    made += ["", *lines(said("Weekly values: {first} to {last}.", first=page.weeks[0], last=page.weeks[-1]), reader)]
    for row in rows:
        made += lines(said("[{number}] {definition}", number=row.number, definition=row.definition), reader, 0, 5)
    return "\n".join(made) + "\n"


def _row(row: ManagerRow, reader: Reader) -> Iterator[str]:
    yield from lines(
        said("{number}  {name} [{number}]: {figure}", number=row.number, name=row.name, figure=row.figure), reader, 0, 4
    )
    for detail in row.details:
        yield from lines(detail, reader, 4, 6)
    values = "  ".join(value_text(value, reader) for value in row.series)
    yield from lines(said("8 weeks, {weekly}: {values}", weekly=row.weekly, values=values), reader, 4, 6)
