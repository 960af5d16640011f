"""Views made from the file: the board's window, one line, a round, a form, the life of an item."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from functools import cached_property

from upkeep.answers.attribution import unattributed
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.forecast import forecast_of
from upkeep.answers.questions import questions
from upkeep.answers.suspect.held_runs import hold_reason
from upkeep.answers.tallies import Tallies
from upkeep.counting.marks import Band
from upkeep.counting.strokes import strokes_between, strokes_since_new
from upkeep.due.facts import LineFacts, Setting
from upkeep.due.lines import missed
from upkeep.due.reason_json import reasons_from
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.entry import Recorded
from upkeep.entries.kinds import KIND_OF
from upkeep.entries.text import line_without_origin
from upkeep.errors import NotFound
from upkeep.keeping.definitions import Known, near_misses
from upkeep.keeping.judging import Judge, moment, state_of
from upkeep.keeping.lookups import ReadAhead, mark_from
from upkeep.planning.forecast import Forecast
from upkeep.plant.energy import caution_text
from upkeep.plant.model import ABOVE_THE_ROLES, Item, Kind, Role, Task
from upkeep.quality.gauges import told
from upkeep.said import said
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.lines import LineStore, conditions
from upkeep.store.projections import Projections
from upkeep.store.rows.lines import LineRow
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import Board, BoardLine, BoardQuery, LineDetail
from upkeep.views.items import Hanging, HistoryLine, LifeNumbers
from upkeep.views.questions import Question
from upkeep.views.round import Round
from upkeep.views.signing import GaugeChoice, SignForm
from upkeep.wording.holds import hold_said

MEANING = "done by me"


class Views:
    """Makes views of one file with what is known of its plant."""

    def __init__(self, file: BookFile, known: Known, tallies: Tallies | None = None) -> None:
        self._file, self.known = file, known
        self._tallies = tallies or Tallies(file)
        self._rows, self._lines, self._entries = Projections(file), LineStore(file), EntryStore(file)
        self._judge_made: Judge | None = None

    @property
    def file(self) -> BookFile:
        """The file the views are made of: the book's own, or one in memory for the past."""
        return self._file

    @property
    def judge(self) -> Judge:
        """The judge over this file; made when a view needs one."""
        if self._judge_made is None:
            self._judge_made = Judge(self._rows, self.known)
        return self._judge_made

    # The board

    def board(self, at: datetime, query: BoardQuery, offset: int, limit: int) -> Board:
        """A window of the lines that match, most urgent first."""
        now = utc_text(at)
        where, filters = conditions(query.place, query.area, query.item, query.task, query.role, query.search)
        with self._file.reading():
            counts = self._tallies.at(now, where, filters)
            states = [state for state in BOARD_ORDER if not query.states or state in query.states]
            rows = tuple(
                self._board_line(row, State(state), at)
                for state, row in self._lines.window(now, states, where, filters, offset, limit, counts)
            )
            oldest, press = self.oldest_count() or (None, None)
        return Board(
            at=at,
            plant=self.known.facts.name,
            zone=self.known.facts.zone,
            offset=offset,
            total=sum(counts[state] for state in states),
            rows=rows,
            by_state={state: counts[state] for state in BOARD_ORDER},
            counts_as_of=oldest,
            oldest_count_press=press,
        )

    def oldest_count(self) -> tuple[datetime, str] | None:
        """The press in use whose latest count is the oldest, and when it was taken; None while none was read."""
        marks = [row for row in self._tallies.last_marks() if not self.known.items[row.press].scrapped]
        oldest = min(marks, key=lambda row: (row.at, row.press), default=None)
        return (from_utc_text(oldest.at), oldest.press) if oldest else None

    def _board_line(self, row: LineRow, state: State, at: datetime) -> BoardLine:
        counted, day = row.due_strokes is not None, date.fromisoformat(row.due_day) if row.due_day else None
        late = (row.each_shift or row.fixed) and state in (State.OVERDUE, State.STOP)
        left = None if row.due_strokes is None or row.strokes is None else row.due_strokes - row.strokes
        # In order, since names would cost a window of the board a sixth more.
        return BoardLine(
            row.line, row.item, row.item_kind, row.item_title, row.task, row.title, state, row.place, row.area,
            row.inside, moment(row.opens_at), moment(row.due_at), moment(row.overdue_at), moment(row.stop_at), day,
            row.strokes, row.strokes_high, row.due_strokes, left, counted and row.strokes_high != row.strokes,
            self._missed(row, day, at) if late else 0, row.occurrence, row.deferred_to, reasons_from(row.reasons),
            moment(row.last_done_at), row.last_done_by, row.unverified, row.minutes, row.energy,
            tuple(row.roles.strip(";").split(";")), row.second_signature,
            bool(row.statutory), bool(row.each_shift), row.source,
        )  # fmt: skip

    @cached_property
    def _setting(self) -> Setting:
        """For counting the shifts that have gone by on lines nobody has signed for long."""
        return replace(self.judge.setting, counts=ReadAhead(self._rows, self.known.calendar))

    def _missed(self, row: LineRow, due_day: date | None, at: datetime) -> int:
        facts = LineFacts(self.known.task(row.task), self.known.item(row.item), self.known.since[row.item])
        return missed(facts, row.occurrence, due_day, self._setting, at)

    def line(self, line: str, at: datetime) -> BoardLine:
        """One line by name; raises :class:`NotFound` with near misses."""
        found = self._lines.row(line)
        if found is None:
            names = self._lines.all_names()
            raise NotFound(
                said("line"), line, near_misses(line, names), said("Lines are named item/task, as on the board.")
            )
        return self._line(found, at)

    def _line(self, row: LineRow, at: datetime) -> BoardLine:
        return self._board_line(row, state_of(row, at), at)

    def last_entry(self) -> int:
        """The number of the last entry these views know."""
        return self._entries.last()[0]

    # Detail, life, history

    def detail(self, line: str, at: datetime) -> LineDetail:
        """One line with the life of its item and its history."""
        found = self.line(line, at)
        return LineDetail(found, self.life(found.item, at), self.history(found.item, found.task, 60))

    def life(self, item: str, at: datetime) -> LifeNumbers:
        """The strokes of an item up to a moment."""
        known, counts = self.known.item(item), self.judge.counts
        new = strokes_since_new(counts, item, at)
        graded, rework = self._rows.last_graded(item), self._rows.last_rework(item)
        inspected = from_utc_text(graded.at) if graded else None
        reworked = from_utc_text(rework.at) if rework else None
        since_rework = strokes_between(counts, item, reworked, at) if reworked else None
        allowed = rework.granted if rework else known.life
        used = since_rework or new
        press = self.judge.press_of(item)
        return LifeNumbers(
            item=item,
            since_new=_three(new),
            since_rework=_three(since_rework) if since_rework else None,
            since_inspection=_three(strokes_between(counts, item, inspected, at)) if inspected else None,
            reworks=rework.times if rework else 0,
            life_left=None if allowed is None else allowed - used.high,
            estimated=new.estimated,
            inspected_at=inspected,
            counted_until=counts.last_read(press) if press else None,
            unattributed=unattributed(self._rows, self.judge, item, at) if known.kind is Kind.PRESS else None,
        )

    def history(self, item: str | None, task: str | None, limit: int) -> tuple[HistoryLine, ...]:
        """The newest entries of an item, or of a task on it."""
        return tuple(self._history(self._entries.newest(item, limit, task)))

    def newest_written(self, limit: int) -> tuple[HistoryLine, ...]:
        """The entries written last, newest first."""
        return tuple(self._history(self._entries.last_written(limit)))

    def _history(self, found: Iterable[tuple[Recorded, int | None]]) -> Iterator[HistoryLine]:
        zone, names = self.known.zone, self.known.names
        for one, through in found:
            entry = one.entry
            struck = corrected = None
            if through is not None:
                later = self._entries.one(through)
                strikes = later is not None and isinstance(later.entry, Strike)
                struck, corrected = (through, None) if strikes else (None, through)
            text, origin = line_without_origin(entry, zone), entry.origin
            yield HistoryLine(
                one.id, entry.at, entry.recorded_at or entry.at, one.shift_day, entry.by,
                names.get(entry.by, entry.by), KIND_OF[type(entry)].verb, text, struck, corrected,
                origin.way_in, origin.station, origin.proof, origin.entered_by,
            )  # fmt: skip

    def answer_to(self, item: str, task: str, occurrence: str) -> HistoryLine | None:
        """The sign-off or cancellation in effect that answers an occurrence; None: nothing does."""
        row = self._rows.sign_off_for(item, task, occurrence)
        found = self._entries.one(row.entry) if row else None
        return next(self._history([(found, None)])) if found else None

    def press_of(self, item: str, at: datetime) -> str | None:
        """The press on which an item hung at a moment; a press hangs on itself."""
        if self.known.item(item).kind is Kind.PRESS:
            return item
        stay = self.judge.counts.stay_from(item, at)
        return stay.press if stay is not None and (stay.end is None or at < stay.end) else None

    def stated(self, item: str, task: str) -> str | None:
        """The day (ISO) on which a line is stated to have been done before the book; None: nobody said."""
        row = self._rows.last_stated(item, task)
        return row.done if row else None

    def hanging(self) -> tuple[tuple[str, str], ...]:
        """What sits in what, as (item, inside)."""
        return tuple(self._rows.hanging())

    def forecast(self, line: str, at: datetime) -> Forecast:
        """When a line will be due by strokes."""
        return forecast_of(self._rows, self.judge, self.line(line, at), at)

    def questions(self) -> tuple[Question, ...]:
        """What the counts leave open."""
        return tuple(questions(self._rows, self._entries, self.judge))

    # The round of one place

    def round(self, place: str, at: datetime) -> Round:
        """What one place asks of its operator in the running shift."""
        items = self._hanging_on(place)
        press = next((one.item for one in items if one.kind == Kind.PRESS), None)
        shift = self.known.calendar.at(at)
        row = self._rows.last_mark(press) if press else None
        mark = mark_from(row) if row else None
        lines = [self._line(row, at) for row in self._lines.of_items([one.item for one in items])]
        wanted = [one for one in lines if Role.OPERATOR in one.roles and one.state in (*CALLING, State.LATER)]
        wanted = [
            one for one in wanted if one.state in CALLING or (shift and one.opens_at and one.opens_at < shift.end)
        ]
        return Round(
            at=at,
            place=place,
            press=press,
            shift=shift.key if shift else None,
            shift_ends=shift.end if shift else None,
            last_count=mark.reading.value if mark else None,
            last_count_at=mark.at if mark else None,
            expected=self._expected(press, at),
            hanging=tuple(items),
            lines=tuple(sorted(wanted, key=lambda one: (BOARD_ORDER.index(one.state), one.line))),
            done=self._done(items, shift, at),
        )

    def _expected(self, press: str | None, at: datetime) -> tuple[int, int] | None:
        row = self._rows.last_mark(press) if press else None
        if press is None or row is None:
            return None
        mark, rate = mark_from(row), self.known.press(press).max_rate
        hours = max(0.0, (at - mark.at).total_seconds() / 3600)
        return mark.reading.value, mark.reading.value + round((rate or 0) * hours)

    def _hanging_on(self, place: str) -> list[Hanging]:
        if place not in self.known.items and place not in self.known.places:
            known = [*(i.id for i in self.known.items.values() if i.kind is Kind.PRESS), *self.known.places]
            raise NotFound(said("press or place"), place, near_misses(place, known))
        presses = [
            item.id
            for item in self.known.items.values()
            if item.kind is Kind.PRESS and not item.scrapped and place in (item.id, item.place)
        ]
        roots = presses or [
            item.id for item in self.known.items.values() if not item.scrapped and self._stands_at(item, place)
        ]
        return [one for root in roots for one in self._with_contents(root, None, 0)]

    def _stands_at(self, item: Item, place: str) -> bool:
        return self.judge.sits_in(item.id) is None and self.judge.place_of(item) == place

    def _with_contents(self, key: str, inside: str | None, depth: int) -> Iterator[Hanging]:
        item = self.known.item(key)
        yield Hanging(key, item.kind.value, item.title, inside, depth, hold_reason(self._rows, key))
        for content in self._rows.inside_now(key):
            yield from self._with_contents(content.item, key, depth + 1)

    def _done(self, items: list[Hanging], shift: ShiftSpan | None, at: datetime) -> tuple[HistoryLine, ...]:
        if shift is None:
            return ()
        signed = [
            (one, None)
            for item in items
            for one in self._entries.of_item(item.item, ("sign", "fault"), from_at=utc_text(shift.start))
            if one.entry.at <= at
        ]
        return tuple(self._history(signed))

    # The form

    def sign_form(self, line: str, at: datetime) -> SignForm:
        """All that a sign-off of a line asks for."""
        found = self.line(line, at)
        task = self.known.task(found.task)
        return SignForm(
            line=found,
            caution=caution_text(task.energy, task.caution),
            steps=task.steps,
            points=task.points,
            graded=task.graded,
            gauges=tuple(self._gauges(task, at)),
            meaning=MEANING,
            signers=tuple(
                (person.id, person.name)
                for person in self.known.people.values()
                if set(person.roles) & {*task.by, *ABOVE_THE_ROLES}
                and (person.until is None or self.known.zone.day(at) <= person.until)
            ),
        )

    def _gauges(self, task: Task, at: datetime) -> Iterator[GaugeChoice]:
        if task.gauge_class is None:
            return
        states = GaugeStates(self._file, self.known)
        for item in self.known.items.values():
            if item.kind is Kind.GAUGE and item.gauge_class == task.gauge_class and not item.scrapped:
                state, held = states.at(item.id, at), hold_reason(self._rows, item.id)
                note = said("held: {why}", why=hold_said(held)) if held else told(state, at, self.known.zone)
                yield GaugeChoice(item.id, item.title, state.valid and not held, note)


def _three(band: Band) -> tuple[int, int, int]:
    return band.low, band.best, band.high
