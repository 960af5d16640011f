"""A small invented plant, and the language in which tests state their books: entry lines, one fact a line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from pathlib import Path
from random import Random
from typing import Any

from upkeep.book import BoardLine, Book, StateChange, Written
from upkeep.entries.entry import Entry
from upkeep.entries.text import read_line
from upkeep.plant.definition import Definition
from upkeep.plant.rights import RIGHTS, Act
from upkeep.units.instants import Zone
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import ENGLISH

BEGINS = "2026-03-01 00:00"
"""When the plant was defined, on the wall; a Sunday."""

WORKDAYS = ("MO", "TU", "WE", "TH", "FR")
SHIFTS = (
    {"name": "early", "start": "06:00", "end": "14:00", "days": WORKDAYS},
    {"name": "late", "start": "14:00", "end": "22:00", "days": WORKDAYS},
    {"name": "night", "start": "22:00", "end": "06:00", "days": WORKDAYS},
)

PEOPLE = {
    "ana": ("Ana", ["operator", "set-up technician", "maintenance technician"]),
    "ben": ("Ben", ["operator"]),
    "tom": ("Tom", ["maintenance technician"]),
    "lea": ("Lea", ["maintenance lead", "quality technician"]),
}

ITEMS: Mapping[str, Mapping[str, Any]] = {
    "P-03": {"kind": "press", "digits": 6, "max_rate": 4000, "place": "hall"},
    "P-07": {"kind": "press", "digits": 7, "max_rate": 4000, "place": "hall"},
    "P-08": {"kind": "press", "digits": 7, "max_rate": 4000, "place": "hall"},
    "M-12": {"kind": "module", "place": "rack"},
    "M-44": {"kind": "module", "place": "rack"},
    "DS-031": {"kind": "die set", "place": "rack"},
    "DS-102": {"kind": "die set", "place": "rack"},
    "CP-a": {"kind": "conductor punch"},
    "CP-b": {"kind": "conductor punch"},
    "IP-1": {"kind": "insulation punch"},
    "CB-1": {"kind": "cut-off blade"},
    "G-1": {"kind": "gauge", "gauge_class": "crimp micrometer"},
}


def at(text: str, zone: str = "UTC") -> datetime:
    """A moment on the plant's wall: ``at("2026-03-02 06:00")``."""
    return Zone(zone).read(text)


def define(what: str, key: str, **content: Any) -> Definition:
    """Something of the plant as its definition files would give it."""
    return Definition(what, key, content if what == "plant" else {"id": key, **content})


def plant(zone: str = "UTC", **facts: Any) -> Definition:
    """The plant's own facts: three shifts on working days unless ``shifts`` says otherwise; operators fit tools too."""
    rights = {"fit": [*map(str, RIGHTS[Act.FIT].roles), "operator"]}
    given = {"name": "Test plant", "zone": zone, "shifts": list(SHIFTS), "rights": rights, **facts}
    return define("plant", "plant", **given)


def person(key: str, name: str, *roles: str, **content: Any) -> Definition:
    """Somebody who signs."""
    return define("person", key, name=name, roles=list(roles), **content)


def item(key: str, **content: Any) -> Definition:
    """An item; what :data:`ITEMS` says of it holds where nothing else is said."""
    return define("item", key, **{"title": f"Item {key}", **ITEMS.get(key, {}), **content})


def task(key: str, applies_to: str, **content: Any) -> Definition:
    """A task that operators and technicians may sign, and whose days stay where they fall, unless told otherwise."""
    by = ["operator", "maintenance technician"]
    given = {"title": f"Task {key}", "by": by, "on_day_off": "keep", **content}
    return define("task", key, applies_to=applies_to, **given)


CLEAN = task("clean", "module", by=["operator"], each_shift=True, energy="unplug", caution="Plug in your hand.")
INSPECT = task("inspect", "die set", strokes=5000, stop_at=110, graded=True)


def book_of(
    tmp_path: Path,
    text: str = "",
    zone: str = "UTC",
    *,
    tasks: Iterable[Definition] = (),
    more: Iterable[Definition] = (),
    begins: str = BEGINS,
    **facts: Any,
) -> Book:
    """A book of the small plant with its ``tasks`` and the entries of ``text``, each written at its own moment.

    ``more`` adds definitions or replaces those of the same id; ``facts`` are facts of the plant.
    """
    given = [plant(zone, **facts), define("place", "hall", title="Hall", area="press hall", route=1)]
    given.append(define("place", "rack", title="Rack", area="toolroom", route=2))
    given += [person(key, name, *roles) for key, (name, roles) in PEOPLE.items()]
    given += [*(item(key) for key in ITEMS), *tasks, *more]
    book = Book.create(tmp_path / "plant.book", Random(7).randbytes)
    start = at(begins, zone)
    book.load(list({(one.what, one.key): one for one in given}.values()), start, "lea", start)
    write_each(book, text)
    return book


def written_lines(book: Book) -> list[str]:
    """Every entry of a book as its line, in the order of their numbers from #0 on, without the salts of an export."""
    return [line.rpartition(" salt ")[0] for line in book.export()]


def lines_of(text: str) -> list[str]:
    """The entry lines of a text: empty lines and ``# remarks`` are left out."""
    stripped = (line.strip() for line in text.splitlines())
    return [line for line in stripped if line and not line.startswith("#")]


def entries_of(book: Book, text: str) -> list[Entry]:
    """The entries of a text on the wall of the book's plant."""
    return [read_line(line, book.zone) for line in lines_of(text)]


def write(book: Book, text: str) -> Written:
    """Writes the lines of a text in one go: all of them, or none."""
    entries = entries_of(book, text)
    return book.write(entries, max(entry.recorded_at or entry.at for entry in entries))


def write_each(book: Book, text: str) -> list[Written]:
    """Writes the lines of a text one after another."""
    return [write(book, line) for line in lines_of(text)]


def number_of(written: Written) -> int:
    """The number of the one entry just written."""
    (number,) = written.entries
    return number


def state(book: Book, line: str, moment: str) -> str:
    """The state of a line at a moment on the plant's wall, as the word a person reads."""
    return line_at(book, line, moment).state.value


def line_at(book: Book, line: str, moment: str) -> BoardLine:
    """A line at a moment on the plant's wall."""
    return book.line(line, book.zone.read(moment))


def strokes(book: Book, item: str, moment: str) -> tuple[int, int, int]:
    """The strokes of an item since new at a moment on the plant's wall: low, best, high."""
    return book.life(item, book.zone.read(moment)).since_new


def why_of(book: Book, stands: BoardLine | StateChange) -> str:
    """The sentence that says why a line stands so."""
    return sentence(stands.reasons, book.zone, book.names, ENGLISH)
