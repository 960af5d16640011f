"""What all pages of a server share: the way to the book, who is at which browser, and how a page goes out."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta
from ipaddress import ip_address
from secrets import compare_digest, token_bytes
from typing import TypeVar

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from upkeep.book import Book, Naming
from upkeep.book.clerk import Clerk
from upkeep.entries.entry import Entry
from upkeep.entries.form import FormNumber
from upkeep.entries.origin import Origin, Proof, Proven, WayIn
from upkeep.errors import ClockAhead, NotFound, NotProven, Refused
from upkeep.frozen import frozen
from upkeep.plant.names import Names
from upkeep.plant.rights import Act
from upkeep.said import Said, in_turn, said
from upkeep.scan_codes import ScanCode, Scannable, taken_out
from upkeep.station.pages.page import Band, Head, Person, Undoing, rendered
from upkeep.station.pages.round import bands, shift_said
from upkeep.station.server.device import language_of
from upkeep.station.server.readers import Readers
from upkeep.station.server.sessions import Done, Here, NobodyHere, Pages, Session, Shown, is_number, new_number
from upkeep.station.server.setting import Setting
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftSpan
from upkeep.views.rights import Wish
from upkeep.views.round import Round
from upkeep.views.scanned import Scanned
from upkeep.views.written import Written
from upkeep.wording.scanned import not_wanted_said
from upkeep.wording.sentences import Reader

Answer = TypeVar("Answer")

WAITING = "x-waiting"
"""The head of a request that nobody made by hand."""

_LONGEST_WAIT = timedelta(hours=12)
"""How long a form may have waited for the network."""

_MOST_FIELDS = 100
_MOST_IN_A_FIELD = 20_000


SCANNED = "scanned"
"""The field of a form that waits for a scanner alone."""

LOOK = "look"
"""What the button of a form sends that Enter presses: nothing is written, what was typed stays."""


class BadgeScanned(Exception):
    """A badge was scanned, whatever the page asked for: its owner is here from now on."""

    def __init__(self, session: Session, number: str) -> None:
        super().__init__()
        self.session, self.number = session, number


class Stale(HTTPException):
    """A form whose token is not that of the session it came with."""

    def __init__(self) -> None:
        super().__init__(403)


@frozen
class Look:
    """What a page of a place is made of: its round, the plant's zone and names, who may release what is held there, and
    the number of the last entry with the version it belongs to."""

    walk: Round
    title: str
    shift: ShiftSpan | None
    zone: Zone
    names: Names
    release: tuple[str, ...]
    last: int
    version: str
    undo_seconds: int


def look(book: Book, place: str, at: datetime) -> Look:
    """What stands at a place; raises :class:`NotFound`."""
    last = last_number(book)
    walk = book.round(place, at)
    stands = {**{one.id: one.title for one in book.places()}, **{item.id: item.title for item in book.items()}}
    release: tuple[str, ...] = ()
    if any(item.hold for item in walk.hanging):
        people = next(line.people for line in book.rights(at).acts if line.act == Act.RELEASE)
        release = tuple(map(book.names.now, people))
    return Look(
        walk, stands[place], book.calendar.at(at), book.zone, book.names, release, last, version_text(last, at),
        book.facts.undo_seconds,
    )  # fmt: skip


def _written(
    book: Book, form: FormNumber, entries: Sequence[Entry], now: Callable[[], datetime], origin: Origin,
    proven: Proven,
) -> Written:  # fmt: skip
    """What a form wrote now or before; raises :class:`Refused` where that was taken back since."""
    last = last_number(book)
    written = book.write(entries, now, origin, proven, form)
    first = written.entries[0]
    if first <= last and book.newest_written(last - first + 1)[-1].struck_by is not None:
        raise Refused(said("This was stored before and taken back since. To write it again, open the page again."))
    return written


def version_text(last: int, at: datetime) -> str:
    """Something that changes whenever anybody writes, and each minute: what is due changes with the clock, too."""
    return f"{last}-{int(at.timestamp()) // 60}"


def last_number(book: Book) -> int:
    """The number of the book's last entry; -1 in an empty one."""
    newest = book.newest_written(1)
    return newest[0].entry if newest else -1


