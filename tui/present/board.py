"""The board in words: its head, its columns for a width, and the cells of a line."""

from __future__ import annotations

from collections.abc import Callable

from tui.present.moments import Now, age_text, day_text, near_text, wall_text
from tui.present.state_words import state_text, states_text
from tui.present.words import between, first_that_fits
from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import Day, OfShift, event_of, occurrence_of
from upkeep.frozen import frozen
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.board import Board, BoardLine, BoardQuery
from upkeep.wording.reasons import sentence
from upkeep.wording.text import fit

ESTIMATED = "~"
"""Stands before strokes that had to be estimated."""

_LATE = (State.STOP, State.OVERDUE, State.DUE)

Cell = Callable[[BoardLine, Now, int], str]


@frozen
class Column:
    """A column: its head, its cells at least and at best how wide, and how soon it gives way (0: never)."""

    head: str
    least: int
    best: int
    rank: int
    cell: Cell


def due_text(line: BoardLine, zone: Zone, width: int = 80) -> str:
    """Why a line is due, in a few words: ``192,400 of 200,000 strokes``, ``Mon 2026-03-09`` or the event that asks for
    it with its moment; "" where nothing is."""
    if line.stopped_at is not None:
        since = zone.show(line.stopped_at)
        return first_that_fits(
            (f"now: tools were changed {since}", f"tools changed {since[5:]}", "tools changed"), width
        )
    if line.at_next_stop and line.state is State.OPEN:
        latest = first_that_fits(_planned_forms(line), width - len("next stop, by "))
        return first_that_fits((f"at the next stop, by {latest}", f"next stop, by {latest}", "at the next stop"), width)
    event = event_of(line.occurrence)
    if event is not None and line.due_at is not None:
        since = zone.show(line.due_at)
        return first_that_fits(
            (f"since the {event} of {since}", f"{event} {since}", f"{event} {since[5:]}", event), width
        )
    return first_that_fits(_planned_forms(line), width)


def _planned_forms(line: BoardLine) -> tuple[str, ...]:
    """The strokes or the day of a line, the longest form first."""
    if line.strokes is not None and line.due_strokes is not None and not _answers_a_day(line):
        return _stroke_forms(line, line.strokes, line.due_strokes)
    if line.due_day is None:
        return ("",)
    planned = occurrence_of(line.occurrence)
    shift = planned.shift if isinstance(planned, OfShift) else ""
    return f"{day_text(line.due_day)} {shift}".rstrip(), day_text(line.due_day)


def _answers_a_day(line: BoardLine) -> bool:
    """Whether the occurrence is a day; a usage occurrence is a figure, and then the strokes say why."""
    return isinstance(occurrence_of(line.occurrence), Day | OfShift)


def _stroke_forms(line: BoardLine, done: int, due: int) -> tuple[str, ...]:
    mark = ESTIMATED if line.estimated else ""
    figures = f"{mark}{grouped(done)} of {grouped(due)}"
    return f"{figures} strokes", f"{figures} st.", f"{mark}{grouped(done)}/{grouped(due)}"


def late_text(line: BoardLine, now: Now) -> str:
    """How long a line has been due, ``3 days``; "" before that."""
    late = line.state in _LATE and line.due_at is not None and line.due_at <= now.at
    return age_text(now.at - line.due_at) if late and line.due_at else ""


def last_done_text(line: BoardLine, now: Now) -> str:
    """When a line was last done and by whom; "never" if the book knows of none."""
    if line.last_done_at is None:
        return "never"
    return f"{near_text(line.last_done_at, now)} {line.last_done_by or ''}".rstrip()


_COLUMNS = (
    Column("state", 10, 15, 0, lambda line, now, width: state_text(line.state)),
    Column("place", 6, 10, 0, lambda line, now, width: line.place),
    Column("item", 7, 12, 0, lambda line, now, width: line.item),
    Column("task", 19, 34, 0, lambda line, now, width: line.title),
    Column("due", 26, 30, 0, lambda line, now, width: due_text(line, now.zone, width)),
    Column("due for", 7, 8, 0, lambda line, now, width: late_text(line, now)),
    Column("strokes", 9, 9, 2, lambda line, now, width: "estimated" if line.estimated else ""),
    Column("last done", 18, 24, 1, lambda line, now, width: last_done_text(line, now)),
    Column("energy", 6, 6, 3, lambda line, now, width: line.energy),
    Column("min", 4, 4, 4, lambda line, now, width: f"{line.minutes:g}"),
    Column("area", 8, 12, 5, lambda line, now, width: line.area),
)


