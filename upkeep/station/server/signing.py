"""Sign-offs: the form of one line, and its signature."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.said import Quoted, said
from upkeep.station.pages.page import Band, Person
from upkeep.station.pages.proof import signed_band
from upkeep.station.pages.signing import (
    LACKS_GAUGE,
    LACKS_GRADE,
    lacks_value,
    sign_page,
    signed_said,
    work_said,
)
from upkeep.station.server.desk import LOOK, Desk, Posted, check_may, refused_band
from upkeep.station.server.sessions import Here, Session
from upkeep.units.measures import Shown, read_in
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.views.signing import SignForm
from upkeep.wording.certificates import certificate_of, lacking
from upkeep.wording.points import point_said
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said

CHANGE = "change"
"""Where a sign-off goes back to that belongs to a change of tools."""


class Signing:
    """The page of a sign-off, and what it writes."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/at/{place}/sign/{item}/{task}", self.form),
            Route("/at/{place}/sign/{item}/{task}", self.signed, methods=["POST"]),
        ]

    async def form(self, request: Request) -> Response:
        """Caution, steps, name and meaning; who may not sign is told before anything is filled in."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        form, seen = await self._form(request, here), await desk.look(place)
        page = sign_page(form, Person(here.id, here.name), {"then": request.query_params.get("then", "")})
        return desk.page(request, session, "sign", page, desk.head(seen, session))

    async def signed(self, request: Request) -> Response:
        """Writes the sign-off, or shows the form again with what was typed and why it was not taken."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent = await desk.posted(request, session)
        form, seen, more = await self._form(request, here), await desk.look(place), tuple[Band, ...]()
        typed, person = dict(sent.texts()), Person(here.id, here.name)
        try:
            scanned = await desk.scanned(sent, session)
            if scanned is None and sent.text("how") != LOOK:
                await self._sign(place, session, here, sent, form)
                return desk.to(request, session, f"/at/{place}{'/change' * (sent.text('then') == CHANGE)}")
            if scanned is not None:
                typed["gauge"], more = _gauge_scanned(scanned, form), (Band("note", scanned_said(scanned)),)
        except Refused as refusal:
            head = desk.head(seen, session, refused_band(refusal.said))
            return desk.page(request, session, "sign", sign_page(form, person, typed, refusal), head, 422)
        return desk.page(request, session, "sign", sign_page(form, person, typed), desk.head(seen, session, *more))

    async def _form(self, request: Request, here: Here) -> SignForm:
        item, task, at = request.path_params["item"], request.path_params["task"], self._desk.now()
        return await self._desk.ask(lambda book: _form_for(book, f"{item}/{task}", here, at))

    async def _sign(self, place: str, session: Session, here: Here, sent: Posted, form: SignForm) -> None:
        desk, at = self._desk, self._desk.acted(sent)
        seen = await desk.look(place)
        entry = _entry(form, sent, here, at, here.reader.units)
        written = await desk.write(place, here, sent.form_number, [entry])
        what = signed_said(replace(form.line, occurrence=entry.occurrence))
        band = signed_band(what, here.name, form.meaning, at, seen.zone, written.entries[0], written.notes)
        desk.did(place, session, written, what, band, seen.undo_seconds)


def _form_for(book: Book, line: str, here: Here, at: datetime) -> SignForm:
    """The form of a line; raises :class:`Refused` for somebody who may not sign it."""
    form = book.sign_form(line, at)
    check_may(book, Wish("sign", item=form.line.item, task=form.line.task), here, at)
    return form


def _gauge_scanned(scanned: Scanned, form: SignForm) -> str:
    """The gauge of a form that was scanned; raises :class:`Refused` for anything else, and for one that does not
    count."""
    if not isinstance(scanned, ScannedItem) or scanned.item not in {gauge.id for gauge in form.gauges}:
        raise Refused(not_wanted_said(scanned, work_said(form.line)))
    if scanned.gauge is None or not scanned.gauge.valid:
        raise Refused(gauge_not_valid(scanned))
    return scanned.item


def _entry(form: SignForm, sent: Posted, here: Here, at: datetime, units: Shown) -> Sign:
    """The sign-off as it was filled in; raises :class:`Refused` at the first thing that lacks."""
    points: list[tuple[str, tuple[float, ...]]] = []
    for point in form.points:
        values = []
        for number in range(1, point.readings + 1):
            value = read_in(sent.text(f"{point.id}.{number}"), point.unit, units)
            if value is None:
                raise Refused(lacks_value(point_said(point, number), point.unit, units))
            values.append(value)
        points.append((point.id, tuple(values)))
    gauge = sent.text("gauge") or None
    if form.gauges and gauge not in {choice.id for choice in form.gauges if choice.valid}:
        raise Refused(LACKS_GAUGE)
    grade = sent.text("grade")
    if form.graded and grade not in ("0", "1", "2", "3", "4"):
        raise Refused(LACKS_GRADE)
    if sent.text("how") not in ("", "extra"):
        raise Refused(said("This page has no button {how}.", how=Quoted(sent.text("how"))))
    lack = lacking(sent.texts()) if form.calibrates else None
    if lack is not None:
        raise Refused(lack[1])
    return Sign(
        at=at, by=here.id, task=form.line.task, item=form.line.item,
        occurrence=EXTRA if sent.text("how") == "extra" else sent.text("occurrence"),
        points=tuple(points), gauge=gauge if form.gauges else None, grade=int(grade) if form.graded else None,
        remark=sent.text("remark").strip(), calibration=certificate_of(sent.texts()) if form.calibrates else None,
    )  # fmt: skip
