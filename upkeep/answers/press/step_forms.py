"""What the next step of a change of tools asks for, and the entries that are written where it was filled in.

What belongs together is written together: a set comes out with its last piece, and goes in with its settings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from upkeep.answers.checks.forms import CheckForms
from upkeep.answers.press.changing import Changing
from upkeep.answers.whereabouts.moves import Moves
from upkeep.entries.checking import Check, Measured, checks_of
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Changeover, ChangeStage
from upkeep.entries.lives import Remark
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.plant.energy import caution_said
from upkeep.plant.model import Point
from upkeep.said import Said, said, said_as
from upkeep.units.measures import Shown, read_in, shown_in, typed_like
from upkeep.units.quantities import figure_of
from upkeep.views.changeover import Change, Kept, Step, StepAsk, StepForm, StepOption
from upkeep.views.check_forms import CheckForm, CrimpForm
from upkeep.wording.changeover import PAUSES, STOOD, setting_said, step_said
from upkeep.wording.counts import no_count_said
from upkeep.wording.points import point_said

_OCCASIONS: Mapping[Step, str] = {
    Step.OUT: "last-off",
    Step.IN: "set-up",
    Step.SLUG: "slug",
    Step.FIRST_OFF: "first-off",
}
"""The occasion of the check that belongs to a step."""

_ADJUSTED = "as-left"

_NOT_ASKED = (Step.OUT, Step.IN)
"""The steps in which nothing has to be measured: a last piece that is not there, settings that nobody read."""

Typed = Mapping[str, str]
"""What was typed and picked, by the keys of the fields."""


class StepForms:
    """Makes such forms, and the entries of such steps, from one book as it stands at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment

    # What is asked

    def form(self, change: Change, typed: Typed) -> StepForm:
        """What the next step asks for; ``typed`` is what was typed and picked so far, as the crimp that is run."""
        step = change.next
        if step.step in (Step.TOOL, Step.GUARD):
            return StepForm(step, caution_said(step.energy), (), step.about)
        asks = [self.count(change)] if step.step in _NOT_ASKED else []
        check = self._check_form(change)
        if check is not None:
            asks += self._measures(change, check, typed)
        if step.step is Step.OUT:
            asks.append(self._goes_to(change))
            if check is not None:
                asks.append(_pick("stood", said("No last piece? Say why"), STOOD))
        return StepForm(step, caution_said(step.energy), tuple(asks), "")

    def count(self, change: Change) -> StepAsk:
        """The field of the count; the press stands between out and in, so that count is there to be confirmed."""
        confirm = str(change.last_count) if change.next.step is Step.IN and change.last_count is not None else ""
        last = None if change.last_count is None else said("Last: {count}", count=change.last_count)
        label = said("What does the counter of {press} show?", press=change.press)
        return StepAsk("count", label, Kept.COUNT, preset=confirm, beside=last)

    def pausing(self, change: Change) -> tuple[StepAsk, ...]:
        """What is asked where a change is paused: why, by one touch, and the count."""
        return (_pick("why", said("Why, if you have to stop"), PAUSES), self.count(change))

    def _check_form(self, change: Change) -> CheckForm | None:
        """The form of the check that belongs to the next step; None: nothing is measured in it."""
        if change.next.step not in _OCCASIONS:
            return None
        forms = CheckForms(self._context)
        sets = forms.sets_at(change.next.about)
        try:
            return forms.form(sets[0]) if sets else None
        except Refused:  # no crimp of it is defined, so nothing can be judged
            return None

    def _measures(self, change: Change, check: CheckForm, typed: Typed) -> Iterator[StepAsk]:
        crimp, occasion = _crimp_of(check, typed), _occasion(change)
        points, needed = _points(crimp, occasion), change.next.step not in _NOT_ASKED
        then = change.last_settings if change.next.step is Step.IN else ()
        beside = {one.point: setting_said(one, self._known.zone) for one in then}
        if len(check.crimps) > 1:
            crimps = tuple(StepOption(one.id, said("{id} {title}", id=one.id, title=one.title)) for one in check.crimps)
            yield StepAsk("crimp", said("Crimp"), Kept.PICK, crimps, crimp.id)
        for point in points:
            asked = needed and point in crimp.asked_at(occasion)
            for number in range(1, point.readings + 1):
                label = point_said(point, number)
                yield StepAsk(f"{point.id}.{number}", label, Kept.VALUE, beside=beside.get(point.id), needed=asked)
        yield from _gauges(check, points)
        for look in crimp.looked_at(occasion):
            words = {"good": said_as("look", "good"), "bad": said_as("look", "BAD")}
            yield _pick(f"look.{look}", said("Look: {look}", look=look), words, needed=needed)

    def _goes_to(self, change: Change) -> StepAsk:
        item = self._known.item(change.next.about)
        places = tuple(
            StepOption(one.id, said("{id} {title}", id=one.id, title=one.title)) for one in self._known.places.values()
        )
        return StepAsk("to", said("{item} goes to", item=item.id), Kept.PICK, places, item.place or "")

    # What is written

    def begun(self, press: str, key: str, by: str) -> Changeover:
        """The beginning of a change; raises :class:`NotFound`, and :class:`Refused` where nothing there takes it."""
        Changing(self._context).slot_on(press, self._known.item(key))
        return Changeover(at=self._at, by=by, press=press, stage=ChangeStage.BEGUN, item=key)

    def trial(self, begun: Changeover) -> Sequence[Entry]:
        """What the change comes to: what the book would refuse of it is to be told as it begins."""
        item = begun.item or ""
        inside = Changing(self._context).slot_on(begun.press, self._known.item(item))
        return Moves(self._context, begun.by, "").in_(item, inside, None, swap=True)

    def entries(self, change: Change, by: str, typed: Typed) -> Sequence[Entry]:
        """The entries of the next step; raises :class:`Refused` for whoever has not got it in hand, and at the first
        thing that lacks."""
        _check_in_hand(change, by)
        step, moves = change.next, Moves(self._context, by, "")
        match step.step:
            case Step.OUT:
                return self._out(change, by, typed)
            case Step.IN:
                into = moves.in_(step.about, change.inside, _figure(typed), swap=True)
                return [*into, *self._checks(change, by, typed)]
            case Step.SLUG | Step.FIRST_OFF:
                return self._checks(change, by, typed)
            case Step.RELEASE:
                return [self.stage(change, by, ChangeStage.RELEASED)]
        raise Refused(said("{step} is signed on its own page.", step=step_said(step)))

    def paused(self, change: Change, by: str, typed: Typed) -> Sequence[Entry]:
        """The entries that pause a change: the count, and why."""
        why = PAUSES.get(typed.get("why", ""))
        if why is None:
            raise Refused(said("Say why the change waits: one touch."))
        return [self._counted(change, by, typed), self.stage(change, by, ChangeStage.PAUSED, str(why))]

    def resumed(self, change: Change, by: str, typed: Typed) -> Sequence[Entry]:
        """The entries that take a change up again, with the count where it waited; or take it over from somebody."""
        counts = [self._counted(change, by, typed)] if change.waits else []
        return [*counts, self.stage(change, by, ChangeStage.RESUMED)]

    def stage(self, change: Change, by: str, stage: ChangeStage, text: str = "") -> Changeover:
        """How far a change has come."""
        return Changeover(at=self._at, by=by, press=change.press, stage=stage, text=text)

    def _counted(self, change: Change, by: str, typed: Typed) -> Count:
        return Count(at=self._at, by=by, press=change.press, value=_figure(typed))

    def _out(self, change: Change, by: str, typed: Typed) -> Sequence[Entry]:
        """The last piece, or why there is none; then the set comes out, to its place."""
        item, to, stood = change.next.about, typed.get("to", ""), STOOD.get(typed.get("stood", ""))
        if to not in self._known.places:
            raise Refused(said("Choose the place where {item} goes.", item=item))
        last = self._checks(change, by, typed)
        if self._check_form(change) is not None and not last and stood is None:
            raise Refused(said("Measure the last piece, or say with one touch why there is none."))
        why = said("no last piece: {why}", why=stood) if stood is not None and not last else None
        told = [] if why is None else [Remark(at=self._at, by=by, item=item, text=str(why))]
        return [*last, *told, Moves(self._context, by, "").out(item, _figure(typed), to)]

    def _checks(self, change: Change, by: str, typed: Typed) -> tuple[Check, ...]:
        check = self._check_form(change)
        if check is None:
            return ()
        crimp, occasion = _crimp_of(check, typed), _occasion(change)
        needed = change.next.step not in _NOT_ASKED
        taken = tuple(_measured(check, crimp, occasion, typed, shown_in(self._known.facts.units), needed=needed))
        looks = tuple(_looked(crimp, occasion, typed, needed=needed))
        if not (taken or looks):
            return ()
        head = Check(
            at=self._at, by=by, item=check.item, occasion=occasion, crimp=crimp.id, press=change.press,
        )  # fmt: skip
        return checks_of(head, taken, looks)


