"""A change of tools at a press: what goes in, each step, paused, taken over, given up, released."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import ChangeStage
from upkeep.errors import NotFound, Refused
from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.station.pages.changing import before_page, change_page
from upkeep.station.pages.page import Band, Person
from upkeep.station.pages.proof import stepped_band
from upkeep.station.server.desk import LOOK, SCANNED, Desk, Posted, refused_band
from upkeep.station.server.sessions import Here, Session
from upkeep.views.changeover import BeforeChange, Candidate, Change, Kept, StepAsk, StepForm
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.changeover import step_said
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said


@frozen
class Open:
    """An open change, with what its next step asks for and what is asked where it is paused."""

    change: Change
    form: StepForm
    pausing: tuple[StepAsk, ...]


class ChangesOfTools:
    """The pages of a change of tools, and what they write."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/at/{place}/change", self.page),
            Route("/at/{place}/change", self.sent, methods=["POST"]),
        ]

    async def page(self, request: Request) -> Response:
        """What goes in, or how far the open change has come."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        seen = await self._seen(place, {})
        if isinstance(seen, BeforeChange):
            await desk.may(here, Wish("changeover", item=place))
        return await self._shown(request, session, here, seen, {})

    async def sent(self, request: Request) -> Response:
        """Writes what the page was filled in with, or shows it again with why not."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent = await desk.posted(request, session)
        typed, bands, status = dict(sent.texts()), tuple[Band, ...](), 200
        seen = await self._seen(place, typed)
        try:
            scanned = await desk.scanned(sent, session)
            if scanned is None and sent.text("how") != LOOK:
                await self._write(place, session, here, sent, seen)
                return desk.to(request, session, f"/at/{place}/change")
            if scanned is not None:
                field, value = _taken(scanned, seen)
                typed[field], bands = value, (Band("note", scanned_said(scanned)),)
        except Refused as refusal:
            bands, status = (refused_band(refusal.said),), 422
        return await self._shown(request, session, here, seen, typed, *bands, status=status)

    # Showing

    async def _seen(self, press: str, typed: dict[str, str]) -> Open | BeforeChange:
        at = self._desk.now()
        return await self._desk.ask(lambda book: _seen(book, press, typed, at))

    async def _shown(
        self, request: Request, session: Session, here: Here, seen: Open | BeforeChange, typed: dict[str, str],
        *bands: Band, status: int = 200,
    ) -> Response:  # fmt: skip
        desk, place = self._desk, request.path_params["place"]
        stands = await desk.look(place)
        head = desk.head(stands, session, *bands, proof=not typed)
        if isinstance(seen, Open):
            person = Person(here.id, here.name)
            page = change_page(seen.change, seen.form, seen.pausing, stands.zone, person, typed)
            return desk.page(request, session, "change", page, head, status)
        chosen = typed.get("item", "")
        before = before_page(seen, await self._candidates(place, seen, chosen), chosen)
        return desk.page(request, session, "before_change", before, head, status)

    async def _candidates(self, press: str, before: BeforeChange, chosen: str) -> list[Candidate]:
        """What was scanned, then the sets that orders wait for."""
        ordered = list(before.ordered)
        if not chosen or chosen in {one.item for one in ordered}:
            return ordered
        at = self._desk.now()
        try:
            return [await self._desk.ask(lambda book: book.changing(at).candidate(press, chosen)), *ordered]
        except (Refused, NotFound):  # nothing that can go in: the sentence over the page says so
            return ordered

    # Writing

    async def _write(
        self, place: str, session: Session, here: Here, sent: Posted, seen: Open | BeforeChange
    ) -> None:  # fmt: skip
        desk, at = self._desk, self._desk.acted(sent)
        if isinstance(seen, Open) and _was_sent_before(sent, here, seen.change):
            return
        stands = await desk.look(place)
        entries, what = await desk.ask(_wanted(place, here, at, sent, seen))
        written = await desk.write(place, here, sent.form_number, entries)
        band = stepped_band(what, here.name, at, stands.zone, written.entries[0], written.notes)
        desk.did(place, session, written, what, band, stands.undo_seconds)


def _seen(book: Book, press: str, typed: dict[str, str], at: datetime) -> Open | BeforeChange:
    """What the page of a press stands on; raises :class:`NotFound` for what is no press."""
    changing, forms = book.changing(at), book.step_forms(at)
    change = changing.open_on(press)
    if change is None:
        return changing.before(press)
    return Open(change, forms.form(change, typed), forms.pausing(change))


def _was_sent_before(sent: Posted, here: Here, change: Change) -> bool:
    """Whether the step of a form is done, by the same person: its answer was lost on the way."""
    named = (sent.text("step"), sent.text("about"), here.name)
    return any((one.step, one.about, one.done_by) == named for one in change.steps if one.is_done)


Wanted = Callable[[Book], tuple[Sequence[Entry], Said]]
"""Gives the entries that somebody wants to write, and what they are in the proof."""


def _wanted(press: str, here: Here, at: datetime, sent: Posted, seen: Open | BeforeChange) -> Wanted:
    """What a form wants to be written; raises :class:`Refused`, when asked, at the first thing that lacks."""
    typed, how = sent.texts(), sent.text("how")

    def entries(book: Book) -> tuple[Sequence[Entry], Said]:
        forms = book.step_forms(at)
        if isinstance(seen, BeforeChange):
            return _begun(book, press, here, at, sent.text("item").strip())
        change = seen.change
        match how:
            case "pause":
                return forms.paused(change, here.id, typed), said("change of tools on {press} paused", press=press)
            case "resume":
                return forms.resumed(change, here.id, typed), said("change of tools on {press} taken up", press=press)
            case "give-up":
                given_up = forms.stage(change, here.id, ChangeStage.GIVEN_UP, sent.text("text").strip())
                return [given_up], said("change of tools on {press} given up", press=press)
        if (sent.text("step"), sent.text("about")) != (change.next.step, change.next.about):
            raise Refused(said("Somebody did this step meanwhile; nothing was written. Next is {step}.",
                               step=step_said(change.next)))  # fmt: skip
        return forms.entries(change, here.id, typed), step_said(change.next)

    return entries


def _begun(book: Book, press: str, here: Here, at: datetime, key: str) -> tuple[Sequence[Entry], Said]:
    """The beginning; what the book would not let go in is refused here, not three steps later."""
    if not key:
        raise Refused(said("Choose what goes in, or scan it."))
    forms = book.step_forms(at)
    try:
        begun = forms.begun(press, key, here.id)
    except NotFound as unknown:
        raise Refused(unknown.said) from None
    book.tried(forms.trial(begun), at)
    return [begun], said("change of tools on {press} begun", press=press)


def _taken(scanned: Scanned, seen: Open | BeforeChange) -> tuple[str, str]:
    """The field that takes what was scanned, with its value; raises :class:`Refused` where none does."""
    if not isinstance(scanned, ScannedItem):
        raise Refused(not_wanted_said(scanned))
    if isinstance(seen, BeforeChange):
        return "item", scanned.item
    asks = [ask for ask in seen.form.asks if ask.kept is Kept.PICK]
    for ask in asks:
        if scanned.gauge is not None and scanned.item in {option.key for option in ask.options}:
            if not scanned.gauge.valid:
                raise Refused(gauge_not_valid(scanned))
            return ask.key, scanned.item
    if scanned.item == seen.change.next.about:  # it is what the step is about
        return SCANNED, ""
    raise Refused(not_wanted_said(scanned, step_said(seen.change.next)))