@frozen
class Layout:
    """The columns that fit a width, each with its own."""

    columns: tuple[tuple[Column, int], ...]

    @property
    def cells(self) -> int:
        """How wide a row is."""
        return sum(width for _, width in self.columns) + len(self.columns) - 1

    def heads(self) -> str:
        """The row of column heads."""
        return " ".join(fit(column.head, width) for column, width in self.columns)

    def row(self, line: BoardLine, now: Now) -> str:
        """The cells of a line as one row of text."""
        return " ".join(fit(column.cell(line, now, width), width) for column, width in self.columns)


def layout(width: int) -> Layout:
    """The columns for a width in cells: all that must be there, then the others by rank; rest goes to the task."""
    shown = {column.head for column in _COLUMNS if column.rank == 0}
    for column in sorted(_COLUMNS, key=lambda column: column.rank):
        if column.rank and _needs(shown | {column.head}) <= width:
            shown.add(column.head)
    rest = width - _needs(shown)
    widths = {}
    for column in _COLUMNS:
        if column.head in shown:
            more = min(max(rest, 0), column.best - column.least)
            widths[column.head] = column.least + more
            rest -= more
    widths["task"] += max(rest, 0)
    return Layout(tuple((column, widths[column.head]) for column in _COLUMNS if column.head in shown))


def _needs(shown: set[str]) -> int:
    return sum(column.least for column in _COLUMNS if column.head in shown) + len(shown) - 1


def head_rows(board: Board, query: BoardQuery, now: Now, person: str, width: int, window: range) -> tuple[str, ...]:
    """The three rows above the board: plant and local time, lines by state, counts as of and what is shown."""
    clock = f"{wall_text(now.at, now.zone)} {now.zone.name}"
    who = f"   here: {person}" if person else ""
    return (
        between(f" {board.plant}{who}", f"{clock} ", width),
        fit(f" {states_text(board.by_state, width - 1)}", width),
        between(f" {counts_text(board, now)}", f"{shown_text(board, query, window)} ", width),
    )


def counts_text(board: Board, now: Now) -> str:
    """As of when the counts are: the oldest of all presses, and which press that is."""
    if board.counts_as_of is None:
        return "No press has been counted yet"
    return f"Counts as of {near_text(board.counts_as_of, now)} ({board.oldest_count_press}, the oldest)"


def shown_text(board: Board, query: BoardQuery, window: range) -> str:
    """Which lines are shown, out of how many: ``1-16 of 1,230 to do, P-07, "clean"``."""
    rows = f"{grouped(window.start + 1)}-{grouped(window.stop)} of " if window else ""
    return ", ".join([f"{rows}{grouped(board.total)} {_states_shown(query.states)}", *narrowed(query)])


def _states_shown(states: frozenset[State]) -> str:
    if not states:
        return "of all states"
    return "to do" if states == frozenset(CALLING) else " or ".join(sorted(states))


def narrowed(query: BoardQuery) -> tuple[str, ...]:
    """What narrows the board besides states: area, place, role, and the searched text in quotes."""
    filters = [f'"{query.search}"'] if query.search else []
    return (*(part for part in (query.area, query.place, query.role) if part), *filters)


def reason_text(line: BoardLine, now: Now) -> str:
    """The whole title of a line, why it stands as it does, and whether its sign-off waits for somebody."""
    waits = f" Waiting for the second signature ({line.second_signature}): press v." if line.unverified else ""
    return f"{line.title}, {line.item}: {sentence(line.reasons, now.zone, now.names, now.reader)}{waits}"


def nothing_text(query: BoardQuery) -> str:
    """What stands in an empty board, and which key widens it."""
    if narrowed(query):
        return "No line matches. Press x to show the whole plant again."
    return "Nothing needs doing. Press t to see all lines." if query.states else "This book has no lines yet."
