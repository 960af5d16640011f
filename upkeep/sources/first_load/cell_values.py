"""What a cell says: ids, counts, days, roles and intervals as people type them into spreadsheets."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from upkeep.frozen import frozen
from upkeep.plant.model import PARTS, Kind, Role
from upkeep.said import Quoted, Said, Value, listed, said, said_as
from upkeep.sources.dates import ORDERS, day_read, readings_of
from upkeep.sources.first_load.grids import Cell, is_error
from upkeep.sources.first_load.wanted import KIND_OF, SHEET_NAMES, Holds, plain

_PLAIN = re.compile(r"-?\d{1,15}\Z")
_COUNT = re.compile(r"([0-9][0-9.,'\u2019\s]*)(k|tsd|mil|mio)?\.?\Z", re.IGNORECASE)
_TIMES = {"k": 1000, "tsd": 1000, "mil": 1000, "mio": 1_000_000}
_ISO = re.compile(r"(\d{4})-(\d\d)-(\d\d)\Z", re.ASCII)
_WITH_TIME = re.compile(r"(.+?)[ T]\d{1,2}:\d\d(:\d\d(\.\d+)?)?\Z")
_NUMBER_OF_DAY = re.compile(r"\d{4,5}(?:\.0)?\Z", re.ASCII)
_EVERY = re.compile(r"(?:every |each |cada |alle )?(\d{1,3}) ?([a-z]+)\Z")

_UNITS = {
    "days": ("d", "day", "days", "dia", "dias", "tag", "tage", "tagen"),
    "weeks": ("w", "wk", "wks", "week", "weeks", "semana", "semanas", "woche", "wochen"),
    "months": ("m", "mo", "month", "months", "mes", "meses", "monat", "monate", "monaten"),
    "years": ("y", "yr", "year", "years", "ano", "anos", "jahr", "jahre"),
}
_WORDS_OF_INTERVALS = {
    "1 day": ("daily", "day", "every day", "diario", "cada dia", "taglich"),
    "7 days": ("weekly", "week", "every week", "semanal", "cada semana", "wochentlich"),
    "14 days": ("fortnightly", "biweekly", "every two weeks", "quincenal", "zweiwochentlich"),
    "1 month": ("monthly", "month", "every month", "mensual", "cada mes", "monatlich"),
    "3 months": ("quarterly", "trimestral", "vierteljahrlich", "quartalsweise"),
    "6 months": ("half yearly", "half-yearly", "twice a year", "semestral", "halbjahrlich"),
    "1 year": ("yearly", "annual", "annually", "year", "every year", "anual", "cada ano", "jahrlich"),
    "each shift": ("each shift", "every shift", "shift", "per shift", "cada turno", "jede schicht", "schicht"),
}
EACH_SHIFT = "each shift"

_INTERVALS = {plain(word): every for every, words in _WORDS_OF_INTERVALS.items() for word in words}
_UNIT_OF = {word: unit for unit, words in _UNITS.items() for word in words}

_ROLES: dict[Role, tuple[str, ...]] = {
    Role.OPERATOR: ("operators", "machine operator", "operario", "operaria", "operador", "bediener"),
    Role.SETUP: ("set-up", "setup", "setter", "set-up technicians", "setup technician", "preparador", "rustetechniker",
                 "einrichter"),
    Role.TECHNICIAN: ("maintenance", "technician", "mechanic", "mantenimiento", "tecnico", "instandhalter"),
    Role.LEAD: ("lead", "maintenance manager", "jefe de mantenimiento", "instandhaltungsleiter"),
    Role.QUALITY: ("quality", "quality inspector", "inspector", "calidad", "qualitat", "qualitatsprufer"),
    Role.STORES: ("store", "storekeeper", "almacen", "lager"),
    Role.MANAGER: ("manager", "plant lead", "production manager", "director", "gerente", "werkleiter"),
    Role.APPOINTED: ("appointed", "competent person", "persona designada", "befahigte person"),
    Role.SAFETY: ("safety", "seguridad", "sicherheit", "sicherheitsfachkraft"),
}  # fmt: skip
_ROLE_OF = {plain(word): role for role, words in _ROLES.items() for word in (role.value, *words)}
_KIND_NAMES = {kind: (kind.value, f"{kind.value}s") for kind in (*PARTS, Kind.GAUGE)} | {
    kind: (kind.value, *SHEET_NAMES[sheet], sheet.value) for sheet, kind in KIND_OF.items()
}
_KIND_WORD = {plain(word): kind for kind, words in _KIND_NAMES.items() for word in words}
_FLAGS = {"yes": True, "y": True, "true": True, "x": True, "1": True, "si": True, "ja": True, "no": False, "n": False,
          "false": False, "0": False, "nein": False}  # fmt: skip

NOT_KNOWN = ("?", "-", "--", "n/a", "na", "unknown", "not known", "never", "desconocido", "unbekannt")
"""What people write where they do not know."""


class Misread(Exception):
    """A cell that does not say what its column holds; ``meant`` is what it should."""

    def __init__(self, meant: Value) -> None:
        super().__init__()
        self.meant = meant


class OrderUnsaid(Exception):
    """A day that can only be read once somebody has said in which order days are written."""


@frozen
class Way:
    """How cells are to be read: the order of days (None: nobody said), and from when day numbers count."""

    dates: str | None = None
    old_days: bool = False


@frozen
class CellSays:
    """What a cell says: its value, and how that was read where it is written otherwise (None: as it stands)."""

    value: object
    read_as: Value | None = None


def said_by(cell: Cell, holds: Holds, way: Way) -> CellSays | None:
    """What a cell says; None: nothing.  Raises :class:`Misread` or :class:`OrderUnsaid`."""
    if cell is None:
        return None
    if is_error(cell):
        raise Misread(said("a value: the formula there has failed. Mend it, or type what it should give"))
    return _READERS[holds](cell, way)


def _text(cell: Cell, way: Way) -> CellSays:
    return CellSays(as_text(cell))


def as_text(cell: Cell) -> str:
    """A cell as it would be typed: whole numbers without decimals, days as ISO 8601."""
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    return str(cell)


def _id(cell: Cell, way: Way) -> CellSays:
    text = as_text(cell)
    joined = "-".join(text.split())
    return CellSays(joined, None if joined == text else Quoted(joined))


def _whole(cell: Cell, way: Way) -> CellSays | None:
    wanted = said("a whole number like 4812, 4,812 or 4.8k")
    if isinstance(cell, float):
        if not cell.is_integer() or abs(cell) >= 1e15:
            raise Misread(wanted)
        return CellSays(int(cell))
    text = str(cell).strip()
    if _PLAIN.match(text):
        return CellSays(int(text))
    if text.casefold() in NOT_KNOWN:
        return None
    match = _COUNT.match(text)
    if match is None:
        raise Misread(wanted)
    number = _number(match[1], short=match[2] is not None) * _TIMES.get((match[2] or "").casefold(), 1)
    if abs(number - round(number)) > 1e-6:
        raise Misread(wanted)
    return CellSays(round(number), round(number))


_GROUPED = re.compile(r"\d{1,3}(?:([.,])\d{3})(?:\1\d{3})*\Z")


def _number(text: str, *, short: bool) -> float:
    """A number with whatever stands between its thousands and before its decimals.

    ``short``: thousands or millions are counted, so that ``1.209`` may be 1,209 of them or 1 and a bit: that is asked.
    """
    figures = re.sub(r"['\u2019\s]", "", text).rstrip(".,")
    if _GROUPED.match(figures):
        if short and len(re.findall(r"[.,]", figures)) == 1:
            raise Misread(said("the whole number, written out: this can be read in two ways"))
        return float(re.sub(r"[.,]", "", figures))
    last = max(figures.rfind("."), figures.rfind(","))
    if last < 0:
        return float(figures)
    whole, decimals = re.sub(r"[.,]", "", figures[:last]), figures[last + 1 :]
    groups = re.split(r"[.,]", figures[:last])
    if any(len(group) != 3 for group in groups[1:]) or not decimals:
        raise Misread(said("a number whose thousands are grouped by threes"))
    return float(f"{whole}.{decimals}")


def _day(cell: Cell, way: Way) -> CellSays | None:
    if isinstance(cell, date):
        return CellSays(cell.isoformat())
    if isinstance(cell, float):
        return _numbered(cell, way)
    text = str(cell).strip()
    if text.casefold() in NOT_KNOWN:
        return None
    timed = _WITH_TIME.match(text)
    text = timed[1] if timed else text
    if iso := _ISO.match(text):
        try:
            return CellSays(date(int(iso[1]), int(iso[2]), int(iso[3])).isoformat())
        except ValueError:
            raise Misread(said("a day that exists")) from None
    if _NUMBER_OF_DAY.match(text):
        return _numbered(float(text), way)
    ways = readings_of(text)
    if not ways:
        raise Misread(said("a day like 2026-03-04, its year in four figures"))
    if way.dates is None:
        raise OrderUnsaid
    day = day_read(text, way.dates)
    if day is None:
        raise Misread(said("a day written as {order}", order=ORDERS[way.dates]))
    return CellSays(day.isoformat())


_FIRST_DAY, _LAST_DAY = 10_000, 80_000
"""Day numbers of 1927 to 2119; anything else is a number that is no day.  Own bounds."""


def _numbered(number: float, way: Way) -> CellSays:
    """A day by its number in a spreadsheet: day 1 is 1900-01-01 in one system, and one that never was, 1900-02-29, is
    counted (ISO/IEC 29500-1, 18.17.4.1, from memory); in the other, day 0 is 1904-01-01."""
    if not _FIRST_DAY <= number <= _LAST_DAY:
        raise Misread(said("a day like 2026-03-04"))
    day = (date(1904, 1, 1) if way.old_days else date(1899, 12, 30)) + timedelta(days=int(number))
    return CellSays(day.isoformat(), day)


def _kind(cell: Cell, way: Way) -> CellSays:
    kind = _KIND_WORD.get(plain(as_text(cell)))
    if kind is None:
        raise Misread(said("one of {kinds}", kinds=listed(kind.value for kind in Kind)))
    return CellSays(kind.value)


def _roles(cell: Cell, way: Way) -> CellSays:
    words = [part for part in re.split(r"[;,/+&]| and | y | und ", as_text(cell)) if part.strip()]
    roles = [_ROLE_OF.get(plain(part)) for part in words]
    if not roles or None in roles:
        raise Misread(said("one or more of {roles}", roles=listed(role.value for role in Role)))
    return CellSays([role.value for role in dict.fromkeys(roles) if role is not None])


def _interval(cell: Cell, way: Way) -> CellSays | None:
    text = plain(as_text(cell))
    if as_text(cell).casefold() in NOT_KNOWN:
        return None
    if isinstance(cell, float) and cell.is_integer() and 1 <= cell <= 3660:
        return CellSays(f"{int(cell)} days", said("{n} days", n=int(cell)))
    if text in _INTERVALS:
        return CellSays(_INTERVALS[text])
    match = _EVERY.match(text)
    if match is None or match[2] not in _UNIT_OF:
        raise Misread(said("an interval like 'weekly', '14 days', '3 months' or 'each shift'"))
    return CellSays(f"{int(match[1])} {_UNIT_OF[match[2]]}")


def _flag(cell: Cell, way: Way) -> CellSays:
    flag = _FLAGS.get(plain(as_text(cell)))
    if flag is None:
        raise Misread(said("yes or no"))
    return CellSays(flag)


def _list(cell: Cell, way: Way) -> CellSays:
    return CellSays([part.strip() for part in re.split(r"[;,/]", as_text(cell)) if part.strip()])


_READERS: dict[Holds, Callable[[Cell, Way], CellSays | None]] = {
    Holds.ID: _id,
    Holds.REFERENCE: _text,
    Holds.TEXT: _text,
    Holds.WHOLE: _whole,
    Holds.DAY: _day,
    Holds.KIND: _kind,
    Holds.ROLES: _roles,
    Holds.INTERVAL: _interval,
    Holds.FLAG: _flag,
    Holds.LIST: _list,
}

NOTHING: Said = said_as("cell", "nothing")
"""What stands in an empty cell."""
