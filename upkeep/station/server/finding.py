"""Something found: the symptom, its item, stopped or not, a photo."""

from __future__ import annotations

import asyncio

from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.entries.faults import Fault
from upkeep.errors import Refused
from upkeep.quality.symptoms import IN_WORDS, OTHER, Symptom, named
from upkeep.said import Said, said
from upkeep.station.pages.finding import LACKS_ITEM, LACKS_WORDS, found_page, symptoms_page, words_of
from upkeep.station.pages.page import Band
from upkeep.station.pages.proof import HELD_NOW, reported_band
from upkeep.station.server.desk import LOOK, Desk, Look, Posted, refused_band
from upkeep.station.server.gate import LARGE
from upkeep.station.server.photos import bare_photo, keep_photo
from upkeep.station.server.sessions import Here, Session
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.scanned import not_wanted_said, scanned_said


class Finding:
    """The pages of something found, and the report they write."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        large = [Middleware(RequestBodyLimitMiddleware, max_body_size=LARGE)]
        self.routes = [
            Route("/at/{place}/found", self.symptoms),
            Route("/at/{place}/found/{symptom}", self.form),
            Route("/at/{place}/found/{symptom}", self.reported, methods=["POST"], middleware=large),
        ]

    async def symptoms(self, request: Request) -> Response:
        """The symptoms, the most frequent first."""
        desk, place = self._desk, request.path_params["place"]
        seen = await desk.look(place)
        session, _ = await desk.named(request)
        return desk.page(request, session, "symptoms", symptoms_page(), desk.head(seen, session))

    async def form(self, request: Request) -> Response:
        """One symptom: its cautions, the item, stopped or not."""
        desk, place = self._desk, request.path_params["place"]
        seen = await desk.look(place)
        session, here = await desk.named(request)
        await desk.may(here, Wish("fault"))
        page = found_page(_symptom(request), seen.walk.hanging)
        return desk.page(request, session, "found", page, desk.head(seen, session))

    async def reported(self, request: Request) -> Response:
        """Writes the report and its photo, or shows the form again."""
        desk, place, symptom = self._desk, request.path_params["place"], _symptom(request)
        session, here = await desk.named(request)
        sent, seen = await desk.posted(request, session), await desk.look(place)
        item, more = sent.text("item"), tuple[Band, ...]()
        try:
            scanned = await desk.scanned(sent, session)
            if scanned is None and sent.text("stops") != LOOK:
                await self._report(place, session, here, sent, seen, symptom)
                return desk.to(request, session, f"/at/{place}")
            if scanned is not None:
                item, more = _found_on(scanned, seen), (Band("note", scanned_said(scanned)),)
        except Refused as refusal:
            page = found_page(symptom, seen.walk.hanging, sent.text("words"), item)
            head = desk.head(seen, session, refused_band(refusal.said))
            return desk.page(request, session, "found", page, head, 422)
        page = found_page(symptom, seen.walk.hanging, sent.text("words"), item)
        return desk.page(request, session, "found", page, desk.head(seen, session, *more))

    async def _report(
        self, place: str, session: Session, here: Here, sent: Posted, seen: Look, symptom: Symptom
    ) -> None:
        desk, at, words = self._desk, self._desk.acted(sent), words_of(symptom, sent.text("words"))
        item = sent.text("item")
        if item not in {one.item for one in seen.walk.hanging}:
            raise Refused(LACKS_ITEM)
        if not words:
            raise Refused(LACKS_WORDS)
        upload, form = sent.file("photo"), sent.form_number
        photo = await asyncio.to_thread(bare_photo, upload.file) if upload else None
        stopped = symptom.maintenance_only or sent.text("stops") != "no"
        fault = Fault(
            at=at, by=here.id, item=item, symptom=words, listed=None if symptom is IN_WORDS else symptom.id,
            stopped=stopped,
        )  # fmt: skip
        written = await desk.write(place, here, form, [fault])
        more: list[Said] = [HELD_NOW] if stopped else []
        if photo is not None:
            more.append(await keep_photo(desk, place, here, form, item, written.entries[0], photo))
        band = reported_band(item, words, here.name, at, seen.zone, written.entries[0], (*more, *written.notes))
        desk.did(place, session, written, said("report on {item}: {words}", item=item, words=words), band,
                 seen.undo_seconds)  # fmt: skip


def _found_on(scanned: Scanned, seen: Look) -> str:
    """The item here that was scanned; raises :class:`Refused` for anything else."""
    if not isinstance(scanned, ScannedItem) or scanned.item not in {one.item for one in seen.walk.hanging}:
        raise Refused(not_wanted_said(scanned, said("what was found at {place}", place=seen.walk.place)))
    return scanned.item


def _symptom(request: Request) -> Symptom:
    key = request.path_params["symptom"]
    return IN_WORDS if key == OTHER else named(key)