class Desk:
    """One server's way to its book and its sessions."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting
        self.pages = Pages(setting.clock)
        self._writer: Clerk[Book] = Clerk(lambda: Book.open(setting.book))
        self._readers = Readers(lambda: Book.open(setting.book))

    def open(self) -> None:
        """Opens the book; raises BookUnavailable or BookDamaged."""
        self._writer.open()
        self._readers.open()

    def close(self) -> None:
        """Closes the book after the questions already asked."""
        self._readers.close()
        self._writer.close()

    def now(self) -> datetime:
        """This moment."""
        return self.setting.clock()

    def acted(self, sent: Posted) -> datetime:
        """When somebody sent a form: now, less the time it waited for the network.  The page tells that; what it tells
        beyond reason is taken as no wait."""
        waited = sent.text("waited")
        seconds = int(waited) if waited.isascii() and waited.isdigit() and len(waited) < 6 else 0
        wait = timedelta(seconds=seconds)
        return self.now() - wait if wait <= _LONGEST_WAIT else self.now()

    # The book

    async def ask(self, question: Callable[[Book], Answer]) -> Answer:
        """What the book answers."""
        return await self._readers.ask(question)

    async def look(self, place: str) -> Look:
        """What stands at a place now."""
        at = self.now()
        return await self.ask(lambda book: look(book, place, at))

    async def may(self, here: Here, wish: Wish) -> None:
        """Refuses what somebody may not do."""
        at = self.now()
        await self.ask(lambda book: check_may(book, wish, here, at))

    async def write(self, place: str, here: Here, form: FormNumber, entries: Sequence[Entry]) -> Written:
        """Writes what a form holds, once; raises what the book refuses."""
        origin = Origin(WayIn.PAGE, station=place, proof=here.proven.proof)
        try:
            return await self._writer.ask(lambda book: _written(book, form, entries, self.now, origin, here.proven))
        except (NotProven, ClockAhead) as warning:
            raise Refused(in_turn(said("Nothing was written. Tell the lead."), warning.said)) from None

    async def tell(self, entries: Sequence[Entry], place: str, proven: Proven | None = None) -> None:
        """Writes what happened to somebody's code at a station; ``proven`` where it was right."""
        origin = Origin(WayIn.PAGE, station=place, proof=proven.proof if proven else Proof.NONE)
        await self._writer.ask(lambda book: book.write(entries, self.now, origin, proven))

    # Who is at the browser

    async def session_of(self, request: Request) -> Session:
        """The session of the browser that asks, of nobody where it has none.  A page that looks by itself whether
        anything has changed is no touch."""
        number, at = request.cookies.get(_cookie(request), ""), self.now()
        known, by_person = is_number(number), WAITING not in request.headers

        def found(book: Book) -> tuple[Here | None, Reader]:
            comes = self.whoever_comes(book, request)
            proven = book.naming.session(number, at, asked_by_person=by_person) if known else None
            return _here(book, proven, comes) if proven else None, comes

        here, comes = await self.ask(found)
        return Session(number, here, self.pages.of(number), comes) if known else self.nobody(comes)

    def whoever_comes(self, book: Book, request: Request) -> Reader:
        """Who reads a tablet while nobody is named there: the language chosen on it, else the server's, else the
        one of the plant's stations, else the first of the plant."""
        facts = book.facts
        ours = self.setting.language or facts.station_language or facts.languages[0]
        return book.reader(language_of(request.headers) or ours)

    async def named(self, request: Request) -> tuple[Session, Here]:
        """The session of the browser that asks, and who is at it; raises :class:`NobodyHere` where nobody is."""
        session = await self.session_of(request)
        if session.here is None:
            raise NobodyHere(session)
        return session, session.here

    def nobody(self, comes: Reader) -> Session:
        """A browser at which nobody is, with a number of its own; ``comes`` is who reads there."""
        number = new_number()
        return Session(number, None, self.pages.of(number), comes)

    async def begin(self, proven: Proven, place: str, before: Session) -> Session:
        """The session of somebody who is here from now on; the one before is dead."""
        naming, at = await self.naming(), self.now()
        number = await asyncio.to_thread(naming.begin_session, proven, at, place, before.number)
        self.pages.forget(before.number)
        here = await self.ask(lambda book: _here(book, proven, before.comes))
        return Session(number, here, self.pages.of(number), before.comes)

    async def end(self, session: Session) -> Session:
        """Ends a session; the one of nobody that comes after it."""
        naming = await self.naming()
        await asyncio.to_thread(naming.end_session, session.number)
        self.pages.forget(session.number)
        return self.nobody(session.comes)

    async def naming(self) -> Naming:
        """Who is meant by an id or a badge, and how that is proven."""
        return await self.ask(lambda book: book.naming)

    def is_safe(self, request: Request) -> bool:
        """Whether nobody on the way can read what is sent: by https, or from this machine itself."""
        host = request.client.host if request.client else ""
        return request.url.scheme == "https" or _is_of_this_machine(host)

    async def posted(self, request: Request, session: Session) -> Posted:
        """What a form sends; raises :class:`Stale` where it is not of this session."""
        form = await request.form(max_fields=_MOST_FIELDS, max_files=1, max_part_size=_MOST_IN_A_FIELD)
        sent = Posted(form)
        if not compare_digest(sent.text("token").encode(), session.token.encode()):
            raise Stale
        return sent

    async def scanned(self, sent: Posted, session: Session) -> Scanned | None:
        """What was scanned into a form, whichever of its fields was open; None: nothing was.

        Raises :class:`BadgeScanned`, and :class:`Refused` where a code was not read whole or nothing is known by it.
        """
        code, at = sent.code(), self.now()
        if code is None:
            return None
        if code.kind is Scannable.BADGE:
            raise BadgeScanned(session, code.text)
        try:
            return await self.ask(lambda book: book.scanned(code, at))
        except NotFound as unknown:
            raise Refused(unknown.said) from None

    async def refuse_scanned(self, sent: Posted, session: Session) -> None:
        """Raises what a form does that asks for nothing which can be scanned: :class:`Refused`, BadgeScanned."""
        scanned = await self.scanned(sent, session)
        if scanned is not None:
            raise Refused(not_wanted_said(scanned))

    # Answers

    def head(self, seen: Look, session: Session, *more: Band, proof: bool = False) -> Head:
        """The head of a page of a place; with the ``proof`` of what was written last and the way to take it back where
        nothing else is being filled in."""
        place, at = seen.walk.place, self.now()
        here = Person(session.here.id, session.here.name) if session.here else None
        shown = [session.pages.shown.band] if proof and session.pages.shown and session.pages.shown.until >= at else []
        done = self.pages.last_done(place, here.id) if proof and here else None
        undo = Undoing(done.entries[0], done.what, int((done.until - at).total_seconds())) if done else None
        title = said("{place} {title}", place=place, title=seen.title) if seen.title != place else said("{p}", p=place)
        return Head(
            place=place, title=title, shift=shift_said(seen.walk, seen.zone), here=here, token=session.token,
            form=str(FormNumber(seen.last, token_bytes(16))) if seen.last >= 0 else "", version=seen.version,
            bands=(*more, *shown, *bands(seen.walk, seen.release, seen.zone)), undo=undo,
        )  # fmt: skip

    def page(
        self, request: Request, session: Session, template: str, page: object, head: Head, status: int = 200
    ) -> Response:
        """A page as it goes out."""
        response = HTMLResponse(rendered(template, page, head, session.reader), status)
        self.give(request, response, session)
        return response

    def give(self, request: Request, response: Response, session: Session) -> None:
        """Gives the browser its session."""
        secure = request.url.scheme == "https"
        response.set_cookie(_cookie(request), session.number, path="/", secure=secure, httponly=True, samesite="strict")

    def to(self, request: Request, session: Session, path: str) -> Response:
        """Sends the browser to another page with a fresh question, so that reloading sends nothing again."""
        response = RedirectResponse(path, 303)
        self.give(request, response, session)
        return response

    def did(self, place: str, session: Session, written: Written, what: Said, band: Band, undo_seconds: int) -> None:
        """Shows the proof of what was written, and lets it be taken back for a while."""
        assert session.here is not None
        until = self.now() + timedelta(seconds=undo_seconds)
        session.pages.shown = Shown(band, until)
        self.pages.did(place, session.here.id, Done(written.entries, what, until))


