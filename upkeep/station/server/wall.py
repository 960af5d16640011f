"""The wall: the board for a monitor that everybody sees, to be read only."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from upkeep.book import Board, BoardQuery, Book
from upkeep.due.states import CALLING
from upkeep.station.pages.page import Head, rendered
from upkeep.station.pages.wall import ROWS, wall_page
from upkeep.station.server.desk import Desk
from upkeep.units.instants import Zone
from upkeep.wording.sentences import Reader

SECONDS = 30
"""After so many seconds a wall asks for itself anew."""


class Wall:
    """The page of the wall.  It belongs to nobody, carries no name and writes nothing, so it asks for nobody."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [Route("/wall", self.wall)]

    async def wall(self, request: Request) -> Response:
        """The wall of the plant, or of an area (``?area=``); raises :class:`NotFound` for one there is none of."""
        area, at = request.query_params.get("area") or None, self._desk.now()
        query = BoardQuery(states=frozenset(CALLING), area=area, holds_by_item=True)

        def asked(book: Book) -> tuple[Board, Zone, Reader]:
            return book.board(at, query, limit=ROWS), book.zone, self._desk.whoever_comes(book, request)

        board, zone, reader = await self._desk.ask(asked)
        page = wall_page(board, zone, area, SECONDS)
        return HTMLResponse(rendered("wall", page, Head("", None, None, None, "", ""), reader))
