"""The application: its routes, what stands before them, and the page of everything that goes wrong."""

from __future__ import annotations

import logging

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from upkeep.errors import BookReplaced, BookUnavailable, NotFound, StrokebookError
from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.station.pages.page import HOME, Head, Person, rendered
from upkeep.station.server.changing import ChangesOfTools
from upkeep.station.server.coming import Coming
from upkeep.station.server.desk import BadgeScanned, Desk
from upkeep.station.server.device import language_of
from upkeep.station.server.finding import Finding
from upkeep.station.server.gate import SMALL, Gate, Rates
from upkeep.station.server.papers import Papers
from upkeep.station.server.rounds import Rounds
from upkeep.station.server.scanning import Scanning
from upkeep.station.server.sessions import NobodyHere
from upkeep.station.server.signing import Signing
from upkeep.station.server.under_way import UnderWay
from upkeep.station.server.wall import Wall
from upkeep.wording.sentences import ENGLISH, Reader

log = logging.getLogger(__name__)


@frozen
class SaidPage:
    """One sentence, and where to go on."""

    sentence: Said
    link: str
    title: Said


def application(desk: Desk, rates: Rates | None = None) -> Starlette:
    """The application of a desk; ``rates`` is how often an address may ask (None: as ever)."""
    wrong, coming = _Wrong(desk), Coming(desk)
    routes = [
        *coming.routes,
        *Rounds(desk).routes,
        *Signing(desk).routes,
        *Finding(desk).routes,
        *UnderWay(desk).routes,
        *Papers(desk).routes,
        *Wall(desk).routes,
        *Scanning(desk).routes,
        *ChangesOfTools(desk).routes,
        Mount("/files", StaticFiles(directory=HOME / "files")),
    ]
    return Starlette(
        routes=routes,
        middleware=[
            Middleware(Gate, names=desk.setting.names, language_of=language_of, rates=rates),
            Middleware(RequestBodyLimitMiddleware, max_body_size=SMALL),
        ],
        exception_handlers={
            NobodyHere: wrong.not_named,
            BadgeScanned: coming.badge,
            StrokebookError: wrong.refused,
            HTTPException: wrong.not_there,
            ClientDisconnect: wrong.gone,
            Exception: wrong.failed,
        },
    )


class _Wrong:
    """Pages of what was refused or went wrong."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    async def not_named(self, request: Request, error: Exception) -> Response:
        """Who is here is asked first."""
        assert isinstance(error, NobodyHere)
        return self._desk.to(request, error.session, f"/at/{request.path_params['place']}/who")

    async def refused(self, request: Request, error: Exception) -> Response:
        """What the book does not take, in its own sentence."""
        assert isinstance(error, StrokebookError)
        busy = isinstance(error, BookUnavailable | BookReplaced)
        return await self._page(request, error.said, 404 if isinstance(error, NotFound) else 503 if busy else 409)

    async def not_there(self, request: Request, error: Exception) -> Response:
        """A page that is not there, a form that is too old or too large."""
        assert isinstance(error, HTTPException)
        sentences = {
            403: said("This page was open for too long, or somebody else came. Nothing was written; open it again."),
            404: said("There is no such page here."),
            405: said("There is no such page here."),
        }
        unclear = said("The browser sent something this server cannot read. Nothing was written.")
        return await self._page(request, sentences.get(error.status_code, unclear), error.status_code)

    async def gone(self, request: Request, error: Exception) -> Response:
        """Whoever sent a form left in the middle of it, or took too long: nobody hears the answer."""
        return Response(status_code=400)

    async def failed(self, request: Request, error: Exception) -> Response:
        """A fault of the program: told in the log; the person is told to look."""
        log.error("A page failed: %s %s", request.method, request.url.path, exc_info=error)
        sentence = said("The program failed here. See on the round whether it was stored, and tell the keeper.")
        return await self._page(request, sentence, 500)

    async def _page(self, request: Request, sentence: Said, status: int) -> Response:
        try:
            session = await self._desk.session_of(request)
        except StrokebookError:  # what went wrong is the book or its keys: the browser stays whose it was
            session = None
        place = str(request.path_params.get("place", "")) if status not in (404, 500) else ""
        here = Person(session.here.id, session.here.name) if session is not None and session.here is not None else None
        title = said("{p}", p=place) if place else None
        head = Head(place, title, None, here if place else None, session.token if session else "", "")
        page = SaidPage(sentence, f"/at/{place}" if place else "/", said("Not done"))
        if session is None:
            reader = Reader(language_of(request.headers) or self._desk.setting.language or ENGLISH.language)
            return HTMLResponse(rendered("said", page, head, reader), status)
        return self._desk.page(request, session, "said", page, head, status)
