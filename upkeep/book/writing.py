"""The one way into the book: entries are checked, appended and projected in one transaction, or not at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import groupby

from upkeep.book import checks
from upkeep.book.judging import Judge, line_name, moment
from upkeep.book.known import Known
from upkeep.book.projecting import Projector
from upkeep.book.views import StateChange, Written
from upkeep.counting.marks import Counter, Mark, Reading, check_reading, increment
from upkeep.due.states import State, state_at
from upkeep.entries.kinds import (
    EXTRA,
    Count,
    Define,
    Entry,
    Fault,
    Fit,
    Hold,
    Pause,
    Recorded,
    Release,
    Resume,
    Sign,
    Strike,
    Unfit,
    Verify,
)  # fmt: skip
from upkeep.errors import AlreadySigned, NotFound, Refused
from upkeep.plant.model import Item, Task
from upkeep.store.entries import EntryStore, Filed, filed
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER, from_utc_text, utc_text


class Writer:
    """Writes into one file.  Made for one :meth:`write`; holds what that write has touched."""

    def __init__(self, file: BookFile, known: Known, recorded_at: datetime) -> None:
        self._file, self._recorded_at = file, recorded_at
        self._entries, self._rows, self._lines = EntryStore(file), Projections(file), LineStore(file)
        self.known = known
        self._projector = Projector(file, known)
        self._notes: list[str] = []
        self._first = self._first_moment()

    def write(self, entries: Sequence[Entry]) -> Written:
        """Appends all entries and brings every projection up; raises :class:`Refused` and writes nothing otherwise."""
        numbers: list[int] = []
        stamped = (self._stamped(entry) for entry in entries)
        for kind, run in groupby(stamped, key=_run_of):
            if kind == "count":
                numbers += self._counts(list(run))  # type: ignore[arg-type]
            elif kind == "define":
                numbers += self._defines(list(run))  # type: ignore[arg-type]
            else:
                numbers += [self._one(entry) for entry in run]
        changes = self._judge_touched()
        return Written(tuple(numbers), tuple(changes), tuple(dict.fromkeys(self._notes)))

    def _stamped(self, entry: Entry) -> Entry:
        if entry.recorded_at is None:
            entry = replace(entry, recorded_at=self._recorded_at)
        checks.check_moment(entry, entry.recorded_at or self._recorded_at, self.known.zone, self._first)
        checks.check_texts(entry)
        return entry

    def _first_moment(self) -> datetime | None:
        row = self._file.row("SELECT at FROM entries WHERE id = 1")
        return from_utc_text(row[0]) if row else None

    def _append(self, entry: Entry, place: Filed) -> int:
        shift_day = checks.shift_day_of(self.known, entry, isinstance(entry, Define))
        return self._entries.append([(entry, shift_day, place)])[0]

    # Runs of readings, the most frequent entries by far

    def _counts(self, run: list[Count]) -> list[int]:
        number, _ = self._entries.last()
        marks: dict[str, list[Mark]] = {}
        late: list[tuple[int, Count]] = []
        begun: dict[str, Mark | None] = {}
        self._check_signers(run)
        for count in run:
            number += 1
            before = self._last_mark(count.press, begun)
            reading = Reading(count.at, count.value, number, count.rolled_over)
            if before is not None and count.at < before.at:
                late.append((number, count))
                continue
            step = self._checked_step(count, before, reading)
            mark = Mark(reading, step if before is None else before.total + step)
            begun[count.press] = mark
            marks.setdefault(count.press, []).append(mark)
        shift_day = self.known.calendar.shift_day
        numbers = self._entries.append([(c, shift_day(c.at).isoformat(), Filed(c.press)) for c in run])
        for press, added in marks.items():
            self._projector.continue_marks(press, added)
        for number, count in late:
            self._projector.change_marks(
                count.press, [Reading(count.at, count.value, number, count.rolled_over)], set()
            )
        return numbers

    def _check_signers(self, run: list[Count]) -> None:
        for by, at in {(count.by, count.at.date()): count.at for count in run}.items():
            checks.check_signer(self.known, by[0], at)

    def _last_mark(self, press: str, begun: dict[str, Mark | None]) -> Mark | None:
        if press not in begun:
            self.known.press(press)
            begun[press] = self._projector.last_mark(press)
        return begun[press]

    def _checked_step(self, count: Count, before: Mark | None, reading: Reading) -> int:
        press = self.known.items[count.press]
        counter = Counter(press.id, press.digits, press.max_rate)
        step = 0
        if before is not None:
            step = increment(before.reading.value, count.value, rolled_over=count.rolled_over, digits=press.digits)
            hours = (count.at - before.at).total_seconds() / 3600
            fits = press.digits is None or count.value < 10**press.digits
            if fits and step >= 0 and (press.max_rate is None or step <= press.max_rate * hours):
                return step
        shown = self.known.zone.show(before.at) if before else ""
        check_reading(counter, reading, before, None, shown, self._projector.fitting_presses(count.press, reading))
        return step

    # Definitions

    def _defines(self, run: list[Define]) -> list[int]:
        for entry in run:
            checks.check_definition(entry.what, entry.key, entry.content)
            self._check_not_revived(entry)
        numbers = self._entries.append([(e, checks.shift_day_of(self.known, e, True), filed(e)) for e in run])
        self._rows.define((e.what, e.key, e.content, utc_text(e.at), n) for e, n in zip(run, numbers, strict=True))
        self.known = Known(self._rows.definitions())
        self._projector.learn(self.known)
        if self._first is None:
            self._first = run[0].at
        return numbers

    def _check_not_revived(self, entry: Define) -> None:
        old = self.known.items.get(entry.key) if entry.what == "item" else None
        if old is not None and old.scrapped and f'"scrapped":"{old.scrapped}"' not in entry.content.replace(" ", ""):
            raise Refused(
                f"{old.id} was scrapped on {old.scrapped}; an id is never used again. Give the new item its own."
            )

    # Everything else, one after another

    def _one(self, entry: Entry) -> int:
        checks.check_signer(self.known, entry.by, entry.at)
        replaced = self._replaced(entry)
        match entry:
            case Count():
                self.known.press(entry.press)
            case Fit() | Unfit():
                entry = self._with_press(entry)
            case Sign():
                self._check_sign(entry, replaced)
            case Verify():
                self._check_verify(entry)
            case Strike():
                self._check_strike(entry)
            case Hold() | Release() | Pause() | Resume():
                self._check_standing(entry)
            case Fault():
                self.known.item(entry.item)
            case _:
                raise TypeError(type(entry).__name__)
        place = self._filing(entry)
        number = self._append(entry, place)
        self._projector.project(Recorded(number, entry, "", ""), replaced)
        return number

    def _filing(self, entry: Entry) -> Filed:
        place = filed(entry)
        if isinstance(entry, Verify | Strike):
            target = self._entries.filing(entry.entry)
            return Filed(target.item if target else None, target.task if target else None, entry.entry)
        return place

    def _replaced(self, entry: Entry) -> Recorded | None:
        if entry.corrects is None:
            return None
        old = self._in_effect(entry.corrects)
        if type(old.entry) is not type(entry) or isinstance(entry, Verify | Strike | Define):
            raise Refused(f"Entry #{old.id} is of another kind; correct it by one of the same kind, or strike it.")
        if not entry.because:
            raise Refused(f"Say why #{old.id} is corrected; both values and the reason stay in the book.")
        return old

    def _in_effect(self, number: int) -> Recorded:
        old = self._entries.one(number)
        if old is None:
            raise NotFound("entry", f"#{number}")
        through = self._rows.effect_lost_through(number)
        if through is not None:
            raise Refused(f"Entry #{number} has no effect any more: see #{through}.")
        return old

    def _with_press(self, entry: Fit | Unfit) -> Fit | Unfit:
        item = self.known.item(entry.item)
        inside = None
        if isinstance(entry, Fit):
            inside = self.known.item(entry.inside)
            checks.check_fits(item, inside)
            self._check_not_held(item)
        elif entry.to is not None:
            self.known.place(entry.to)
        if entry.count is None:
            return replace(entry, press=None) if entry.press else entry
        press = entry.press or self._projector.press_at(inside.id if inside else item.id, entry.at)
        if press is None:
            raise Refused(
                f"{item.id} hangs on no press at that moment; leave the count away, or fit what holds it first."
            )
        self.known.press(press)
        return replace(entry, press=press)

    def _check_not_held(self, item: Item) -> None:
        for row in self._rows.standings_of(item.id):
            if row[1] == "hold":
                raise Refused(f"{item.id} is held: {row[3]}. It must not run until it is released.")

    def _check_sign(self, sign: Sign, replaced: Recorded | None) -> None:
        item, task = self.known.item(sign.item), self.known.task(sign.task)
        person = checks.check_signer(self.known, sign.by, sign.at)
        self._notes += checks.check_sign(self.known, sign, item, task)
        checks.check_role(person, task.by, f"{task.title} on {item.id}")
        if sign.occurrence == EXTRA:
            return
        taken = self._rows.sign_off_for(item.id, task.id, sign.occurrence)
        if taken is not None and (replaced is None or taken[3] != replaced.id):
            name = self.known.names.get(taken[4]) or str(taken[4])
            when = self.known.zone.show(from_utc_text(taken[2]))
            raise AlreadySigned(line_name(item.id, task.id), sign.occurrence, name, when)
        if replaced is None:
            self._check_occurrence(sign, item, task)

    def _check_occurrence(self, sign: Sign, item: Item, task: Task) -> None:
        self._projector.settle()
        judge = Judge(self._rows, self.known)
        line = judge.line(item, task)
        if sign.occurrence == line.occurrence:
            if sign.at < line.edges.opens and line.edges.opens is not NEVER:
                opens = self.known.zone.show(line.edges.opens)
                raise Refused(
                    f"{line_name(item.id, task.id)} is not open yet: its window opens {opens}. Work done before that "
                    "can be recorded as an extra; it does not move the due date."
                )
            return
        if task.each_shift and "/" in sign.occurrence:
            shift = self.known.calendar.named(sign.occurrence)
            if shift.start <= sign.at < shift.end + _AFTER_SHIFT:
                return
        if sign.occurrence.isdigit() and line.occurrence.isdigit():
            return
        if line.last is not None and sign.at < line.last.at:
            return
        raise Refused(
            f"{line_name(item.id, task.id)} is not planned for {sign.occurrence}; what is open is {line.occurrence}. "
            "Look at the board again, or record the work as an extra."
        )

    def _check_verify(self, entry: Verify) -> None:
        old = self._in_effect(entry.entry)
        if not isinstance(old.entry, Sign):
            raise Refused(f"#{old.id} is no sign-off; there is nothing to verify.")
        task = self.known.task(old.entry.task)
        if task.second_signature is None:
            raise Refused(f"{task.title} asks for no second signature.")
        person = self.known.person(entry.by)
        if entry.by == old.entry.by:
            raise Refused(f"{person.name} did the work of #{old.id}; the second signature is by another person.")
        checks.check_role(person, [task.second_signature], f"the second signature of {task.title}")
        if self._projector.verified(old):
            raise Refused(f"#{old.id} has its second signature already.")

    def _check_strike(self, entry: Strike) -> None:
        old = self._in_effect(entry.entry)
        if isinstance(old.entry, Define):
            raise Refused("A definition is not struck; load the definition files with what should hold instead.")
        written = old.entry.recorded_at or old.entry.at
        own = entry.by == old.entry.by
        undo = own and (entry.recorded_at or entry.at) - written <= timedelta(seconds=self.known.facts.undo_seconds)
        if undo:
            return
        if not entry.because:
            raise Refused(
                f"#{old.id} was written {self.known.zone.show(written)}: undoing ends after "
                f"{self.known.facts.undo_seconds} s. Strike it with a reason instead; both stay in the book."
            )
        if not own:
            checks.check_role(self.known.person(entry.by), checks.MAY_RELEASE, "the striking of somebody else's entry")

    def _check_standing(self, entry: Hold | Release | Pause | Resume) -> None:
        item = self.known.item(entry.item)
        in_force = {row[1] for row in self._rows.standings_of(item.id)}
        if isinstance(entry, Hold | Release) and not entry.because:
            raise Refused(
                f"Say why {item.id} is {'held' if isinstance(entry, Hold) else 'released'}; the reason stays."
            )
        if isinstance(entry, Release):
            checks.check_role(self.known.person(entry.by), checks.MAY_RELEASE, f"the release of {item.id}")
            if "hold" not in in_force:
                raise Refused(f"{item.id} is not held.")
        if isinstance(entry, Resume) and "pause" not in in_force:
            raise Refused(f"{item.id} is not in storage or out of use.")

    # Lines

    def _judge_touched(self) -> Iterator[StateChange]:
        self._projector.settle()
        judge = Judge(self._rows, self.known)
        wanted, gone = self._projector.touched_lines(judge)
        now = utc_text(self._recorded_at)
        changes, rows = [], []
        for item, task in wanted:
            row = judge.row(item, task)
            old = self._lines.get(str(row[0]))
            rows.append(row)
            if old is not None:
                before = _state(old["standing"], [old[key] for key in _EDGES], now)
                after = _state(row[10], row[11:15], now)
                if before is not after:
                    changes.append(StateChange(str(row[0]), before, after, str(row[21])))
        self._lines.put(rows)
        self._lines.drop(gone)
        return iter(changes)


_EDGES = ("opens_at", "due_at", "overdue_at", "stop_at")
_AFTER_SHIFT = timedelta(hours=1)
"""How long after a shift its daily work is signed as that shift's.  Plant default, no source."""


def _state(standing: str, edges: Sequence[str], now: str) -> State:
    if standing != "active":
        return State(standing)
    return state_at(from_utc_text(now), *(moment(edge) or NEVER for edge in edges))


def _run_of(entry: Entry) -> str:
    if isinstance(entry, Count) and entry.corrects is None:
        return "count"
    return "define" if isinstance(entry, Define) else "one"
