"""A check in words: occasions, cautions, what is asked for, and what the typed values say before they are saved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tui.present.signing import number_text, reading_of
from upkeep.frozen import frozen
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.plant.model import Energy, Point
from upkeep.said import Said, Value, enumerated, in_turn, listed, said, said_as, said_many, term
from upkeep.units.measures import AS_STATED, Shown, UnitName, read_in
from upkeep.views.check_forms import CheckForm, CrimpForm
from upkeep.views.signing import GaugeChoice
from upkeep.wording.cautions import caution
from upkeep.wording.points import limits_said
from upkeep.wording.sentences import Reader, label, text

OCCASIONS: Mapping[str, Said] = {
    "first-off": said("the first pieces of this run"),
    "last-off": said("the last pieces of this run"),
    "sample": said("pieces from the run"),
    "as-found": said("before anything is adjusted"),
    "as-left": said("after adjusting, all readings again"),
    "slug": said("solder slugs, cycled by hand"),
    "set-up": said("the settings, for the record"),
    "reel": said("first pieces of a new reel"),
    "audit": said("in addition to the plan"),
}
"""Picked with the keys 1 to 9, in this order."""

SLUG = "slug"

LOOK_KEYS: Mapping[str, Said] = {
    "g": said_as("look", "good"),
    "b": said_as("look", "BAD"),
    "n": said_as("look", "not looked at"),
}
"""What answers a look, one key each."""

BROKE_KEYS: Mapping[str, Said] = {
    "w": said_as("pull test", "wire broke"),
    "p": said_as("pull test", "pulled out"),
    "t": said_as("pull test", "terminal broke"),
}
"""How a pulled piece broke, one key each."""

BROKE_WORDS: Mapping[str, str] = {"w": "wire-broke", "p": "pulled-out", "t": "terminal-broke"}
"""The same as the book writes it."""

_SLUG = said("Put the slug in and cycle BY HAND ONLY; no hand near the point of operation while it moves.")
_SETTING = said(
    "Adjust with power and air off, and cycle by hand before they come back. Guard in place before the press runs."
)


def caution_of(occasion: str | None) -> Said | None:
    """The caution that opens a check; None where no hand goes near the point of operation."""
    if occasion == SLUG:
        return caution((CONTROL[Energy.LOCK], _SLUG, LOCAL_LAW))
    if occasion in ("set-up", "as-found", "as-left"):
        return caution((CONTROL[Energy.LOCK], _SETTING, LOCAL_LAW))
    return None


def occasion_rows(reader: Reader) -> tuple[str, ...]:
    """The occasions with their numbers."""
    return tuple(
        f"{number}  {label(term(key, 'occasion'), 11, reader)}{text(words, reader)}"
        for number, (key, words) in enumerate(OCCASIONS.items(), start=1)
    )


def numbered(texts: Iterable[str]) -> tuple[str, ...]:
    """Texts to choose from by number; the arrows alone reach what stands after the ninth."""
    return tuple(f"{number if number < 10 else '-'}  {shown}" for number, shown in enumerate(texts, start=1))


def crimp_text(crimp: CrimpForm) -> str:
    """A crimp as a choice."""
    return f"{crimp.id}  {crimp.title}"


def gauge_text(gauge: GaugeChoice, reader: Reader) -> str:
    """A gauge as a choice: its state in words, then what it is; the book's own words for a state name it already."""
    note = text(gauge.note, reader)
    return f"{gauge.id}  {note if gauge.valid else note[:1].upper() + note[1:]}  {gauge.title}"


def head_said(form: CheckForm) -> Said:
    """The heading: the set, and where it hangs."""
    if not form.press:
        return said("Check: {item} {title}, on no press", item=form.item, title=form.title)
    return said("Check: {item} {title}, on {press}", item=form.item, title=form.title, press=form.press)


def reading_label(point: Point, number: int, reader: Reader) -> str:
    """The label of one reading with its limits: ``Crimp height 1/5 (1.24 to 1.34 mm)``."""
    count = f" {number}/{point.readings}" if point.readings > 1 else ""
    return f"{text(term(point.title), reader)}{count} ({text(_limits(point), reader)})"


def _limits(point: Point) -> Said:
    if point.steps:
        return said("one of {steps}", steps=_steps(point))
    return (
        limits_said(point)
        if (point.lower, point.upper) != (None, None)
        else said("in {unit}", unit=UnitName(point.unit))
    )


def _steps(point: Point) -> Value:
    return listed(map(number_text, point.steps))


def reading_words(point: Point, typed: str, reader: Reader) -> str:
    """What a typed reading says, in words, at once."""
    value = read_in(typed, point.unit, reader.units)
    if value is not None and point.steps and value not in point.steps:
        return text(said("no such position: {steps}", steps=_steps(point)), reader)
    words = reading_of(point, typed, reader.units).words
    return text(words, reader) if words else ""


def is_out(point: Point, typed: str, units: Shown) -> bool:
    """Whether a typed reading is out of its limits."""
    value = read_in(typed, point.unit, units)
    return value is not None and (
        (point.lower is not None and value < point.lower) or (point.upper is not None and value > point.upper)
    )


@frozen
class AsTyped:
    """What stands in a form: what is bad, or how much is filled in (None while it is empty), and whether any is bad."""

    words: Said | None
    bad: bool


def as_typed(
    readings: Iterable[tuple[Point, str]], looks: Iterable[tuple[str, str | None]], units: Shown = AS_STATED
) -> AsTyped:
    """What stands in the form, in a few words."""
    typed = [(point, shown) for point, shown in readings if read_in(shown, point.unit, units) is not None]
    answered = [(look, key) for look, key in looks if key in ("g", "b")]
    titles = dict.fromkeys(point.title for point, shown in typed if is_out(point, shown, units))
    bad = [said("{point} OUT", point=term(title)) for title in titles]
    bad += [said("{look} BAD", look=look) for look, key in answered if key == "b"]
    if bad:
        return AsTyped(said("{bad}", bad=enumerated(bad)), bad=True)
    if not (typed or answered):
        return AsTyped(None, bad=False)
    filled = said(
        "{readings}, {looks}: none is bad",
        readings=_readings(len(typed)),
        looks=_looks(len(answered)),
    )
    return AsTyped(filled, bad=False)


def _readings(count: int) -> Said:
    return said_many("{n} reading", "{n} readings", n=count)


def _looks(count: int) -> Said:
    return said_many("{n} look", "{n} looks", n=count)


def before_saving(typed: AsTyped) -> Said | None:
    """The same before it is saved, with what follows from it; None while the form is empty."""
    if typed.words is None:
        return None
    follows = said("If saved like this, the set is held.") if typed.bad else None
    return in_turn(said("As typed: {words}.", words=typed.words), follows)
