"""What each definition file may say: fields, ranges and words, and the sentence that names them.

Every field carries the phrase a problem shows as what is allowed.  No field is required here, so that the sound fields
of a row can be read when others are wrong; which ones must be given stands in ``required``.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Any, ClassVar

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, create_model
from pydantic_core import ErrorDetails

from upkeep.plant.definition import Given, Problem, near, quoted, unknown_key
from upkeep.plant.fields import (
    A_NUMBER,
    DAY_SAYS,
    FLAG_SAYS,
    ID_SAYS,
    LANGUAGE_SAYS,
    STEPS_SAYS,
    Day,
    DayCode,
    Digits,
    EnergyWord,
    EventWord,
    Flag,
    Id,
    KindWord,
    LanguageCode,
    Line,
    Number,
    PartWord,
    RoleWord,
    Whole,
    one_of,
    says,
    text,
    what_it_says,
    whole_from,
    word,
    words,
)
from upkeep.plant.model import PARTS, Energy, Event, Kind, Role
from upkeep.plant.rights import RIGHTS, Right
from upkeep.plant.values.choices import Combine, OnDayOff, Overdue, Way
from upkeep.plant.values.facts import SignedWith
from upkeep.plant.values.planning import away_from
from upkeep.said import listed, said, said_as
from upkeep.units.measures import SHOWN
from upkeep.units.shifts import DAY_CODES


def _shown_unit(unit: str) -> str:
    if unit not in SHOWN:
        raise ValueError("no unit that is shown")
    return unit


def _away(text: str) -> str:
    away_from(text)
    return text


class Row(BaseModel):
    """A row or table of a definition file."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    required: ClassVar[tuple[str, ...]] = ()


class PlantRow(Row):
    """``[plant]`` in plant.toml."""

    required = ("name", "zone", "keepers")
    name: Line | None = text(80)
    keepers: list[Id] | None = says(
        said("the ids of the two or more people who may restore this book, like ['lea', 'tom']"), min_length=2
    )
    training: list[Line] | None = says(
        said("kinds of item and ids of tasks that ask for training, like ['press', 'guard-check']"), max_length=100
    )
    training_days: Whole | None = whole_from(0, 366)
    zone: Line | None = says(said("a time zone name like 'Europe/Berlin' or 'UTC'"), max_length=60)
    closed: list[Day] | None = says(said("a list of days like [2026-12-24, 2026-12-25]"))
    holidays: Line | None = says(said("a country and perhaps its part, like 'US' or 'DE-BE'"), max_length=60)
    holiday_years: list[Annotated[Whole, Field(ge=1990, le=2100)]] | None = says(
        said("1 to 30 years from 1990 to 2100, like [2026, 2027]"), min_length=1, max_length=30
    )
    undo_seconds: Whole | None = whole_from(0, 3600)
    late_hours: Whole | None = whole_from(1, 8760)
    call_lead_after: Whole | None = whole_from(1, 100_000, said("minutes of shift time"))
    call_manager_after: Whole | None = whole_from(1, 100_000, said("minutes of shift time"))
    rest_days: Whole | None = whole_from(1, 3660)
    overdue_gauge: Annotated[Overdue, BeforeValidator(word)] | None = one_of(Overdue)
    verified_by_fixer: Flag | None = says(FLAG_SAYS)
    signed_with: Annotated[SignedWith, BeforeValidator(word)] | None = one_of(SignedWith)
    idle_seconds: Whole | None = whole_from(10, 3600, said("seconds"))
    hints_agreed: Line | None = text(160)
    recheck_percent: Whole | None = whole_from(0, 100, said("percent"))
    lock_removal: Line | None = text(1000)
    hands_over: Flag | None = says(FLAG_SAYS)
    languages: list[LanguageCode] | None = says(
        said("the languages of the plant, that of its tasks first, like ['es', 'en']"), min_length=1, max_length=10
    )
    station_language: LanguageCode | None = says(LANGUAGE_SAYS)
    seals_file: Line | None = text(1000)
    time_stamp_authority: Line | None = text(1000)
    leavers_withheld_after: Whole | None = whole_from(0, 36_600, said("days"))
    weights: dict[Way, Annotated[Number, Field(ge=0, le=10)]] | None = says(
        said("hand, set-up or dry with a number 0 to 10 each, like {{ hand = 1, set-up = 0.5 }}")
    )
    units: list[Annotated[str, AfterValidator(_shown_unit)]] | None = one_of(SHOWN, max_length=len(SHOWN))


