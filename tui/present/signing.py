"""The sign-off in words: limits, what a typed reading means, grades, and the proof that something was signed."""

from __future__ import annotations

from collections.abc import Mapping

from tui.present.moments import Now
from tui.present.words import wrapped
from upkeep.entries.occurrences import EXTRA
from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Clause, Said, Value, said
from upkeep.units.measures import InUnits, Shown, measured, read_in, typed_like
from upkeep.views.board import BoardLine
from upkeep.views.signing import SignForm
from upkeep.wording.occurrences import EXTRA_SAID, occurrence_said
from upkeep.wording.points import limits_said
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, of_plant, text

GRADES: Mapping[int, Said] = {
    0: said("as new: no change to be seen"),
    1: said("slight: polish marks, no effect on the crimp"),
    2: said("visible: galling, rounding, or past a warning value; order the part"),
    3: said("at the limit: change before the next order, check what was made"),
    4: said("out: a point out of limits, a crack or a chip; stop, take it out"),
}
"""What the grades of an inspection mean (common practice, no source)."""


@frozen
class Reading:
    """What a typed reading means: its value (None: no number) and the words beside it (None: nothing was typed)."""

    value: float | None
    words: Said | None


def number_text(value: float) -> str:
    """A measured value without needless figures, ``1.25``."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def reading_label(point: Point, number: int, reader: Reader) -> str:
    """The label of one reading of a point; numbered where there are several."""
    title = said("{point}", point=point.title)
    if point.readings > 1:
        title = said("{point} {number} of {of}", point=point.title, number=number, of=point.readings)
    return text(said("{title} ({limits})", title=title, limits=limits_said(point)), reader)


def reading_of(point: Point, typed: str, units: Shown) -> Reading:
    """What a typed text says about a point, in words: in limits, past a warning, out of limits, or no number; the
    value in the unit of the point."""
    if not typed.strip():
        return Reading(None, None)
    value = read_in(typed, point.unit, units)
    if value is None:
        return Reading(None, said("{like}", like=typed_like(point.unit, units)))
    return Reading(value, _judged(point, value))


def lacks_reading(point: Point, units: Shown) -> Said:
    """Why a form cannot be saved while a reading is missing or no number."""
    return said(
        "Type every reading of {point}: {like}.", point=point.title, like=typed_like(point.unit, units)
    )  # fmt: skip


def reading_words(point: Point, typed: str, reader: Reader) -> str:
    """The words beside the field of a reading."""
    words = reading_of(point, typed, reader.units).words
    return text(words, reader) if words else ""


def _judged(point: Point, value: float) -> Said:
    if point.lower is not None and value < point.lower:
        return said("OUT: {off} under the limit", off=_off(point.lower - value, point))
    if point.upper is not None and value > point.upper:
        return said("OUT: {off} over the limit", off=_off(value - point.upper, point))
    low = point.warn_lower is not None and value < point.warn_lower
    high = point.warn_upper is not None and value > point.warn_upper
    if low or high:
        return said("in limits, past the warning value")
    return said("noted") if point.lower is None and point.upper is None else said("in limits")


def _off(distance: float, point: Point) -> InUnits:
    return measured(round(distance, 6), point.unit)


def grade_text(grade: int, reader: Reader) -> str:
    """A grade as a choice, with its meaning."""
    return f"{grade}  {text(GRADES[grade], reader)}"


def meaning_said(meaning: Said) -> Said:
    """What a name under a form will stand for."""
    return said("Your name will mean: {meaning}", meaning=meaning)


def step_rows(steps: tuple[str, ...], width: int, reader: Reader) -> tuple[str, ...]:
    """The steps with their numbers; what does not fit a row goes on below its first word."""
    return tuple(
        f"{'' if later else number:>2}  {row}"
        for number, step in enumerate(steps, start=1)
        for later, row in enumerate(wrapped(of_plant(step, reader), width - 4))
    )


def is_short(form: SignForm) -> bool:
    """Whether a name is all the sign-off asks for: no readings, no grade, no gauge, no certificate, no photo."""
    return not (form.points or form.graded or form.gauges or form.calibrates or form.photo)


def work_said(line: BoardLine) -> Said:
    """What is signed: the task, the item, and what it answers."""
    if line.occurrence == EXTRA:
        return said("{task} on {item}, as an extra", task=line.title, item=line.item)
    planned = occurrence_said(line.occurrence)
    return said("{task} on {item}, {occurrence}", task=line.title, item=line.item, occurrence=planned)


def answers_text(line: BoardLine, now: Now) -> str:
    """Which planned occurrence a sign-off now would answer."""
    if line.occurrence == EXTRA:
        return text(EXTRA_SAID, now.reader)
    why = sentence(line.reasons, now.zone, now.names, now.reader)
    planned = occurrence_said(line.occurrence)
    return text(said("For {occurrence}: {why}", occurrence=planned, why=why), now.reader)


def proof_rows(signed: Said, what: Said, seconds_left: int, reader: Reader) -> tuple[str, ...]:
    """The proof that something was signed, large, and how to take it back while that is possible."""
    undo = said("Press u within {n} s to undo.", n=seconds_left) if seconds_left > 0 else said("In the book.")
    return ("", *(f"   {text(row, reader)}" for row in (signed, what, undo)), "")


def signed_said(name: str, clock: Value, meaning: Said) -> Said:
    """Who signed, when, and what the name stands for."""
    return said("SIGNED {at} {name}: {meaning}.", at=clock, name=name, meaning=Clause(meaning))
