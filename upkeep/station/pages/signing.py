"""The sign-off of one line: its caution, its steps, what is measured, the name and what it will mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from upkeep.entries.occurrences import EXTRA
from upkeep.errors import AlreadySigned
from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Said, said
from upkeep.station.pages.options import Option
from upkeep.station.pages.page import Person
from upkeep.units.instants import Zone
from upkeep.units.measures import Shown, typed_like
from upkeep.views.board import BoardLine
from upkeep.views.signing import GaugesForm, SignForm, Taken, taken_by_point
from upkeep.wording.certificates import CERTIFICATE
from upkeep.wording.evidence.late_reasons import is_late, why_late
from upkeep.wording.occurrences import EXTRA_SAID, occurrence_said
from upkeep.wording.points import point_said, taken_said


@frozen
class Field:
    """A field for a measured value: its name in the form, its label, what was typed; ``first``: it is the first that is
    empty; ``beside`` is what is taken over where the fields of its point stay empty (None: nothing)."""

    name: str
    label: Said
    typed: str
    first: bool
    beside: Said | None = None


@frozen
class GaugesAsked:
    """The gauges of one kind to choose from: the name of the choice in the form, its label, the gauges."""

    name: str
    label: Said
    options: tuple[Option, ...]


@frozen
class SignPage:
    """All that a sign-off asks for.  ``occurrence`` is what the page said it answers, which it goes on answering
    whatever others sign meanwhile.  ``button`` names who signs; ``again`` offers to write the same work as an extra
    where somebody else signed it first; ``then``: it belongs to a change of tools, which goes on from here."""

    line: str
    occurrence: str
    work: Said
    caution: Said
    answers: Said
    steps: tuple[str, ...]
    fields: tuple[Field, ...]
    certificate: tuple[Field, ...]
    gauges: tuple[GaugesAsked, ...]
    photo: Said | None
    grades: tuple[Option, ...]
    remark: str
    remark_asks: Said
    then: str
    meaning: Said
    button: Said
    again: Said | None
    title: Said


def sign_page(
    form: SignForm, here: Person, zone: Zone, typed: Mapping[str, str] | None = None,
    refusal: Exception | None = None,
) -> SignPage:  # fmt: skip
    """The page of a form; ``typed`` is what was sent and refused."""
    given = typed or {}
    line = replace(form.line, occurrence=given.get("occurrence") or form.line.occurrence)
    work = work_said(line)
    first = isinstance(refusal, AlreadySigned)
    return SignPage(
        line=line.line,
        occurrence=line.occurrence,
        work=work,
        caution=form.caution,
        answers=_answers(line),
        steps=form.steps,
        fields=_fields(form, given, zone),
        certificate=_certificate(given) if form.calibrates else (),
        gauges=tuple(_gauges(one, given.get(gauge_name(one.gauge_class))) for one in form.gauges),
        photo=said("Photo: {what}", what=form.photo) if form.photo else None,
        grades=_grades(given.get("grade")) if form.graded else (),
        remark=given.get("remark", ""),
        remark_asks=why_late() if is_late(form.line) else said("Remark, if there is one"),
        then="change" if given.get("then") == "change" else "",
        meaning=said("Your name, {name}, will mean: {meaning}.", name=here.name, meaning=form.meaning),
        button=said("Sign as {name}", name=here.name),
        again=said("I did it too: sign it as an extra") if first else None,
        title=work,
    )


def _fields(form: SignForm, given: Mapping[str, str], zone: Zone) -> tuple[Field, ...]:
    taken = taken_by_point(form)
    names = [(f"{point.id}.{number}", point, number) for point in form.points for number in readings_of(point)]
    empty = (name for name, point, _ in names if point.id not in taken and not given.get(name, "").strip())
    first = next(empty, None)
    return tuple(
        Field(name, point_said(point, number), given.get(name, ""), name == first, _beside(taken, point, number, zone))
        for name, point, number in names
    )


def _beside(taken: Mapping[str, Taken], point: Point, number: int, zone: Zone) -> Said | None:
    """What is taken over of a point, told at its first reading."""
    if point.id not in taken or number > 1:
        return None
    there = taken_said(taken[point.id], point.unit, zone)
    return said("{taken}. Leave it empty to take that over; measured anew, type all readings.", taken=there)


def readings_of(point: Point) -> range:
    """The numbers of the readings of a point."""
    return range(1, point.readings + 1)


def _certificate(given: Mapping[str, str]) -> tuple[Field, ...]:
    return tuple(Field(name, label, given.get(name, ""), False) for name, label in CERTIFICATE.items())


def work_said(line: BoardLine) -> Said:
    """The work and the item."""
    return said("{work}, {item}", work=line.title, item=line.item)


def signed_said(line: BoardLine) -> Said:
    """What was signed, in the proof."""
    if line.occurrence == EXTRA:
        return said("{work}, as an extra", work=work_said(line))
    return work_said(line)


def _answers(line: BoardLine) -> Said:
    if line.occurrence == EXTRA:
        return EXTRA_SAID
    return said("For {occurrence}.", occurrence=occurrence_said(line.occurrence))


def gauge_name(gauge_class: str) -> str:
    """The name in the form of the choice of a gauge of a kind."""
    return f"gauge.{gauge_class}"


def _gauges(asked: GaugesForm, chosen: str | None) -> GaugesAsked:
    usual = chosen or asked.likely
    options = tuple(
        Option(
            gauge.id,
            said("{number}  {id} {title}: {note}", number=number, id=gauge.id, title=gauge.title, note=gauge.note)
            if gauge.valid
            else said("{id} {title}: NOT VALID, {note}", id=gauge.id, title=gauge.title, note=gauge.note),
            gauge.id == usual and gauge.valid,
            gauge.valid,
        )
        for number, gauge in enumerate(asked.choices, start=1)
    )
    return GaugesAsked(gauge_name(asked.gauge_class), said("Gauge: {kind}", kind=asked.gauge_class), options)


def _grades(chosen: str | None) -> tuple[Option, ...]:
    means = (
        said("0: as new"),
        said("1: slight, no effect on the crimp"),
        said("2: visible, or past a warning value"),
        said("3: at the limit, change before the next order"),
        said("4: out, a crack or a chip; stop"),
    )
    return tuple(Option(str(grade), meaning, chosen == str(grade)) for grade, meaning in enumerate(means))


def lacks_value(label: Said, unit: str, units: Shown) -> Said:
    """Which value is missing or no number."""
    return said("{point}: type {like}.", point=label, like=typed_like(unit, units))


def lacks_gauge(gauge_class: str) -> Said:
    """Which gauge is missing, or not valid."""
    return said("Choose the {kind} you measured with; it has to be valid.", kind=gauge_class)


LACKS_GRADE = said("Choose the grade, 0 to 4.")
