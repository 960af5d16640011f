"""The book as it stood at a moment, as known with some entry: read from the tables, not played again.

What the tables say of a moment they say by themselves (:mod:`upkeep.store.past`).  Three things they cannot: what is
known by entries that were not written yet is taken back; strokes at the edges of stays after the last count of then
are told without the counts of later; and holds and lines, of which the tables keep the present ones only, are judged.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta

from upkeep.counting.strokes import BEGINNING
from upkeep.entries.entry import Recorded
from upkeep.entries.standing import Closing
from upkeep.keeping.definitions import Known
from upkeep.keeping.effect import target_of, without_effect
from upkeep.keeping.gathering import looked_at
from upkeep.keeping.judging import Judge
from upkeep.keeping.projecting import Projector
from upkeep.plant.model import Kind
from upkeep.progress import watched
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.past import PastFile
from upkeep.store.projections import Projections
from upkeep.store.rows.counts import LONGEST_RUN_MINUTES, MarkRow
from upkeep.store.rows.lines import LineRow
from upkeep.store.rows.places import FittingRow, PutRow, StayRow
from upkeep.store.rows.signatures import DeferralRow, HappeningRow, SignOffRow, StandingRow, StatedRow
from upkeep.store.rows_of_many import LineKey, by_line
from upkeep.units.instants import NEVER, from_utc_text, utc_text

_LONGEST_RUN = timedelta(minutes=LONGEST_RUN_MINUTES)

ALL = 2**62
"""Above every entry's number: all that is known now."""


class AsOf:
    """A book at one moment; ``file`` reads like a book that ended then.

    ``through`` leaves out what entries with a higher number made known, ``written_by`` what was written later.
    ``known`` are the definitions of then, ``now`` those in force; for ``spare`` see :class:`PastFile`.
    """

    def __init__(
        self, file: BookFile, moment: datetime, known: Known, now: Known, *,
        through: int = ALL, written_by: datetime = NEVER, spare: PastFile | None = None,
    ) -> None:  # fmt: skip
        self.known, self._at = known, utc_text(moment)
        self._runs_end = utc_text(min(moment, NEVER - _LONGEST_RUN) + _LONGEST_RUN)
        self._present, self._written, self._watch = Projections(file), EntryStore(file), file.watch
        everything = through == ALL and written_by == NEVER
        later = [] if everything else list(self._written.later_than(through, utc_text(written_by), self._at))
        rewrite = bool(later) or self._counted_otherwise(now)
        self.file = PastFile(file, self._at, through, utc_text(written_by), rewrite=rewrite, spare=spare)
        self.file.watch = self._watch
        self._projector = Projector(self.file, now)
        self._rows = Projections(self.file)
        self.file.define(known.rows, set(now.items) - set(known.items))
        if later:
            self._take_back(later)
        self._tell_strokes_anew(now)
        self._projector.counter.settle()
        self.file.worked_out_by(self._projector.standings_anew, self._lines)

    # What entries of later made known

    def _take_back(self, later: list[Recorded]) -> None:
        numbers = {recorded.id for recorded in later}
        lost = {recorded.id for recorded in later if self._present.effect_lost_through(recorded.id) is not None}
        came: list[Recorded] = []
        went = [recorded for recorded in later if recorded.id not in lost]
        concerned = self._concerned(later, numbers)
        lost_then = without_effect(concerned)
        regained = []
        for recorded in concerned:
            through = self._present.effect_lost_through(recorded.id)
            if through is not None and recorded.id not in lost_then:
                came.append(recorded)
                regained.append(recorded.id)
            elif through is None and recorded.id in lost_then:
                went.append(recorded)
        self._rows.set_effect(lost_then.items(), [*regained, *lost_then])
        happened = list(filter(self._had_happened, came)), list(filter(self._had_happened, went))
        self._projector.swap(*happened, self._watch)

    def _had_happened(self, recorded: Recorded) -> bool:
        return utc_text(recorded.entry.at) <= self._at

    def _concerned(self, later: Iterable[Recorded], numbers: set[int]) -> list[Recorded]:
        """The entries whose effect those of later have to do with: what they correct or strike, and what that did."""
        concerned: dict[int, Recorded] = {}
        waiting = [target for recorded in later if (target := target_of(recorded)) is not None]
        while waiting:
            number = waiting.pop()
            recorded = None if number in concerned or number in numbers else self._written.by_number(number)
            if recorded is None:
                continue
            concerned[number] = recorded
            waiting += [other.id for other in self._written.referring_to(number)]
            if (target := target_of(recorded)) is not None:
                waiting.append(target)
        return list(concerned.values())

    # Strokes told without the counts of later

    def _counted_otherwise(self, now: Known) -> bool:
        """Whether a counter had other figures then than it has now: its marks are made again by those."""
        if self.known.last_entry == now.last_entry:
            return False
        return any(item.digits != now.items[key].digits for key, item in self.known.items.items() if key in now.items)

    def _tell_strokes_anew(self, now: Known) -> None:
        counter = self._projector.counter
        if self.known.last_entry != now.last_entry:
            self._projector.learn(self.known)
        still = set(self._present.presses_that_stood_still())
        for press in self._counted(now):
            since = self._settled_until(press)
            if since is not None:
                if press in still:
                    counter.remake_still(press, since)
                for item in self._present.items_with_edge_between(press, since, self._at):
                    if item != press and item in self.known.items:
                        counter.remake_stays(item, from_utc_text(since) if since else BEGINNING)

    def _counted(self, now: Known) -> Iterator[str]:
        for item in now.items.values():
            if item.kind is Kind.PRESS or item.digits is not None:
                yield item.id

    def _settled_until(self, press: str) -> str | None:
        """The moment up to which strokes on a press are told by what had happened; None: all are."""
        running = self._present.quantities_running(press, self._at, self._runs_end)
        if not running and self._present.mark_after(press, self._at) is None:
            return None
        mark = self._present.mark_at(press, min([self._at, *(made.since for made in running)]))
        return mark.at if mark else ""

    # Lines

    def _lines(self, item: str | None) -> Iterator[LineRow]:
        keys = self.known.items if item is None else {item} & self.known.items.keys()
        owners = [self.known.items[key] for key in keys]
        lines = [(owner, task) for owner in owners for task in self.known.tasks_on(owner)]
        rows = self._rows
        if item is None and not self.file.rewrite:  # what was written over, SQLite would read whole for many at once
            rows = RowsAtOnce(self.file, {(owner.id, task.id): looked_at(self.known, task) for owner, task in lines})
        judge = Judge(rows, self.known)
        return watched((judge.row(owner, task) for owner, task in lines), "lined", len(lines), self._watch)


