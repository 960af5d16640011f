"""Keeping the projections up with each entry: only what the entry touches is made again, from the moment it touches.

The rules are the same that a full replay uses (:mod:`upkeep.keeping.replay`); here they are asked for a tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from upkeep.counting.marks import Reading
from upkeep.entries.checking import Check, OutOfTolerance
from upkeep.entries.counting import ConfigureCounter, QuantityMade, UncountedStrokes
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault
from upkeep.entries.fitting import Fit, Put, Unfit
from upkeep.entries.kinds import filed, kind_of, standing_verbs
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Cancel, Defer, Sign, Stated, Verify
from upkeep.entries.standing import Standing
from upkeep.errors import Refused
from upkeep.keeping.definitions import Known
from upkeep.keeping.effect import effect_changes
from upkeep.keeping.entry_rows import (
    deferral_row,
    happening_rows,
    reading_of,
    sign_off_row,
)  # fmt: skip
from upkeep.keeping.judging import Judge
from upkeep.keeping.recounting import Recounter
from upkeep.keeping.rows.doubted_presses import measures_shut_height
from upkeep.keeping.rows.under_way import swap_under_way
from upkeep.keeping.rows_by_kind import rows_with
from upkeep.keeping.standings import standings_anew, turned, unlifted
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Kind, Task
from upkeep.progress import Watch, nobody, watched
from upkeep.said import Numeral, said
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections
from upkeep.store.rows.signatures import StandingRow
from upkeep.units.instants import NEVER, utc_text


class Projector:
    """Brings the projections of one file up with entries just appended, inside one transaction.

    ``counter`` does so for counts and fittings.
    """

    def __init__(self, file: BookFile, known: Known, now: datetime | None = None) -> None:
        self._entries, self._rows, self._lines = EntryStore(file), Projections(file), LineStore(file)
        self.counter = Recounter(self._rows, self._entries, known, now)
        self._touched: set[tuple[str, str]] = set()
        self._everything = False
        self._newest: int | None = None
        self._tools_moved: datetime | None = None

    @property
    def known(self) -> Known:
        """The definitions in force after the last entry taken in."""
        return self.counter.known

    def learn(self, known: Known) -> None:
        """Takes definitions that changed: every line is judged again, for a rule may reach any of them."""
        self._everything = True
        self.counter.learn(known)

    # Entries one by one

    def project(self, new: Recorded, replaced: Recorded | None) -> None:
        """Brings the projections up with one appended entry and with those whose effect it takes or gives back."""
        self._newest = new.id
        lost, regained = effect_changes(new, self._entries)
        self._check_regained(new, lost, regained)
        self._rows.set_effect(lost, [old.id for old in regained])
        gone = [recorded for entry, _ in lost if (recorded := self._entries.by_number(entry))]
        if replaced is not None or lost or regained:
            self.swap([new, *regained], gone)
        else:
            self.swap([new], [])

    def _check_regained(self, new: Recorded, lost: list[tuple[int, int]], regained: list[Recorded]) -> None:
        """Refuses to give effect back to an entry whose place another one has taken meanwhile."""
        for entry, through in lost:
            other = self._rows.effect_lost_through(entry)
            if other is not None:
                raise Refused(
                    said(
                        "That would bring #{through} back into effect, but what it replaced, #{entry}, has "
                        "since been replaced by #{other}. Strike #{other} first.",
                        through=Numeral(through),
                        entry=Numeral(entry),
                        other=Numeral(other),
                    )
                )
        for old in regained:
            sign = old.entry
            if isinstance(sign, Sign | Cancel) and sign.occurrence != EXTRA:
                taken = self._rows.sign_off_for(sign.item, sign.task, sign.occurrence)
                if taken is not None and taken.entry not in dict(lost):
                    raise Refused(
                        said(
                            "That would bring #{back} back into effect, but {line} for {occurrence} has since "
                            "been signed again (#{entry}). Strike that first.",
                            back=Numeral(old.id),
                            line=str(LineName(sign.item, sign.task)),
                            occurrence=sign.occurrence,
                            entry=Numeral(taken.entry),
                        )
                    )

    def swap(self, came: list[Recorded], went: list[Recorded], watch: Watch = nobody) -> None:
        """Puts entries into the tables and takes others out: a corrected entry leaves as its correction comes.

        ``watch`` is told how many were taken out, and of how many that is settled what hung on them.
        """
        self._swap_entry_rows(came, went, watch)
        self._swap_sign_offs(came, went)
        swap_under_way(self._rows, self._entries, came, went)
        self._swap_readings(came, went)
        moved: dict[str, datetime] = {}
        for recorded in [*came, *went]:
            if isinstance(recorded.entry, Fit | Unfit):
                item = recorded.entry.item
                moved[item] = min(recorded.entry.at, moved.get(item, recorded.entry.at))
        if moved:
            self._tools_moved = min([*moved.values(), self._tools_moved or NEVER])
        fittings = [fitting for item, since in moved.items() for fitting in self.counter.remake_fittings(item, since)]
        for fitting in fittings:
            self.counter.check_slot(fitting)
        for recorded in watched([*came, *went], "settling", len(came) + len(went), watch):
            self._project_by_kind(recorded)
            if isinstance(recorded.entry, Check | Sign) and recorded.entry.doubts is not None:
                self._touch_shut_height(recorded.entry.doubts)

    def _swap_readings(self, came: list[Recorded], went: list[Recorded]) -> None:
        add: dict[str, list[Reading]] = {}
        remove: dict[str, set[int]] = {}
        for recorded in came:
            if (read := reading_of(recorded, self.known)) is not None:
                press, reading = read
                add.setdefault(press, []).append(reading)
        for recorded in went:
            if (read := reading_of(recorded, self.known)) is not None:
                press, _ = read
                remove.setdefault(press, set()).add(recorded.id)
        for press in dict.fromkeys([*add, *remove]):
            self.counter.change_marks(press, add.get(press, []), remove.get(press, set()))

    def _swap_entry_rows(self, came: list[Recorded], went: list[Recorded], watch: Watch) -> None:
        """Rows that come and go with their entry, and what they move."""
        for recorded in watched(went, "taking", len(went), watch):
            self._rows.remove_rows_of(recorded.id)
        self._rows.add_rows(row for recorded in came for row in rows_with(recorded))
        for recorded in [*came, *went]:
            entry = recorded.entry
            match entry:
                case ConfigureCounter():
                    self.counter.recount_from(entry.press, entry.at)
                case QuantityMade():
                    self.counter.share_anew(entry.press, entry.at - timedelta(minutes=entry.minutes))
                case UncountedStrokes():
                    self.counter.counted.update(entry.on)
                case Stated():
                    self._touched.add((entry.item, entry.task))
                case Put():
                    self.counter.items.update(self._with_contents(entry.item))
                case Rework() | UnknownLife():
                    self.counter.items.update(self.counter.chain(entry.item))

    def _with_contents(self, item: str) -> list[str]:
        """An item and all that sits in it: they stand where it stands."""
        return [item, *(key for content in self._rows.inside_now(item) for key in self._with_contents(content.item))]

    def _project_by_kind(self, recorded: Recorded) -> None:
        match recorded.entry:
            case Sign() | Cancel() as sign:
                self._touch_signed(sign.item, sign.task)
                if isinstance(sign, Sign) and (sign.grade is not None or sign.holds):
                    self._remake_standings(sign.item)
                    self.counter.items.update(self.counter.chain(sign.item))
            case Defer() as defer:
                self._remake_deferrals(defer.item, defer.task)
            case Verify() as verify:
                target = self._entries.by_number(verify.entry)
                if target is not None and isinstance(target.entry, Sign):
                    self._touch_signed(target.entry.item, target.entry.task)
            case Check() as check:
                self._remake_checked(check.item)
                self._touched.update((check.item, task.id) for task in self._warned_by(check))
            case Fault() as fault if fault.crash:
                self.counter.items.update(self._rows.items_staying(fault.item, utc_text(fault.at)))
            case OutOfTolerance() as out:
                self._remake_measured_with(out.item)
        item = filed(recorded.entry).item
        if kind_of(type(recorded.entry)).standing and item is not None:
            self._remake_standings(item)

    # Signatures and standings

    def _swap_sign_offs(self, came: list[Recorded], went: list[Recorded]) -> None:
        """A sign-off brings its row and takes it away again; a second signature changes the row of what it verifies."""
        for recorded in went:
            if isinstance(recorded.entry, Sign | Cancel):
                self._rows.drop_sign_off(sign_off_row(recorded, None))
        for recorded in came:
            if isinstance(recorded.entry, Sign | Cancel):
                self._rows.add_sign_off(sign_off_row(recorded, self._verification(recorded)))
        for recorded in [*came, *went]:
            if isinstance(recorded.entry, Verify):
                self._verify_anew(recorded.entry.entry)

    def _verify_anew(self, number: int) -> None:
        sign = self._entries.by_number(number)
        row = sign_off_row(sign, self._verification(sign)) if sign and isinstance(sign.entry, Sign) else None
        if row is not None and self._rows.has_sign_off(row):
            self._rows.drop_sign_off(row)
            self._rows.add_sign_off(row)

    def _touch_signed(self, item: str, task: str) -> None:
        """Marks the lines that a sign-off moves."""
        self._touched.add((item, task))
        self._touched.update((item, covered) for covered in self.known.covered_by(task))
        if self.known.task(task).points:
            self.counter.items.add(item)
        if self.known.items[item].kind is Kind.GAUGE and self._rows.out_of_tolerance(item):
            self._remake_measured_with(item)  # what it measured may be in doubt no more, or again

    def _touch_shut_height(self, key: str) -> None:
        """Marks the lines that measure the shut height of a press."""
        press = self.known.items[key]
        self._touched.update((key, task.id) for task in self._tasks(key) if measures_shut_height(task, press))

    def _remake_deferrals(self, item: str, task: str) -> None:
        deferrals = [recorded for recorded in self._entries.of_item(item, ("defer",)) if _is_of(recorded, task)]
        self._rows.replace_deferrals(item, task, [deferral_row(recorded) for recorded in deferrals])
        self._touched.add((item, task))

    def _verification(self, sign: Recorded) -> Recorded | None:
        if sign.id == self._newest:  # an entry refers only to earlier ones
            return None
        verifications = [
            recorded
            for recorded in self._entries.referring_to(sign.id)
            if isinstance(recorded.entry, Verify) and self._rows.effect_lost_through(recorded.id) is None
        ]
        return verifications[-1] if verifications else None

    def verified(self, sign: Recorded) -> bool:
        """Whether a second person has verified a sign-off; False where none is asked for."""
        return self._verification(sign) is not None

    def _remake_standings(self, item: str) -> None:
        self._rows.replace_standings(item, self.standings_anew([item]))
        self._rows.replace_happenings(item, happening_rows(item, self._entries.of_item(item, standing_verbs())))
        self.counter.items.add(item)

    def standings_anew(self, items: Sequence[str]) -> list[StandingRow]:
        """The hold and the pause in force on items, from their entries."""
        return standings_anew(self._rows, self._entries, items, self.known)

    def _remake_measured_with(self, gauge: str) -> None:
        """What a gauge measured turns good or bad with it, and its work is open again or is not."""
        for item in self._rows.items_measured_with(gauge):
            self._remake_standings(item)

    def _remake_checked(self, item: str) -> None:
        """A check moves the lines of its item only where it holds it or lifts a hold."""
        turned_bad = turned(self._rows, self._entries.by_number, self.known, item)
        if self._rows.standings_of(item) or unlifted(self._rows, item) or turned_bad:
            self._remake_standings(item)

    def _warned_by(self, check: Check) -> Iterator[Task]:
        """The tasks that wait for a warning by what a check measured."""
        measured = {point for point, _ in check.points}
        return (task for task in self._tasks(check.item) if measured & set(task.after_warning))

    # Lines

    def touched_lines(self, judge: Judge) -> tuple[list[tuple[Item, Task]], list[str]]:
        """The lines to be judged again, and the names of those that are no more."""
        items = sorted(self.known.items) if self._everything else sorted(self.counter.items)
        wanted = {str(LineName(i, t.id)): (self.known.items[i], t) for i in items for t in self._tasks(i)}
        for item in sorted(self.counter.counted):
            paused = any(row.what == Standing.PAUSE for row in self._rows.standings_of(item))
            for task in self._tasks(item):
                if paused or task.each_shift or task.strokes is not None or task.strokes_for or task.after or task.life:
                    wanted[str(LineName(item, task.id))] = (self.known.items[item], task)
        wanted |= self._waiting_for_stops()
        for item in sorted(self.counter.holders(self.counter.counted)):
            wanted |= {str(LineName(item, t.id)): (self.known.items[item], t) for t in self._tasks(item) if t.life}
        for item, signed in sorted(self._touched):
            owner = self.known.items[item]
            for task in self._tasks(item):
                if task.id == signed:
                    wanted[str(LineName(item, task.id))] = (owner, task)
        gone = [] if not self._everything else sorted(set(self._lines.all_names()) - set(wanted))
        return list(wanted.values()), gone

    def _waiting_for_stops(self) -> dict[str, tuple[Item, Task]]:
        """The lines that wait for a change of tools on a press on which they were changed: of all that hung there."""
        if self._tools_moved is None or not any(task.at_next_stop for task in self.known.tasks.values()):
            return {}
        presses = [item for item in self.counter.items if self.known.items[item].kind is Kind.PRESS]
        hung = {item for press in presses for item in self._rows.items_staying(press, utc_text(self._tools_moved))}
        return {
            str(LineName(item, task.id)): (self.known.items[item], task)
            for item in sorted(hung)
            for task in self._tasks(item)
            if task.at_next_stop
        }

    def _tasks(self, item: str) -> list[Task]:
        return self.known.tasks_on(self.known.items[item])


def _is_of(recorded: Recorded, task: str) -> bool:
    return isinstance(recorded.entry, Sign | Cancel | Defer) and recorded.entry.task == task
