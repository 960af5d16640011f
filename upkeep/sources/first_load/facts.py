"""What the sheets tell of the time before the book: counts, strokes done so far, when work was last done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.said import Numeral, Said, said, said_many
from upkeep.sources.first_load.columns import Read, SheetRow
from upkeep.sources.first_load.found import Question, ReadAs, Spot, Wrong
from upkeep.sources.first_load.ids import Known
from upkeep.sources.first_load.things import Content
from upkeep.sources.first_load.wanted import Sheet

_LONGEST_AGO = 50
"""Years before today that anybody still tells of, as for the book itself.  Plant default, no source."""


@frozen
class Counted:
    """What a press counter showed on a day."""

    press: str
    value: int
    day: date


@frozen
class DoneBefore:
    """Strokes an item had done before the book, as a sheet says: stated, not verified."""

    item: str
    strokes: int


@frozen
class LastDone:
    """The day on which work was last done on an item, as a sheet says: stated, not verified."""

    item: str
    task: str
    day: date


@frozen
class Facts:
    """All of it, in the order of the sheets; and what there is to say of it."""

    counted: tuple[Counted, ...] = ()
    before: tuple[DoneBefore, ...] = ()
    last_done: tuple[LastDone, ...] = ()
    notes: tuple[Said, ...] = ()
    read_as: tuple[ReadAs, ...] = ()
    wrong: tuple[Wrong, ...] = ()
    questions: tuple[Question, ...] = ()


@frozen
class Plant:
    """What facts are held against: the contents of items and tasks by id, what names them, today, and since when the
    book has those items that are in it."""

    items: Mapping[str, Content]
    tasks: Mapping[str, Content]
    known_items: Known
    known_tasks: Known
    today: date
    began: Mapping[str, date]


def facts_of(reads: Iterable[Read], plant: Plant) -> Facts:
    """The facts of some sheets, each held against the plant."""
    gathering = _Gathering(plant)
    for read in reads:
        for row in read.rows:
            if read.sheet is Sheet.PRESSES:
                gathering.count(read, row)
            elif read.sheet in (Sheet.MODULES, Sheet.DIE_SETS):
                gathering.before(read, row)
            elif read.sheet is Sheet.LAST_DONE:
                gathering.last_done(read, row)
    return gathering.facts()


class _Gathering:
    def __init__(self, plant: Plant) -> None:
        self._plant = plant
        self._counted: list[Counted] = []
        self._before: list[DoneBefore] = []
        self._done: dict[tuple[str, str], tuple[LastDone, Spot]] = {}
        self._read_as: list[ReadAs] = []
        self._wrong: list[Wrong] = []
        self._questions: dict[tuple[str, ...], Question] = {}
        self._undated = self._unknown = 0

    def count(self, read: Read, row: SheetRow) -> None:
        """A count of a press, where the day is known on which it was read, and the book had begun by then."""
        value, day = row.values.get("count"), row.values.get("counted")
        if value is None:
            return
        if day is None:
            self._undated += 1
        elif (read_on := date.fromisoformat(str(day))) > self._plant.today:
            self._wrong.append(Wrong(read.spot(row.number, "counted"), read_on, said("a day that has come")))
        elif read_on < self._plant.began.get(press := str(row.values.get("id", "")), self._plant.today):
            self._undated += 1
        else:
            self._counted.append(Counted(press, int(str(value)), read_on))

    def before(self, read: Read, row: SheetRow) -> None:
        """Strokes of a tool so far."""
        strokes = row.values.get("strokes")
        if strokes is not None and int(str(strokes)) < 0:
            self._wrong.append(Wrong(read.spot(row.number, "strokes"), str(strokes), said("0 strokes or more")))
        elif strokes:
            self._before.append(DoneBefore(str(row.values.get("id", "")), int(str(strokes))))

    def last_done(self, read: Read, row: SheetRow) -> None:
        """A day on which work was last done; none: nobody knows."""
        item = self._named(read, row, "item", self._plant.known_items)
        task = self._named(read, row, "task", self._plant.known_tasks)
        if item is None or task is None:
            return
        kind, wanted = self._plant.items[item].get("kind"), self._plant.tasks[task].get("applies_to")
        if kind != wanted:
            found = said("{task} on {item}, a {kind}", task=task, item=item, kind=str(kind))
            self._wrong.append(Wrong(read.spot(row.number, "task"), found, said("a task on a {kind}", kind=str(kind))))
        elif (told := row.values.get("done")) is None:
            self._unknown += 1
        else:
            self._dated(read, row, item, task, date.fromisoformat(str(told)))

    def _named(self, read: Read, row: SheetRow, column: str, known: Known) -> str | None:
        text = row.values.get(column)
        spot = read.spot(row.number, column)
        if text is None:
            self._wrong.append(Wrong(spot, said("nothing"), said("an id or a title of the other sheets")))
            return None
        key, told = known.meant(str(text), spot)
        match told:
            case ReadAs() if column == "item":  # work goes by its title everywhere
                self._read_as.append(told)
            case Wrong():
                self._wrong.append(told)
            case Question():
                self._questions.setdefault(told.path, told)
        return key

    def _dated(self, read: Read, row: SheetRow, item: str, task: str, day: date) -> None:
        spot, today = read.spot(row.number, "done"), self._plant.today
        first = self._done.setdefault((item, task), (LastDone(item, task, day), spot))
        if day > min(today, self._plant.began.get(item, today)):
            meant = said("a day before this book; work done since then is signed by whoever did it")
            self._wrong.append(Wrong(spot, day, meant if day <= today else said("a day that has come")))
        elif day.year < today.year - _LONGEST_AGO:
            self._wrong.append(Wrong(spot, day, said("a day of the last {years} years", years=_LONGEST_AGO)))
        elif first[0].day != day:
            found = said("{day} for {line}", day=day, line=str(LineName(item, task)))
            meant = said("one day; row {row} says {day}", row=Numeral(first[1].row or 0), day=first[0].day)
            self._wrong.append(Wrong(spot, found, meant))

    def facts(self) -> Facts:
        """What was gathered."""
        return Facts(
            tuple(self._counted), tuple(self._before), tuple(done for done, _ in self._done.values()),
            tuple(self._notes()), tuple(self._read_as), tuple(self._wrong), tuple(self._questions.values()),
        )  # fmt: skip

    def _notes(self) -> Iterable[Said]:
        if self._undated:
            yield said_many(
                "{n} count of a press is not loaded: it has no day, or was read before the book begins. Read the "
                "counter on the walk.",
                "{n} counts of presses are not loaded: they have no day, or were read before the book begins. Read "
                "the counters on the walk.",
                n=self._undated,
            )
        if self._unknown:
            yield said_many(
                "{n} line has no day: nobody knows when its work was last done. Its first time is planned with the "
                "baseline.",
                "{n} lines have no day: nobody knows when their work was last done. Their first time is planned with "
                "the baseline.",
                n=self._unknown,
            )
