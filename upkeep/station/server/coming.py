"""Who is here: the place is chosen, somebody says who they are, somebody leaves."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book, Naming, OnlyFirst, WrongCode
from upkeep.entries.keys import Given, Key
from upkeep.entries.origin import Proof, Proven
from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.plant.people import Person as PlantPerson
from upkeep.said import Said, said
from upkeep.station.pages.page import Head, Person
from upkeep.station.pages.who import (
    ITS_NAME,
    CodePage,
    LanguageChoice,
    PlaceLink,
    PlacesPage,
    code_page,
    nobody_said,
    who_page,
)
from upkeep.station.server.desk import BadgeScanned, Desk, Posted, refused_band
from upkeep.station.server.device import keep_language
from upkeep.station.server.sessions import Session
from upkeep.wording.sentences import Reader, languages, text

NOT_SAFE = said(
    "Nobody can say here who they are: this page came over plain http, where anybody could read along. Open "
    "it with https."
)


class Coming:
    """The pages before and after somebody is here."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/", self.places),
            Route("/language", self.language, methods=["POST"]),
            Route("/at/{place}/who", self.who),
            Route("/at/{place}/who", self.named, methods=["POST"]),
            Route("/at/{place}/code", self.proven, methods=["POST"]),
            Route("/at/{place}/leave", self.leave, methods=["POST"]),
        ]

    async def places(self, request: Request) -> Response:
        """All places."""
        session = await self._desk.session_of(request)

        def listed(book: Book) -> tuple[PlacesPage, str]:
            presses = [item for item in book.items() if item.kind is Kind.PRESS and not item.scrapped]
            known = {item.id for item in presses}
            return PlacesPage(
                tuple(PlaceLink(item.id, item.title) for item in presses),
                tuple(PlaceLink(place.id, place.title) for place in book.places() if place.id not in known),
                tuple(LanguageChoice(code, text(ITS_NAME, Reader(code))) for code in languages()),
            ), book.facts.name

        page, plant = await self._desk.ask(listed)
        head = Head("", said("{plant}", plant=plant), None, None, session.token, "")
        return self._desk.page(request, session, "places", page, head)

    async def language(self, request: Request) -> Response:
        """Somebody chose the language of this tablet."""
        desk = self._desk
        session = await desk.session_of(request)
        chosen = (await desk.posted(request, session)).text("language")
        response = desk.to(request, session, "/")
        if chosen in languages():
            keep_language(response, chosen, secure=request.url.scheme == "https")
        return response

    async def who(self, request: Request) -> Response:
        """Asks who is here."""
        desk = self._desk
        session, seen = await desk.session_of(request), await desk.look(request.path_params["place"])
        more = () if desk.is_safe(request) else (refused_band(NOT_SAFE),)
        page = who_page(proven=(await desk.naming()).asks_for_proof)
        return desk.page(request, session, "who", page, desk.head(seen, session, *more))

    async def named(self, request: Request) -> Response:
        """Somebody gave a badge or a short id; where names are proven, a code is asked for next."""
        desk, place = self._desk, request.path_params["place"]
        session = await desk.session_of(request)
        sent = await desk.posted(request, session)
        try:
            await desk.refuse_scanned(sent, session)
        except Refused as refusal:
            page = who_page(proven=(await desk.naming()).asks_for_proof)
            head = desk.head(await desk.look(place), session, refused_band(refusal.said))
            return desk.page(request, session, "who", page, head, 422)
        return await self._named(request, session, sent.text("person"))

    async def badge(self, request: Request, error: Exception) -> Response:
        """A badge was scanned on any page: its owner comes, whoever was here goes; the second scan of the same badge
        goes as well."""
        assert isinstance(error, BadgeScanned)
        desk, session, before = self._desk, error.session, error.session.here
        if before is not None:
            session = await desk.end(session)
            naming, at = await desk.naming(), desk.now()
            accounts = await asyncio.to_thread(naming.meant, error.number, at)
            if before.id in {account.id for account in accounts}:
                return desk.to(request, session, f"/at/{request.path_params['place']}/who")
        return await self._named(request, session, error.number)

    async def _named(self, request: Request, session: Session, typed: str) -> Response:
        desk, place = self._desk, request.path_params["place"]
        seen, naming = await desk.look(place), await desk.naming()
        at, by_codes = desk.now(), naming.asks_for_proof
        if not desk.is_safe(request):
            head = desk.head(seen, session, refused_band(NOT_SAFE))
            return desk.page(request, session, "who", who_page(proven=by_codes), head, 403)
        accounts = await asyncio.to_thread(naming.meant, typed, at)
        if not accounts:
            sentence = await self._nobody(place, naming, typed)
            head = desk.head(seen, session, refused_band(sentence))
            shown = "" if by_codes else typed  # the number of a badge is shown to nobody
            return desk.page(request, session, "who", who_page(shown, proven=by_codes), head, 422)
        if by_codes or len(accounts) > 1:
            page = _code_page(naming, accounts, accounts[0].id)
            return desk.page(request, session, "code", page, desk.head(seen, session))
        return await self._begin(request, session, naming.prove(accounts[0].id, "", at, place))

    async def _nobody(self, place: str, naming: Naming, typed: str) -> Said:
        """Why nobody was found; where names are proven it counts against the station, so that nobody tries badges."""
        desk, at = self._desk, self._desk.now()
        if naming.asks_for_proof and typed.strip():
            try:
                waits = await asyncio.to_thread(naming.unknown, at, place)
            except Refused as refusal:
                return refusal.said
            await desk.tell(naming.wait_entries(waits, at), place)
        return nobody_said(typed, badges=naming.asks_for_proof)

    async def proven(self, request: Request) -> Response:
        """Somebody proves their name, and chooses a code of their own where they had the first one only."""
        desk, place = self._desk, request.path_params["place"]
        session = await desk.session_of(request)
        sent, seen, naming = await desk.posted(request, session), await desk.look(place), await desk.naming()
        at, key = desk.now(), sent.text("person")
        if not desk.is_safe(request):
            head = desk.head(seen, session, refused_band(NOT_SAFE))
            return desk.page(request, session, "who", who_page(proven=True), head, 403)
        try:
            await desk.refuse_scanned(sent, session)
            proven = await self._proven(place, naming, sent)
        except Refused as refusal:
            if isinstance(refusal, WrongCode):
                await desk.tell(naming.wait_entries(refusal.waits, at, key), place)
            accounts = await asyncio.to_thread(naming.meant, key, at)
            if not accounts:
                raise
            chooses = isinstance(refusal, OnlyFirst) or bool(sent.text("new"))
            head = desk.head(seen, session, refused_band(refusal.said))
            page = _code_page(naming, accounts, key, chooses=chooses)
            return desk.page(request, session, "code", page, head, 422)
        return await self._begin(request, session, proven)

    async def _proven(self, place: str, naming: Naming, sent: Posted) -> Proven:
        """Whose name is proven; raises :class:`Refused`.  The book tells that somebody chose a code of their own."""
        desk, at = self._desk, self._desk.now()
        key, secret, new = sent.text("person"), sent.text("secret"), sent.text("new")
        if not new:
            return await asyncio.to_thread(naming.prove, key, secret, at, place)
        if new != sent.text("again"):
            raise Refused(said("These two are not the same. Nothing was changed; do it again."))
        proven = await asyncio.to_thread(naming.choose, key, secret, new, at, place)
        kind = Key.PASSWORD if proven.proof is Proof.PASSWORD else Key.CODE
        await desk.tell([Given(at=at, by=key, key=kind, person=key)], place, proven)
        return proven

    async def _begin(self, request: Request, session: Session, proven: Proven) -> Response:
        place = request.path_params["place"]
        return self._desk.to(request, await self._desk.begin(proven, place, session), f"/at/{place}")

    async def leave(self, request: Request) -> Response:
        """Somebody leaves: the session is dead."""
        desk = self._desk
        session = await desk.session_of(request)
        await desk.posted(request, session)
        return desk.to(request, await desk.end(session), f"/at/{request.path_params['place']}/who")


def _code_page(naming: Naming, accounts: Sequence[PlantPerson], chosen: str, *, chooses: bool = False) -> CodePage:
    shown = [(Person(one.id, one.name), naming.wants_password(one)) for one in accounts]
    return code_page(shown, chosen, proven=naming.asks_for_proof, chooses=chooses)