def _here(book: Book, proven: Proven, comes: Reader) -> Here:
    """Who is here, reading their own language, where they have one."""
    return Here(book.names.now(proven.person), proven, book.reader_of(proven.person, comes))


def check_may(book: Book, wish: Wish, here: Here, at: datetime) -> None:
    """Refuses, before a page asks for anything, what somebody may not do, and says whom to ask."""
    why_not = book.why_not(wish, here.id, at)
    if why_not is not None:
        raise Refused(why_not)


def refused_band(sentence: Said) -> Band:
    """Why something was not taken."""
    return Band("refused", sentence)


class Posted:
    """What a form sent, field by field; a field that is missing is empty.  A code that was scanned into one of them is
    no part of its text."""

    def __init__(self, form: FormData) -> None:
        self._form = form
        self._texts: dict[str, str] = {}
        self._code: ScanCode | None = None
        self._misread: Refused | None = None
        for name, value in form.items():
            if isinstance(value, str):
                self._texts[name] = self._without_code(value)
        if self._code is None and self.text(SCANNED).strip():  # an id that was typed where a scanner is awaited
            self._code = ScanCode(Scannable.ITEM, self.text(SCANNED).strip())

    def _without_code(self, value: str) -> str:
        try:
            typed, code = taken_out(value)
        except Refused as misread:
            self._misread = misread
            return ""
        self._code = code or self._code
        return typed

    def code(self) -> ScanCode | None:
        """The code that was scanned; None: none was.  Raises :class:`Refused` where one was not read whole."""
        if self._misread is not None:
            raise self._misread
        return self._code

    def text(self, name: str) -> str:
        """The text of a field."""
        return self._texts.get(name, "")

    def file(self, name: str) -> UploadFile | None:
        """The file of a field; None where none was chosen."""
        value = self._form.get(name)
        return value if isinstance(value, UploadFile) and value.filename else None

    def texts(self) -> Mapping[str, str]:
        """All texts, by their fields."""
        return self._texts

    @property
    def form_number(self) -> FormNumber:
        """The number of the form; raises :class:`Unreadable`."""
        return FormNumber.read(self.text("form"))


def _cookie(request: Request) -> str:
    """The name of the cookie: over https one that browsers take from this very host alone (RFC 6265bis, 4.1.3.2)."""
    return "__Host-station" if request.url.scheme == "https" else "station"


def _is_of_this_machine(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False
