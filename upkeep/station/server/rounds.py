"""The round of a place, its count, and what is taken back."""

from __future__ import annotations

from datetime import timedelta

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import Count
from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.said import said
from upkeep.station.pages.count import count_page, moved_said
from upkeep.station.pages.proof import counted_band, undone_band
from upkeep.station.pages.round import asks_for_count, round_page
from upkeep.station.server.desk import Desk, Look, Posted, last_number, refused_band, version_text
from upkeep.station.server.sessions import Here, Session, Shown
from upkeep.units.quantities import figure_of
from upkeep.views.rights import Wish
from upkeep.views.scanned import ScannedItem
from upkeep.wording.counts import no_count_said
from upkeep.wording.scanned import not_wanted_said

SHOWN_FOR = timedelta(minutes=1)
"""How long it is shown what became of taking something back."""


class Rounds:
    """The pages of a round: one thing after another, who, count, then the rows."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/at/{place}", self.round),
            Route("/at/{place}/count", self.count),
            Route("/at/{place}/count", self.counted, methods=["POST"]),
            Route("/at/{place}/undo", self.undo, methods=["POST"]),
            Route("/changes", self.changes),
        ]

    async def round(self, request: Request) -> Response:
        """The rows of a place; who is here and the count are asked first."""
        desk, place = self._desk, request.path_params["place"]
        seen = await desk.look(place)
        session, _ = await desk.named(request)
        if request.query_params.get("count") == "later":
            session.pages.uncounted = seen.walk.shift
        if asks_for_count(seen.walk, seen.shift) and session.pages.uncounted != seen.walk.shift:
            return desk.to(request, session, f"/at/{place}/count")
        page = round_page(seen.walk, seen.zone, seen.names)
        return desk.page(request, session, "round", page, desk.head(seen, session, proof=True))

    async def changes(self, request: Request) -> Response:
        """The version of the book, and whether somebody is still here, for a page that waits for what others write; it
        touches no session where it says that it waits."""
        desk = self._desk
        last, session = await desk.ask(last_number), await desk.session_of(request)
        return JSONResponse({"version": version_text(last, desk.now()), "here": session.here is not None})

    # The count

    async def count(self, request: Request) -> Response:
        """Asks for the count of the press."""
        desk, place = self._desk, request.path_params["place"]
        seen = await desk.look(place)
        session, here = await desk.named(request)
        await desk.may(here, Wish("count", item=_press_of(seen)))
        return desk.page(request, session, "count", count_page(seen.walk, seen.zone), desk.head(seen, session))

    async def counted(self, request: Request) -> Response:
        """Writes the count, or says why the book does not take it."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent = await desk.posted(request, session)
        typed = sent.text("count")
        value = figure_of(typed.strip())
        try:
            scanned = await desk.scanned(sent, session)
            if isinstance(scanned, ScannedItem) and scanned.kind == Kind.PRESS:
                return desk.to(request, session, f"/at/{scanned.item}/count")
            if scanned is not None:
                raise Refused(not_wanted_said(scanned))
            if value is None:
                raise Refused(no_count_said(typed))
            await self._take(place, session, here, sent, value)
        except Refused as refusal:
            seen = await desk.look(place)
            page = count_page(seen.walk, seen.zone, typed, refusal)
            head = desk.head(seen, session, refused_band(refusal.said))
            return desk.page(request, session, "count", page, head, 422)
        return desk.to(request, session, f"/at/{place}")

    async def _take(self, place: str, session: Session, here: Here, sent: Posted, value: int) -> None:
        desk = self._desk
        seen, how, at = await desk.look(place), sent.text("how"), desk.acted(sent)
        press = _press_of(seen)
        against = figure_of(sent.text("against"))
        count = Count(
            at=at, by=here.id, press=press, value=value, rolled_over=how == "rolled-over",
            after_reset=how == "after-reset", disputes=against if how == "disputes" else None,
        )  # fmt: skip
        written = await desk.write(place, here, sent.form_number, [count])
        more = (*written.notes, *moved_said(written.changes))
        band = counted_band(press, value, here.name, at, seen.zone, written.entries[0], more)
        what = said("count {count} of {press}", count=value, press=press)
        desk.did(place, session, written, what, band, seen.undo_seconds)

    # Taking back

    async def undo(self, request: Request) -> Response:
        """Takes back what was written here last, if it is what the button said."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent, seen = await desk.posted(request, session), await desk.look(place)
        done = desk.pages.last_done(place, here.id)
        if done is None or str(done.entries[0]) != sent.text("entry"):
            sentence = said("There is nothing left to undo here. The lead can strike an entry with a reason.")
            session.pages.shown = Shown(refused_band(sentence), desk.now() + SHOWN_FOR)
            return desk.to(request, session, f"/at/{place}")
        at = desk.now()
        strikes = [Strike(at=at, by=here.id, entry=entry) for entry in reversed(done.entries)]
        await desk.write(place, here, sent.form_number, strikes)
        desk.pages.undone(place, here.id, done)
        session.pages.shown = Shown(undone_band(done.what, here.name), at + SHOWN_FOR)
        session.pages.uncounted = seen.walk.shift if seen.walk.shift else session.pages.uncounted
        return desk.to(request, session, f"/at/{place}")


def _press_of(seen: Look) -> str:
    """The press that is counted at a place; raises :class:`Refused` where there is none."""
    if seen.walk.press is None:
        raise Refused(said("There is no press at {place}, so there is nothing to count.", place=seen.walk.place))
    return seen.walk.press
