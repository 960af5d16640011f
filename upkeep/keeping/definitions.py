"""The plant as its definitions in the book say: items, tasks, people, places, shifts - ready for the rules."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

from upkeep.counting.sharing import running_seconds
from upkeep.errors import NotFound
from upkeep.plant import model
from upkeep.plant.covering import Covers, reaches, why_never_covered
from upkeep.plant.definition import Defined
from upkeep.plant.model import Item, Kind, Place, Task
from upkeep.plant.people import Person, person_from
from upkeep.plant.values.facts import PlantFacts, facts_from
from upkeep.plant.values.texts import said_in
from upkeep.said import Said, listed, said, term
from upkeep.store.rows.definitions import DefinitionRow
from upkeep.units.instants import Zone, from_utc_text
from upkeep.units.shifts import ShiftCalendar
from upkeep.units.workdays import WorkingDays
from upkeep.wording.sentences import word_of

if TYPE_CHECKING:
    from upkeep.due.facts import Standstill
    from upkeep.due.holds import HoldReason
    from upkeep.plant.crimps import Crimp, PullTable
    from upkeep.plant.values.spare import Spare
    from upkeep.store.rows.signatures import StandingRow

PLANT_KEY = "plant"

T = TypeVar("T")


class _ReadWhenAsked(Mapping[str, T]):
    """Values by id, each made from its stored text when somebody first asks for it."""

    def __init__(self, texts: dict[str, str], read: Callable[[str], T]) -> None:
        self._texts, self._read = texts, read
        self._made: dict[str, T] = {}

    def __getitem__(self, key: str) -> T:
        if key not in self._made:
            self._made[key] = self._read(self._texts[key])
        return self._made[key]

    def __contains__(self, key: object) -> bool:
        return key in self._texts

    def __iter__(self) -> Iterator[str]:
        return iter(self._texts)

    def __len__(self) -> int:
        return len(self._texts)


class Known:
    """Everything defined, from its rows; made anew when definitions change.

    Each definition is read when it is asked for: the first screenful of a board needs a handful of ten thousand items.
    """

    def __init__(self, rows: Iterable[DefinitionRow]) -> None:
        self.rows = list(rows)
        """The rows behind them."""
        self._texts: dict[str, dict[str, str]] = {}
        self._said: dict[str, Mapping[str, str]] = {}
        self._units: dict[str | None, str] = {}
        came: dict[str, str] = {}
        numbers = [0]
        for row in self.rows:
            self._texts.setdefault(row.what, {})[row.key] = row.content
            if row.what == Defined.ITEM:
                came[row.key] = row.since
            numbers.append(row.entry)
        self.last_entry = max(numbers)
        self.since = _ReadWhenAsked(came, from_utc_text)
        """When each item came into the book."""

    def _defined(self, what: str, made_from: Callable[[dict[str, Any]], T]) -> Mapping[str, T]:
        return _ReadWhenAsked(self._texts.get(what, {}), lambda text: made_from(json.loads(text)))

    def defines(self, what: str, key: str) -> bool:
        """Whether something is defined, by what it is and its id."""
        return key in self._texts.get(what, {})

    def keepers_on(self, day: date) -> tuple[str, ...]:
        """The keepers of the book who may sign on a day; none where none was named or all have left."""
        kept = (key for key in self.facts.keepers if key in self.people)
        return tuple(key for key in kept if self.people[key].signs_on(day))

    @cached_property
    def facts(self) -> PlantFacts:
        """The plant's name, zone, shifts; defaults while nothing is defined."""
        return self._defined(Defined.PLANT, facts_from).get(PLANT_KEY) or PlantFacts()

    def texts_in(self, language: str) -> Mapping[str, str]:
        """What tasks and crimps say, and the same in a language: as the plant wrote it, else as the program has it
        of the tasks it ships, which speak English in a plant of any language; read only where there may be another."""
        if language == self.facts.languages[0] == model.ENGLISH:
            return {}
        if language not in self._said:
            self._said[language] = self._texts_in(language)
        return self._said[language]

    def _texts_in(self, language: str) -> dict[str, str]:
        said = [pair for task in self.tasks.values() for pair in said_in(task, language)]
        said += [(word, "") for crimp in self.crimps.values() for word in crimp.words]
        translated = ((text, other or word_of(text, language)) for text, other in said)
        return {text: other for text, other in translated if other != text}

    @cached_property
    def zone(self) -> Zone:
        """The plant's time zone, settled by the first entry of the book."""
        return Zone(self.facts.zone)

    @cached_property
    def calendar(self) -> ShiftCalendar:
        """The plant's shifts in local time, with its days off."""
        return ShiftCalendar(self.zone, self.facts.shifts, self.facts.days_off)

    def running_hours(self, since: datetime, until: datetime) -> float:
        """The hours of [since, until) in which shifts ran; all of them in a plant that names no shifts."""
        if until <= since:
            return 0.0
        if not self.facts.shifts:
            return (until - since).total_seconds() / 3600
        return running_seconds(self.calendar, since, until) / 3600

    def shift_day(self, at: datetime, defines: bool) -> str:
        """The shift day kept with an entry of a moment: of its shift, or of its wall day; a definition belongs to its
        UTC day."""
        return (at.date() if defines else self.calendar.shift_day(at)).isoformat()

    @cached_property
    def workdays(self) -> WorkingDays:
        """The days on which a shift begins."""
        return WorkingDays(self.calendar)

    @cached_property
    def standstills(self) -> tuple[Standstill, ...]:
        """The plant's shutdowns in order, each with the first shift after it."""
        from upkeep.due.facts import Standstill

        spans = []
        for shutdown in sorted(self.facts.shutdowns, key=lambda closed: closed.end):
            over = self.zone.start_of(shutdown.end + timedelta(days=1))
            shift = self.calendar.next_from(over)
            spans.append(Standstill(shutdown.name, shutdown.end, over, shift.start if shift else over))
        return tuple(spans)

    @cached_property
    def items(self) -> Mapping[str, Item]:
        """Every item by id, scrapped ones too."""
        return self._defined(Defined.ITEM, model.item_from)

    @cached_property
    def tasks(self) -> Mapping[str, Task]:
        """Every task by id."""
        return self._defined(Defined.TASK, model.task_from)

    @cached_property
    def people(self) -> Mapping[str, Person]:
        """Everybody by id, those who have left too."""
        return self._defined(Defined.PERSON, person_from)

    @cached_property
    def names(self) -> dict[str, str]:
        """The name behind each person's id."""
        return {key: person.name for key, person in self.people.items()}

    @cached_property
    def places(self) -> Mapping[str, Place]:
        """Every place by id."""
        return self._defined(Defined.PLACE, model.place_from)

    @cached_property
    def crimps(self) -> Mapping[str, Crimp]:
        """Every terminal on a wire by id."""
        from upkeep.plant.crimps import crimp_from

        return self._defined(Defined.CRIMP, crimp_from)

    @cached_property
    def pull_tables(self) -> Mapping[str, PullTable]:
        """Every table of pull forces by id."""
        from upkeep.plant.crimps import pull_table_from

        return self._defined(Defined.PULL_TABLE, pull_table_from)

    def unit_of_gauge(self, gauge: str) -> str:
        """The unit a gauge measures in; "" where what is measured with its class does not say one."""
        from upkeep.quality.gauges import unit_of

        wanted = self.item(gauge).gauge_class
        if wanted not in self._units:
            self._units[wanted] = unit_of(wanted, self.tasks.values(), self.crimps.values())
        return self._units[wanted]

    def reason_of(self, hold: StandingRow) -> HoldReason:
        """The reason in a row of a hold; by how much a gauge reads wrong has the unit it measures in."""
        from upkeep.due.holds import GaugeOutOfTolerance
        from upkeep.due.reason_json import hold_from

        reason = hold_from(hold.reason)
        if isinstance(reason, GaugeOutOfTolerance):
            return replace(reason, unit=self.unit_of_gauge(hold.item))
        return reason

    @cached_property
    def spares(self) -> Mapping[str, Spare]:
        """Every kind of spare by id."""
        from upkeep.plant.values.spare import spare_from

        return self._defined(Defined.SPARE, spare_from)

    def spare(self, key: str) -> Spare:
        """The spare with an id, or that goes by another name; raises :class:`NotFound` with near ids."""
        called = {name.casefold(): one.id for one in self.spares.values() for name in (*one.names, one.id)}
        return _named(self.spares, called.get(key.casefold(), key), said("spare"))

    @cached_property
    def tasks_of_kind(self) -> dict[Kind, list[Task]]:
        """The tasks of each kind of item, by id."""
        by_kind: dict[Kind, list[Task]] = {}
        for key in sorted(self.tasks):
            by_kind.setdefault(self.tasks[key].applies_to, []).append(self.tasks[key])
        return by_kind

    @cached_property
    def vouching(self) -> tuple[Task, ...]:
        """The tasks on gauges that come by ``every`` or ``rule``: they vouch for a gauge."""
        return tuple(task for task in self.tasks_of_kind.get(Kind.GAUGE, []) if task.every or task.rule)

    @cached_property
    def calibration(self) -> Task | None:
        """Of those the one with the longest interval; None where nothing is asked of gauges."""
        from upkeep.due.days import interval_of

        start = self.zone.day(from_utc_text("2001-01-01T12:00:00Z"))
        return max(self.vouching, key=lambda task: interval_of(task, start), default=None)

    @cached_property
    def _coverers(self) -> dict[str, dict[str, int]]:
        declared = {key: Covers(task.covers, task.cover_days) for key, task in self.tasks.items() if task.covers}
        return reaches(declared, [key for key, task in self.tasks.items() if why_never_covered(task)])

    def covering(self, task: Task) -> dict[str, int]:
        """The tasks whose work covers a task, by themselves or through others, with the days each reaches ahead."""
        return self._coverers.get(task.id, {})

    def covered_by(self, task: str) -> list[str]:
        """The tasks that work of a task covers, by itself or through others."""
        return [covered for covered, bigger in self._coverers.items() if task in bigger]

    @cached_property
    def _shares(self) -> dict[str, float]:
        of_kind: dict[Kind, list[str]] = {}
        for key in sorted(self.items):
            of_kind.setdefault(self.items[key].kind, []).append(key)
        return {key: (n + 1) / len(keys) for keys in of_kind.values() for n, key in enumerate(keys)}

    def share_of(self, item: Item) -> float:
        """Where an item stands among those of its kind, above 0 up to 1: so its spread lines come due one by one."""
        return self._shares[item.id]

    def tasks_on(self, item: Item) -> list[Task]:
        """The tasks that make lines on an item; none on a scrapped one."""
        return [] if item.scrapped else self.tasks_of_kind.get(item.kind, [])

    def item(self, key: str) -> Item:
        """The item with an id; raises :class:`NotFound` with near ids."""
        return _named(self.items, key, said("item"))

    def task(self, key: str) -> Task:
        """The task with an id; raises :class:`NotFound` with near ids."""
        return _named(self.tasks, key, said("task"))

    def person(self, key: str) -> Person:
        """The person with an id, who may have left; raises :class:`NotFound` with near ids."""
        return _named(self.people, key, said("person"))

    def is_one_person(self, first: str, second: str) -> bool:
        """Whether two ids stand for one human being: the same one, ids said to be the same, or one name."""
        return bool(self._stands_for(first) & self._stands_for(second))

    def _stands_for(self, key: str) -> set[str]:
        """The ids that an id is the same as, and its name as it is compared."""
        ids: list[str] = []
        name = ""
        while key not in ids:
            ids.append(key)
            person = self.people.get(key)
            if person is None:
                break
            name = " ".join(person.name.casefold().split())
            key = person.same_as or key
        return {*ids, f"named {name}"} if name else set(ids)

    def place(self, key: str) -> Place:
        """The place with an id; raises :class:`NotFound` with near ids."""
        return _named(self.places, key, said("place"))

    def press_or_place(self, key: str) -> str:
        """The id of a press or a place; raises :class:`NotFound` with near ids."""
        item = self.items.get(key)
        if key not in self.places and (item is None or item.kind is not Kind.PRESS):
            if item is not None:
                kind = term(item.kind, "kind")
                hint = said("{item} is a {kind}. Name the press or place where it is.", item=key, kind=kind)
                raise NotFound(said("press or place"), key, [], hint)
            presses = [item.id for item in self.items.values() if item.kind is Kind.PRESS]
            raise NotFound(said("press or place"), key, near_misses(key, [*presses, *self.places]))
        return key

    def area(self, key: str) -> str:
        """The name of an area; raises :class:`NotFound` with those there are."""
        areas = sorted({place.area for place in self.places.values() if place.area})
        if key not in areas:
            hint = said("Its areas: {areas}.", areas=listed(areas)) if areas else said("It has no areas.")
            raise NotFound(said("area"), key, [], hint)
        return key

    def crimp(self, key: str) -> Crimp:
        """The terminal on a wire with an id; raises :class:`NotFound` with near ids."""
        return _named(self.crimps, key, said("crimp"))

    def counter(self, key: str) -> Item:
        """The press or module with an id that has a counter of its own."""
        item = _named(self.items, key, said("press"))
        if item.kind is not Kind.PRESS and item.digits is None:
            raise NotFound(
                said("press"),
                key,
                [],
                said("{key} is a {kind} without a counter of its own.", key=key, kind=term(item.kind, "kind")),
            )
        return item

    def press(self, key: str) -> Item:
        """The press with an id.  Raises :class:`NotFound` where there is no such item, or it is no press."""
        item = _named(self.items, key, said("press"))
        if item.kind is not Kind.PRESS:
            raise NotFound(said("press"), key, [], said("{key} is a {kind}.", key=key, kind=term(item.kind, "kind")))
        return item


def _named(known: Mapping[str, T], key: str, what: Said) -> T:
    if key not in known:
        raise NotFound(what, key, near_misses(key, known))
    return known[key]


def near_misses(key: str, known: Iterable[str]) -> list[str]:
    """Up to three known ids that look like the one asked for."""
    from difflib import get_close_matches

    by_folded = {name.casefold(): name for name in known}
    return [by_folded[match] for match in get_close_matches(key.casefold(), by_folded, n=3, cutoff=0.7)]
