"""The book as front ends see it: one object for one thread, with verbs that answer with frozen views."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from types import TracebackType

from upkeep.book import reading, weekly
from upkeep.book.known import PLANT_KEY, Known
from upkeep.book.proof import ProofReport, prove
from upkeep.book.questions import Question
from upkeep.book.replay import Replay
from upkeep.book.tallies import Tallies
from upkeep.book.views import (
    Board,
    BoardLine,
    BoardQuery,
    HistoryLine,
    LifeNumbers,
    LineDetail,
    Round,
    SignForm,
    StateChange,
    WeekList,
    Written,
)  # fmt: skip
from upkeep.book.writing import Writer
from upkeep.entries.kinds import Define, Entry, Recorded
from upkeep.entries.text import line_of
from upkeep.errors import NotFound, StrokebookError
from upkeep.planning.forecast import Forecast
from upkeep.plant.definition import Definition
from upkeep.plant.model import Item, Person, Place, PlantFacts, Task
from upkeep.store.backup import copy_to
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER, Zone, from_utc_text, utc_text
from upkeep.units.shifts import ShiftCalendar


class _NotKept(Exception):
    """Ends a transaction whose only purpose was to see what it would do."""


class Book:
    """One plant's book.  Use it as a context manager, from one thread.

    Moments are aware UTC datetimes and always come from the caller.  Reading methods take ``at``: a moment before the
    last entry shows the book as it stood then, by a replay of the entries that had happened.  ``known_at`` leaves out
    what was written later: the book as the plant knew it then, before later corrections.
    """

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._known: Known | None = None
        self._past: tuple[object, reading.Views] | None = None
        self._tallies = Tallies(file)

    @classmethod
    def create(cls, path: Path) -> Book:
        """A new, empty book; raises :class:`BookUnavailable` where a file already is."""
        return cls(BookFile.create(path))

    @classmethod
    def open(cls, path: Path) -> Book:
        """An existing book; raises :class:`BookUnavailable` or :class:`BookDamaged` with what to do."""
        return cls(BookFile.open(path))

    @classmethod
    def open_copy(cls, path: Path) -> Book:
        """A backup to look into and prove; nothing is written, not even beside it."""
        return cls(BookFile.open_copy(path))

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Closes the file."""
        self._file.close()

    @property
    def path(self) -> Path:
        """The book's file."""
        return self._file.path

    # The plant

    @property
    def known(self) -> Known:
        """All definitions in force, read again when somebody has changed them."""
        row = self._file.row("SELECT max(id) FROM entries INDEXED BY entries_of_definitions WHERE kind = 'define'")
        last = (row[0] if row else None) or 0
        if self._known is None or self._known.last_entry != last:
            self._known = Known(Projections(self._file).definitions())
        return self._known

    @property
    def facts(self) -> PlantFacts:
        """The plant's name, zone and shifts."""
        return self.known.facts

    @property
    def zone(self) -> Zone:
        """The plant's time zone."""
        return self.known.zone

    @property
    def calendar(self) -> ShiftCalendar:
        """The plant's shifts."""
        return self.known.calendar

    def people(self) -> tuple[Person, ...]:
        """Everybody who has ever been defined, by id."""
        return tuple(self.known.people.values())

    def places(self) -> tuple[Place, ...]:
        """Every place, by id."""
        return tuple(self.known.places.values())

    def items(self) -> tuple[Item, ...]:
        """Every item, by id."""
        return tuple(self.known.items.values())

    def tasks(self) -> tuple[Task, ...]:
        """Every task, by id."""
        return tuple(self.known.tasks.values())

    # Writing

    def write(self, entries: Sequence[Entry], recorded_at: datetime, teller: str | None = None) -> Written:
        """Writes entries, all or none, and answers with their numbers and the lines that changed state.

        ``recorded_at`` stamps entries that carry no such moment; ``teller`` is who writes down what others did and
        signed on paper (None: those who sign).  Raises :class:`Refused` (or
        :class:`AlreadySigned`, :class:`NotFound`) with the sentence for the writer; then nothing was changed.
        """
        if not entries:
            return Written(())
        with self._file.writing():
            return Writer(self._file, self.known, recorded_at, teller).write(entries)

    def load(
        self, definitions: Sequence[Definition], at: datetime, by: str, recorded_at: datetime, because: str = ""
    ) -> Written:
        """Writes the definitions that differ from those in force; the same files twice change nothing."""
        return self.write([self._define(one, at, by, because) for one in self.changed(definitions)], recorded_at)

    def preview(
        self, definitions: Sequence[Definition], at: datetime, by: str, recorded_at: datetime
    ) -> tuple[StateChange, ...]:
        """The lines that loading definitions would move, with nothing written."""
        changes: tuple[StateChange, ...] = ()
        try:
            with self._file.writing():
                entries = [self._define(one, at, by) for one in self.changed(definitions)]
                changes = Writer(self._file, self.known, recorded_at).write(entries).changes
                raise _NotKept
        except _NotKept:
            self._known = self._past = None
            return changes

    def refusals(self, entries: Sequence[Entry], recorded_at: datetime) -> dict[int, str]:
        """Which of some entries the book would refuse, by their place, and why; each tried alone, nothing written."""
        refused: dict[int, str] = {}
        for place, entry in enumerate(entries):
            try:
                with self._file.writing():
                    Writer(self._file, self.known, recorded_at).write([entry])
                    raise _NotKept
            except _NotKept:
                self._known = self._past = None
            except StrokebookError as error:
                refused[place] = str(error)
        return refused

    def changed(self, definitions: Sequence[Definition]) -> tuple[Definition, ...]:
        """The definitions that are new or differ from those in force."""
        kept = {(row[0], row[1]): row[2] for row in Projections(self._file).definitions()}
        return tuple(one for one in definitions if kept.get((one.what, _key(one))) != one.text)

    def defines(self, what: str, key: str) -> bool:
        """Whether something of that kind and id is defined already."""
        return any(row[:2] == (what, key) for row in Projections(self._file).definitions())

    @staticmethod
    def _define(one: Definition, at: datetime, by: str, because: str = "") -> Define:
        return Define(at=at, by=by, what=one.what, key=_key(one), content=one.text, because=because)

    # Reading

    def version(self) -> tuple[int, int]:
        """Changes whenever any process has written; cheap enough to ask every second."""
        return self._file.version()

    def last_moment(self) -> datetime | None:
        """The moment of the latest entry in effect; None in an empty book."""
        found = EntryStore(self._file).last_moment()
        return from_utc_text(found) if found else None

    def _views(self, at: datetime, known_at: datetime | None = None) -> reading.Views:
        last = self.last_moment()
        if known_at is None and (last is None or at >= last):
            return reading.Views(self._file, self.known, self._tallies)
        asked = (utc_text(at), utc_text(known_at or NEVER))
        return self._past_views(asked, lambda one: one.entry.at <= at and _was_written(one, known_at))

    def _past_views(self, asked: tuple[object, ...], wanted: Callable[[Recorded], bool]) -> reading.Views:
        """Views of the book as some of its entries make it; kept until another past is asked for."""
        asked = (*asked, self.version())
        if self._past is None or self._past[0] != asked:
            self._past = (asked, reading.Views(*self._as_it_stood(wanted)))
        return self._past[1]

    def _as_it_stood(self, wanted: Callable[[Recorded], bool]) -> tuple[BookFile, Known]:
        entries = [one for one in EntryStore(self._file).all() if wanted(one)]
        replay = Replay(entries)
        past = BookFile.in_memory()
        with past.writing():
            EntryStore(past).copy(entries, EntryStore(self._file))
            Projections(past).fill(replay.tables)
            LineStore(past).add(replay.tables["lines"])
        return past, replay.known

    def board(
        self,
        at: datetime,
        query: BoardQuery | None = None,
        *,
        offset: int = 0,
        limit: int = 50,
        known_at: datetime | None = None,
    ) -> Board:
        """A window of all lines that match, most urgent first."""
        return self._views(at, known_at).board(at, query or BoardQuery(), offset, limit)

    def line(self, line: str, at: datetime, *, known_at: datetime | None = None) -> BoardLine:
        """One line by name; raises :class:`NotFound` with near misses."""
        return self._views(at, known_at).line(line, at)

    def detail(self, line: str, at: datetime, *, known_at: datetime | None = None) -> LineDetail:
        """One line with the life of its item and its history."""
        return self._views(at, known_at).detail(line, at)

    def round(self, place: str, at: datetime, *, known_at: datetime | None = None) -> Round:
        """What one place asks of its operator this shift."""
        return self._views(at, known_at).round(place, at)

    def sign_form(self, line: str, at: datetime, *, known_at: datetime | None = None) -> SignForm:
        """All that a sign-off of a line asks for."""
        return self._views(at, known_at).sign_form(line, at)

    def life(self, item: str, at: datetime, *, known_at: datetime | None = None) -> LifeNumbers:
        """The strokes of an item."""
        return self._views(at, known_at).life(item, at)

    def hanging(self, at: datetime) -> tuple[tuple[str, str], ...]:
        """What sits in what at a moment, as (item, inside)."""
        return self._views(at).hanging()

    def forecast(self, line: str, at: datetime, *, known_at: datetime | None = None) -> Forecast:
        """When a line will be due by strokes, the chance of it day by day, and the last safe day."""
        return self._views(at, known_at).forecast(line, at)

    def questions(self, at: datetime) -> tuple[Question, ...]:
        """What the counts leave open, for a person to answer."""
        return self._views(at).questions()

    def told(self, item: str, kind: str, since: datetime | None = None) -> Iterator[Entry]:
        """What was ever told about an item in entries of one kind (since a moment), in effect or not."""
        from_at = "" if since is None else utc_text(since)
        for one in EntryStore(self._file).of_item(item, (kind,), from_at=from_at, in_effect=False):
            yield one.entry

    def holds(self) -> tuple[tuple[str, datetime, str], ...]:
        """Every held item with since when and why."""
        return tuple((row[0], from_utc_text(row[2]), row[3]) for row in Projections(self._file).holds())

    def stated(self) -> dict[tuple[str, str], str]:
        """The day (ISO) on which each line, by item and task, was last stated to have been done before the book."""
        return {(row[0], row[1]): row[3] for row in Projections(self._file).all_stated()}

    def history(self, item: str | None = None, limit: int = 200) -> tuple[HistoryLine, ...]:
        """The newest entries, of one item or of all, with what became of them."""
        return reading.Views(self._file, self.known).history(item, None, limit)

    def newest_written(self, limit: int) -> tuple[HistoryLine, ...]:
        """The entries written last, newest first, whenever they happened."""
        return reading.Views(self._file, self.known).newest_written(limit)

    def entry(self, number: int) -> Entry:
        """The entry with a number; raises :class:`NotFound`."""
        found = EntryStore(self._file).one(number)
        if found is None:
            raise NotFound("entry", f"#{number}")
        return found.entry

    def week(
        self,
        at: datetime,
        *,
        week: str | None = None,
        area: str | None = None,
        by: str = "",
        known_at: datetime | None = None,
    ) -> WeekList:
        """The weekly due list of an ISO week (the week of ``at`` where none is named)."""
        return weekly.week_list(self._views(at, known_at), at, week, area, by)

    def week_of_revision(
        self, revision: int, week: str, area: str | None = None, *, at: datetime | None = None
    ) -> WeekList:
        """The weekly due list as it was printed when ``revision`` was the number of the book's last entry.

        ``at`` is the moment it was printed; None: the moment at which that entry was written.  Raises
        :class:`NotFound` for a number that no entry has yet.
        """
        last = self.entry(revision)
        moment = at or last.recorded_at or last.at
        views = self._past_views(
            (revision, utc_text(moment)), lambda one: one.id <= revision and one.entry.at <= moment
        )
        return weekly.week_list(views, moment, week, area, "")

    def answer_to(self, line: str, occurrence: str) -> HistoryLine | None:
        """The sign-off or cancellation in effect that answers an occurrence of a line; None: nothing does."""
        item, _, task = line.partition("/")
        return reading.Views(self._file, self.known).answer_to(item, task, occurrence)

    def press_of(self, item: str, at: datetime) -> str | None:
        """The press on which an item hung at a moment, as known now; None: it hung on none."""
        return reading.Views(self._file, self.known).press_of(item, at)

    def next_change(self, after: datetime) -> datetime | None:
        """The first moment after one at which a line changes state by itself; None: none is in sight."""
        found = LineStore(self._file).next_edge(utc_text(after))
        return None if found is None or found.startswith("9999") else from_utc_text(found)

    def changed_lines(self, after: datetime, until: datetime) -> tuple[str, ...]:
        """The lines that change state by themselves within (after, until]."""
        return tuple(LineStore(self._file).changed_between(utc_text(after), utc_text(until)))

    # Proof and copies

    def prove(self) -> ProofReport:
        """Re-plays all entries, compares every projection and follows the chain."""
        with self._file.reading():
            return prove(self._file)

    def backup(self, target: Path) -> None:
        """A complete copy of the book in a new file, while others go on writing."""
        copy_to(self._file, target)

    def written_after(self, number: int, link: str) -> Iterator[Recorded]:
        """The entries after a number, in order, each proven to follow from the link of the chain before it.

        Raises :class:`BookDamaged` at the first that does not; those before it were given already.
        """
        return EntryStore(self._file).after(number, link)

    def export(self) -> Iterator[str]:
        """Every entry as its one-line text, in the order written."""
        zone = self.zone
        for one in EntryStore(self._file).all():
            yield line_of(one.entry, zone)


def _key(one: Definition) -> str:
    return PLANT_KEY if one.what == "plant" else one.key


def _was_written(one: Recorded, by: datetime | None) -> bool:
    return by is None or (one.entry.recorded_at or one.entry.at) <= by
