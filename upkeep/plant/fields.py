"""How single values of a definition file are read, and the phrases that say what is allowed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, Field
from pydantic_core import PydanticCustomError

from upkeep.plant.model import PARTS, Energy, Event, Kind, Role
from upkeep.said import Numeral, Said, listed, said
from upkeep.units.shifts import DAY_CODES

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}\Z")
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:_[A-Z]{2})?\Z")
_JOINERS = "\u200c\u200d"
"""Zero width joiners: they do not print and are part of some languages' words."""

_SAYS = "says"
"""Where a field keeps the phrase that says what it may hold."""


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


def _language(value: object) -> str:
    if not isinstance(value, str) or not _LANGUAGE.match(value):
        raise ValueError("no code of a language")
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
        raise ValueError("no counter has so many digits")
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


def word(value: object) -> object:
    """A word as the words it may be are written: lower case, one blank between."""
    return " ".join(value.split()).lower() if isinstance(value, str) else value


def words(value: object) -> object:
    """A list of words; in a CSV cell they are separated by semicolons."""
    return [part for part in map(str.strip, value.split(";")) if part] if isinstance(value, str) else value


def _part(value: object) -> object:
    given = word(value)
    if given not in PARTS:
        raise ValueError("no part that wears")
    return given


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
LanguageCode = Annotated[str, BeforeValidator(_language)]
KindWord = Annotated[Kind, BeforeValidator(word)]
RoleWord = Annotated[Role, BeforeValidator(word)]
EventWord = Annotated[Event, BeforeValidator(word)]
EnergyWord = Annotated[Energy, BeforeValidator(word)]
PartWord = Annotated[Kind, BeforeValidator(_part)]
DayCode = Annotated[str, BeforeValidator(_day_code)]

ID_SAYS = said("1 to 32 letters, digits, '.', '_' or '-', beginning with a letter or digit")
DAY_SAYS = said("a day like 2026-03-02")
FLAG_SAYS = said("true or false, without quotes")
A_NUMBER = said("a number")
LANGUAGE_SAYS = said("the code of a language (ISO 639), with a country where it matters, like 'es' or 'pt_BR'")
STEPS_SAYS = said("at most 9 steps of 1 to 240 printable characters")


def text(most: int) -> Any:
    """A field that holds a text."""
    return says(said("a text of 1 to {most} printable characters", most=most), max_length=most)


def whole_from(least: int, most: int, unit: Said | None = None) -> Any:
    """A field that holds a whole number in a range."""
    low, high = (least, most) if most > 9999 else (Numeral(least), Numeral(most))
    phrase = said("a whole number {least} to {most}", least=low, most=high)
    if unit is not None:
        phrase = said("a whole number {least} to {most} {unit}", least=low, most=high, unit=unit)
    return says(phrase, ge=least, le=most)


def one_of(allowed: Iterable[str], **bounds: Any) -> Any:
    """A field that holds one of some words, or, with bounds to their number, a list of them."""
    words = [str(each) for each in allowed]
    phrase = (
        said("one or more of {words}", words=listed(words)) if bounds else said("one of {words}", words=listed(words))
    )
    return _field(phrase, {"words": words}, bounds)


def says(phrase: Said, **bounds: Any) -> Any:
    """A field with the phrase that says what it may hold."""
    return _field(phrase, {}, bounds)


def _field(phrase: Said, extra: dict[str, Any], bounds: dict[str, Any]) -> Any:
    return Field(default=None, json_schema_extra={**extra, _SAYS: phrase}, **bounds)  # type: ignore[dict-item]


def what_it_says(row: type[BaseModel], field: str) -> Said:
    """The phrase that says what a field of a row may hold."""
    extra: Any = row.model_fields[field].json_schema_extra
    phrase: Said = extra[_SAYS]
    return phrase
