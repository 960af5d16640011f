"""The board for a wall monitor: what calls for somebody, large, without anybody's name."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.states import CALLING, State
from upkeep.frozen import frozen
from upkeep.said import Capitals, Said, listed, said, said_many
from upkeep.station.pages.labels import state_said
from upkeep.station.pages.moments import ClockTime
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes, in_time
from upkeep.views.board import Board, BoardLine
from upkeep.wording.states import SIGNS

ROWS = 9
"""Rows of work on a wall, so that each can be read from 5 m.

A letter is read at a distance of some 200 times its height (common practice, no source): 25 mm at 5 m, which is 1/27 of
the height of a monitor of 55 inches.
"""


@frozen
class WallRow:
    """One row: where, what, and how it stands; ``state_name`` is the state as the look knows it."""

    sign: str
    place: str
    work: Said
    state: Said
    state_name: str


@frozen
class WallPage:
    """``counts`` are how many lines stand how, ``locked`` the presses with a lock on them; ``more`` says what is left
    out."""

    title: Said
    clock: Said
    counts: tuple[Said, ...]
    locked: Said | None
    rows: tuple[WallRow, ...]
    more: Said | None
    seconds: int


def wall_page(board: Board, zone: Zone, area: str | None, seconds: int) -> WallPage:
    """The wall of a plant or of one of its areas, made anew every so many seconds."""
    left = board.total - len(board.rows)
    locked = list(dict.fromkeys(lock.press for lock in board.locks))
    return WallPage(
        title=said("{plant}, {area}", plant=board.plant, area=area) if area else said("{plant}", plant=board.plant),
        clock=said("{clock}", clock=ClockTime(board.at, zone)),
        counts=tuple(_counts(board)),
        locked=said("LOCKED, must not run: {presses}", presses=listed(locked)) if locked else None,
        rows=tuple(_row(line, board) for line in board.rows),
        more=said_many("... and {n} more", "... and {n} more", n=left) if left > 0 else None,
        seconds=seconds,
    )


def _counts(board: Board) -> Iterator[Said]:
    for state in (State.STOP, State.HELD, State.OVERDUE, State.DUE):
        number = board.by_state[state]
        if number:
            yield said("{sign} {n} {state}", sign=SIGNS[state], n=number, state=state_said(state))
    if not any(board.by_state[state] for state in CALLING):
        yield said("Nothing is due.")


def _row(line: BoardLine, board: Board) -> WallRow:
    return WallRow(
        sign=SIGNS[line.state],
        place=line.place,
        work=said("{item}: {work}", item=line.item, work=line.title),
        state=_state(line, board),
        state_name=line.state.name.lower().replace("_", "-"),
    )


def _state(line: BoardLine, board: Board) -> Said:
    parts: list[Said] = [said("{state}", state=Capitals(state_said(line.state)))]
    late = line.state in (State.OVERDUE, State.STOP)
    if late and line.remaining is not None and line.remaining < 0:
        parts.append(said("{strokes} over", strokes=in_strokes(-line.remaining)))
    elif late and line.overdue_at is not None and line.overdue_at <= board.at:
        parts.append(said("{age} late", age=in_time((board.at - line.overdue_at).total_seconds())))
    if line.job is not None:
        parts.append(said("paused") if line.job.interrupted_at else said("in work"))
    return said("{parts}", parts=listed(parts))
