"""Jobs, locks and the handover of a place, and what is written there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import BoardQuery, Book
from upkeep.due.states import CALLING
from upkeep.entries.entry import Entry
from upkeep.entries.jobs import GiveUp, GoOn, Handover, Interrupt, Lock, Start, Unlock
from upkeep.errors import NotFound, Refused
from upkeep.plant.rights import Act
from upkeep.said import Quoted, Said, said
from upkeep.station.pages.page import Person
from upkeep.station.pages.proof import written_band
from upkeep.station.pages.signing import work_said
from upkeep.station.pages.under_way import UnderWayPage, handover_page, job_page, locks_page, work_page
from upkeep.station.server.desk import Desk, Look, Posted, refused_band
from upkeep.station.server.sessions import Here, Session
from upkeep.units.quantities import figure_of
from upkeep.views.board import BoardLine
from upkeep.views.jobs import Job
from upkeep.wording.jobs import shift_said

_LINES = 60
"""Lines of work shown at a place."""


class UnderWay:
    """The pages of what is under way, and the entries they write."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/at/{place}/work", self.work),
            Route("/at/{place}/work/{item}/{task}", self.job),
            Route("/at/{place}/work/{item}/{task}", self.job_moved, methods=["POST"]),
            Route("/at/{place}/locks", self.locks),
            Route("/at/{place}/locks", self.lock_moved, methods=["POST"]),
            Route("/at/{place}/handover", self.handover),
            Route("/at/{place}/handover", self.handed_over, methods=["POST"]),
        ]

    # Jobs

    async def work(self, request: Request) -> Response:
        """The jobs under way at a place, and all work there that whoever is here may do."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        seen, at = await desk.look(place), desk.now()
        jobs, lines = await desk.ask(lambda book: _work_at(book, place, here, at))
        page = work_page(seen.walk, jobs, lines, seen.zone)
        return desk.page(request, session, "under_way", page, desk.head(seen, session, proof=True))

    async def job(self, request: Request) -> Response:
        """One line of work: who has it, and what may become of it."""
        session, here = await self._desk.named(request)
        return await self._show_job(request, session, here)

    async def _show_job(self, request: Request, session: Session, here: Here, refusal: Said | None = None) -> Response:
        desk, at = self._desk, self._desk.now()
        line = f"{request.path_params['item']}/{request.path_params['task']}"
        form, seen = await desk.ask(lambda book: book.sign_form(line, at)), await self._seen(request)
        return self._page(request, session, seen, job_page(form, seen.walk, _person(here), seen.zone), refusal)

    async def job_moved(self, request: Request) -> Response:
        """Begins a job, leaves it, goes on with it or gives it up."""
        desk, path = self._desk, request.path_params
        session, here = await desk.named(request)
        sent, at = await desk.posted(request, session), desk.now()
        line = await desk.ask(lambda book: book.line(f"{path['item']}/{path['task']}", at))
        try:
            entry, what = _job_entry(sent, here, line, desk.acted(sent))
            await self._write(request, session, here, sent, entry, what)
        except Refused as refusal:
            return await self._show_job(request, session, here, refusal.said)
        return desk.to(request, session, f"/at/{path['place']}/work")

    # Locks

    async def locks(self, request: Request) -> Response:
        """The locks on the press of a place."""
        session, here = await self._desk.named(request)
        return await self._show_locks(request, session, here)

    async def _show_locks(
        self, request: Request, session: Session, here: Here, refusal: Said | None = None
    ) -> Response:
        seen, at = await self._seen(request), self._desk.now()
        if seen.walk.press is None:
            raise Refused(said("There is no press at {place}, so there is nothing to lock.", place=seen.walk.place))
        procedure = await self._desk.ask(lambda book: _procedure_for(book, here, at))
        page = locks_page(seen.walk, seen.walk.locks, _person(here), procedure, seen.zone)
        return self._page(request, session, seen, page, refusal)

    async def lock_moved(self, request: Request) -> Response:
        """A lock is hung, or came off."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent, seen = await desk.posted(request, session), await self._seen(request)
        try:
            entry, what = _lock_entry(sent, here, seen, desk.acted(sent))
            await self._write(request, session, here, sent, entry, what)
        except (Refused, NotFound) as refusal:
            return await self._show_locks(request, session, here, refusal.said)
        return desk.to(request, session, f"/at/{place}/locks")

    # Handover

    async def handover(self, request: Request) -> Response:
        """What the last shift hands over."""
        session, _ = await self._desk.named(request)
        return await self._show_handover(request, session)

    async def _show_handover(self, request: Request, session: Session, refusal: Said | None = None) -> Response:
        seen, at = await self._seen(request), self._desk.now()
        view = await self._desk.ask(lambda book: book.handover(at))
        return self._page(request, session, seen, handover_page(view, seen.zone), refusal)

    async def handed_over(self, request: Request) -> Response:
        """A shift is given or accepted."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent, at = await desk.posted(request, session), desk.now()
        view = await desk.ask(lambda book: book.handover(at))
        try:
            side, text = sent.text("what"), sent.text("text").strip()
            entry = Handover(at=desk.acted(sent), by=here.id, shift=view.shift, side=side, text=text)
            what = said("the handover of the {shift}", shift=shift_said(view.shift))
            await self._write(request, session, here, sent, entry, what)
        except Refused as refusal:
            return await self._show_handover(request, session, refusal.said)
        return desk.to(request, session, f"/at/{place}/handover")

    # All of them

    async def _seen(self, request: Request) -> Look:
        return await self._desk.look(request.path_params["place"])

    def _page(
        self, request: Request, session: Session, seen: Look, page: UnderWayPage, refusal: Said | None
    ) -> Response:
        more = (refused_band(refusal),) if refusal is not None else ()
        head = self._desk.head(seen, session, *more, proof=refusal is None)
        return self._desk.page(request, session, "under_way", page, head, 200 if refusal is None else 422)

    async def _write(
        self, request: Request, session: Session, here: Here, sent: Posted, entry: Entry, what: Said
    ) -> None:
        desk, place = self._desk, request.path_params["place"]
        seen = await desk.look(place)
        written = await desk.write(place, here, sent.form_number, [entry])
        band = written_band(what, here.name, entry.at, seen.zone, written.entries[0], written.notes)
        desk.did(place, session, written, what, band, seen.undo_seconds)


def _person(here: Here) -> Person:
    return Person(here.id, here.name)


def _work_at(book: Book, place: str, here: Here, at: datetime) -> tuple[list[Job], Sequence[BoardLine]]:
    """The jobs at a place, and the lines there that somebody may sign."""
    lines = book.board(at, BoardQuery(place=place, states=frozenset(CALLING)), limit=_LINES).rows
    roles = {role for one in book.people() if one.id == here.id for role in one.roles}
    own = [line for line in lines if roles & set(line.roles)]
    return [job for job in book.jobs(at) if job.place == place], own


def _procedure_for(book: Book, here: Here, at: datetime) -> str | None:
    """The plant's procedure for a lock whose owner is away, for those who may take it off the list."""
    people = next(line.people for line in book.rights(at).acts if line.act == Act.UNLOCK)
    return book.facts.lock_removal if here.id in people else None


