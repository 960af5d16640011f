"""What each definition file may say: fields, ranges and words, and the sentence that names them.

Every field carries the phrase a problem shows as what is allowed.  No field is required here, so that the sound fields
of a row can be read when others are wrong; which ones must be given stands in ``required``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterable
from datetime import date, datetime
from enum import StrEnum
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, create_model
from pydantic_core import ErrorDetails, PydanticCustomError

from upkeep.plant.definition import Given, Problem, near, quoted
from upkeep.plant.model import Energy, Event, Kind, Role
from upkeep.units.shifts import DAY_CODES

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}\Z")
_JOINERS = "\u200c\u200d"
"""Zero width joiners: they do not print and are part of some languages' words."""


def _line(value: object) -> str:
    """A text on one line, runs of blanks and line ends as one blank; nothing in it that does not print."""
    if not isinstance(value, str):
        raise ValueError("no text")
    text = " ".join(value.split())
    if not text or not all(char.isprintable() or char in _JOINERS for char in text):
        raise ValueError("empty, or characters that do not print")
    return text


def _id(value: object) -> str:
    if not isinstance(value, str) or not _ID.match(value):
        raise ValueError("no id")
    return value


def _whole(value: object) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and re.fullmatch(r"-?[0-9]{1,15}", value):
        return int(value)
    raise _no_number(value)


def _digits(value: object) -> int:
    digits = _whole(value)
    if digits and not 3 <= digits <= 10:
        raise ValueError("no counter has so many figures")
    return digits


def _number(value: object) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e15 and math.isfinite(value):
        return float(value)
    raise _no_number(value)


def _no_number(value: object) -> Exception:
    if isinstance(value, str) and re.search(r"[0-9],[0-9]", value):
        return PydanticCustomError("comma", "a comma in a number")
    return ValueError("no number")


def _day(value: object) -> date:
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    if isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        return date.fromisoformat(value)
    raise ValueError("no day")


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise ValueError("neither true nor false")
    return value


def _word(value: object) -> object:
    return " ".join(value.split()).lower() if isinstance(value, str) else value


def _words(value: object) -> object:
    """A list of words; in a CSV cell they are separated by semicolons."""
    return [part for part in map(str.strip, value.split(";")) if part] if isinstance(value, str) else value


def _day_code(value: object) -> str:
    if not isinstance(value, str) or value not in DAY_CODES:
        raise ValueError("no day of the week")
    return value


Line = Annotated[str, BeforeValidator(_line)]
Id = Annotated[str, BeforeValidator(_id)]
Whole = Annotated[int, BeforeValidator(_whole)]
Digits = Annotated[int, BeforeValidator(_digits)]
Number = Annotated[float, BeforeValidator(_number)]
Day = Annotated[date, BeforeValidator(_day)]
Flag = Annotated[bool, BeforeValidator(_flag)]
KindWord = Annotated[Kind, BeforeValidator(_word)]
RoleWord = Annotated[Role, BeforeValidator(_word)]
EventWord = Annotated[Event, BeforeValidator(_word)]
EnergyWord = Annotated[Energy, BeforeValidator(_word)]
DayCode = Annotated[str, BeforeValidator(_day_code)]


class Way(StrEnum):
    """How strokes are done besides production."""

    HAND = "hand"
    SET_UP = "set-up"
    DRY = "dry"


class Combine(StrEnum):
    """Which of several triggers decides."""

    FIRST = "first"
    LAST = "last"


class OnDayOff(StrEnum):
    """Where a due day moves that falls on a day off."""

    BEFORE = "before"
    AFTER = "after"
    KEEP = "keep"


_ID_SAYS = "1 to 32 letters, figures, '.', '_' or '-', beginning with a letter or figure"
_DAY_SAYS = "a day like 2026-03-02"
_FLAG_SAYS = "true or false, without quotes"


def _text(most: int, says: str = "a text") -> Any:
    return Field(default=None, max_length=most, description=f"{says} of 1 to {most} printable characters")


def _range(least: int, most: int, unit: str = "") -> Any:
    says = f"a whole number {least:,} to {most:,}{unit}" if most > 9999 else f"a whole number {least} to {most}{unit}"
    return Field(default=None, ge=least, le=most, description=says)


def _one_of(words: Iterable[str], **bounds: Any) -> Any:
    says = "one of" if not bounds else "one or more of"
    listed = [str(word) for word in words]
    extra: Any = {"words": listed}
    return Field(default=None, description=f"{says} {', '.join(listed)}", json_schema_extra=extra, **bounds)


def _says(phrase: str, **bounds: Any) -> Any:
    return Field(default=None, description=phrase, **bounds)


