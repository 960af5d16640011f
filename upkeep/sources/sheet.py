"""Weekly due lists that come back from the wall: rows entered by their number, against the very list that was printed.

The time is the one written on the sheet, so work done in its window is in time however late the sheet comes back.
Where nobody wrote it (``?``), the entry stands at the last minute of the last shift of that day (at noon where no shift
begins on it; now, while that has not come) and its remark begins with "time unknown": never earlier than it was done,
so it never looks better than it was.  Work is signed by a person: of a row without initials the lead is told in a
remark on its line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from functools import cached_property

from upkeep.book import BoardLine, WeekRow
from upkeep.book.door import Clock, asked
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.lives import Remark
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.origin import Origin, Proof, Proven, WayIn
from upkeep.entries.signing import Sign
from upkeep.errors import AlreadySigned, Refused, StrokebookError
from upkeep.frozen import frozen
from upkeep.plant.model import Task
from upkeep.plant.people import Person
from upkeep.said import Moment, Numeral, Quoted, Said, Value, all_of, either, in_turn, said
from upkeep.sources.printed_sheet import PrintedSheet
from upkeep.sources.sheet_book import SheetBook
from upkeep.sources.sheet_rows import UNKNOWN, Ticked, clock_of, day_of, day_or_refused, rows_of
from upkeep.units.quantities import grouped
from upkeep.views.signing import Caution

TIME_UNKNOWN = "time unknown"

_MINUTE = timedelta(minutes=1)


@frozen
class Entered:
    """What became of a sheet: sentences on the rows that went in or were known already, and on those that did not go
    in, these by their numbers as well (``wrong``); the rows of the list that were not on the sheet."""

    sentences: tuple[Said, ...]
    problems: tuple[Said, ...]
    missing: tuple[int, ...]
    wrong: Mapping[int, Said]


def enter_sheet(
    book: SheetBook,
    sheet: PrintedSheet,
    lines: Iterable[str],
    by: str,
    now: datetime | Clock,
    proven: Proven | None = None,
    day: str = "",
) -> Entered:
    """Enters the rows of a sheet that came back: the good ones go in, the others are told by their numbers.

    ``by`` is who types it in, ``proven`` how their name was proven; each entry is signed by whoever ticked the row.
    ``day`` is that of every row that has none of its own, as :func:`~upkeep.sources.sheet_rows.day_of` reads it.  What
    was done long ago goes in where the lead types it.
    """
    book.known.person(by)
    listed = sheet.week
    whole_sheet = day_of(day, listed.first_day) if day else None
    ticked, problems = _placed_rows(sheet, lines)
    once = {tick.row: tick for tick in ticked}
    twice = {tick.row for tick in ticked if once[tick.row] != tick}
    answers: dict[int, Said] = {}
    wrong = {row: _twice(row, ticked) for row in twice}
    clerk = _Clerk(book, sheet, by, now, proven, whole_sheet)
    for tick in sorted((tick for tick in once.values() if tick.row not in twice), key=clerk.order):
        try:
            answers[tick.row] = clerk.enter(tick)
        except StrokebookError as error:
            wrong[tick.row] = error.said
    return Entered(
        tuple(_of_row(row, answers[row]) for row in sorted(answers)),
        (*problems, *(_of_row(row, wrong[row]) for row in sorted(wrong))),
        tuple(row.row for row in listed.rows if row.row not in once),
        wrong,
    )


def row_told(book: SheetBook, sheet: PrintedSheet, ticked: Ticked, now: datetime, day: str = "") -> Said:
    """What entering a row would sign, in whose name and for when; raises what entering it would, as far as it is known
    before."""
    whole_sheet = day_of(day, sheet.week.first_day) if day else None
    return _Clerk(book, sheet, "", now, None, whole_sheet).told(ticked)


def cautions_of_sheet(book: SheetBook, sheet: PrintedSheet, lines: Iterable[str]) -> tuple[Caution, ...]:
    """What to mind before the work is done that a sheet says was done, to be told ahead of its signatures."""
    ticked, _ = _placed_rows(sheet, lines)
    ticks = {tick.row: {str(other) for other in ticked if other.row == tick.row} for tick in ticked}
    once = [row for row in sheet.week.rows if len(ticks.get(row.row, ())) == 1]
    return book.cautions_for((row.item, row.task) for row in once)


def _placed_rows(sheet: PrintedSheet, lines: Iterable[str]) -> tuple[list[Ticked], list[Said]]:
    """The rows in the lines of a text, each with its number, and a sentence for each line that is none."""
    ticked, problems = rows_of(lines)
    placed = []
    for tick in ticked:
        try:
            placed.append(sheet.placed(tick))
        except StrokebookError as error:
            row = tick.named or Numeral(tick.row)
            problems.append(said("row {row}: {what}", row=row, what=error.said))
    return placed, problems


def _of_row(row: int, what: Said) -> Said:
    return said("row {row}: {what}", row=Numeral(row), what=what)


def _twice(row: int, ticked: Iterable[Ticked]) -> Said:
    ways = all_of(str(tick) for tick in ticked if tick.row == row)
    return said("ticked twice: {ways}. Keep the one that belongs to this row; the other may be an extra.", ways=ways)


class _Clerk:
    """Enters one row after another into a book."""

    def __init__(
        self,
        book: SheetBook,
        sheet: PrintedSheet,
        by: str,
        now: datetime | Clock,
        proven: Proven | None,
        whole_sheet: date | None,
    ) -> None:
        self._book, self._sheet, self._by, self._proven = book, sheet, by, proven
        self._listed = sheet.week
        self._whole_sheet, self._monday = whole_sheet, sheet.week.first_day
        self._clock, self._now = now, asked(now)

    def order(self, ticked: Ticked) -> tuple[date, str]:
        """By when it was done: counts go in one after the other.  What has no real day comes first, to be refused."""
        try:
            day = day_or_refused(ticked, self._whole_sheet, self._monday)
        except StrokebookError:
            return date.min, ""
        return day, "" if ticked.time == UNKNOWN else clock_of(ticked.time)

    def told(self, ticked: Ticked) -> Said:
        """The work of a row, when it was done and by whom; raises an error with the reason where that is not clear."""
        row = self._sheet.row(ticked)
        if ticked.initials == UNKNOWN:
            day_or_refused(ticked, self._whole_sheet, self._monday)
            return said("{task}, {item}: no initials, kept for the lead", task=row.title, item=row.item)
        moment = self._moment(ticked, self._book.known.task(row.task))
        person = _person(self._book, ticked.initials, moment)
        at = Moment(moment, self._book.zone)
        return said("{task}, {item}: {name}, {at}", task=row.title, item=row.item, name=person.name, at=at)

    def enter(self, ticked: Ticked) -> Said:
        """Enters one row and says what became of it; raises an error with the reason where it cannot go in."""
        row = self._sheet.row(ticked)
        return in_turn(self._entered(ticked, row), self._off_since(row))

    @cached_property
    def _standing(self) -> frozenset[str] | None:
        frozen = self._listed.frozen is not None
        return self._book.week_standing(self._listed.week, self._now) if frozen else None

    def _off_since(self, row: WeekRow) -> Said | None:
        """That a row was taken off the frozen week since it was printed."""
        if self._standing is None or row.line in self._standing or row.mark == "removed":
            return None
        return said("It was taken off the list after the print; tell the lead that it was done all the same.")

    def _entered(self, ticked: Ticked, row: WeekRow) -> Said:
        answer = self._answered(row)
        if answer is not None:
            return answer
        line = self._book.line(row.line, self._now)
        if ticked.initials == UNKNOWN:
            return self._nobodys(ticked, row)
        moment = self._moment(ticked, self._book.known.task(row.task))
        person = _person(self._book, ticked.initials, moment)
        sign = Sign(
            at=moment, by=person.id, task=row.task, item=row.item, occurrence=_occurrence(row, line, moment),
            remark=_remark(ticked), because=self._origin(ticked.row),
        )  # fmt: skip
        return self._written(sign, list(self._counts(ticked, row.item, sign)), line, person)

    def _answered(self, row: WeekRow) -> Said | None:
        """What is told of a row whose work was signed, or cancelled, since the list was printed."""
        answer = self._book.answer_to(row.line, row.occurrence) if row.occurrence != EXTRA else None
        if answer is None:
            return None
        how = said("cancelled") if answer.kind == "cancel" else said("signed")
        when = Moment(answer.at, self._book.zone)
        return said(
            "{line} is already {how}: {name}, {when} (#{entry}). Nothing was entered.",
            line=row.line,
            how=how,
            name=answer.by_name,
            when=when,
            entry=Numeral(answer.entry),
        )

    def _written(self, sign: Sign, counts: list[Entry], line: BoardLine, person: Person) -> Said:
        try:
            written = self._book.write(
                [*counts, sign], self._clock, Origin(WayIn.SHEET, proof=Proof.PAPER, entered_by=self._by), self._proven
            )
        except AlreadySigned as error:
            return in_turn(error.said, said("Nothing was entered."))
        signed = said(
            "{line} signed by {name}, {moment}{in_time} (#{entry}).",
            line=line.line,
            name=person.name,
            moment=Moment(sign.at, self._book.zone),
            in_time=_in_time(sign, line),
            entry=Numeral(written.entries[-1]),
        )
        return in_turn(signed, *(said("Note: {note}", note=note) for note in written.notes))

    def _nobodys(self, ticked: Ticked, row: WeekRow) -> Said:
        """Keeps a tick without initials as a remark on the line, which the lead is asked about until it is seen."""
        day = day_or_refused(ticked, self._whole_sheet, self._monday)
        words = ", ".join(filter(None, (f"ticked {day} {ticked.time} without initials", ticked.remark)))
        text = f"{words}; {self._origin(ticked.row)}"
        kept = (line for line in self._book.history(row.item) if line.kind == "remark" and text in line.text)
        before = next(kept, None)
        if before is not None:
            return said("{line} is already kept as a remark (#{entry}).", line=row.line, entry=Numeral(before.entry))
        remark = Remark(at=self._now, by=self._by, item=row.item, task=row.task, text=text)
        written = self._book.write([remark], self._clock, Origin(WayIn.SHEET), self._proven)
        return said(
            "{line} has no initials, so it is not signed; the lead is asked who did it (#{entry}).",
            line=row.line,
            entry=Numeral(written.entries[-1]),
        )

    # What a row says

    def _moment(self, ticked: Ticked, task: Task) -> datetime:
        day = day_or_refused(ticked, self._whole_sheet, self._monday)
        if ticked.time != UNKNOWN:
            return self._book.zone.read(f"{day} {clock_of(ticked.time)}")
        missing = _never_without_time(task)
        if missing:
            raise Refused(
                said(
                    "{task} has {missing}, so it cannot be entered without the time it was done. Ask {initials}.",
                    task=task.title,
                    missing=missing,
                    initials=ticked.initials,
                )
            )
        return self._latest_of(day)

    def _latest_of(self, day: date) -> datetime:
        """The latest moment of a shift day, as far as it has come."""
        zone, calendar = self._book.zone, self._book.calendar
        start, end = zone.start_of(day), zone.start_of(day + timedelta(days=1))
        ends = [shift.end for shift in calendar.between(start, end) if shift.day == day]
        latest = max(ends) - _MINUTE if ends else zone.read(f"{day} 12:00")
        return min(latest, self._now) if calendar.shift_day(self._now) >= day else latest

    def _counts(self, ticked: Ticked, item: str, sign: Sign) -> Iterator[Entry]:
        if ticked.count is None:
            return
        press = self._book.press_of(item, sign.at)
        if press is None:
            raise Refused(
                said(
                    "{item} was not on a press at that time; which press does the count {count} belong to?",
                    item=item,
                    count=ticked.count,
                )
            )
        yield Count(
            at=sign.at,
            by=sign.by,
            press=press,
            value=ticked.count,
            rolled_over=ticked.rolled_over,
            after_reset=ticked.after_reset,
        )

    def _origin(self, row: int) -> str:
        revision = grouped(self._listed.revision)
        return f"row {row} of the list of {self._listed.week}, revision {revision}; typed in by {self._by}"


def _occurrence(row: WeekRow, line: BoardLine, moment: datetime) -> str:
    """What the work of a row answers: what is open now, or what was printed where other work was done after it."""
    before = line.last_done_at is not None and moment < line.last_done_at
    return row.occurrence if before else line.occurrence


def _in_time(sign: Sign, line: BoardLine) -> Value:
    """Whether the work was late, where it answers what was open until now."""
    if sign.occurrence != line.occurrence:
        return ""
    return said(", late") if line.overdue_at is not None and sign.at >= line.overdue_at else said(", in time")


def _remark(ticked: Ticked) -> str:
    unknown = [TIME_UNKNOWN] if ticked.time == UNKNOWN else []
    return "; ".join([*unknown, *([ticked.remark] if ticked.remark else [])])


def _never_without_time(task: Task) -> Said | None:
    """What makes a task one that is never entered without its time; None: it may be."""
    if task.points:
        return said("measured points")
    if task.graded:
        return said("a grade")
    if task.second_signature:
        return said("a second signature")
    return said("a legal requirement") if task.statutory else None


def _person(book: SheetBook, initials: str, moment: datetime) -> Person:
    """The one person behind what stands in the box: an id, the beginning of one, or the initials of a name."""
    by_id = {person.id: person for person in book.people()}
    if initials in by_id:
        return by_id[initials]
    day, short = book.zone.day(moment), initials.casefold()
    here = [person for person in by_id.values() if person.signs_on(day)]
    meant = [
        person
        for person in here
        if person.id.casefold().startswith(short) or _letters(person) == short.replace(".", "")
    ]
    if len(meant) > 1:
        raise Refused(
            said(
                "{initials} could be {meant}; write the full id.",
                initials=Quoted(initials),
                meant=either(person.id for person in meant),
            )
        )
    return meant[0] if meant else book.known.person(initials)


def _letters(person: Person) -> str:
    return "".join(word[0] for word in person.name.split()).casefold()
