"""The columns of the board: which fit a width, and the cells of a line in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from tui.present.board import due_text, last_done_said, late_text, title_said
from tui.present.moments import Now
from tui.present.state_words import state_text
from upkeep.due.states import CALLING
from upkeep.frozen import frozen
from upkeep.said import Said, said, said_as, term
from upkeep.views.board import BoardLine
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit, width_of

Cell = Callable[[BoardLine, Now, int], str]


@frozen
class Column:
    """A column: its head, its cells at least and at best how wide, and how soon it gives way (0: never)."""

    head: Said
    least: int
    best: int
    rank: int
    cell: Cell


_STATE, _TASK, _DUE, _ESTIMATED = said("state"), said("task"), said_as("moment", "due"), said("estimated")
_NARROW_DUE = 14
"""Cells for why a line is due where not even the columns that never give way have room: the task keeps its own."""

_COLUMNS = (
    Column(_STATE, 10, 15, 0, lambda line, now, width: state_text(line.state, now.reader)),
    Column(said("place"), 6, 10, 0, lambda line, now, width: line.place),
    Column(said("item"), 7, 12, 0, lambda line, now, width: line.item),
    Column(_TASK, 19, 34, 0, lambda line, now, width: text(said("{title}", title=title_said(line)), now.reader)),
    Column(_DUE, 26, 30, 0, lambda line, now, width: due_text(line, now.zone, now.reader, width)),
    Column(said("due for"), 7, 8, 1, lambda line, now, width: late_text(line, now)),
    Column(said("strokes"), 9, 9, 3, lambda line, now, width: text(_ESTIMATED, now.reader) if line.estimated else ""),
    Column(said("last done"), 18, 24, 2, lambda line, now, width: text(last_done_said(line, now), now.reader)),
    Column(said("energy"), 6, 6, 4, lambda line, now, width: text(term(line.energy, "energy"), now.reader)),
    Column(said("min"), 4, 4, 5, lambda line, now, width: f"{line.minutes:g}"),
    Column(said("area"), 8, 12, 6, lambda line, now, width: line.area),
)


@frozen
class Layout:
    """The columns that fit a width, each with its own."""

    columns: tuple[tuple[Column, int], ...]

    @property
    def cells(self) -> int:
        """How wide a row is."""
        return sum(width for _, width in self.columns) + len(self.columns) - 1

    def heads(self, reader: Reader) -> str:
        """The row of column heads."""
        return " ".join(fit(text(column.head, reader), width) for column, width in self.columns)

    def row(self, line: BoardLine, now: Now) -> str:
        """The cells of a line as one row of text."""
        return " ".join(fit(column.cell(line, now, width), width) for column, width in self.columns)


def layout(width: int, reader: Reader) -> Layout:
    """The columns for a width in cells: all that must be there, then how long a line has been due, then the task as
    wide as it is at best, then the others by rank; what is left goes to the task.

    The state has room for every word that calls for somebody, in the language of the reader.
    """
    columns = [replace(column, least=_least(column, reader)) for column in _COLUMNS]
    if _needs([column for column in columns if not column.rank]) > width:
        columns = [replace(column, least=_NARROW_DUE) if column.head == _DUE else column for column in columns]
    shown = [column for column in columns if not column.rank]
    task = next(column for column in columns if column.head == _TASK)
    for column in sorted(columns, key=lambda column: column.rank):
        room = width if column.rank <= 1 else width - task.best + task.least
        if column.rank and _needs([*shown, column]) <= room:
            shown.append(column)
    chosen = [column for column in columns if column in shown]
    widths = _widened(chosen, width - _needs(chosen))
    return Layout(tuple((column, widths[column.head]) for column in chosen))


def _least(column: Column, reader: Reader) -> int:
    """At least how wide a column is; that of the states as wide as the longest that calls for somebody, and what it
    takes is missing to why."""
    more = max(width_of(state_text(state, reader)) for state in CALLING) - 10
    if more <= 0 or column.head not in (_STATE, _DUE):
        return column.least
    return column.least + (more if column.head == _STATE else -more)


def _widened(columns: Sequence[Column], rest: int) -> Mapping[Said, int]:
    """What is left of a width goes to the task as far as its best, to the others as far as theirs, then to the task."""
    widths = {column.head: column.least for column in columns}
    for column in sorted(columns, key=lambda column: column.head != _TASK):
        more = min(max(rest, 0), column.best - column.least)
        widths[column.head] += more
        rest -= more
    widths[_TASK] += max(rest, 0)
    return widths


def _needs(columns: Sequence[Column]) -> int:
    return sum(column.least for column in columns) + len(columns) - 1
