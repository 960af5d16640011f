"""The sign-off in words: limits, what a typed reading means, grades, and the proof that something was signed."""

from __future__ import annotations

import math
from collections.abc import Mapping

from tui.present.moments import Now, occurrence_text
from tui.present.words import wrapped
from upkeep.entries.occurrences import EXTRA
from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.views.board import BoardLine
from upkeep.views.signing import GaugeChoice, SignForm
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, text

GRADES: Mapping[int, str] = {
    0: "as new: no change to be seen",
    1: "slight: polish marks, no effect on the crimp",
    2: "visible: galling, rounding, or past a warning value; order the part",
    3: "at the limit: change before the next order, check what was made",
    4: "out: a point out of limits, a crack or a chip; stop, take it out",
}
"""What the grades of an inspection mean (common practice, no source)."""


@frozen
class Reading:
    """What a typed reading means: its value (None: no number) and the words beside it."""

    value: float | None
    words: str


def number_text(value: float) -> str:
    """A measured value without needless figures, ``1.25``."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def limits_text(point: Point) -> str:
    """The limits of a point with its unit: ``1.20 to 1.30 mm``, ``at most 0.05 mm``, ``no limits, in mm``."""
    if point.lower is not None and point.upper is not None:
        return f"{number_text(point.lower)} to {number_text(point.upper)} {point.unit}"
    if point.lower is not None:
        return f"at least {number_text(point.lower)} {point.unit}"
    return f"no limits, in {point.unit}" if point.upper is None else f"at most {number_text(point.upper)} {point.unit}"


def reading_label(point: Point, number: int) -> str:
    """The label of one reading of a point; numbered where there are several."""
    count = f" {number} of {point.readings}" if point.readings > 1 else ""
    return f"{point.title}{count} ({limits_text(point)})"


def read_number(text: str) -> float | None:
    """The number somebody typed, with a decimal point or a decimal comma; None if it is none."""
    written = text.strip().replace(",", ".") if text.count(",") <= 1 and "." not in text else text.strip()
    if not written or set(written) - set("0123456789.+-"):
        return None
    try:
        value = float(written)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def reading_of(point: Point, text: str) -> Reading:
    """What a typed text says about a point, in words: in limits, past a warning, out of limits, or no number."""
    if not text.strip():
        return Reading(None, "")
    value = read_number(text)
    if value is None:
        return Reading(None, "not a number; write it like 1.25 or 1,25")
    return Reading(value, _judged(point, value))


def reading_words(point: Point, text: str) -> str:
    """The words beside the field of a reading."""
    return reading_of(point, text).words


def _judged(point: Point, value: float) -> str:
    if point.lower is not None and value < point.lower:
        return f"OUT: {number_text(point.lower - value)} {point.unit} under the limit"
    if point.upper is not None and value > point.upper:
        return f"OUT: {number_text(value - point.upper)} {point.unit} over the limit"
    low = point.warn_lower is not None and value < point.warn_lower
    high = point.warn_upper is not None and value > point.warn_upper
    if low or high:
        return "in limits, past the warning value"
    return "noted" if point.lower is None and point.upper is None else "in limits"


def gauge_text(gauge: GaugeChoice, reader: Reader) -> str:
    """A gauge as a choice: id, title, whether it is valid and why not."""
    note = text(gauge.note, reader)
    validity = note if gauge.valid else f"NOT VALID, {note}"
    return f"{gauge.id}  {gauge.title}: {validity}"


def grade_text(grade: int) -> str:
    """A grade as a choice, with its meaning."""
    return f"{grade}  {GRADES[grade]}"


def step_rows(steps: tuple[str, ...], width: int) -> tuple[str, ...]:
    """The steps with their numbers; what does not fit a row goes on below its first word."""
    return tuple(
        f"{'' if later else number:>2}  {row}"
        for number, step in enumerate(steps, start=1)
        for later, row in enumerate(wrapped(step, width - 4))
    )


def is_short(form: SignForm) -> bool:
    """Whether a name is all the sign-off asks for: no readings, no grade, no gauge."""
    return not (form.points or form.graded or form.gauges)


def work_text(line: BoardLine) -> str:
    """What is signed: the task, the item, and what it answers."""
    return f"{line.title} on {line.item}, {occurrence_text(line.occurrence)}"


def answers_text(line: BoardLine, now: Now) -> str:
    """Which planned occurrence a sign-off now would answer."""
    if line.occurrence == EXTRA:
        return "Its window is not open yet: this is recorded as an extra and does not move its due date."
    return f"Answers {occurrence_text(line.occurrence)}: {sentence(line.reasons, now.zone, now.names, now.reader)}"


def proof_rows(what: str, name: str, clock: str, meaning: str, seconds_left: int) -> tuple[str, ...]:
    """The proof that something was signed, large, and how to take it back while that is possible."""
    undo = f"Press u within {seconds_left} s to undo." if seconds_left > 0 else "In the book."
    return ("", f"   SIGNED {clock} {name}: {meaning.rstrip('.')}.", f"   {what}", f"   {undo}", "")
