"""The six sheets of a plant, the columns each may have, and by which words plants head them.

The words are common ones in English, Spanish and German; what they miss is asked once (:mod:`.answered`).
"""

from __future__ import annotations

import re
import unicodedata
from enum import StrEnum
from functools import lru_cache

from upkeep.frozen import frozen
from upkeep.plant.model import Kind


class Sheet(StrEnum):
    """The sheets, in the order in which they are loaded."""

    PRESSES = "presses"
    MODULES = "modules"
    DIE_SETS = "die sets"
    PEOPLE = "people"
    TASKS = "tasks"
    LAST_DONE = "last-done"


class Holds(StrEnum):
    """What the cells of a column hold."""

    ID = "id"
    REFERENCE = "reference"
    TEXT = "text"
    WHOLE = "whole number"
    DAY = "day"
    KIND = "kind of item"
    ROLES = "roles"
    INTERVAL = "interval"
    FLAG = "yes or no"
    LIST = "list"


@frozen
class Column:
    """A column a sheet may have: ``needed`` where every row has to say it, ``also`` its other names."""

    name: str
    holds: Holds
    also: tuple[str, ...] = ()
    needed: bool = False


KIND_OF = {Sheet.PRESSES: Kind.PRESS, Sheet.MODULES: Kind.MODULE, Sheet.DIE_SETS: Kind.DIE_SET}
"""The sheets that hold items of one kind."""

SHEET_NAMES: dict[Sheet, tuple[str, ...]] = {
    Sheet.PRESSES: ("press", "machines", "prensas", "prensa", "pressen", "presse"),
    Sheet.MODULES: ("module", "modulos", "modulo", "module list"),
    Sheet.DIE_SETS: (
        "die set", "dies", "tools", "tooling", "applicators", "utiles", "juegos de matrices", "matrices", "werkzeuge",
    ),
    Sheet.PEOPLE: ("persons", "staff", "employees", "operators", "personas", "personal", "mitarbeiter", "leute"),
    Sheet.TASKS: ("task", "work", "maintenance plan", "tareas", "trabajos", "aufgaben", "wartungsplan"),
    Sheet.LAST_DONE: (
        "last done", "history", "done", "maintenance history", "ultima vez", "historial", "zuletzt", "erledigt",
        "historie",
    ),
}  # fmt: skip
"""Other names of the sheets."""

_ID = Column("id", Holds.ID, ("no", "nr", "number", "asset", "asset no", "tag", "numero", "nummer"), needed=True)
_TITLE = Column("title", Holds.TEXT, ("name", "description", "bezeichnung", "descripcion", "nombre", "text"))
_SINCE = Column("since", Holds.DAY, ("in use since", "bought", "date in", "desde", "seit", "in betrieb seit"))
_SCRAPPED = Column("scrapped", Holds.DAY, ("scrapped on", "date out", "baja", "verschrottet"))
_OWNER = Column("owner", Holds.TEXT, ("customer", "belongs to", "cliente", "propietario", "kunde", "eigentumer"))
_PLACE = Column("place", Holds.TEXT, ("rack", "location", "stored at", "lugar", "ubicacion", "lagerort", "regal"))
_AREA = Column("area", Holds.TEXT, ("hall", "department", "line", "nave", "zona", "halle", "bereich"))
_BEFORE = Column(
    "strokes", Holds.WHOLE, ("strokes so far", "strokes done", "golpes", "hube", "life so far", "total strokes")
)

