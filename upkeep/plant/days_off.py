"""Days off as plant.toml writes them: public holidays by country and year, and shutdowns from a day to a day.

The holidays are looked up here, once, when the files are read; the definition then holds the days themselves, so a book
answers the same whatever the library behind it learns later.  Which days are holidays is the word of the library
``holidays``; what holds in a plant is decided by its local law, so look through the list.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from difflib import get_close_matches
from typing import Any

from upkeep.errors import Unreadable
from upkeep.plant.definition import Given, Problem, near, quoted
from upkeep.plant.schema import ShutdownRow, checked, missing_from
from upkeep.plant.toml_tables import Toml
from upkeep.said import Clause, Numeral, Quoted, Value, either, listed, said

_LONGEST_SHUTDOWN = 366
"""Days; longer is a slip in the year."""


def look_up_holidays(given: Given, content: dict[str, Any], problems: list[Problem]) -> None:
    """Puts the holidays, by day with their names, in the place of the country and the years in the plant's content."""
    region, years = content.pop("holidays", None), content.pop("holiday_years", None)
    problems += _half_given(given)
    if region is None or years is None:
        return
    try:
        content["holidays"] = public_holidays(region, years)
    except Unreadable as error:
        problems.append(given.problem("holidays", quoted(region), Clause(error.said)))


def _half_given(given: Given) -> Iterator[Problem]:
    for name, other, example in (
        ("holidays", "holiday_years", "'DE-BE'"),
        ("holiday_years", "holidays", "[2026, 2027]"),
    ):
        if name not in given.values and other in given.values:
            yield given.problem(
                name,
                said("nothing, although {other} is given", other=other),
                said("both or neither; {name} is written like {example}", name=name, example=example),
            )


def public_holidays(region: str, years: list[int]) -> dict[str, str]:
    """The public holidays of a country (``US``) or a part of it (``DE-BE``) in the years: ISO days with their names.

    Names are in the language of the country, whatever that of the machine is.  Raises :class:`Unreadable` with near
    ones for a country or part the library does not know, and for a year without any holiday.
    """
    import holidays

    country, _, part = region.partition("-")
    parts = holidays.list_supported_countries().get(country)
    if parts is None:
        raise Unreadable(
            said("an ISO 3166 country, and its part if holidays differ there, like 'DE-BE'{like}.", like=_like(country))
        )
    try:
        language = holidays.country_holidays(country).default_language
        calendar = holidays.country_holidays(country, subdiv=part or None, years=years, language=language)
    except NotImplementedError:
        raise Unreadable(
            said("{country} with one of {parts}{near}.", country=country, parts=listed(parts), near=near(part, parts))
            if parts
            else said("{country} alone{near}.", country=country, near=near(part, parts))
        ) from None
    without = sorted(set(years) - {day.year for day in calendar})
    if without:
        raise Unreadable(
            said("a country and years with holidays that are known; none are in {year}.", year=Numeral(without[0]))
        )
    return {day.isoformat(): calendar[day] for day in sorted(calendar)}


def _like(word: str) -> Value:
    """The codes of the countries whose code or English name is close to the word."""
    from holidays.registry import COUNTRIES

    codes = {name.replace("_", " "): known[1] for name, known in COUNTRIES.items()}
    codes |= {code.casefold(): code for code in codes.values()}
    close = dict.fromkeys(codes[name] for name in get_close_matches(word.casefold(), codes))
    return said(" (did you mean {close}?)", close=either(map(Quoted, close))) if close else ""


def shutdowns_of(toml: Toml, problems: list[Problem]) -> list[dict[str, Any]]:
    """The sound shutdowns of a plant.toml."""
    sound = []
    for row in toml.tables("shutdown", problems=problems):
        shutdown = checked(ShutdownRow, row, problems)
        wrong = [*missing_from(ShutdownRow, row, shutdown), *_order_problems(row, shutdown)]
        problems += wrong
        if not wrong:
            sound.append(shutdown)
    return sound


def _order_problems(row: Given, shutdown: dict[str, Any]) -> Iterator[Problem]:
    if "from" not in shutdown or "to" not in shutdown:
        return
    first, last = (date.fromisoformat(shutdown[name]) for name in ("from", "to"))
    if last < first:
        yield row.problem(
            "to", said("{last} before from {first}", last=last, first=first), said("a day from {first} on", first=first)
        )
    elif (last - first).days >= _LONGEST_SHUTDOWN:
        yield row.problem(
            "to",
            said("{last}, more than a year after {first}", last=last, first=first),
            said("a shutdown of at most 366 days"),
        )
