"""What a book answers: its plant, and frozen views of any moment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING

from upkeep.answers.standpoints import Standpoints
from upkeep.errors import NotFound
from upkeep.keeping.definitions import Known
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Place, Task
from upkeep.plant.people import Person
from upkeep.plant.values.facts import PlantFacts
from upkeep.progress import Watch, nobody
from upkeep.said import said
from upkeep.store.file import BookFile
from upkeep.units.instants import NEVER, Zone, from_utc_text, utc_text
from upkeep.units.measures import shown_in
from upkeep.units.shifts import ShiftCalendar
from upkeep.wording.sentences import Reader

if TYPE_CHECKING:
    from upkeep.answers.checks.checks import CheckViews
    from upkeep.answers.checks.forms import CheckForms
    from upkeep.answers.faults.faults import FaultViews
    from upkeep.answers.suspect.hold_lists import SuspectViews
    from upkeep.answers.wear.wear import WearViews
    from upkeep.entries.counting import UncountedStrokes
    from upkeep.entries.entry import Entry
    from upkeep.planning.forecast import Forecast
    from upkeep.plant.names import Names
    from upkeep.views.board import Board, BoardLine, BoardQuery, LineDetail
    from upkeep.views.figures import Figures
    from upkeep.views.items import HeldItem, HistoryLine, LifeNumbers
    from upkeep.views.questions import Disputed, Question
    from upkeep.views.round import Round
    from upkeep.views.signing import Caution
    from upkeep.views.training import TrainingEnd


class Answers:
    """The questions a book answers; nothing here writes.

    Each room behind a question is imported when the question is asked: a command asks one, and waits for its imports.

    Moments are aware UTC datetimes and always come from the caller.  ``at``: a moment before the last entry shows the
    book as it stood then, by all that is known now.  ``known_at`` leaves out what was written later: the book as the
    plant knew it then, before later corrections.
    """

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._seen_from = Standpoints(file)
        self._stores = self._seen_from.stores

    # The plant

    @property
    def known(self) -> Known:
        """All definitions in force, read again when somebody has changed them."""
        return self._seen_from.known

    @property
    def names(self) -> Names:
        """What people are called, and were called when they signed."""
        return self._seen_from.names

    @property
    def facts(self) -> PlantFacts:
        """The plant's name, zone and shifts."""
        return self.known.facts

    @property
    def zone(self) -> Zone:
        """The plant's time zone."""
        return self.known.zone

    def reader(self, language: str) -> Reader:
        """Who reads a language here: with what the plant wrote in it, in the units of the plant."""
        return Reader(language, texts=self.known.texts_in(language), units=shown_in(self.facts.units))

    def reader_of(self, person: str, otherwise: Reader) -> Reader:
        """Who a person is as a reader: in their own language, where they have one."""
        known = self.known.people.get(person)
        return otherwise if known is None or known.language is None else self.reader(known.language)

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

    # Views

    def version(self) -> tuple[int, ...]:
        """Changes whenever any process has written; cheap enough to ask every second."""
        return self._file.version()

    def takes_lines_as_they_say(self) -> bool:
        """Whether entry lines without a moment of writing were written when they happened.

        So where an exported book is played again into an empty one, or what a backup lacks is entered into a book
        just restored.  Into a living book somebody types them, whatever they tell of: they are written now.
        """
        from upkeep.entries.bookkeeping import Note

        newest = self._stores.entries.last_written(1)
        return not newest or (isinstance(note := newest[0][0].entry, Note) and note.restored)

    def last_moment(self) -> datetime | None:
        """The moment of the latest entry in effect; None in an empty book."""
        return self._seen_from.last_moment()

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
        from upkeep.answers.board import Boards
        from upkeep.views.board import BoardQuery

        return Boards(self._seen_from.at(at, known_at)).window(query or BoardQuery(), offset, limit)

    def line(self, line: str, at: datetime, *, known_at: datetime | None = None) -> BoardLine:
        """One line by name; raises :class:`NotFound` with near misses."""
        from upkeep.answers.board import Boards

        return Boards(self._seen_from.at(at, known_at)).line(line)

    def detail(self, line: str, at: datetime, *, known_at: datetime | None = None) -> LineDetail:
        """One line with the life of its item and its history."""
        from upkeep.answers.life import detail

        return detail(self._seen_from.at(at, known_at), line)

    def round(self, place: str, at: datetime, *, known_at: datetime | None = None) -> Round:
        """What one place asks of its operator this shift."""
        from upkeep.answers.round import Rounds

        return Rounds(self._seen_from.at(at, known_at)).of(place)

    def life(self, item: str, at: datetime, *, known_at: datetime | None = None) -> LifeNumbers:
        """The strokes of an item."""
        from upkeep.answers.life import life

        return life(self._seen_from.at(at, known_at), item)

    def hanging(self, at: datetime) -> tuple[tuple[str, str], ...]:
        """What sits in what at a moment, as (item, inside)."""
        return tuple(self._seen_from.at(at).rows.hanging())

    def forecast(self, line: str, at: datetime, *, known_at: datetime | None = None) -> Forecast:
        """When a line will be due by strokes, the chance of it day by day, and the last safe day."""
        from upkeep.answers.board import Boards
        from upkeep.answers.forecast import forecast_of

        context = self._seen_from.at(at, known_at)
        return forecast_of(context, Boards(context).line(line))

    def questions(self, at: datetime) -> tuple[Question, ...]:
        """What the counts leave open for a person to answer, and what somebody has to know of, until it is seen."""
        from upkeep.answers.unseen import unseen

        return unseen(self._seen_from.at(at))

    def seen(self, about: str, by: str, at: datetime) -> Sequence[Entry]:
        """The entries by which somebody says to have seen what is asked about an item or task; raises :class:`Refused`
        where nothing is."""
        from upkeep.answers.unseen import seen

        return seen(self._seen_from.at(at), about, by)

    def cautions(self, entries: Sequence[Entry]) -> tuple[Caution, ...]:
        """What to mind before the work is done that some entries sign off."""
        from upkeep.answers.cautions import cautions

        return cautions(self._seen_from.known, entries)

    def training_ends(self, at: datetime) -> tuple[TrainingEnd, ...]:
        """Whose training ends soon, or ended a short time ago, the earliest first."""
        if not self.facts.training:
            return ()
        from upkeep.answers.people.training import training_ends

        return training_ends(self._seen_from.at(at))

    def cautions_for(self, work: Iterable[tuple[str, str]]) -> tuple[Caution, ...]:
        """What to mind before some work is done, each an item and a task."""
        from upkeep.answers.cautions import cautions_of

        return cautions_of(self._seen_from.known, work)

    def told_by(self, person: str, at: datetime) -> tuple[Entry, ...]:
        """What a person was ever entered to have told of a moment, in effect or not."""
        told = self._stores.entries.of_moment(utc_text(at))
        return tuple(recorded.entry for recorded in told if recorded.entry.by == person)

    def entries_of(
        self, item: str, kind: str, since: datetime | None = None, until: datetime | None = None
    ) -> Iterator[Entry]:
        """What was ever told about an item in entries of one kind, in effect or not; of moments from ``since`` to
        ``until``, both included, where they are given."""
        from_at = "" if since is None else utc_text(since)
        to_at = utc_text(until or NEVER)
        for recorded in self._stores.entries.of_item(item, (kind,), from_at=from_at, to_at=to_at, in_effect=False):
            yield recorded.entry

    def holds(self) -> tuple[HeldItem, ...]:
        """Every held item with since when and why."""
        from upkeep.entries.standing import Standing
        from upkeep.views.items import HeldItem

        rows = self._stores.rows.standings(Standing.HOLD)
        return tuple(HeldItem(row.item, from_utc_text(row.since), self.known.reason_of(row)) for row in rows)

    def stated(self) -> dict[tuple[str, str], str]:
        """The day (ISO) on which each line, by item and task, was last stated to have been done before the book; empty:
        nobody knows."""
        return {(row.item, row.task): row.done for row in self._stores.rows.all_stated()}

    def strokes_before(self, item: str) -> Iterator[tuple[int, UncountedStrokes]]:
        """What is told in effect of the strokes an item had done before this book, by the number of its entry."""
        from upkeep.entries.counting import BEFORE_THE_BOOK, UncountedStrokes

        for recorded in self._stores.entries.of_item(item, ("uncounted",)):
            if isinstance(recorded.entry, UncountedStrokes) and recorded.entry.way in BEFORE_THE_BOOK:
                yield recorded.id, recorded.entry

    def history(
        self, item: str | None = None, limit: int = 200, at: datetime = NEVER, *, known_at: datetime | None = None
    ) -> tuple[HistoryLine, ...]:
        """The newest entries of what had happened by a moment, of one item or of all, with what became of them."""
        from upkeep.answers.history import history

        return history(self._seen_from.at(at, known_at), item, None, limit)

    def newest_written(self, limit: int) -> tuple[HistoryLine, ...]:
        """The entries written last, newest first, whenever they happened."""
        from upkeep.answers.history import newest_written

        return newest_written(self._seen_from.now(), limit)

    def entry(self, number: int) -> Entry:
        """The entry with a number; raises :class:`NotFound`."""
        recorded = self._stores.entries.by_number(number)
        if recorded is None:
            raise NotFound(said("entry"), f"#{number}")
        return recorded.entry

    def disputed(self, at: datetime) -> tuple[Disputed, ...]:
        """The readings that later counts say are wrong, until somebody settles it."""
        from upkeep.answers.settling import disputed

        return tuple(disputed(self._seen_from.at(at, None)))

    def settled(
        self, number: int, figure: int | None, *, earlier_stands: bool, at: datetime, by: str, because: str
    ) -> list[Entry]:
        """The entries that settle whether the reading of an entry was wrong; raises :class:`Refused` where nobody
        said so."""
        from upkeep.answers.settling import settled

        context = self._seen_from.at(at, None)
        return list(settled(context, number, figure, earlier_stands=earlier_stands, at=at, by=by, because=because))

    def suspects(self, at: datetime, *, known_at: datetime | None = None) -> SuspectViews:
        """Suspect product: the hold lists behind failed checks and runs while held."""
        from upkeep.answers.suspect.hold_lists import SuspectViews

        return SuspectViews(self._seen_from.at(at, known_at))

    def wear(self, at: datetime, *, known_at: datetime | None = None) -> WearViews:
        """Wear: measured points with their trends, intervals, lives of parts, slugs, pictures."""
        from upkeep.answers.wear.wear import WearViews

        return WearViews(self._seen_from.at(at, known_at))

    def checks(self, at: datetime, *, known_at: datetime | None = None) -> CheckViews:
        """Checks: gauges and what they cast doubt on, set-ups, charts."""
        from upkeep.answers.checks.checks import CheckViews

        return CheckViews(self._seen_from.at(at, known_at))

    def check_forms(self, at: datetime, *, known_at: datetime | None = None) -> CheckForms:
        """What a check asks for before it is written: which die set, its crimps, limits and gauges."""
        from upkeep.answers.checks.forms import CheckForms

        return CheckForms(self._seen_from.at(at, known_at))

    def faults(self, at: datetime, *, known_at: datetime | None = None) -> FaultViews:
        """Faults: how far they have come, their likely causes, whether they came back."""
        from upkeep.answers.faults.faults import FaultViews

        return FaultViews(self._seen_from.at(at, known_at))

    def figures(
        self, at: datetime, *, first: date | None = None, last: date | None = None, area: str | None = None,
        item: str | None = None, known_at: datetime | None = None, watch: Watch = nobody,
    ) -> Figures:  # fmt: skip
        """The figures of some days, of the plant, an area or an item; raises :class:`Refused` where there are none.

        ``watch`` is told how many lines of the board were gone through.
        """
        from dataclasses import replace

        from upkeep.answers.figures.indicators import Figured
        from upkeep.answers.figures.on_time import figures

        context = self._seen_from.at(at, known_at)
        on_time, figured = figures(context, at, first, last, area, watch, item=item), Figured(context, area, item)
        return replace(on_time, indicators=figured.all(figured.span(on_time.first_day, on_time.last_day)))

    def answer_to(self, line: str, occurrence: str) -> HistoryLine | None:
        """The sign-off or cancellation in effect that answers an occurrence of a line; None: nothing does."""
        from upkeep.answers.history import answer_to

        return answer_to(self._seen_from.now(), *LineName.read(line), occurrence)

    def press_of(self, item: str, at: datetime) -> str | None:
        """The press on which an item hung at a moment, as known now; None: it hung on none."""
        from upkeep.answers.life import press_at

        return press_at(self._seen_from.now(at), item, at)

    def next_change(self, after: datetime) -> datetime | None:
        """The first moment after one at which a line changes state by itself; None: none is in sight."""
        edge = self._stores.lines.next_edge(utc_text(after))
        return None if edge is None or edge.startswith("9999") else from_utc_text(edge)

    def changed_lines(self, after: datetime, until: datetime) -> tuple[str, ...]:
        """The lines that change state by themselves within (after, until]."""
        return tuple(self._stores.lines.changed_between(utc_text(after), utc_text(until)))

    def defines(self, what: str, key: str) -> bool:
        """Whether something of that kind and id is defined already."""
        return any((row.what, row.key) == (what, key) for row in self._stores.rows.definitions())
