"""What is scanned where no form is open: a press is gone to, anything else is told."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.station.pages.page import Band
from upkeep.station.server.desk import Desk, Posted, refused_band
from upkeep.station.server.rounds import SHOWN_FOR
from upkeep.station.server.sessions import NobodyHere, Session, Shown
from upkeep.views.scanned import ScannedItem
from upkeep.wording.scanned import scanned_said


class Scanning:
    """The field that waits for a scanner on a page without a form of its own."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [Route("/at/{place}/scan", self.scanned, methods=["POST"])]

    async def scanned(self, request: Request) -> Response:
        """Goes where a code belongs."""
        desk, place = self._desk, request.path_params["place"]
        session = await desk.session_of(request)
        sent = await desk.posted(request, session)
        try:
            going = await self._taken(session, sent, place)
        except Refused as refusal:
            going = place
            session.pages.shown = Shown(refused_band(refusal.said), desk.now() + SHOWN_FOR)
        return desk.to(request, session, f"/at/{going}")

    async def _taken(self, session: Session, sent: Posted, place: str) -> str:
        """The place to go on at; what was scanned is told there."""
        scanned = await self._desk.scanned(sent, session)
        if session.here is None:
            raise NobodyHere(session)
        if scanned is None:
            return place
        if isinstance(scanned, ScannedItem) and scanned.kind == Kind.PRESS:
            return scanned.item
        session.pages.shown = Shown(Band("note", scanned_said(scanned)), self._desk.now() + SHOWN_FOR)
        return place
