"""A book in memory for the screens: the verbs of the real one over a list of lines, with little rules of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from upkeep.answers.whereabouts.moves import Moves
from upkeep.book import CheckForms, CheckViews, FaultViews, Known, Naming, Proven, SuspectViews, WearViews
from upkeep.due.holds import ByHand
from upkeep.due.reason_list import Reasons
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault
from upkeep.entries.origin import NOT_KNOWN, Origin, Proof
from upkeep.entries.plans.weeks import Decision, FreezeWeek, Propose
from upkeep.entries.signing import Sign, Verify
from upkeep.entries.text import line_of
from upkeep.errors import AlreadySigned, NotFound, PerhapsRolledOver, Refused
from upkeep.keys.keys import Keys
from upkeep.plant.energy import caution_said
from upkeep.plant.model import Item, Kind, Place, Point, ShiftRule
from upkeep.plant.names import Names
from upkeep.plant.people import Person
from upkeep.plant.values.facts import PlantFacts
from upkeep.progress import Watch, nobody
from upkeep.said import Moment, Said, said
from upkeep.scan_codes import ScanCode
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar
from upkeep.views.board import Board, BoardLine, BoardQuery, LineDetail
from upkeep.views.evidence.dossier import Dossier
from upkeep.views.evidence.trace import Trace
from upkeep.views.figures import Figures
from upkeep.views.handover import Handover
from upkeep.views.hints import Hints
from upkeep.views.items import Hanging, HeldItem, HistoryLine, LifeNumbers
from upkeep.views.jobs import Job, Lock
from upkeep.views.overview.home import Home
from upkeep.views.overview.shelf import KitList, OrderList, Outside, ShelfRow
from upkeep.views.overview.whereabouts import Whereabouts, WhereQuery
from upkeep.views.planned.week_plan import WeekPlan
from upkeep.views.printed import Printed, Seal
from upkeep.views.questions import Disputed, Question
from upkeep.views.rights import Wish
from upkeep.views.round import FoundHere, Round, RoundRow
from upkeep.views.scanned import Scanned
from upkeep.views.signing import Caution, SignForm
from upkeep.views.training import TrainingEnd
from upkeep.views.week import WeekList
from upkeep.views.written import Written
from upkeep.wording.reasons import Plant, reason_said
from upkeep.wording.sentences import Reader

MORNING = datetime(2026, 3, 2, 5, 5, tzinfo=UTC)
"""Monday, 06:05 on the wall in Berlin."""

EVERY_DAY = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
SHIFTS = (
    ShiftRule("early", "06:00", "14:00", EVERY_DAY),
    ShiftRule("late", "14:00", "22:00", EVERY_DAY),
    ShiftRule("night", "22:00", "06:00", EVERY_DAY),
)
PEOPLE = (
    Person("ana", "Ana Example", ("operator",)),
    Person("ben", "Ben Sample", ("maintenance technician",)),
    Person("cleo", "Cleo Pattern", ("quality technician",)),
)
SLUG = Point("slug", "Slug height", "mm", 1.20, 1.30, 1.21, 1.29, readings=2)
BURR = Point("burr", "Burr", "mm", None, 0.05)


_NOT_KEPT = Refused(said("This book keeps no such thing."))


@dataclass(frozen=True, slots=True)
class OnScreen:
    """A reason that says whatever a test wants to see."""

    text: str


@reason_said.register
def _on_screen(reason: OnScreen, plant: Plant) -> Said:
    return said("{words}", words=reason.text)


def showing(words: str) -> Reasons:
    """Reasons that say so, and a full stop."""
    return Reasons((OnScreen(words),))  # type: ignore[arg-type]


def line_at(item: str, task: str, state: State = State.DUE, **given: Any) -> BoardLine:
    """A line with plausible values; what matters to a test is given."""
    values: dict[str, Any] = {
        "line": f"{item}/{task}", "item": item, "item_kind": "module", "item_title": f"{item} of the shop",
        "task": task, "title": task.replace("-", " ").capitalize(), "state": state, "place": "P-07",
        "area": "Hall A", "inside": None, "opens_at": MORNING - timedelta(hours=1),
        "due_at": MORNING - timedelta(minutes=5), "overdue_at": MORNING + timedelta(hours=8), "stop_at": None,
        "due_day": date(2026, 3, 2), "strokes": None, "strokes_high": None, "due_strokes": None, "remaining": None,
        "estimated": False, "missed": 0, "occurrence": "2026-03-02/early", "deferred_to": None,
        "reasons": showing(f"{item} ran in this shift"),
        "last_done_at": MORNING - timedelta(days=1), "last_done_by": "ana", "unverified": None, "minutes": 4,
        "energy": "unplug", "roles": ("operator",), "second_signature": None, "statutory": False,
        "each_shift": True, "source": "plant default, no source",
    }  # fmt: skip
    return BoardLine(**{**values, **given})


def by_strokes(item: str, task: str, state: State, done: int, due: int, **given: Any) -> BoardLine:
    """A line that is due by strokes."""
    facts: dict[str, Any] = {
        "strokes": done, "strokes_high": done, "due_strokes": due, "remaining": due - done, "due_day": None,
        "occurrence": str(due), "each_shift": False,
        "reasons": showing(f"{done:,} of {due:,} strokes since it was last done"),
    }  # fmt: skip
    return line_at(item, task, state, **{**facts, **given})


FINGER_BENT = showing("Held by Ben Sample: feed finger bent")
TECHNICIAN: dict[str, Any] = {"energy": "lock", "roles": ("maintenance technician",)}


def shop_lines() -> list[BoardLine]:
    """A small shop: a line in every state."""
    return [
        by_strokes(
            "DS-031", "wear-inspection", State.STOP, 221_480, 200_000,
            **TECHNICIAN, inside="M-12", minutes=25, due_at=MORNING - timedelta(days=3),
        ),
        line_at("M-44", "feed-check", State.HELD, place="P-03", reasons=FINGER_BENT),
        line_at(
            "P-07", "weekly-oiling", State.OVERDUE,
            **TECHNICIAN, due_day=date(2026, 2, 25), occurrence="2026-02-25", each_shift=False, minutes=15,
            due_at=MORNING - timedelta(days=5), last_done_at=MORNING - timedelta(days=12), last_done_by="ben",
        ),
        line_at("M-12", "daily-clean"),
        line_at("P-07", "press-clean", minutes=5),
        line_at("P-03", "press-clean", place="P-03", area="Hall B", minutes=5),
        by_strokes(
            "DS-102", "wear-inspection", State.OPEN, 192_400, 200_000,
            **TECHNICIAN, estimated=True, strokes_high=196_000, place="P-03", area="Hall B", inside="M-44",
        ),
        line_at(
            "G-1", "calibration", State.LATER, place="lab", due_day=date(2026, 9, 1), occurrence="extra",
            each_shift=False, energy="look", roles=("quality technician",), unverified=4,
            second_signature="quality technician", last_done_at=None,
        ),
        line_at("M-90", "storage-check", State.PAUSED, place="rack-2"),
        line_at("M-91", "daily-clean", State.NOT_REQUIRED, place="P-09"),
    ]  # fmt: skip


@dataclass
class FakeBook:
    """Shared by any number of terminals in a test; ``wrote`` counts writes so that a version can be polled."""

    lines: list[BoardLine] = field(default_factory=shop_lines)
    found: Said | None = None
    held_for: dict[str, str] = field(default_factory=dict)
    counts: dict[str, tuple[int, datetime]] = field(
        default_factory=lambda: {"P-07": (1_204_300, MORNING - timedelta(hours=8))}
    )
    forms: dict[str, dict[str, Any]] = field(default_factory=dict)
    written: list[Entry] = field(default_factory=list)
    origins: list[Origin] = field(default_factory=list)
    asked: list[tuple[int, int]] = field(default_factory=list)
    facts: PlantFacts = field(
        default_factory=lambda: PlantFacts("Crimp shop North", "Europe/Berlin", SHIFTS, undo_seconds=60)
    )
    names: Names = field(default_factory=Names)
    closed: bool = False

    @property
    def path(self) -> Path:
        """It has no file; pictures are tried on a real book."""
        return Path("no.book")

    @property
    def zone(self) -> Zone:
        """Berlin."""
        return Zone(self.facts.zone)

    @property
    def calendar(self) -> ShiftCalendar:
        """Three shifts a day."""
        return ShiftCalendar(self.zone, self.facts.shifts)

    def week_plan(self, at: datetime, week: str | None = None) -> WeekPlan:
        """Weeks are planned on a real book."""
        raise NotImplementedError

    def week_proposal(self, week: str | None, at: datetime, by: str) -> Propose:
        """So they are proposed."""
        raise NotImplementedError

    def week_freezing(self, week: str | None, at: datetime, by: str) -> FreezeWeek:
        """And frozen."""
        raise NotImplementedError

    def week_decision(
        self, week: str, at: datetime, by: str, line: str, decision: Decision, because: str, to: str | None, risk: str
    ) -> Sequence[Entry]:
        """And decided about."""
        raise NotImplementedError

    def week_standing(self, week: str, at: datetime) -> frozenset[str] | None:
        """No week is frozen."""
        return None

    def reader(self, language: str) -> Reader:
        """Reads a language; the plant wrote nothing in another."""
        return Reader(language)

    @property
    def unproven(self) -> Said | None:
        """What a proof found."""
        return self.found

    @property
    def naming(self) -> Naming:
        """Nobody has a badge or a code."""
        return Naming(Known(()), Keys(Path("nowhere"), ""))

    def why_not(self, wish: Wish, person: str, at: datetime) -> Said | None:
        """Everybody may do everything."""
        return None

    def signing_hints(self, person: str, at: datetime) -> Hints:
        """Nobody looks."""
        return Hints(None, at, at, ())

    def printed(
        self, at: datetime, by: str = "", proof: Proof | None = None, *, known_at: datetime | None = None
    ) -> Printed:
        """No press was read, nothing was written."""
        return Printed(self.facts.name, self.facts.zone, at, known_at, by, proof, None, None, (), Seal(0, "00" * 32))

    def write_all_the_same(self, *, clock: bool = False) -> None:
        """Whoever writes was told."""
        self.found = None

    def close(self) -> None:
        """Remembers that it was closed."""
        self.closed = True

    def version(self) -> int:
        """Counts writes."""
        return len(self.written)

    # Reading

    def board(self, at: datetime, query: BoardQuery = BoardQuery(), *, offset: int = 0, limit: int = 50) -> Board:  # noqa: B008
        """A window of lines in the order of urgency."""
        self.asked.append((offset, limit))
        matching = [line for line in self.lines if _matches(line, query)]
        found = [line for line in matching if not query.states or line.state in query.states]
        found.sort(key=lambda line: BOARD_ORDER.index(line.state))
        oldest = min(((when, press) for press, (_, when) in self.counts.items()), default=None)
        return Board(
            at, self.facts.name, self.facts.zone, offset, len(found), tuple(found[offset : offset + limit]),
            {state: sum(line.state is state for line in matching) for state in State},
            oldest[0] if oldest else None, oldest[1] if oldest else None,
        )  # fmt: skip

    def line(self, line: str, at: datetime) -> BoardLine:
        """A line by its name."""
        for one in self.lines:
            if one.line == line:
                return one
        raise NotFound(said("line"), line)

    def detail(self, line: str, at: datetime) -> LineDetail:
        """The line with a life that is estimated where the line is."""
        one = self.line(line, at)
        best, high = one.strokes or 0, one.strokes_high or 0
        numbers = (best, best, high)
        counted = MORNING - timedelta(hours=8)
        life = LifeNumbers(one.item, numbers, None, None, 0, None, one.estimated, None, counted)
        return LineDetail(one, life, self.history(one.item))

    def history(self, item: str | None = None, limit: int = 200) -> tuple[HistoryLine, ...]:
        """What was written on an item, newest first."""
        struck = {entry.entry: place for place, entry in enumerate(self.written, 1) if isinstance(entry, Strike)}
        return tuple(
            self._history_line(number, entry, struck.get(number))
            for number, entry in reversed(list(enumerate(self.written, 1)))
            if item in (None, getattr(entry, "item", None))
        )[:limit]

    def _history_line(self, number: int, entry: Entry, struck: int | None) -> HistoryLine:
        name = next((person.name for person in PEOPLE if person.id == entry.by), entry.by)
        text = line_of(entry, self.zone)
        return HistoryLine(number, entry.at, entry.at, "2026-03-02", entry.by, name, "sign", text, struck)

    def round(self, place: str, at: datetime) -> Round:
        """The calling operator lines of a place."""
        here = [line for line in self.lines if line.place == place]
        if not here and place not in {one.id for one in self.places()}:
            raise NotFound(said("press or place"), place)
        shift = self.calendar.at(at)
        last = self.counts.get(place)
        items = list(dict.fromkeys(line.item for line in here))
        hanging = tuple(
            Hanging(item, "module", item, outer, depth, ByHand(self.held_for[item]) if item in self.held_for else None)
            for depth, (outer, item) in enumerate(zip((None, *items), items, strict=False))
        )
        signs = [entry for entry in self.history_of_signs() if entry.at >= (shift.start if shift else at)]
        lines = tuple(line for line in here if line.state in CALLING and "operator" in line.roles)
        began = shift.start if shift else at
        mine = [line for line in here if "operator" in line.roles]
        rows = tuple(
            RoundRow(number, line, done)
            for number, line in enumerate(mine, 1)
            if (done := line.state is State.LATER and line.last_done_at is not None and line.last_done_at >= began)
            or line in lines
        )
        found = tuple(
            FoundHere(number, entry.at, entry.by.capitalize(), entry.item, entry.symptom)
            for number, entry in enumerate(self.written, 1)
            if isinstance(entry, Fault) and entry.item in items
        )
        return Round(
            at, place, place if place.startswith("P-") else None, shift.key if shift else None,
            shift.end if shift else None, last[0] if last else None, last[1] if last else None,
            (last[0], last[0] + 5_000) if last else None, hanging, lines, tuple(signs), _cautions(lines),
            rows=rows, found=found,
        )  # fmt: skip

    def history_of_signs(self) -> list[HistoryLine]:
        """All sign-offs."""
        struck = {entry.entry: place for place, entry in enumerate(self.written, 1) if isinstance(entry, Strike)}
        return [
            self._history_line(number, entry, struck.get(number))
            for number, entry in enumerate(self.written, 1)
            if isinstance(entry, Sign)
        ]

    def sign_form(self, line: str, at: datetime) -> SignForm:
        """A form; what a test gave for the line is in it."""
        one = self.line(line, at)
        values: dict[str, Any] = {
            "line": one, "caution": said("Unplug, plug in hand. Local law and your plant's own procedure decide."),
            "steps": ("Brush the debris off.", "Wipe.", "Look for loose parts."), "points": (), "graded": False,
            "gauges": (), "classes": {}, "taken": (), "photo": "", "meaning": said("done by me"),
            "signers": tuple((person.id, person.name) for person in PEOPLE),
        }  # fmt: skip
        return SignForm(**{**values, **self.forms.get(line, {})})

    def changing(self, at: datetime) -> Any:
        raise _NOT_KEPT

    def step_forms(self, at: datetime) -> Any:
        raise _NOT_KEPT

    def scanned(self, code: ScanCode, at: datetime) -> Scanned:
        raise _NOT_KEPT

    def people(self) -> tuple[Person, ...]:
        """Three people."""
        return PEOPLE

    def places(self) -> tuple[Place, ...]:
        """The places of all lines."""
        return tuple(
            Place(place, f"Place {place}", area) for place, area in {ln.place: ln.area for ln in self.lines}.items()
        )

    def items(self) -> tuple[Item, ...]:
        """Two presses, and the modules and die sets of the lines."""
        kinds = {"M": Kind.MODULE, "DS": Kind.DIE_SET}
        others = dict.fromkeys(line.item for line in self.lines if line.item.split("-")[0] in kinds)
        return (
            Item("P-03", Kind.PRESS, "Press by the door"), Item("P-07", Kind.PRESS, "Press at the window"),
            *(Item(item, kinds[item.split("-")[0]], item) for item in others),
        )  # fmt: skip

    # What it knows nothing of

    def keeps_spares(self) -> bool:
        """No shelf."""
        return False

    def shelf(self, at: datetime) -> tuple[ShelfRow, ...]:
        """Nothing lies on it."""
        return ()

    def to_order(self, at: datetime) -> OrderList:
        """Nothing."""
        return OrderList("Test plant", at, (), ())

    def kits(self, at: datetime, week: str) -> KitList:
        """None."""
        return KitList("Test plant", week, at, ())

    def outside(self, at: datetime) -> tuple[Outside, ...]:
        """Nothing is out."""
        return ()

    def received(
        self, at: datetime, by: str, spare: str, number: int, *, batch: str | None = None, pieces: Sequence[str] = (),
        used: int = 0, because: str = "",
    ) -> Sequence[Entry]:  # fmt: skip
        """Nothing is received."""
        raise _NOT_KEPT

    @property
    def known(self) -> Known:
        """Nothing but what the facts, the people and the lines say."""
        raise _NOT_KEPT

    def life(self, item: str, at: datetime) -> LifeNumbers:
        """Only that of a line's item: see :meth:`detail`."""
        raise _NOT_KEPT

    def questions(self, at: datetime) -> tuple[Question, ...]:
        """None are asked."""
        return ()

    def disputed(self, at: datetime) -> tuple[Disputed, ...]:
        """None."""
        return ()

    def seen(self, about: str, by: str, at: datetime) -> Sequence[Entry]:
        """Nothing waits."""
        return ()

    def settled(
        self, number: int, figure: int | None, *, earlier_stands: bool, at: datetime, by: str, because: str
    ) -> Sequence[Entry]:
        """Not in this book."""
        raise _NOT_KEPT

    def week_of_revision(
        self, revision: int, week: str, area: str | None = None, *, at: datetime | None = None, watch: Watch = nobody
    ) -> WeekList:
        """Nothing was printed."""
        raise _NOT_KEPT

    def answer_to(self, line: str, occurrence: str) -> HistoryLine | None:
        """Nothing is looked up."""
        raise _NOT_KEPT

    def press_of(self, item: str, at: datetime) -> str | None:
        """Nothing hangs anywhere."""
        return None

    def cautions_for(self, work: Iterable[tuple[str, str]]) -> tuple[Caution, ...]:
        """None beyond those of the round."""
        return ()

    def training_ends(self, at: datetime) -> tuple[TrainingEnd, ...]:
        """Nobody is trained."""
        return ()

    def figures(self, at: datetime) -> Figures:
        """Not kept."""
        raise _NOT_KEPT

    def dossier(self, item: str, at: datetime) -> Dossier:
        """Not kept."""
        raise _NOT_KEPT

    def trace(self, name: str, at: datetime, *, limit: int | None = None) -> Trace:
        """Not kept."""
        raise _NOT_KEPT

    def checks(self, at: datetime) -> CheckViews:
        """Not kept."""
        raise _NOT_KEPT

    def check_forms(self, at: datetime) -> CheckForms:
        """Not kept."""
        raise _NOT_KEPT

    def faults(self, at: datetime) -> FaultViews:
        """Not kept."""
        raise _NOT_KEPT

    def suspects(self, at: datetime) -> SuspectViews:
        """Not kept."""
        raise _NOT_KEPT

    def wear(self, at: datetime) -> WearViews:
        """Not kept."""
        raise _NOT_KEPT

    def tried(self, entries: Sequence[Entry], recorded_at: datetime, origin: Origin = NOT_KNOWN) -> Written:
        """It knows no effects."""
        return Written(())

    def entry(self, number: int) -> Entry:
        """What was written here."""
        return self.written[number - 1]

    def jobs(self, at: datetime) -> tuple[Job, ...]:
        """None."""
        return ()

    def locks(self, at: datetime) -> tuple[Lock, ...]:
        """None."""
        return ()

    def handover(self, at: datetime, shift: str | None = None) -> Handover:
        """Not kept."""
        raise _NOT_KEPT

    def home(self, at: datetime, person: str | None = None, area: str | None = None) -> Home:
        """Not kept."""
        raise _NOT_KEPT

    def where(self, at: datetime, query: WhereQuery | None = None) -> Whereabouts:
        """Not kept."""
        raise _NOT_KEPT

    def moves(self, at: datetime, by: str, because: str = "") -> Moves:
        """Not kept."""
        raise _NOT_KEPT

    def occurrence_signed(self, line: str, at: datetime) -> str:
        """The one that is open."""
        return self.line(line, at).occurrence

    def hanging(self, at: datetime) -> tuple[tuple[str, str], ...]:
        """Not kept."""
        raise _NOT_KEPT

    def holds(self) -> tuple[HeldItem, ...]:
        """None that the real book would tell."""
        return ()

    # Writing

    def write(
        self,
        entries: Sequence[Entry],
        recorded_at: datetime | Callable[[], datetime],
        origin: Origin = NOT_KNOWN,
        proven: Proven | None = None,
    ) -> Written:
        """Writes entries one after another; each kind has one small rule."""
        numbers = []
        moment = recorded_at() if callable(recorded_at) else recorded_at
        for entry in entries:
            self._take(entry)
            self.written.append(replace(entry, recorded_at=moment))
            self.origins.append(origin)
            numbers.append(len(self.written))
        return Written(tuple(numbers))

    def _take(self, entry: Entry) -> None:
        match entry:
            case Sign():
                self._sign(entry)
            case Count():
                self._count(entry)
            case Verify():
                if entry.by == "ana":
                    raise Refused(said("Ana Example did the work of #4; somebody else must give the second signature."))
            case Strike():
                struck = self.written[entry.entry - 1]
                self._set(f"{struck.item}/{struck.task}", state=State.DUE)  # type: ignore[attr-defined]
            case Fault():
                pass
            case _:
                raise Refused(said("This book takes no such entry."))

    def _sign(self, entry: Sign) -> None:
        struck = {one.entry for one in self.written if isinstance(one, Strike)}
        answered = {
            (old.item, old.task, old.occurrence): old.by
            for number, old in enumerate(self.written, 1)
            if isinstance(old, Sign) and number not in struck and old.occurrence != "extra"
        }
        first = answered.get((entry.item, entry.task, entry.occurrence))
        if first is not None:
            name = next(person.name for person in PEOPLE if person.id == first)
            raise AlreadySigned(
                f"{entry.item}/{entry.task}",
                entry.occurrence,
                name,
                Moment(MORNING + timedelta(minutes=56), _ClockOnly()),
                812,
            )
        self._set(f"{entry.item}/{entry.task}", state=State.LATER, last_done_by=entry.by, last_done_at=entry.at)

    def _set(self, line: str, **changes: Any) -> None:
        self.lines = [replace(one, **changes) if one.line == line else one for one in self.lines]

    def _count(self, entry: Count) -> None:
        last = self.counts.get(entry.press, (0, MORNING))[0]
        if entry.value < last and not entry.rolled_over:
            below = f"{entry.value:,} is below the last count of {entry.press}, {last:,}. Look again."
            if entry.value < 1_000:
                raise PerhapsRolledOver(said(f"{below} If the counter rolled over: confirm with 'rolled over'."), 1)
            raise Refused(said(below))
        self.counts[entry.press] = (entry.value, entry.at)


class _ClockOnly:
    """A zone that shows the time of day alone."""

    def show(self, instant: datetime) -> str:
        return f"{instant:%H:%M}"

    minute = show

    def day(self, instant: datetime) -> date:
        return instant.date()


def _matches(line: BoardLine, query: BoardQuery) -> bool:
    text = f"{line.item} {line.task} {line.title} {line.place}".casefold()
    return (
        query.search.casefold() in text
        and query.place in (None, line.place)
        and query.area in (None, line.area)
        and (query.role is None or query.role in line.roles)
    )


def _cautions(lines: tuple[BoardLine, ...]) -> tuple[Caution, ...]:
    """The energy control of each kind once, with its lines."""
    kinds = dict.fromkeys(line.energy for line in lines)
    return tuple(
        Caution(caution_said(kind), tuple(line.line for line in lines if line.energy == kind), kind) for kind in kinds
    )


def counted() -> FakeBook:
    """A book in which this shift's count is taken already."""
    return FakeBook(counts={"P-07": (1_204_300, MORNING)})