def _check_in_hand(change: Change, by: str) -> None:
    """Refuses a step of a change that waits, or that somebody else took over."""
    if change.waits is not None:
        raise Refused(said("The change on {press} is paused. Take it up again first.", press=change.press))
    if by != change.in_hand_of[0] and not change.next.is_anybodys:
        raise Refused(
            said(
                "{name} has the change on {press} in hand. Take it over first.", name=change.in_hand_of[1],
                press=change.press,
            )
        )  # fmt: skip


def gauge_key(gauge_class: str) -> str:
    """The key of the field in which a gauge of a class is picked."""
    return f"gauge.{gauge_class}"


def _occasion(change: Change) -> str:
    return _ADJUSTED if change.next.again else _OCCASIONS[change.next.step]


def _crimp_of(check: CheckForm, typed: Typed) -> CrimpForm:
    """The crimp that is run: the one that was picked, else the likely one, else the first."""
    wanted = typed.get("crimp") or check.crimp
    return next((crimp for crimp in check.crimps if crimp.id == wanted), check.crimps[0])


def _points(crimp: CrimpForm, occasion: str) -> tuple[Point, ...]:
    """What is measured; what was adjusted is written down with what it left."""
    return (*crimp.asked_at(occasion), *(crimp.besides(occasion) if occasion == _ADJUSTED else ()))


