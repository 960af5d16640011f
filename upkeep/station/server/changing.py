"""A change of tools at a press: what goes in, each step, paused, taken over, given up, released."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book
from upkeep.entries.checking import Check, checks_of
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Changeover, ChangeStage
from upkeep.entries.lives import Remark
from upkeep.errors import NotFound, Refused
from upkeep.frozen import frozen
from upkeep.plant.model import Place
from upkeep.said import Said, said
from upkeep.station.pages.changing import OCCASIONS, PAUSES, STOOD, before_page, change_page
from upkeep.station.pages.checking import ADJUSTED, crimp_of, gauge_field, looked, measured
from upkeep.station.pages.count import no_count_said
from upkeep.station.pages.page import Band, Person
from upkeep.station.pages.proof import stepped_band
from upkeep.station.server.desk import LOOK, Desk, Posted, refused_band
from upkeep.station.server.sessions import Here, Session
from upkeep.units.quantities import figure_of
from upkeep.views.changeover import BeforeChange, Candidate, Change, ChangeStep, Step
from upkeep.views.check_forms import CheckForm
from upkeep.views.rights import Wish
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.changeover import step_said
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said


@frozen
class Seen:
    """What the page of a press stands on: its open change with the form of the check that comes next, or what may be
    changed there; and the places."""

    change: Change | None
    form: CheckForm | None
    before: BeforeChange | None
    places: tuple[Place, ...]
    home: str | None


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
        seen = await self._seen(place)
        if seen.change is None:
            await desk.may(here, Wish("changeover", item=place))
        return await self._shown(request, session, here, seen, {})

    async def sent(self, request: Request) -> Response:
        """Writes what the page was filled in with, or shows it again with why not."""
        desk, place = self._desk, request.path_params["place"]
        session, here = await desk.named(request)
        sent = await desk.posted(request, session)
        seen, typed, more = await self._seen(place), dict(sent.texts()), tuple[Band, ...]()
        try:
            scanned = await desk.scanned(sent, session)
            if scanned is None and sent.text("how") != LOOK:
                await self._write(place, session, here, sent, seen)
                return desk.to(request, session, f"/at/{place}/change")
            if scanned is not None:
                field, value = _taken(scanned, seen)
                typed[field], more = value, (Band("note", scanned_said(scanned)),)
        except Refused as refusal:
            return await self._shown(request, session, here, seen, typed, refused_band(refusal.said), status=422)
        return await self._shown(request, session, here, seen, typed, *more)

    # Showing

    async def _seen(self, press: str) -> Seen:
        at = self._desk.now()
        return await self._desk.ask(lambda book: _seen(book, press, at))

    async def _shown(
        self, request: Request, session: Session, here: Here, seen: Seen, typed: dict[str, str], *bands: Band,
        status: int = 200,
    ) -> Response:  # fmt: skip
        desk, place = self._desk, request.path_params["place"]
        looked_at, person = await desk.look(place), Person(here.id, here.name)
        head = desk.head(looked_at, session, *bands, proof=not typed)
        if seen.change is not None:
            given = {"to": seen.home or "", **typed}
            page = change_page(seen.change, seen.form, seen.places, looked_at.zone, person, given)
            return desk.page(request, session, "change", page, head, status)
        assert seen.before is not None
        chosen = typed.get("item", "")
        candidates = await self._candidates(place, seen.before, chosen)
        before = before_page(seen.before, candidates, chosen or None)
        return desk.page(request, session, "before_change", before, head, status)

    async def _candidates(self, press: str, before: BeforeChange, chosen: str) -> list[Candidate]:
        """The sets that orders wait for, and what was scanned besides, first."""
        if not chosen or chosen in {one.item for one in before.ordered}:
            return list(before.ordered)
        at = self._desk.now()
        try:
            return [await self._desk.ask(lambda book: book.changing(at).candidate(press, chosen)), *before.ordered]
        except (Refused, NotFound):  # nothing that can go in: the sentence over the page says so
            return list(before.ordered)

    # Writing

    async def _write(self, place: str, session: Session, here: Here, sent: Posted, seen: Seen) -> None:
        desk, at = self._desk, self._desk.acted(sent)
        if _was_sent_before(sent, here, seen):
            return
        looked_at = await desk.look(place)
        wanted = Wanted(place, here, at, sent, seen)
        entries, what = await desk.ask(wanted.entries)
        written = await desk.write(place, here, sent.form_number, entries)
        band = stepped_band(what, here.name, at, looked_at.zone, written.entries[0], written.notes)
        desk.did(place, session, written, what, band, looked_at.undo_seconds)


def _was_sent_before(sent: Posted, here: Here, seen: Seen) -> bool:
    """Whether the step of a form is done, by the same person: its answer was lost on the way."""
    done = [one for one in seen.change.steps if one.is_done] if seen.change else []
    return any((one.step, one.about, one.done_by) == (sent.text("step"), sent.text("about"), here.name) for one in done)


@frozen
class Wanted:
    """What somebody wants to write: at which press, who, when, what the form sent, what stood on its page."""

    press: str
    here: Here
    at: datetime
    sent: Posted
    seen: Seen

    def entries(self, book: Book) -> tuple[Sequence[Entry], Said]:
        """The entries, and what they are in the proof; raises :class:`Refused` at the first thing that lacks."""
        change, how = self.seen.change, self.sent.text("how")
        if change is None:
            return [self._begun(book)], said("change of tools on {press} begun", press=self.press)
        if how == "pause":
            why = PAUSES.get(self.sent.text("why"))
            if why is None:
                raise Refused(said("Say why the change waits: one touch."))
            paused = self._stage(ChangeStage.PAUSED, str(why))
            return [self._count(), paused], said("change of tools on {press} paused", press=self.press)
        if how == "resume":
            counts = [self._count()] if change.waits else []
            return [*counts, self._stage(ChangeStage.RESUMED)], said("change of tools on {press} taken up",
                                                                     press=self.press)  # fmt: skip
        if how == "give-up":
            text = self.sent.text("text").strip()
            return [self._stage(ChangeStage.GIVEN_UP, text)], said("change of tools on {press} given up",
                                                                   press=self.press)  # fmt: skip
        return self._step(book, change), step_said(change.next)

    def _begun(self, book: Book) -> Changeover:
        """The beginning; what the book would not let go in is refused here, not three steps later."""
        key = self.sent.text("item").strip()
        if not key:
            raise Refused(said("Choose what goes in, or scan it."))
        try:
            item = book.known.item(key)
        except NotFound as unknown:
            raise Refused(unknown.said) from None
        inside = book.changing(self.at).slot_on(self.press, item)
        book.tried(book.moves(self.at, self.here.id).in_(item.id, inside, None, swap=True), self.at)
        return Changeover(at=self.at, by=self.here.id, press=self.press, stage=ChangeStage.BEGUN, item=item.id)

    def _stage(self, stage: ChangeStage, text: str = "") -> Changeover:
        return Changeover(at=self.at, by=self.here.id, press=self.press, stage=stage, text=text)

    def _figure(self) -> int:
        typed = self.sent.text("count")
        value = figure_of(typed.strip())
        if value is None:
            raise Refused(no_count_said(typed))
        return value

    def _count(self) -> Count:
        return Count(at=self.at, by=self.here.id, press=self.press, value=self._figure())

    # The steps

    def _step(self, book: Book, change: Change) -> Sequence[Entry]:
        step = change.next
        if (self.sent.text("step"), self.sent.text("about")) != (step.step, step.about):
            raise Refused(
                said("Somebody did this step meanwhile; nothing was written. Next is {step}.", step=step_said(step))
            )
        match step.step:
            case Step.OUT:
                return self._out(book, step)
            case Step.IN:
                moves = book.moves(self.at, self.here.id).in_(step.about, change.inside, self._figure(), swap=True)
                return [*moves, *self._checks("set-up")]
            case Step.SLUG | Step.FIRST_OFF:
                return self._checks(ADJUSTED if step.again else OCCASIONS[step.step])
            case Step.RELEASE:
                return [self._stage(ChangeStage.RELEASED)]
        raise Refused(said("{step} is signed on its own page.", step=step_said(step)))

    def _out(self, book: Book, step: ChangeStep) -> Sequence[Entry]:
        """The last piece, or why there is none; then the set comes out, to its place."""
        to, stood = self.sent.text("to"), STOOD.get(self.sent.text("stood"))
        if to not in {place.id for place in self.seen.places}:
            raise Refused(said("Choose the place where {item} goes.", item=step.about))
        last = self._checks(OCCASIONS[Step.OUT])
        if self.seen.form is not None and not last and stood is None:
            raise Refused(said("Measure the last piece, or say with one touch why there is none."))
        told = [] if last or stood is None else [
            Remark(at=self.at, by=self.here.id, item=step.about, text=f"no last piece: {stood}")
        ]  # fmt: skip
        return [*last, *told, book.moves(self.at, self.here.id).out(step.about, self._figure(), to)]

    def _checks(self, occasion: str) -> tuple[Check, ...]:
        form, typed = self.seen.form, self.sent.texts()
        if form is None:
            return ()
        taken, looks = measured(form, occasion, typed), looked(form, occasion, typed)
        if not (taken or looks):
            return ()
        crimp = crimp_of(form, typed).id
        head = Check(at=self.at, by=self.here.id, item=form.item, occasion=occasion, crimp=crimp, press=self.press)
        return checks_of(head, taken, looks)


def _seen(book: Book, press: str, at: datetime) -> Seen:
    """What the page of a press stands on; raises :class:`NotFound` for what is no press."""
    changing = book.changing(at)
    change = changing.open_on(press)
    if change is None:
        return Seen(None, None, changing.before(press), book.places(), None)
    out = book.known.items.get(change.out or "")
    return Seen(change, _check_form(book, change, at), None, book.places(), out.place if out else None)


def _check_form(book: Book, change: Change, at: datetime) -> CheckForm | None:
    """The form of the check that belongs to the next step; None: nothing is measured in it."""
    step, forms = change.next, book.check_forms(at)
    if step.step not in OCCASIONS:
        return None
    sets = forms.sets_at(step.about)
    try:
        return forms.form(sets[0]) if sets else None
    except Refused:  # no crimp of it is defined, so nothing can be judged
        return None


def _taken(scanned: Scanned, seen: Seen) -> tuple[str, str]:
    """The field that takes what was scanned, with its value; raises :class:`Refused` where none does."""
    if not isinstance(scanned, ScannedItem):
        raise Refused(not_wanted_said(scanned))
    if seen.change is None:
        return "item", scanned.item
    gauges = {} if seen.form is None else {
        gauge.id: one.gauge_class for one in seen.form.gauges for gauge in one.choices
    }  # fmt: skip
    if scanned.item in gauges and scanned.gauge is not None:
        if not scanned.gauge.valid:
            raise Refused(gauge_not_valid(scanned))
        return gauge_field(gauges[scanned.item]), scanned.item
    if seen.change.next.step in (Step.OUT, Step.IN) and scanned.item == seen.change.next.about:
        return "about", scanned.item
    raise Refused(not_wanted_said(scanned, step_said(seen.change.next)))
