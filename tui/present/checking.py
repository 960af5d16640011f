"""A check in words: occasions, cautions, what is asked for, and what the typed values say before they are saved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tui.present.signing import limits_text, number_text, read_number, reading_of
from tui.present.words import listed
from upkeep.entries.checking import WHILE_SETTING
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.plant.model import Energy, Point
from upkeep.views.check_forms import CheckForm, CrimpForm
from upkeep.views.signing import GaugeChoice
from upkeep.wording.sentences import Reader, text

OCCASIONS: Mapping[str, str] = {
    "first-off": "the first pieces of this run",
    "last-off": "the last pieces of this run",
    "sample": "pieces from the run",
    "as-found": "before anything is adjusted",
    "as-left": "after adjusting, all readings again",
    "slug": "solder slugs, cycled by hand",
    "set-up": "the settings, for the record",
    "reel": "first pieces of a new reel",
    "audit": "in addition to the plan",
}
"""Picked with the keys 1 to 9, in this order."""

SLUG, SET_UP = "slug", "set-up"

LOOK_KEYS: Mapping[str, str] = {"g": "good", "b": "BAD", "n": "not looked at"}
"""What answers a look, one key each."""

BROKE_KEYS: Mapping[str, str] = {"w": "wire broke", "p": "pulled out", "t": "terminal broke"}
"""How a pulled piece broke, one key each."""

BROKE_WORDS: Mapping[str, str] = {"w": "wire-broke", "p": "pulled-out", "t": "terminal-broke"}
"""The same as the book writes it."""

_SLUG_CAUTION = (
    f"CAUTION. {CONTROL[Energy.LOCK]} Put the slug in and cycle BY HAND ONLY; "
    f"no hand near the point of operation while it moves. {LOCAL_LAW}"
)
_SETTING_CAUTION = (
    f"CAUTION. {CONTROL[Energy.LOCK]} Adjust with power and air off, and cycle by hand before they come back. "
    f"Guard in place before the press runs. {LOCAL_LAW}"
)


def caution_of(occasion: str | None) -> str:
    """The caution that opens a check; "" where no hand goes near the point of operation."""
    if occasion == SLUG:
        return _SLUG_CAUTION
    return _SETTING_CAUTION if occasion in ("set-up", "as-found", "as-left") else ""


def occasion_rows() -> tuple[str, ...]:
    """The occasions with their numbers."""
    return tuple(f"{number}  {key:<11}{words}" for number, (key, words) in enumerate(OCCASIONS.items(), start=1))


def numbered(texts: Iterable[str]) -> tuple[str, ...]:
    """Texts to choose from by number; the arrows alone reach what stands after the ninth."""
    return tuple(f"{number if number < 10 else '-'}  {text}" for number, text in enumerate(texts, start=1))


def crimp_text(crimp: CrimpForm) -> str:
    """A crimp as a choice."""
    return f"{crimp.id}  {crimp.title}"


def gauge_text(gauge: GaugeChoice, reader: Reader) -> str:
    """A gauge as a choice: its state in words, then what it is; the book's own words for a state name it already."""
    note = text(gauge.note, reader)
    return f"{gauge.id}  {note if gauge.valid else note[:1].upper() + note[1:]}  {gauge.title}"


def head_text(form: CheckForm) -> str:
    """The heading: the set, and where it hangs."""
    return f"Check: {form.item} {form.title}, {f'on {form.press}' if form.press else 'on no press'}"


def asked_points(crimp: CrimpForm, occasion: str | None) -> tuple[Point, ...]:
    """What has to be measured at an occasion; settings are all that is asked at a set-up."""
    if occasion == SLUG:
        return crimp.slugs
    return crimp.settings if occasion == SET_UP else crimp.pieces


def asked_looks(crimp: CrimpForm, occasion: str | None) -> tuple[str, ...]:
    """What has to be looked at at an occasion."""
    return () if occasion in (SLUG, SET_UP) else crimp.looks


def further_settings(crimp: CrimpForm, occasion: str | None) -> tuple[Point, ...]:
    """The settings that may be written down besides, where the occasion is one of setting."""
    return crimp.settings if occasion in WHILE_SETTING and occasion != SET_UP else ()


def reading_label(point: Point, number: int) -> str:
    """The label of one reading with its limits: ``Crimp height 1/5 (1.24 to 1.34 mm)``."""
    count = f" {number}/{point.readings}" if point.readings > 1 else ""
    return f"{point.title}{count} ({_limits(point)})"


def _limits(point: Point) -> str:
    if point.steps:
        return f"one of {_steps(point)}"
    return limits_text(point) if (point.lower, point.upper) != (None, None) else f"in {point.unit}"


def _steps(point: Point) -> str:
    return ", ".join(number_text(step) for step in point.steps)


def reading_words(point: Point, text: str) -> str:
    """What a typed reading says, in words, at once."""
    value = read_number(text)
    if value is not None and point.steps and value not in point.steps:
        return f"no such position: {_steps(point)}"
    return reading_of(point, text).words


def is_out(point: Point, text: str) -> bool:
    """Whether a typed reading is out of its limits."""
    value = read_number(text)
    return value is not None and (
        (point.lower is not None and value < point.lower) or (point.upper is not None and value > point.upper)
    )


def as_typed(readings: Iterable[tuple[Point, str]], looks: Iterable[tuple[str, str | None]]) -> str:
    """What stands in the form, in a few words: what is bad, or how much is filled in; "" while it is empty."""
    typed = [(point, text) for point, text in readings if read_number(text) is not None]
    answered = [(look, key) for look, key in looks if key in ("g", "b")]
    titles = dict.fromkeys(point.title for point, text in typed if is_out(point, text))
    bad = [*(f"{title} OUT" for title in titles), *(f"{look} BAD" for look, key in answered if key == "b")]
    if bad:
        return listed(tuple(bad))
    return f"{_many(len(typed), 'reading')}, {_many(len(answered), 'look')}: none is bad" if typed or answered else ""


def before_saving(said: str) -> str:
    """The same before it is saved, with what follows from it."""
    follows = " If saved like this, the set is held." if said.endswith(("OUT", "BAD")) else ""
    return f"As typed: {said}.{follows}" if said else ""


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
