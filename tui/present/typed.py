"""What somebody typed into a field of a form: read, or the sentence that says why not."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta

from tui.present.moments import Now
from upkeep.errors import Unreadable
from upkeep.said import Quoted, Said, said
from upkeep.units.measures import read_number
from upkeep.units.quantities import figure_of
from upkeep.wording.sentences import Reader, text

Option = tuple[str, Said]
"""A key, and what it is called."""

_CLOCK = re.compile(r"(\d{1,2})[:.](\d{2})\Z", re.ASCII)
_SHOWN = 3


def moment_typed(typed: str, now: Now) -> datetime:
    """The moment of ``6:05`` (today, yesterday where that is still to come) or of a day with its time.

    Raises :class:`Unreadable` for any other text.
    """
    clock = _CLOCK.match(typed.strip())
    if clock is None or int(clock[1]) > 23 or int(clock[2]) > 59:
        return now.zone.read(typed)
    day = now.zone.day(now.at)
    moment = now.zone.read(f"{day} {int(clock[1]):02d}:{clock[2]}")
    return moment if moment <= now.at else now.zone.read(f"{day - timedelta(days=1)} {int(clock[1]):02d}:{clock[2]}")


def number_typed(typed: str) -> int:
    """A whole number; raises :class:`Unreadable` for any other text."""
    number = figure_of(typed.strip())
    if number is None:
        raise Unreadable(said("{text} is not a number; write it like 4812 or 4,812.", text=Quoted(typed)))
    return number


def value_typed(typed: str) -> float:
    """A measured value, signed or not; raises :class:`Unreadable` for any other text."""
    value = read_number(typed)
    if value is None:
        raise Unreadable(said("{text} is not a number; write it like 1.25 or 1,25.", text=Quoted(typed)))
    return value


def day_typed(typed: str) -> str:
    """A day as ISO 8601 writes it; raises :class:`Unreadable` for any other text."""
    try:
        return date.fromisoformat(typed.strip()).isoformat()
    except ValueError:
        raise Unreadable(said("{text} is not a date; write it like 2026-02-20.", text=Quoted(typed))) from None


def meant_option(options: Sequence[Option], typed: str, reader: Reader) -> str | None:
    """The key of the option that is meant: its key in full, or the only one that has the text in it; None: none is."""
    wanted = typed.strip().casefold()
    if not wanted:
        return None
    whole = next((key for key, _ in options if key.casefold() == wanted), None)
    close = _holding(options, wanted, reader)
    return whole or (close[0][0] if len(close) == 1 else None)


def option_text(options: Sequence[Option], typed: str, reader: Reader) -> str:
    """What stands beside the field while an option is typed: the one that is meant, or those that may be."""
    if not typed.strip():
        return ""
    meant = meant_option(options, typed, reader)
    if meant is not None:
        return text(next(label for key, label in options if key == meant), reader)
    close = _holding(options, typed.strip().casefold(), reader)
    if not close:
        return text(said("nothing of that name"), reader)
    shown = ", ".join(key for key, _ in close[:_SHOWN])
    return f"{shown} ..." if len(close) > _SHOWN else shown


def _holding(options: Sequence[Option], wanted: str, reader: Reader) -> list[Option]:
    return [one for one in options if wanted in one[0].casefold() or wanted in text(one[1], reader).casefold()]