class Row(BaseModel):
    """A row or table of a definition file."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    required: ClassVar[tuple[str, ...]] = ()


class PlantRow(Row):
    """``[plant]`` in plant.toml."""

    required = ("name", "zone")
    name: Line | None = _text(80)
    zone: Line | None = _says("a time zone name like 'Europe/Berlin' or 'UTC'", max_length=60)
    closed: list[Day] | None = _says("a list of days like [2026-12-24, 2026-12-25]")
    holidays: Line | None = _says("a country and perhaps its part, like 'US' or 'DE-BE'", max_length=60)
    holiday_years: list[Annotated[Whole, Field(ge=1990, le=2100)]] | None = _says(
        "1 to 30 years from 1990 to 2100, like [2026, 2027]", min_length=1, max_length=30
    )
    undo_seconds: Whole | None = _range(0, 3600)
    late_hours: Whole | None = _range(1, 8760)
    weights: dict[Way, Annotated[Number, Field(ge=0, le=10)]] | None = _says(
        "hand, set-up or dry with a number 0 to 10 each, like { hand = 1, set-up = 0.5 }"
    )


class ShiftRow(Row):
    """``[[shift]]`` in plant.toml."""

    required = ("name", "start", "end", "days")
    name: Id | None = _says(_ID_SAYS)
    start: Line | None = _says("a time of day like '06:00'", pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")
    end: Line | None = _says("a time of day like '14:00'", pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")
    days: list[DayCode] | None = _one_of(DAY_CODES, min_length=1, max_length=7)


_SHUTDOWN: dict[str, Any] = {
    "from": (Day | None, _says(_DAY_SAYS)),
    "to": (Day | None, _says(_DAY_SAYS)),
    "title": (Line | None, _text(80)),
}
"""The fields of a shutdown; a class body cannot hold one that is called ``from``."""


class _ShutdownNeeds(Row):
    required = ("from", "to", "title")


ShutdownRow: type[Row] = create_model("ShutdownRow", __base__=_ShutdownNeeds, **_SHUTDOWN)
"""``[[shutdown]]`` in plant.toml."""


class PlaceRow(Row):
    """A row of places.csv."""

    required = ("id", "title", "area")
    id: Id | None = _says(_ID_SAYS)
    title: Line | None = _text(80)
    area: Line | None = _text(40)
    route: Whole | None = _range(0, 9999)


class PersonRow(Row):
    """A row of people.csv."""

    required = ("id", "name", "roles")
    id: Id | None = _says(_ID_SAYS)
    name: Line | None = _text(80)
    roles: Annotated[list[RoleWord], BeforeValidator(_words)] | None = _one_of(Role, min_length=1)
    since: Day | None = _says(_DAY_SAYS)
    until: Day | None = _says(_DAY_SAYS)


class ItemRow(Row):
    """A row of items.csv."""

    required = ("id", "kind", "title")
    id: Id | None = _says(_ID_SAYS)
    kind: KindWord | None = _one_of(Kind)
    title: Line | None = _text(80)
    place: Id | None = _says("the id of a place in places.csv")
    family: Line | None = _text(40)
    digits: Digits | None = _says("a whole number 3 to 10, or 0 for a press without a counter")
    max_rate: Whole | None = _range(1, 100_000, " strokes an hour")
    life: Whole | None = _range(1, 999_999_999, " strokes")
    max_reworks: Whole | None = _range(0, 50)
    gauge_class: Line | None = _text(40)
    owner: Line | None = _text(60)
    since: Day | None = _says(_DAY_SAYS)
    scrapped: Day | None = _says(_DAY_SAYS)


class PointRow(Row):
    """``[[task.point]]`` in tasks.toml."""

    required = ("id", "title", "unit")
    id: Id | None = _says(_ID_SAYS)
    title: Line | None = _text(80)
    unit: Line | None = _text(12)
    lower: Number | None = _says("a number")
    upper: Number | None = _says("a number")
    warn_lower: Number | None = _says("a number")
    warn_upper: Number | None = _says("a number")
    readings: Whole | None = _range(1, 25)


class TaskRow(Row):
    """``[[task]]`` in tasks.toml, without its points."""

    required = ("id", "title", "applies_to", "by")
    id: Id | None = _says(_ID_SAYS)
    like: Id | None = _says("the id of a task in the shipped catalogue")
    on_request: Flag | None = _says(_FLAG_SAYS)
    title: Line | None = _text(80)
    applies_to: KindWord | None = _one_of(Kind)
    by: list[RoleWord] | None = _one_of(Role, min_length=1)
    each_shift: Flag | None = _says(_FLAG_SAYS)
    every: Line | None = _says("an interval like '7 days', '2 weeks', '1 month' or '1 year'", max_length=20)
    rule: Line | None = _says("an RFC 5545 rule like 'FREQ=MONTHLY;BYDAY=1MO'", max_length=200)
    start: Day | None = _says(_DAY_SAYS)
    also_on: list[Day] | None = _says("a list of days like [2026-12-24]")
    not_on: list[Day] | None = _says("a list of days like [2026-12-24]")
    strokes: Whole | None = _range(1, 999_999_999)
    strokes_for: dict[str, Annotated[Whole, Field(ge=1, le=999_999_999)]] | None = _says(
        "item ids or families with a whole number 1 to 999,999,999 each"
    )
    after_grade: Whole | None = _range(1, 4)
    after_warning: list[Id] | None = _says("ids of measured points of other tasks on the same kind of item")
    life: Flag | None = _says(_FLAG_SAYS)
    after: list[EventWord] | None = _one_of(Event, min_length=1)
    combine: Annotated[Combine, BeforeValidator(_word)] | None = _one_of(Combine)
    early_days: Whole | None = _range(0, 366)
    late_days: Whole | None = _range(0, 366)
    stop_days: Whole | None = _range(0, 3660)
    plan_from: Whole | None = _range(1, 100, " percent")
    late_strokes: Whole | None = _range(0, 999_999_999)
    stop_at: Whole | None = _range(100, 1000, " percent")
    early_percent: Whole | None = _range(0, 100, " percent")
    late_percent: Whole | None = _range(0, 100, " percent")
    window_cap_days: Whole | None = _range(0, 366)
    by_hour: Whole | None = _range(1, 24, " hours into the shift")
    used_from: Whole | None = _range(1, 100_000, " strokes")
    deduct_overrun: Flag | None = _says(_FLAG_SAYS)
    own_usage_clock: Flag | None = _says(_FLAG_SAYS)
    spread: Flag | None = _says(_FLAG_SAYS)
    while_resting: Flag | None = _says(_FLAG_SAYS)
    covers: list[Id] | None = _says("ids of tasks in tasks.toml")
    cover_days: Whole | None = _range(0, 366)
    max_deferrals: Whole | None = _range(0, 20)
    minutes: Number | None = _says("a number of minutes 0 to 1440", ge=0, le=1440)
    energy: EnergyWord | None = _one_of(Energy)
    caution: Line | None = _text(600)
    steps: list[Annotated[Line, Field(max_length=240)]] | None = _says(
        "at most 9 steps of 1 to 240 printable characters", max_length=9
    )
    kit: list[Annotated[Line, Field(max_length=80)]] | None = _says(
        "at most 20 parts of 1 to 80 printable characters", max_length=20
    )
    graded: Flag | None = _says(_FLAG_SAYS)
    gauge_class: Line | None = _text(40)
    second_signature: RoleWord | None = _one_of(Role)
    statutory: Flag | None = _says(_FLAG_SAYS)
    on_day_off: Annotated[OnDayOff, BeforeValidator(_word)] | None = _one_of(OnDayOff)
    source: Line | None = _text(160)


def columns_of(row: type[Row]) -> tuple[str, ...]:
    """The names of the fields a row may have, in their order."""
    return tuple(row.model_fields)


def checked(row: type[Row], given: Given, problems: list[Problem]) -> dict[str, Any]:
    """The sound fields of a row, normalised and JSON-able; what is wrong with the others goes to ``problems``."""
    values = dict(given.values)
    try:
        return _plain(row.model_validate(values))
    except ValidationError as error:
        wrong = error.errors(include_url=False)
    problems += [_problem(row, given, each) for each in wrong]
    names = {each["loc"][0] for each in wrong}
    return _plain(row.model_validate({name: value for name, value in values.items() if name not in names}))


def _plain(row: Row) -> dict[str, Any]:
    return row.model_dump(mode="json", exclude_unset=True)


def missing_from(
    row: type[Row], given: Given, content: Collection[str], excused: Collection[str] = ()
) -> list[Problem]:
    """A problem for every required field that is neither in the content nor given (wrongly) in the file."""
    return [
        given.problem(name, "nothing", str(row.model_fields[name].description))
        for name in row.required
        if name not in content and name not in given.values and name not in excused
    ]


def _problem(row: type[Row], given: Given, error: ErrorDetails) -> Problem:
    name = str(error["loc"][0])
    field = row.model_fields.get(name)
    if field is None:
        found = f"an unknown key {quoted(name)}{near(name, list(row.model_fields))}"
        return Problem(given.file, given.line_of(name), None, found, ", ".join(row.model_fields))
    allowed = str(field.description)
    if error["type"] == "comma":
        allowed += " (a point, not a comma, before decimals; nothing between thousands)"
    words = field.json_schema_extra.get("words") if isinstance(field.json_schema_extra, dict) else None
    if isinstance(words, list):
        allowed += near(error["input"], [str(word) for word in words])
    return given.problem(_path(error["loc"]), quoted(error["input"]), allowed)


def _path(location: tuple[int | str, ...]) -> str:
    steps = [step for step in location if isinstance(step, str)]
    path = ".".join(steps[:2])
    return path if path.isprintable() else quoted(path)