class ShiftRow(Row):
    """``[[shift]]`` in plant.toml."""

    required = ("name", "start", "end", "days")
    name: Id | None = says(ID_SAYS)
    start: Line | None = says(said("a time of day like '06:00'"), pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")
    end: Line | None = says(said("a time of day like '14:00'"), pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")
    days: list[DayCode] | None = one_of(DAY_CODES, min_length=1, max_length=7)


def _given_to(right: Right) -> tuple[Any, Any]:
    """The field for the roles that have a right."""

    def among(role: Role) -> Role:
        if role not in right.choice:
            raise ValueError("not for this role")
        return role

    roles = list[Annotated[RoleWord, AfterValidator(among)]]
    return roles | None, one_of(right.choice, min_length=1, max_length=len(Role))


_RIGHTS: dict[str, Any] = {act.value: _given_to(right) for act, right in RIGHTS.items()}

RightsRow: type[Row] = create_model("RightsRow", __base__=Row, **_RIGHTS)
"""``[rights]`` in plant.toml: the roles that may do something, within what the table of rights leaves open."""


_SHUTDOWN: dict[str, Any] = {
    "from": (Day | None, says(DAY_SAYS)),
    "to": (Day | None, says(DAY_SAYS)),
    "title": (Line | None, text(80)),
}
"""The fields of a shutdown; a class body cannot hold one that is called ``from``."""


class _ShutdownNeeds(Row):
    required = ("from", "to", "title")


ShutdownRow: type[Row] = create_model("ShutdownRow", __base__=_ShutdownNeeds, **_SHUTDOWN)
"""``[[shutdown]]`` in plant.toml."""


class PlanningRow(Row):
    """``[planning]`` in plant.toml."""

    between_stops: Whole | None = whole_from(0, 240, said("minutes"))
    set_up: Whole | None = whole_from(0, 240, said("minutes"))
    reserve: Whole | None = whole_from(0, 90, said("percent"))
    share: dict[RoleWord, Annotated[Whole, Field(ge=0, le=100)]] | None = says(
        said("roles with a whole number 0 to 100 percent each, like {{ operator = 25 }}")
    )
    carries: Whole | None = whole_from(1, 20)
    currency: Line | None = says(said("the three letters of a currency (ISO 4217), like 'EUR'"), pattern=r"^[A-Z]{3}$")
    hour_cost: Annotated[Number, Field(ge=0, le=1e6)] | None = says(A_NUMBER)
    wear_cost: Annotated[Number, Field(ge=0, le=1e9)] | None = says(A_NUMBER)


class PlaceRow(Row):
    """A row of places.csv."""

    required = ("id", "title", "area")
    id: Id | None = says(ID_SAYS)
    title: Line | None = text(80)
    area: Line | None = text(40)
    route: Whole | None = whole_from(0, 9999)


class PersonRow(Row):
    """A row of people.csv."""

    required = ("id", "name", "roles")
    id: Id | None = says(ID_SAYS)
    name: Line | None = text(80)
    roles: Annotated[list[RoleWord], BeforeValidator(words)] | None = one_of(Role, min_length=1)
    since: Day | None = says(DAY_SAYS)
    until: Day | None = says(DAY_SAYS)
    same_as: Id | None = says(said("the id of another row for the same human being"))
    formerly: Line | None = text(80)
    language: LanguageCode | None = says(LANGUAGE_SAYS)
    shifts: Annotated[list[Line], BeforeValidator(words)] | None = says(
        said("names of shifts in plant.toml, worked on in turn week by week, like 'early;late'"), max_length=10
    )
    area: Line | None = text(40)
    away: Annotated[list[Annotated[str, AfterValidator(_away)]], BeforeValidator(words)] | None = says(
        said("days like 2026-12-21, or from one to another like 2026-12-21/2026-12-24, separated by semicolons"),
        max_length=60,
    )


class ItemRow(Row):
    """A row of items.csv."""

    required = ("id", "kind", "title")
    id: Id | None = says(ID_SAYS)
    kind: KindWord | None = one_of(Kind)
    title: Line | None = text(80)
    place: Id | None = says(said("the id of a place in places.csv"))
    family: Line | None = text(40)
    digits: Digits | None = says(said("a whole number 3 to 10, or 0 for a press without a counter"))
    max_rate: Whole | None = whole_from(1, 100_000, said("strokes an hour"))
    life: Whole | None = whole_from(1, 999_999_999, said("strokes"))
    max_reworks: Whole | None = whole_from(0, 50)
    gauge_class: Line | None = text(40)
    owner: Line | None = text(60)
    since: Day | None = says(DAY_SAYS)
    scrapped: Day | None = says(DAY_SAYS)


class PointRow(Row):
    """``[[task.point]]`` in tasks.toml, ``[[crimp.point]]`` in crimps.toml."""

    required = ("id", "title", "unit")
    id: Id | None = says(ID_SAYS)
    title: Line | None = text(80)
    unit: Line | None = text(12)
    lower: Number | None = says(A_NUMBER)
    upper: Number | None = says(A_NUMBER)
    warn_lower: Number | None = says(A_NUMBER)
    warn_upper: Number | None = says(A_NUMBER)
    readings: Whole | None = whole_from(1, 25)
    part: PartWord | None = one_of(PARTS)
    nominal: Number | None = says(A_NUMBER)
    steps: list[Number] | None = says(
        said("1 to 20 numbers, the only ones that can be set"), min_length=1, max_length=20
    )
    gauge_class: Line | None = text(40)


class TaskPointRow(PointRow):
    """``[[task.point]]`` in tasks.toml; ``off`` takes a point of the catalogue's task away: it is not measured here."""

    off: Flag | None = says(FLAG_SAYS)


class TaskTextsRow(Row):
    """``[task.texts.<language>]`` in tasks.toml."""

    title: Line | None = text(80)
    caution: Line | None = text(600)
    steps: list[Annotated[Line, Field(max_length=240)]] | None = says(STEPS_SAYS, max_length=9)
    points: dict[Id, Annotated[Line, Field(max_length=80)]] | None = says(said("titles by the ids of its points"))


class TaskRow(Row):
    """``[[task]]`` in tasks.toml, without its points."""

    required = ("id", "title", "applies_to", "by")
    id: Id | None = says(ID_SAYS)
    like: Id | None = says(said("the id of a task in the shipped catalogue"))
    on_request: Flag | None = says(FLAG_SAYS)
    title: Line | None = text(80)
    applies_to: KindWord | None = one_of(Kind)
    by: list[RoleWord] | None = one_of(Role, min_length=1)
    each_shift: Flag | None = says(FLAG_SAYS)
    every: Line | None = says(said("an interval like '7 days', '2 weeks', '1 month' or '1 year'"), max_length=20)
    rule: Line | None = says(said("an RFC 5545 rule like 'FREQ=MONTHLY;BYDAY=1MO'"), max_length=200)
    start: Day | None = says(DAY_SAYS)
    also_on: list[Day] | None = says(said("a list of days like [2026-12-24]"))
    not_on: list[Day] | None = says(said("a list of days like [2026-12-24]"))
    strokes: Whole | None = whole_from(1, 999_999_999)
    strokes_for: dict[str, Annotated[Whole, Field(ge=1, le=999_999_999)]] | None = says(
        said("item ids or families with a whole number 1 to 999,999,999 each")
    )
    after_grade: Whole | None = whole_from(1, 4)
    after_warning: list[Id] | None = says(said("ids of measured points of other tasks on the same kind of item"))
    life: Flag | None = says(FLAG_SAYS)
    after: list[EventWord] | None = one_of(Event, min_length=1)
    combine: Annotated[Combine, BeforeValidator(word)] | None = one_of(Combine)
    early_days: Whole | None = whole_from(0, 366)
    late_days: Whole | None = whole_from(0, 366)
    stop_days: Whole | None = whole_from(0, 3660)
    plan_from: Whole | None = whole_from(1, 100, said("percent"))
    late_strokes: Whole | None = whole_from(0, 999_999_999)
    stop_at: Whole | None = whole_from(100, 1000, said("percent"))
    early_percent: Whole | None = whole_from(0, 100, said("percent"))
    late_percent: Whole | None = whole_from(0, 100, said("percent"))
    window_cap_days: Whole | None = whole_from(0, 366)
    by_hour: Whole | None = whole_from(1, 24, said("hours into the shift"))
    used_from: Whole | None = whole_from(1, 100_000, said("strokes"))
    deduct_overrun: Flag | None = says(FLAG_SAYS)
    own_usage_clock: Flag | None = says(FLAG_SAYS)
    spread: Flag | None = says(FLAG_SAYS)
    while_resting: Flag | None = says(FLAG_SAYS)
    at_next_stop: Flag | None = says(FLAG_SAYS)
    covers: list[Id] | None = says(said("ids of tasks in tasks.toml"))
    cover_days: Whole | None = whole_from(0, 366)
    max_deferrals: Whole | None = whole_from(0, 20)
    minutes: Number | None = says(said("a number of minutes 0 to 1440"), ge=0, le=1440)
    energy: EnergyWord | None = one_of(Energy)
    caution: Line | None = text(600)
    steps: list[Annotated[Line, Field(max_length=240)]] | None = says(STEPS_SAYS, max_length=9)
    kit: list[Annotated[Line, Field(max_length=80)]] | None = says(
        said("at most 20 parts of 1 to 80 printable characters"), max_length=20
    )
    parts: dict[Id, Annotated[Whole, Field(ge=1, le=1000)]] | None = says(
        said("ids of spares in spares.csv with a whole number 1 to 1000 each"), max_length=20
    )
    graded: Flag | None = says(FLAG_SAYS)
    hold_when_out: Flag | None = says(FLAG_SAYS)
    gauge_class: Line | None = text(40)
    photo: Line | None = text(80)
    second_signature: RoleWord | None = one_of(Role)
    statutory: Flag | None = says(FLAG_SAYS)
    on_day_off: Annotated[OnDayOff, BeforeValidator(word)] | None = one_of(OnDayOff)
    source: Line | None = text(160)
    texts: dict[LanguageCode, TaskTextsRow] | None = says(
        said("title, caution, steps and points by language, written as [task.texts.es]"), max_length=10
    )


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
        given.problem(name, said_as("cell", "nothing"), what_it_says(row, name))
        for name in row.required
        if name not in content and name not in given.values and name not in excused
    ]


def _problem(row: type[Row], given: Given, error: ErrorDetails) -> Problem:
    name = str(error["loc"][0])
    field = row.model_fields.get(name)
    if field is None:
        unknown = unknown_key(name, list(row.model_fields))
        return Problem(given.file, given.line_of(name), None, unknown, listed(row.model_fields))
    allowed = what_it_says(row, name)
    if error["type"] == "comma":
        allowed = said("{phrase} (a point, not a comma, before decimals; nothing between thousands)", phrase=allowed)
    words = field.json_schema_extra.get("words") if isinstance(field.json_schema_extra, dict) else None
    if isinstance(words, list):
        close = near(error["input"], [str(word) for word in words])
        allowed = said("{phrase}{near}", phrase=allowed, near=close)
    return given.problem(_path(error["loc"]), quoted(error["input"]), allowed)


def _path(location: tuple[int | str, ...]) -> str:
    steps = [step for step in location if isinstance(step, str)]
    path = ".".join(steps[:2])
    return path if path.isprintable() else ascii(path)
