"""Who is here: the place is chosen, somebody says who they are, somebody leaves."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book
from upkeep.entries.origin import Proof
from upkeep.plant.model import Kind
from upkeep.said import said
from upkeep.station.pages.page import Head, Person
from upkeep.station.pages.who import PlaceLink, PlacesPage, named_in_full, nobody_said, who_page
from upkeep.station.server.desk import Desk, refused_band
from upkeep.station.server.sessions import Here

NOT_SAFE = said(
    "Nobody can say here who they are: this page came over plain http, and names would travel in the open. Ask for it "
    "with https."
)


class Coming:
    """The pages before and after somebody is here."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/", self.places),
            Route("/at/{place}/who", self.who),
            Route("/at/{place}/who", self.named, methods=["POST"]),
            Route("/at/{place}/leave", self.leave, methods=["POST"]),
        ]

    async def places(self, request: Request) -> Response:
        """All places."""
        session = self._desk.session_of(request)

        def listed(book: Book) -> tuple[PlacesPage, str]:
            presses = [item for item in book.items() if item.kind is Kind.PRESS and not item.scrapped]
            known = {item.id for item in presses}
            return PlacesPage(
                tuple(PlaceLink(item.id, item.title) for item in presses),
                tuple(PlaceLink(place.id, place.title) for place in book.places() if place.id not in known),
            ), book.facts.name

        page, plant = await self._desk.ask(listed)
        head = Head("", said("{plant}", plant=plant), None, None, session.token, "")
        return self._desk.page(request, session, "places", page, head)

    async def who(self, request: Request) -> Response:
        """Asks who is here."""
        session, seen = self._desk.session_of(request), await self._desk.look(request.path_params["place"])
        more = () if self._desk.is_safe(request) else (refused_band(NOT_SAFE),)
        return self._desk.page(request, session, "who", who_page(), self._desk.head(seen, session, *more))

    async def named(self, request: Request) -> Response:
        """Somebody said who they are: the old session ends, a new one begins."""
        desk, place = self._desk, request.path_params["place"]
        session = desk.session_of(request)
        sent, seen = await desk.posted(request, session), await desk.look(place)
        typed = sent.text("person")
        if not desk.is_safe(request):
            head = desk.head(seen, session, refused_band(NOT_SAFE))
            return desk.page(request, session, "who", who_page(), head, 403)
        person = named_in_full(await self._at_work(), typed)
        if person is None:
            head = desk.head(seen, session, refused_band(nobody_said(typed)))
            return desk.page(request, session, "who", who_page(typed), head, 422)
        desk.sessions.end(session)
        return desk.to(request, desk.sessions.begin(Here(person.id, person.name, Proof.NONE)), f"/at/{place}")

    async def _at_work(self) -> tuple[Person, ...]:
        at = self._desk.now()

        def asked(book: Book) -> tuple[Person, ...]:
            day = book.zone.day(at)
            return tuple(
                Person(one.id, one.name)
                for one in book.people()
                if one.signs_on(day) and (one.since is None or one.since <= day)
            )

        return await self._desk.ask(asked)

    async def leave(self, request: Request) -> Response:
        """Somebody leaves: the session is dead."""
        desk = self._desk
        session = desk.session_of(request)
        await desk.posted(request, session)
        desk.sessions.end(session)
        return desk.to(request, desk.sessions.begin(), f"/at/{request.path_params['place']}/who")