def _pick(key: str, label: Said, words: Mapping[str, Said], *, needed: bool = False) -> StepAsk:
    options = tuple(StepOption(one, says) for one, says in words.items())
    return StepAsk(key, label, Kept.PICK, options, needed=needed)


def _gauges(check: CheckForm, points: Sequence[Point]) -> Iterator[StepAsk]:
    wanted = {point.gauge_class for point in points if point.gauge_class}
    for one in check.gauges:
        if one.gauge_class in wanted:
            options = tuple(
                StepOption(
                    gauge.id, said("{id} {title}: {note}", id=gauge.id, title=gauge.title, note=gauge.note), gauge.valid
                )
                for gauge in one.choices
            )
            label = said("Gauge: {kind}", kind=one.gauge_class)
            yield StepAsk(gauge_key(one.gauge_class), label, Kept.PICK, options, one.likely or "", needed=False)


# What was filled in


def _figure(typed: Typed) -> int:
    shown = typed.get("count", "").strip()
    value = figure_of(shown)
    if value is None:
        raise Refused(no_count_said(shown))
    return value


def _measured(
    check: CheckForm, crimp: CrimpForm, occasion: str, typed: Typed, units: Shown, *, needed: bool
) -> Iterator[Measured]:  # fmt: skip
    """The readings that were typed, each point with its gauge."""
    asked = crimp.asked_at(occasion) if needed else ()
    for point in _points(crimp, occasion):
        given = [typed.get(f"{point.id}.{number}", "") for number in range(1, point.readings + 1)]
        if point in asked or any(one.strip() for one in given):
            yield Measured(point.id, tuple(_values(point, given, units)), _gauge(check, point, typed))


def _values(point: Point, given: Sequence[str], units: Shown) -> Iterator[float]:
    for number, text in enumerate(given, start=1):
        value = read_in(text, point.unit, units)
        if value is None:
            like = typed_like(point.unit, units)
            raise Refused(said("{point}: type {like}.", point=point_said(point, number), like=like))
        yield value


def _gauge(check: CheckForm, point: Point, typed: Typed) -> str | None:
    if point.gauge_class is None:
        return None
    choices = next((one.choices for one in check.gauges if one.gauge_class == point.gauge_class), ())
    chosen = typed.get(gauge_key(point.gauge_class))
    if chosen not in {gauge.id for gauge in choices if gauge.valid}:
        raise Refused(
            said(
                "Choose the {kind} you measured {point} with; it has to be valid.",
                kind=point.gauge_class, point=point.title,
            )
        )  # fmt: skip
    return chosen


def _looked(crimp: CrimpForm, occasion: str, typed: Typed, *, needed: bool) -> Iterator[tuple[str, bool]]:
    """What was judged by eye."""
    for look in crimp.looked_at(occasion):
        verdict = typed.get(f"look.{look}")
        if verdict in ("good", "bad"):
            yield look, verdict == "good"
        elif needed:
            raise Refused(said("Look at the {look}: good or bad?", look=look))
