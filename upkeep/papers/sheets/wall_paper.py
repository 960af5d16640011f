"""The board for a wall, as paper: what calls for somebody, without anybody's name."""

from __future__ import annotations

from upkeep.due.states import CALLING
from upkeep.papers.board_text import due_said
from upkeep.said import Capitals, listed, said, said_many, term
from upkeep.units.instants import Zone
from upkeep.views.board import Board
from upkeep.wording.sentences import Reader, lines


def wall_text(board: Board, reader: Reader) -> str:
    """The page: how many lines stand how, then the most urgent ones."""
    zone = Zone(board.zone)
    counts = (
        said("{n} {state}", n=board.by_state.get(state, 0), state=term(state, "state"))
        for state in CALLING
        if board.by_state.get(state)
    )
    page = lines(said("WALL BOARD  {plant}", plant=board.plant), reader)
    page += lines(said("{counts}", counts=listed(counts)), reader)
    locked = list(dict.fromkeys(lock.press for lock in board.locks))
    if locked:
        page += lines(said("LOCKED, must not run: {presses}", presses=listed(locked)), reader)
    page.append("")
    for row in board.rows:
        words = said(
            "{state} {place} {item}: {title}; {due}",
            state=Capitals(term(row.state, "state")), place=row.place, item=row.item, title=row.title,
            due=due_said(row, zone),
        )  # fmt: skip
        page += lines(words, reader, 0, 4)
    if board.total > len(board.rows):
        page += lines(said_many("... and {n} more", "... and {n} more", n=board.total - len(board.rows)), reader)
    return "\n".join(page) + "\n"
