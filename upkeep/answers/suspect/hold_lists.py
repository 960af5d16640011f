"""Suspect product: the windows behind failed checks and runs while held, as hold lists."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from functools import partial

from upkeep.answers.checks.gauges import GaugeReports
from upkeep.answers.checks.results import Results
from upkeep.answers.suspect.changes import Changes
from upkeep.answers.suspect.held_again import HeldAgain, HeldRun, Span, outside
from upkeep.answers.suspect.lines import Lines
from upkeep.answers.suspect.not_counted import not_counted
from upkeep.counting.strokes import counted_between, pieces_between, reached, strokes_since_new
from upkeep.entries.checking import Check, OutOfTolerance
from upkeep.entries.entry import Recorded
from upkeep.entries.fitting import Fit
from upkeep.entries.signing import Sign
from upkeep.entries.standing import Standing
from upkeep.errors import NotFound, Refused
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.keeping.holds import Held, holds_of
from upkeep.keeping.rows.counted import stay_from_row
from upkeep.quality.gauges import Doubt
from upkeep.quality.suspect import CheckResult, Start, end_of, start_of, stretches
from upkeep.said import DayOf, Moment, Numeral, Said, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.units.quantities import in_strokes
from upkeep.views.checks import Flip
from upkeep.views.suspect import HoldList, NotCounted, SuspectLine
from upkeep.wording.holds import hold_said


class SuspectViews:
    """Hold lists of one book as it stands (or stood) at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._at = context, context.moment
        self._known, self._judge = context.known, context.judge
        self._rows, self._entries = context.rows, context.entries
        self._findings = context.findings
        self._results = Results(context)
        self._lines, self._changes = Lines(context), Changes(context)

    def lists(self, item: str | None = None, *, closed: bool = False) -> tuple[HoldList, ...]:
        """The hold lists, oldest first: those with a line still to be judged, or all that ever had one.

        Failed checks that lead back to the same last good check are one list, that of the first.
        """
        by_window: dict[tuple[str, str, datetime], HoldList] = {}
        for hold_list in self._all(item):
            key = hold_list.item, hold_list.point, hold_list.start
            first = by_window.setdefault(key, hold_list)
            if first.number != hold_list.number:
                by_window[key] = self._joined(first, hold_list)
        held = (hold_list for hold_list in by_window.values() if hold_list.lines or hold_list.not_counted)
        lists = [hold_list for hold_list in held if closed or hold_list.open]
        return tuple(sorted(lists, key=lambda hold_list: (hold_list.found_at, hold_list.number)))

    def _joined(self, first: HoldList, later: HoldList) -> HoldList:
        """Two failed checks of one window as one list: numbered by the first, as long as the longer."""
        joined = replace(first, also=(*first.also, later.number))
        if later.end <= first.end:
            return joined
        opens = min([first.start, *(line.since for line in first.lines)])
        lines = self._lines_of(first.number, first.item, opens, first.start, later.end)
        strokes = self._strokes(first.item, first.start, later.end, lines)
        return replace(joined, end=later.end, end_why=later.end_why, lines=lines, strokes=strokes)

    def _all(self, item: str | None) -> Iterator[HoldList]:
        if item is not None:
            self._known.item(item)
        every = GaugeReports(self._context).turned_bad()
        turned = [(doubt, flip) for doubt, flip in every if item in (None, flip.item)]
        windows = [*self._windows(item), *(self._of_turned(doubt, flip) for doubt, flip in turned)]
        found_out = {(flip.entry, flip.point): (doubt.found_at, doubt.entry) for doubt, flip in reversed(turned)}
        held = list(self._held(item))
        runs = [self._of_run(one) for one in held if one.press is None]
        again = []
        for key in dict.fromkeys(window.item for window in windows):
            own = [window for window in windows if window.item == key]
            listed = [(run.start, run.end) for run in runs if run.item == key]
            for run in HeldAgain(self._context, found_out).runs(key, own, listed):
                again.append(self._of_run_again(key, run))
        yield from (*windows, *runs, *again)
        yield from self._on_one_press(held, [*windows, *runs, *again])

    def _on_one_press(self, held: Iterable[Held], lists: Iterable[HoldList]) -> Iterator[HoldList]:
        """The runs of items on a press on which alone they were held, outside of what is listed already."""
        taken: dict[str, list[Span]] = {}
        for one in lists:
            taken.setdefault(one.item, []).append((one.start, one.end))
        for one_held in held:
            if one_held.press is not None:
                spans = sorted(taken.get(one_held.item, []))
                until = one_held.until or self._at
                for begin, end in outside(one_held.since, until, spans):
                    why = one_held.ended if end == until else said("what it made from then on is on another list")
                    yield self._of_run(replace(one_held, since=begin, until=end, ended=why))

    def _windows(self, item: str | None) -> Iterator[HoldList]:
        for row in self._findings.bad(item):
            if row.at <= utc_text(self._at):
                yield self._of_check(row.entry, row.point)
        for entry, point in self._results.bad_inspections(item, self._at):
            yield self._of_check(entry, point)

    def _of_turned(self, doubt: Doubt, flip: Flip) -> HoldList:
        """The window of a result found bad since its gauge was found to read wrong."""
        because = said(
            "out of limits once the error of its gauge is taken off ({off}, found {day}, #{entry})",
            off=doubt.by,
            day=DayOf(doubt.found_at, self._known.zone),
            entry=Numeral(doubt.entry),
        )
        return self._of_check(flip.entry, flip.point, because)

    def _held(self, item: str | None) -> Iterator[Held]:
        items = (
            [item]
            if item
            else sorted(
                {row.item for row in self._rows.standings(Standing.HOLD)} | set(self._findings.items_once_held())
            )
        )
        for key in items:
            if key in self._known.items:
                yield from (
                    held
                    for held in holds_of(self._context, key)
                    if held.press is not None or not self._is_check(held.entry)
                )

    def _is_check(self, entry: int) -> bool:
        """Whether a hold comes from a failed check, or from one that turned bad with its gauge: it has its own list."""
        recorded = self._entries.by_number(entry)
        return recorded is not None and (
            isinstance(recorded.entry, Check | OutOfTolerance) or bool(self._results.out_of_limits(recorded))
        )

    def hold_list(self, number: int, point: str | None = None) -> HoldList:
        """One hold list by its number; raises :class:`NotFound` where that entry opened none."""
        recorded = self._entries.by_number(number)
        if recorded is None:
            raise NotFound(said("hold list"), f"#{number}")
        about_another = isinstance(recorded.entry, Fit | OutOfTolerance)  # what it held is not what it names
        item = None if about_another else getattr(recorded.entry, "item", None)
        lists = [
            hold_list for hold_list in self.lists(item, closed=True) if number in (hold_list.number, *hold_list.also)
        ]
        points = [hold_list.point for hold_list in lists] or self._bad_points(recorded)
        if point is not None and points and point not in points:
            raise NotFound(
                said("failed characteristic"),
                point,
                near_misses(point, points),
                said("#{number} failed something else.", number=Numeral(number)),
            )
        for opened in lists:
            if point in (None, opened.point):
                return opened
        if points:
            return self._of_check(number, point or points[0])
        raise Refused(
            said(
                "#{number} did not open a hold list: nothing failed in it, and it held nothing.", number=Numeral(number)
            )
        )

    def window(self, item: str, point: str) -> HoldList:
        """The window of the last failed check of a characteristic; raises :class:`NotFound` where none failed."""
        self._known.item(item)
        bad = [row for row in self._findings.bad(item) if row.point == point and row.at <= utc_text(self._at)]
        inspected = [number for number, key in self._results.bad_inspections(item, self._at) if key == point]
        if not bad and not inspected:
            known = sorted({row.point for row in self._findings.bad(item)})
            raise NotFound(
                said("failed check of"),
                point,
                near_misses(point, known),
                said("No check of {point} on {item} has failed so far.", point=point, item=item),
            )
        return self.hold_list(max([*(row.entry for row in bad), *inspected]), point)

    def _bad_points(self, recorded: Recorded) -> list[str]:
        if isinstance(recorded.entry, Check):
            return list(recorded.entry.failed)
        return self._results.out_of_limits(recorded)

    def _of_check(self, number: int, point: str, because: Said | None = None) -> HoldList:
        recorded = self._entries.by_number(number)
        assert recorded is not None
        assert isinstance(recorded.entry, Check | Sign)
        item, found_at = recorded.entry.item, recorded.entry.at
        part = self._results.part(item, point, found_at)
        start = start_of(self._results.before(recorded, point), self._known.since[item], part)
        stay = self._judge.counts.stay_from(item, found_at)
        end, why = end_of(found_at, self._results.after(recorded, point), stay, self._at)
        failure = said("{point} failed: {told}", point=point, told=self._results.finding(recorded, point))
        if because is not None:
            failure = said("{told}; {because}", told=failure, because=because)
        return self._quantities(recorded, point, failure, start, min(end, self._at), why)

    def _of_run(self, held: Held) -> HoldList:
        recorded = self._entries.by_number(held.entry)
        assert recorded is not None
        start = Start(held.since, None, said("held from here"))
        end = held.until or self._at
        return self._quantities(
            recorded, "", said("ran while held: {why}", why=hold_said(held.reason)), start, end, held.ended, held.item,
            held.press,
        )  # fmt: skip

    def _of_run_again(self, item: str, run: HeldRun) -> HoldList:
        recorded = self._entries.by_number(run.entry)
        assert recorded is not None
        found = said("ran while held since #{entry}", entry=Numeral(run.held_by))
        start = Start(run.start, None, said("it went on although it was held"))
        return self._quantities(recorded, "", found, start, run.end, run.end_why, item)

    def _quantities(
        self, recorded: Recorded, point: str, failure: Said, start: Start, end: datetime, why: Said, item: str = "",
        press: str | None = None,
    ) -> HoldList:  # fmt: skip
        item = item or recorded.entry.item  # type: ignore[attr-defined]
        begin, restricted = self._restricted(recorded.id, item, start.at)
        lines = self._lines_of(recorded.id, item, start.at, begin, end, press)
        passed = tuple(self._passed(result) for result in start.passed)
        changes = tuple(self._changes.within(item, point, start, end, recorded)) if point else ()
        sideways = tuple(self._lines.sideways(item, point, recorded, start.at, end)) if point else ()
        return HoldList(
            recorded.id, item, point, recorded.entry.at,
            self._context.names.of(recorded.entry.by, recorded.id), failure, begin,
            start.entry, start.why, passed, restricted, end, why, lines, self._strokes(item, begin, end, lines), (),
            changes, sideways, self._not_counted(item, begin, min(end, recorded.entry.at)) if point else (),
        )  # fmt: skip

    def _passed(self, result: CheckResult) -> Said:
        return said(
            "#{entry} {moment} with {gauge}: {doubt}",
            entry=Numeral(result.entry),
            moment=Moment(result.at, self._known.zone),
            gauge=str(result.gauge),
            doubt=result.doubt or "",
        )

    def _lines_of(
        self, number: int, item: str, opens: datetime, begin: datetime, end: datetime, press: str | None = None
    ) -> tuple[SuspectLine, ...]:
        """The lines from where the window begins now, and those judged since it opened, before it was restricted; on
        one press where one is named."""
        rows = ((row.press, from_utc_text(row.since)) for row in self._findings.dispositions(number))
        judged = [(on, since) for on, since in rows if opens <= since < end]
        first = min([begin, *(since for _, since in judged)])
        rows_of_stays = self._findings.stays_between(item, utc_text(first), utc_text(end))
        stays = [stay_from_row(row) for row in rows_of_stays if press in (None, row.press)]
        counts = self._judge.counts
        by_pieces = partial(pieces_between, counts, item)
        return self._lines.of(number, item, stretches(stays, begin, end, counts.total_at, judged, by_pieces))

    def _not_counted(self, item: str, begin: datetime, end: datetime) -> tuple[NotCounted, ...]:
        rows = self._findings.stays_between(item, utc_text(begin), utc_text(end))
        return tuple(not_counted(self._judge.counts, map(stay_from_row, rows), begin, end))

    def _strokes(self, item: str, begin: datetime, end: datetime, lines: tuple[SuspectLine, ...]) -> int:
        begin = min([begin, *(line.since for line in lines)])
        most = counted_between(self._judge.counts, item, begin, end).high - sum(line.no_product for line in lines)
        return min(most, sum(line.strokes for line in lines))

    def _read_before(self, item: str, moment: datetime | None) -> datetime | None:
        """The last reading before a moment: a number of strokes lies between two, and the earlier one takes it in."""
        stay = self._judge.counts.stay_from(item, moment) if moment else None
        read = self._judge.counts.read_before(stay.press, moment) if stay and moment else None
        return max(stay.start, read) if stay and read else moment

    def _restricted(self, number: int, item: str, start: datetime) -> tuple[datetime, Said | None]:
        row = self._findings.last_restriction(number)
        recorded = self._entries.by_number(row.entry) if row else None
        if row is None or recorded is None:
            return start, None
        since_new = strokes_since_new(self._judge.counts, item, start).best
        moment = self._read_before(item, reached(self._judge.counts, item, start, row.strokes - since_new)) or start
        name = self._context.names.of(recorded.entry.by, recorded.id)
        restriction = said(
            "to begin at {strokes} of {item} instead of {before}: {because} ({name})",
            strokes=in_strokes(row.strokes),
            item=item,
            before=in_strokes(since_new),
            because=recorded.entry.because,
            name=name,
        )
        return max(start, min(moment, self._at)), restriction
