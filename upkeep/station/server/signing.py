"""Sign-offs: the form of one line, and its signature."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
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
    LACKS_GRADE,
    gauge_name,
    lacks_gauge,
    lacks_value,
    readings_of,
    sign_page,
    signed_said,
    work_said,
)
from upkeep.station.server.desk import LOOK, Desk, Posted, check_may, refused_band
from upkeep.station.server.gate import LARGE
from upkeep.station.server.photos import bare_photo, keep_photo
from upkeep.station.server.sessions import Here, Session
from upkeep.units.measures import Shown, read_in
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.views.signing import SignForm, asked_gauges, taken_by_point, with_measured
from upkeep.wording.certificates import certificate_of, lacking
from upkeep.wording.evidence.late_reasons import is_late, picked
from upkeep.wording.points import point_said
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said

CHANGE = "change"
"""Where a sign-off goes back to that belongs to a change of tools."""


class Signing:
    """The page of a sign-off, and what it writes."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        large = [Middleware(RequestBodyLimitMiddleware, max_body_size=LARGE)]
        self.routes = [
            Route("/at/{place}/sign/{item}/{task}", self.form),
            Route("/at/{place}/sign/{item}/{task}", self.signed, methods=["POST"], middleware=large),
        ]

    async def form(self, request: Request) -> Response:
        """Caution, steps, name and meaning; who may not sign is told before anything is filled in."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        form, seen = await self._form(request, here), await desk.look(place)
        page = sign_page(form, Person(here.id, here.name), seen.zone, {"then": request.query_params.get("then", "")})
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
                kind, gauge = _gauge_scanned(scanned, form)
                typed[gauge_name(kind)], more = gauge, (Band("note", scanned_said(scanned)),)
        except Refused as refusal:
            head = desk.head(seen, session, refused_band(refusal.said))
            return desk.page(request, session, "sign", sign_page(form, person, seen.zone, typed, refusal), head, 422)
        return desk.page(
            request, session, "sign", sign_page(form, person, seen.zone, typed), desk.head(seen, session, *more)
        )

    async def _form(self, request: Request, here: Here) -> SignForm:
        item, task, at = request.path_params["item"], request.path_params["task"], self._desk.now()
        return await self._desk.ask(lambda book: _form_for(book, f"{item}/{task}", here, at))

    async def _sign(self, place: str, session: Session, here: Here, sent: Posted, form: SignForm) -> None:
        desk, at = self._desk, self._desk.acted(sent)
        seen = await desk.look(place)
        entry, upload = _entry(form, sent, here, at, here.reader.units), sent.file("photo")
        photo = await asyncio.to_thread(bare_photo, upload.file) if upload and form.photo else None
        written = await desk.write(place, here, sent.form_number, [entry])
        more = []
        if photo is not None:
            kept = await keep_photo(desk, place, here, sent.form_number, entry.item, written.entries[0], photo)
            more.append(kept)
        what = signed_said(replace(form.line, occurrence=entry.occurrence))
        band = signed_band(what, here.name, form.meaning, at, seen.zone, written.entries[0], (*more, *written.notes))
        desk.did(place, session, written, what, band, seen.undo_seconds)


def _form_for(book: Book, line: str, here: Here, at: datetime) -> SignForm:
    """The form of a line; raises :class:`Refused` for somebody who may not sign it."""
    form = book.sign_form(line, at)
    check_may(book, Wish("sign", item=form.line.item, task=form.line.task), here, at)
    return form


def _gauge_scanned(scanned: Scanned, form: SignForm) -> tuple[str, str]:
    """The kind and the gauge of a form that was scanned; raises :class:`Refused` for anything else, and for one that
    does not count."""
    kinds = {gauge.id: gauges.gauge_class for gauges in form.gauges for gauge in gauges.choices}
    if not isinstance(scanned, ScannedItem) or scanned.item not in kinds:
        raise Refused(not_wanted_said(scanned, work_said(form.line)))
    if scanned.gauge is None or not scanned.gauge.valid:
        raise Refused(gauge_not_valid(scanned))
    return kinds[scanned.item], scanned.item


def _values(form: SignForm, sent: Posted, units: Shown) -> dict[str, tuple[float, ...]]:
    """What was measured for this; raises :class:`Refused` at the first reading that lacks."""
    values: dict[str, tuple[float, ...]] = {}
    taken = taken_by_point(form)
    for point in form.points:
        texts = [(number, sent.text(f"{point.id}.{number}")) for number in readings_of(point)]
        if point.id in taken and not any(text.strip() for _, text in texts):
            continue
        for number, text in texts:
            value = read_in(text, point.unit, units)
            if value is None:
                raise Refused(lacks_value(point_said(point, number), point.unit, units))
            values[point.id] = (*values.get(point.id, ()), value)
    return values


def _gauges(form: SignForm, sent: Posted, values: Mapping[str, tuple[float, ...]]) -> dict[str, str | None]:
    """The gauges of what was measured, by kind; raises :class:`Refused` at the first that is missing or not valid."""
    gauges: dict[str, str | None] = {}
    asked = asked_gauges(form, values) if form.points else tuple(one.gauge_class for one in form.gauges)
    for one in (one for one in form.gauges if one.gauge_class in asked):
        gauge = sent.text(gauge_name(one.gauge_class))
        if gauge not in {choice.id for choice in one.choices if choice.valid}:
            raise Refused(lacks_gauge(one.gauge_class))
        gauges[one.gauge_class] = gauge
    return gauges


def _entry(form: SignForm, sent: Posted, here: Here, at: datetime, units: Shown) -> Sign:
    """The sign-off as it was filled in; raises :class:`Refused` at the first thing that lacks."""
    values = _values(form, sent, units)
    gauges = _gauges(form, sent, values)
    grade = sent.text("grade")
    if form.graded and grade not in ("0", "1", "2", "3", "4"):
        raise Refused(LACKS_GRADE)
    if sent.text("how") not in ("", "extra"):
        raise Refused(said("This page has no button {how}.", how=Quoted(sent.text("how"))))
    lack = lacking(sent.texts()) if form.calibrates else None
    if lack is not None:
        raise Refused(lack[1])
    sign = Sign(
        at=at, by=here.id, task=form.line.task, item=form.line.item,
        occurrence=EXTRA if sent.text("how") == "extra" else sent.text("occurrence"),
        grade=int(grade) if form.graded else None,
        remark=picked(sent.text("remark")) if is_late(form.line) else sent.text("remark").strip(),
        calibration=certificate_of(sent.texts()) if form.calibrates else None,
    )  # fmt: skip
    return with_measured(sign, form, values, gauges)