def _job_entry(sent: Posted, here: Here, line: BoardLine, at: datetime) -> tuple[Entry, Said]:
    """What a button of a job writes, and in words; raises :class:`Refused` for what cannot be read."""
    work, number = work_said(line), figure_of(sent.text("about")) or 0
    match sent.text("what"):
        case "start":
            return Start(at=at, by=here.id, item=line.item, task=line.task), said("begun: {work}", work=work)
        case "go-on":
            return GoOn(at=at, by=here.id, job=number), said("gone on with: {work}", work=work)
        case "give-up":
            why = sent.text("why").strip()
            return GiveUp(at=at, by=here.id, job=number, because=why), said("given up: {work}", work=work)
        case "interrupt":
            typed, step = sent.text("step").strip(), figure_of(sent.text("step").strip())
            if typed and step is None:
                raise Refused(said("{typed} is no number of a step.", typed=Quoted(typed)))
            left, why = sent.text("left").strip(), sent.text("why").strip()
            entry = Interrupt(at=at, by=here.id, job=number, step=step, left=left, because=why)
            return entry, said("left for a while: {work}", work=work)
    raise Refused(said("This page has no button {how}.", how=Quoted(sent.text("what"))))


def _lock_entry(sent: Posted, here: Here, seen: Look, at: datetime) -> tuple[Entry, Said]:
    """The same of a lock."""
    press, number = seen.walk.press or "", figure_of(sent.text("about")) or 0
    if sent.text("what") == "lock":
        entry = Lock(at=at, by=here.id, item=press, point=sent.text("point").strip())
        return entry, said("a lock on {press}", press=press)
    if sent.text("what") != "unlock":
        raise Refused(said("This page has no button {how}.", how=Quoted(sent.text("what"))))
    witness, why = sent.text("witness").strip() or None, sent.text("why").strip()
    unlock = Unlock(at=at, by=here.id, lock=number, witness=witness, because=why)
    return unlock, said("a lock off {press}", press=press)
