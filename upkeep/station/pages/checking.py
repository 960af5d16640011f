"""The fields of a check: what is measured with which gauge, what is looked at, what was set last time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from upkeep.entries.checking import Measured
from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Said, said, said_as
from upkeep.station.pages.options import Option
from upkeep.views.check_forms import SET_UP, CheckForm, CrimpForm
from upkeep.wording.points import point_said, read_number

NOT_ASKED = (SET_UP, "last-off")
"""The occasions at which nothing has to be filled in: settings that nobody read, a last piece that is not there."""


ADJUSTED = "as-left"
"""The occasion after adjusting."""


@frozen
class ValueField:
    """A field for a measured value: its name, label, what was typed, what stands beside it (None: nothing); ``first``:
    it is the first that is empty."""

    name: str
    label: Said
    typed: str
    beside: Said | None
    first: bool


@frozen
class Picking:
    """Something to pick by one touch: the name of its field, what it asks, the options."""

    name: str
    asks: Said
    options: tuple[Option, ...]


@frozen
class CheckFields:
    """All that a check asks for on a page."""

    fields: tuple[ValueField, ...]
    picks: tuple[Picking, ...]


def check_fields(
    form: CheckForm, occasion: str, typed: Mapping[str, str], beside: Mapping[str, Said]
) -> CheckFields:  # fmt: skip
    """The fields of a check on an occasion; ``beside`` is what stands beside the field of a point."""
    crimp = crimp_of(form, typed)
    points = _points(crimp, occasion)
    names = {_name(point, number): (point, number) for point in points for number in _numbers(point)}
    first = next((name for name in names if not typed.get(name, "").strip()), None)
    fields = tuple(
        ValueField(name, point_said(point, number), typed.get(name, ""), beside.get(point.id), name == first)
        for name, (point, number) in names.items()
    )
    crimps = [Picking("crimp", said("Crimp"), _crimps(form, crimp))] if len(form.crimps) > 1 else []
    looks = [_look(look, typed) for look in crimp.looked_at(occasion)]
    return CheckFields(fields, (*crimps, *_gauges(form, points, typed), *looks))


def crimp_of(form: CheckForm, typed: Mapping[str, str]) -> CrimpForm:
    """The crimp that is run: the one that was picked, else the likely one, else the first."""
    wanted = typed.get("crimp") or form.crimp
    return next((crimp for crimp in form.crimps if crimp.id == wanted), form.crimps[0])


def _points(crimp: CrimpForm, occasion: str) -> tuple[Point, ...]:
    """What is measured; what was adjusted is written down with what it left."""
    return (*crimp.asked_at(occasion), *(crimp.besides(occasion) if occasion == ADJUSTED else ()))


def _name(point: Point, number: int) -> str:
    return f"{point.id}.{number}"


def _numbers(point: Point) -> range:
    return range(1, point.readings + 1)


def _crimps(form: CheckForm, chosen: CrimpForm) -> tuple[Option, ...]:
    return tuple(
        Option(one.id, said("{id} {title}", id=one.id, title=one.title), one.id == chosen.id) for one in form.crimps
    )


def gauge_field(gauge_class: str) -> str:
    """The name of the field in which a gauge of a class is picked."""
    return f"gauge.{gauge_class}"


def _gauges(form: CheckForm, points: Sequence[Point], typed: Mapping[str, str]) -> list[Picking]:
    wanted = {point.gauge_class for point in points if point.gauge_class}
    return [
        Picking(
            gauge_field(one.gauge_class),
            said("Gauge: {kind}", kind=one.gauge_class),
            tuple(
                Option(
                    gauge.id,
                    said("{id} {title}: {note}", id=gauge.id, title=gauge.title, note=gauge.note),
                    gauge.id == (typed.get(gauge_field(one.gauge_class)) or one.likely),
                    gauge.valid,
                )
                for gauge in one.choices
            ),
        )
        for one in form.gauges
        if one.gauge_class in wanted
    ]


def _look(look: str, typed: Mapping[str, str]) -> Picking:
    chosen = typed.get(f"look.{look}")
    words = {"good": said_as("look", "good"), "bad": said_as("look", "BAD")}
    options = tuple(Option(value, said, value == chosen) for value, said in words.items())
    return Picking(f"look.{look}", said("Look: {look}", look=look), options)


# What was filled in


def measured(form: CheckForm, occasion: str, typed: Mapping[str, str]) -> tuple[Measured, ...]:
    """The readings that were typed, each point with its gauge; raises :class:`Refused` at the first that lacks."""
    crimp, taken = crimp_of(form, typed), list[Measured]()
    asked = crimp.asked_at(occasion)
    for point in _points(crimp, occasion):
        given = [typed.get(_name(point, number), "") for number in _numbers(point)]
        if any(one.strip() for one in given) or (point in asked and occasion not in NOT_ASKED):
            taken.append(Measured(point.id, tuple(_values(point, given)), _gauge(form, point, typed)))
    return tuple(taken)


def _values(point: Point, given: Sequence[str]) -> list[float]:
    values = []
    for number, text in enumerate(given, start=1):
        value = read_number(text)
        if value is None:
            raise Refused(said("{point}: type a number like 1.25 or 1,25.", point=point_said(point, number)))
        values.append(value)
    return values


def _gauge(form: CheckForm, point: Point, typed: Mapping[str, str]) -> str | None:
    if point.gauge_class is None:
        return None
    choices = next((one.choices for one in form.gauges if one.gauge_class == point.gauge_class), ())
    chosen = typed.get(gauge_field(point.gauge_class))
    if chosen not in {gauge.id for gauge in choices if gauge.valid}:
        raise Refused(
            said("Choose the {kind} you measured {point} with; it has to be valid.", kind=point.gauge_class,
                 point=point.title)
        )  # fmt: skip
    return chosen


def looked(form: CheckForm, occasion: str, typed: Mapping[str, str]) -> tuple[tuple[str, bool], ...]:
    """What was judged by eye; raises :class:`Refused` where something was not looked at that has to be."""
    judged = []
    for look in crimp_of(form, typed).looked_at(occasion):
        verdict = typed.get(f"look.{look}")
        if verdict in ("good", "bad"):
            judged.append((look, verdict == "good"))
        elif occasion not in NOT_ASKED:
            raise Refused(said("Look at the {look}: good or bad?", look=look))
    return tuple(judged)