COLUMNS: dict[Sheet, tuple[Column, ...]] = {
    Sheet.PRESSES: (
        Column(_ID.name, Holds.ID, ("press", "press no", "machine", "prensa", "presse", *_ID.also), needed=True),
        _TITLE,
        Column(_AREA.name, Holds.TEXT, _AREA.also, needed=True),
        Column("route", Holds.WHOLE, ("order", "walking order", "orden", "reihenfolge")),
        Column(
            "digits", Holds.WHOLE, ("counter digits", "figures", "digitos", "stellen", "zahler stellen"), needed=True
        ),
        Column(
            "max_rate", Holds.WHOLE, ("strokes an hour", "max rate", "rate", "golpes por hora", "hube pro stunde"),
            needed=True,
        ),
        Column("count", Holds.WHOLE, ("counter", "reading", "meter", "contador", "lectura", "zahlerstand", "zahler")),
        Column("counted", Holds.DAY, ("counted on", "read on", "date", "reading date", "fecha", "datum", "gelesen")),
        _OWNER, _SINCE, _SCRAPPED,
    ),
    Sheet.MODULES: (
        Column(_ID.name, Holds.ID, ("module", "module no", "modulo", "modul", *_ID.also), needed=True),
        _TITLE, _PLACE, _BEFORE, _OWNER, _SINCE, _SCRAPPED,
    ),
    Sheet.DIE_SETS: (
        Column(
            _ID.name, Holds.ID, ("die set", "die", "tool", "tool no", "set", "util", "werkzeug", *_ID.also), needed=True
        ),
        _TITLE,
        Column("family", Holds.TEXT, ("terminal", "terminal family", "familia", "terminales", "familie", "kontakt")),
        _PLACE, _BEFORE, _OWNER, _SINCE, _SCRAPPED,
    ),
    Sheet.PEOPLE: (
        Column("id", Holds.ID, ("short id", "initials", "personnel no", "iniciales", "kurzel", *_ID.also)),
        Column("name", Holds.TEXT, ("full name", "employee", "nombre", "mitarbeiter"), needed=True),
        Column("roles", Holds.ROLES, ("role", "job", "function", "funcion", "puesto", "rol", "rolle"), needed=True),
        Column("shifts", Holds.LIST, ("shift", "turno", "turnos", "schicht")),
        _AREA,
        Column("since", Holds.DAY, ("desde", "seit")),
        Column("until", Holds.DAY, ("left", "hasta", "bis")),
        Column("language", Holds.TEXT, ("idioma", "sprache")),
    ),
    Sheet.TASKS: (
        Column("title", Holds.TEXT, ("task", "what", "work", "tarea", "trabajo", "aufgabe"), needed=True),
        Column("id", Holds.ID, ("task id", "task no", "code", "codigo", "kurzel")),
        Column("applies_to", Holds.KIND, ("on", "item", "for", "applies to", "en", "equipo", "an", "objekt")),
        Column("every", Holds.INTERVAL, ("interval", "how often", "frequency", "cada", "frecuencia", "intervall")),
        Column("strokes", Holds.WHOLE, ("every strokes", "strokes interval", "golpes", "hube")),
        Column("minutes", Holds.WHOLE, ("duration", "min", "time", "minutos", "minuten", "dauer")),
        Column("by", Holds.ROLES, ("who", "done by", "role", "quien", "wer")),
        Column("statutory", Holds.FLAG, ("required by law", "legal", "obligatorio", "gesetzlich")),
        Column("early_days", Holds.WHOLE, ("days early",)),
        Column("late_days", Holds.WHOLE, ("days late", "grace")),
    ),
    Sheet.LAST_DONE: (
        Column(
            "item", Holds.REFERENCE, ("id", "tool", "press", "machine", "equipment", "die set", "equipo", "objekt",
            "werkzeug"), needed=True,
        ),
        Column("task", Holds.REFERENCE, ("work", "what", "tarea", "trabajo", "aufgabe"), needed=True),
        Column("done", Holds.DAY, ("last done", "date", "done on", "day", "fecha", "hecho", "datum", "erledigt"),
               needed=True),
    ),
}  # fmt: skip
"""The columns by sheet."""

FOR_ALL = {
    (Sheet.PRESSES, "digits"),
    (Sheet.PRESSES, "max_rate"),
    (Sheet.PRESSES, "area"),
    (Sheet.PEOPLE, "roles"),
}
"""Columns whose value may be said once for all rows that do not say it."""

_NOT_LETTERS = re.compile(r"[^a-z0-9]+")


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """A heading or name as it is compared: without accents, case, signs, and what stands in brackets."""
    bare = unicodedata.normalize("NFKD", re.sub(r"[(\[].*?[)\]]", " ", text))
    letters = "".join(char for char in bare if not unicodedata.combining(char))
    return _NOT_LETTERS.sub(" ", letters.casefold().replace("ß", "ss").replace("ø", "o")).strip()


def sheet_named(name: str) -> Sheet | None:
    """The sheet that goes by a name; None: none does."""
    wanted = plain(name)
    for sheet, also in SHEET_NAMES.items():
        if wanted in (plain(sheet), *map(plain, also)):
            return sheet
    return None


def columns_named(sheet: Sheet, heading: str) -> list[str]:
    """The columns of a sheet that a heading may mean, best first: by its own name before by another one."""
    wanted = plain(heading)
    own = [column.name for column in COLUMNS[sheet] if wanted == plain(column.name)]
    return own or [column.name for column in COLUMNS[sheet] if wanted in map(plain, column.also)]


def column_of(sheet: Sheet, name: str) -> Column:
    """A column of a sheet by its name."""
    return next(column for column in COLUMNS[sheet] if column.name == name)