_LATEST = 8
"""No more sign-offs of a line than that are read at once; few lines ask for more, and those look them up."""


class RowsAtOnce(Projections):
    """The rows behind lines, read at once: what each of them asks for, and most have none of.

    Answers for some lines, each with how many of its sign-offs are looked at, from what was read when it was made; for
    others, and for all else, as the file does.

    Made to judge lines one after another while nothing is written.
    """

    def __init__(self, file: BookFile, lines: Mapping[LineKey, int]) -> None:
        super().__init__(file)
        file.standings_wanted()
        items = {item for item, _ in lines}
        self._read = {line: min(number, _LATEST) for line, number in lines.items()}
        self._done: dict[LineKey, list[SignOffRow]] = {}
        for number in {*self._read.values()}:
            alike = [line for line, read in self._read.items() if read == number]
            self._done |= by_line(self.sign_offs_of(alike, Closing.DONE, number), alike)
        self._cancelled = by_line(self.sign_offs_of(lines, Closing.CANCELLED, _LATEST), lines)
        self._deferrals = by_line(self.deferrals_of_lines(lines), lines)
        self._stated_of = by_line(self.stated_of(lines), lines)
        self._last_fittings = dict.fromkeys(items) | {row.item: row for row in self.last_fittings_of(items)}
        self._last_stays = dict.fromkeys(items) | self.last_stays_of(items)
        self._last_puts = dict.fromkeys(items) | {row.item: row for row in self.last_puts_of(items)}
        self._uncounted, self._happened = set(self.with_uncounted(items)), set(self.with_happenings(items))
        self._items, self._marks = items, {row.press: row for row in self.last_marks()}
        self._doubted: tuple[str, list[MarkRow]] | None = None
        self._standings: dict[str, list[StandingRow]] = {item: [] for item in items}
        for row in self.all_standings():
            self._standings.setdefault(row.item, []).append(row)

    def last_sign_offs(self, item: str, task: str, how: str, limit: int) -> list[SignOffRow]:
        """The latest sign-offs ("done") or cancellations ("cancelled") that answer an occurrence, newest first."""
        done = how == Closing.DONE
        rows = (self._done if done else self._cancelled).get((item, task))
        read = self._read[item, task] if done and rows is not None else _LATEST
        if rows is None or (limit > read <= len(rows)):
            return super().last_sign_offs(item, task, how, limit)
        return rows[:limit]

    def deferrals_of(self, item: str, task: str) -> list[DeferralRow]:
        """The deferrals of a line in effect, by when they were decided; those of past occurrences among them."""
        rows = self._deferrals.get((item, task))
        return super().deferrals_of(item, task) if rows is None else rows

    def last_stated(self, item: str, task: str) -> StatedRow | None:
        """What was last stated about a line; None where nobody stated anything."""
        rows = self._stated_of.get((item, task))
        return super().last_stated(item, task) if rows is None else next(iter(rows), None)

    def last_fitting(self, item: str) -> FittingRow | None:
        """The latest fitting of an item, ended or not; None where it never sat in anything."""
        return self._last_fittings[item] if item in self._last_fittings else super().last_fitting(item)

    def last_put(self, item: str) -> PutRow | None:
        """Where an item was put last while it sat in nothing; None where nobody said."""
        return self._last_puts[item] if item in self._last_puts else super().last_put(item)

    def last_stay(self, item: str) -> StayRow | None:
        """The latest stay of an item on a press, ended or not; None where it never was on one."""
        return self._last_stays[item] if item in self._last_stays else super().last_stay(item)

    def last_mark(self, press: str) -> MarkRow | None:
        """The latest mark of a press; None where it was never counted."""
        return self._marks.get(press)

    def marks_in_doubt(self, after: str) -> list[MarkRow]:
        """The marks of all presses after a moment that end a step whose strokes had to be guessed."""
        if self._doubted is None or after < self._doubted[0]:
            self._doubted = after, super().marks_in_doubt(after)
        return [row for row in self._doubted[1] if row.at > after]

    def has_uncounted(self, item: str) -> bool:
        """Whether an item has any uncounted strokes."""
        return item in self._uncounted if item in self._items else super().has_uncounted(item)

    def last_happening(self, item: str, what: str, before: str) -> HappeningRow | None:
        """The latest event of a kind on an item before a moment; None where there was none."""
        if item in self._items and item not in self._happened:
            return None
        return super().last_happening(item, what, before)

    def standings_of(self, item: str) -> list[StandingRow]:
        """The holds and pauses in force on an item."""
        rows = self._standings.get(item)
        return super().standings_of(item) if rows is None else rows
