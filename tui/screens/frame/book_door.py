"""What the screens ask of a book."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pathlib import Path

    from upkeep.answers.press.changing import Changing
    from upkeep.answers.press.step_forms import StepForms
    from upkeep.answers.whereabouts.moves import Moves
    from upkeep.book import CheckForms, CheckViews, FaultViews, Known, Naming, Proven, SuspectViews, WearViews
    from upkeep.entries.entry import Entry
    from upkeep.entries.origin import Origin, Proof
    from upkeep.entries.plans.weeks import Decision, FreezeWeek, Propose
    from upkeep.plant.model import Item, Place
    from upkeep.plant.names import Names
    from upkeep.plant.people import Person
    from upkeep.plant.values.facts import PlantFacts
    from upkeep.progress import Watch
    from upkeep.said import Said
    from upkeep.scan_codes import ScanCode
    from upkeep.units.instants import Zone
    from upkeep.units.shifts import ShiftCalendar
    from upkeep.views.board import Board, BoardLine, BoardQuery, LineDetail
    from upkeep.views.evidence.dossier import Dossier
    from upkeep.views.evidence.trace import Trace
    from upkeep.views.figures import Figures
    from upkeep.views.handover import Handover
    from upkeep.views.hints import Hints
    from upkeep.views.items import HeldItem, HistoryLine, LifeNumbers
    from upkeep.views.jobs import Job, Lock
    from upkeep.views.overview.home import Home
    from upkeep.views.overview.shelf import KitList, OrderList, Outside, ShelfRow
    from upkeep.views.overview.whereabouts import Whereabouts, WhereQuery
    from upkeep.views.planned.week_plan import WeekPlan
    from upkeep.views.printed import Printed
    from upkeep.views.questions import Disputed, Question
    from upkeep.views.rights import Wish
    from upkeep.views.round import Round
    from upkeep.views.scanned import Scanned
    from upkeep.views.signing import Caution, SignForm
    from upkeep.views.training import TrainingEnd
    from upkeep.views.week import WeekList
    from upkeep.views.written import Written
    from upkeep.wording.sentences import Reader


class BookDoor(Protocol):
    """What the screens ask of a book; ``upkeep.book.Book`` answers it.  Every call may raise a StrokebookError."""

    @property
    def path(self) -> Path:
        """The file of the book."""

    @property
    def zone(self) -> Zone:
        """The plant's time zone."""

    @property
    def calendar(self) -> ShiftCalendar:
        """The plant's shifts."""

    @property
    def known(self) -> Known:
        """All definitions in force."""

    @property
    def names(self) -> Names:
        """What people are called, and were called when they signed."""

    @property
    def facts(self) -> PlantFacts:
        """What holds for the whole plant."""

    def reader(self, language: str) -> Reader:
        """Who reads a language here, with what the plant wrote in it."""

    @property
    def unproven(self) -> Said | None:
        """That the book did not prove clean, and what was found; None: nothing was."""

    def write_all_the_same(self, *, clock: bool = ...) -> None:
        """Takes entries although the book did not prove clean: whoever writes was told."""

    def close(self) -> None:
        """Lets go of the file."""

    def version(self) -> object:
        """Something that changes whenever any process wrote."""

    @property
    def naming(self) -> Naming:
        """Who is meant by an id or a badge, and how that is proven; for any thread."""

    def why_not(self, wish: Wish, person: str, at: datetime) -> Said | None:
        """Why somebody may not do something, and whom to ask; None: they may."""

    def signing_hints(self, person: str, at: datetime) -> Hints:
        """What stands out in how work was signed, for the lead."""

    def write(
        self,
        entries: Sequence[Entry],
        recorded_at: datetime | Callable[[], datetime],
        origin: Origin = ...,
        proven: Proven | None = ...,
    ) -> Written:
        """Writes all of the entries or none, saying how they came in and how the name under them was proven."""

    def tried(self, entries: Sequence[Entry], recorded_at: datetime, origin: Origin = ...) -> Written:
        """What it would answer to entries, with nothing written."""

    def printed(
        self, at: datetime, by: str = ..., proof: Proof | None = ..., *, known_at: datetime | None = ...
    ) -> Printed:
        """What a paper of a moment says of itself."""

    def entry(self, number: int) -> Entry:
        """The entry with a number."""

    def home(self, at: datetime, person: str | None = ..., area: str | None = ...) -> Home:
        """What the lead has to know first."""

    def where(self, at: datetime, query: WhereQuery | None = ...) -> Whereabouts:
        """Where everything in the plant is."""

    def moves(self, at: datetime, by: str, because: str = ...) -> Moves:
        """What is written where somebody changes tools."""

    def occurrence_signed(self, line: str, at: datetime) -> str:
        """What a sign-off of a line answers of work done at a moment."""

    def hanging(self, at: datetime) -> tuple[tuple[str, str], ...]:
        """What sits in what at a moment, as (item, inside)."""

    def jobs(self, at: datetime) -> tuple[Job, ...]:
        """Every job that has begun and not ended, the oldest first."""

    def locks(self, at: datetime) -> tuple[Lock, ...]:
        """Every lock that hangs on a press, the oldest first."""

    def handover(self, at: datetime, shift: str | None = ...) -> Handover:
        """What a shift hands over to the next; the last one where none is named."""

    def holds(self) -> tuple[HeldItem, ...]:
        """Every held item with since when and why."""

    def board(self, at: datetime, query: BoardQuery = ..., *, offset: int = 0, limit: int = 50) -> Board:
        """A window of lines at an instant, most urgent first."""

    def line(self, line: str, at: datetime) -> BoardLine:
        """One line at an instant."""

    def detail(self, line: str, at: datetime) -> LineDetail:
        """Everything about one line."""

    def round(self, place: str, at: datetime) -> Round:
        """The lines of one place for the running shift."""

    def sign_form(self, line: str, at: datetime) -> SignForm:
        """What a sign-off of a line asks for."""

    def changing(self, at: datetime) -> Changing:
        """Changes of tools."""

    def step_forms(self, at: datetime) -> StepForms:
        """What the next step of a change of tools asks for, and writes."""

    def scanned(self, code: ScanCode, at: datetime) -> Scanned:
        """What a scanned code stands for, unless it is a badge."""

    def people(self) -> tuple[Person, ...]:
        """Everybody who signs or ever signed."""

    def places(self) -> tuple[Place, ...]:
        """Where things stand."""

    def items(self) -> tuple[Item, ...]:
        """Presses, modules, die sets, parts and gauges."""

    def life(self, item: str, at: datetime) -> LifeNumbers:
        """The strokes of an item."""

    def history(self, item: str | None = None, limit: int = ...) -> tuple[HistoryLine, ...]:
        """The newest entries, of one item or of all."""

    def training_ends(self, at: datetime) -> tuple[TrainingEnd, ...]:
        """Whose training ends soon, or ended a short time ago."""

    def questions(self, at: datetime) -> tuple[Question, ...]:
        """What the counts leave open."""

    def seen(self, about: str, by: str, at: datetime) -> Sequence[Entry]:
        """The entries by which somebody says to have seen what is asked about an item."""

    def disputed(self, at: datetime) -> tuple[Disputed, ...]:
        """The readings that later counts say are wrong."""

    def week_plan(self, at: datetime, week: str | None = ...) -> WeekPlan:
        """The plan of a week as it stands."""

    def week_proposal(self, week: str | None, at: datetime, by: str) -> Propose:
        """The levelled week as an entry to be written."""

    def week_freezing(self, week: str | None, at: datetime, by: str) -> FreezeWeek:
        """The list of a week as an entry that freezes it."""

    def week_decision(
        self, week: str, at: datetime, by: str, line: str, decision: Decision, because: str, to: str | None, risk: str
    ) -> Sequence[Entry]:
        """What is decided about a line that was carried over too often, as entries to be written."""

    def week_standing(self, week: str, at: datetime) -> frozenset[str] | None:
        """The lines that stand on the frozen list of a week; None: it is not frozen."""

    def week_of_revision(
        self, revision: int, week: str, area: str | None = ..., *, at: datetime | None = ..., watch: Watch = ...
    ) -> WeekList:
        """A weekly list as it was printed."""

    def answer_to(self, line: str, occurrence: str) -> HistoryLine | None:
        """What answers an occurrence of a line."""

    def press_of(self, item: str, at: datetime) -> str | None:
        """The press on which an item hung."""

    def cautions_for(self, work: Iterable[tuple[str, str]]) -> tuple[Caution, ...]:
        """What to mind before some work is done."""

    def settled(
        self, number: int, figure: int | None, *, earlier_stands: bool, at: datetime, by: str, because: str
    ) -> Sequence[Entry]:
        """The entries that settle whether the reading of an entry was wrong."""

    def figures(self, at: datetime) -> Figures:
        """The figures of this month."""

    def checks(self, at: datetime) -> CheckViews:
        """Gauges and set-ups."""

    def check_forms(self, at: datetime) -> CheckForms:
        """What a check asks for."""

    def faults(self, at: datetime) -> FaultViews:
        """Faults and their likely causes."""

    def suspects(self, at: datetime) -> SuspectViews:
        """Hold lists."""

    def wear(self, at: datetime) -> WearViews:
        """Measured points with their trends."""

    # Evidence

    def dossier(self, item: str, at: datetime) -> Dossier:
        """All the book holds of an item."""

    def trace(self, name: str, at: datetime, *, limit: int | None = None) -> Trace:
        """The set-ups something belongs to, newest first."""

    # The shelf

    def keeps_spares(self) -> bool:
        """Whether the plant keeps spares on a shelf."""

    def shelf(self, at: datetime) -> tuple[ShelfRow, ...]:
        """What lies on the shelf."""

    def to_order(self, at: datetime) -> OrderList:
        """What to order and by when."""

    def kits(self, at: datetime, week: str) -> KitList:
        """The kits of a week."""

    def outside(self, at: datetime) -> tuple[Outside, ...]:
        """What is out for rework, or waits for its receiving inspection."""

    def received(
        self, at: datetime, by: str, spare: str, number: int, *, batch: str | None = None, pieces: Sequence[str] = (),
        used: int = 0, because: str = "",
    ) -> Sequence[Entry]:  # fmt: skip
        """The entries with which spares are received."""
