"""How good the data are: readings late or missing, strokes guessed or of no module, gauges, questions, names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from functools import cached_property
from itertools import pairwise

from upkeep.answers.attribution import unattributed
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.unseen import unseen
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Kind
from upkeep.store.evidence.data_quality import QualityRows, Written
from upkeep.store.rows.counts import MarkRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.evidence.quality import Counted, DataQuality, Measure, QualityRow
from upkeep.views.questions import Question

WEEKS = 8
"""How many weeks are looked at where nobody says; the last is that of the moment."""

LATE = timedelta(hours=1)
"""A reading written later than this after it was taken was entered late.  Plant default, no source."""

_UNPROVEN = (None, "not known", "none")

Span = tuple[datetime, datetime]
ByArea = dict[str, tuple[int, int | None]]
"""Numbers and their bases by area."""


class Qualities:
    """Looks over the data of one book up to the moment of its context."""

    def __init__(self, context: Context, weeks: int = WEEKS) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows, self._gauges = QualityRows(context.file), GaugeStates(context)
        self._areas: dict[str, str] = {}
        self._kept: dict[str, list[MarkRow]] = {}
        self._none: dict[tuple[str, datetime], int] = {}
        day = self._known.zone.day(self._at)
        self._weeks = [iso_week(day - timedelta(weeks=back)) for back in reversed(range(weeks))]
        starts = [self._known.zone.start_of(week_days(week)[0]) for week in self._weeks]
        self._spans: list[Span] = list(zip(starts, [*starts[1:], self._at], strict=True))

    def page(self, area: str | None = None) -> DataQuality:
        """Every measure, of the whole plant and of each area; raises :class:`NotFound` for an area that is none."""
        if area is not None:
            self._known.area(area)
        found = [(measure, [look(self, span) for span in self._spans]) for measure, look in _LOOKS.items()]
        rows = [row for measure, weeks in found for row in _rows(measure, weeks, area)]
        return DataQuality(self._at, tuple(self._weeks), area, tuple(rows))

    def _area(self, item: str | None) -> str:
        if item is None or item not in self._known.items:
            return "-"
        if item not in self._areas:
            where = self._context.whereabouts
            self._areas[item] = where.area_and_route(where.place_of(self._known.items[item]))[0]
        return self._areas[item]

    def _shares(self, rows: Iterable[Written], is_counted: Callable[[Written], bool]) -> ByArea:
        found: dict[str, list[bool]] = {}
        for row in rows:
            found.setdefault(self._area(row.item), []).append(is_counted(row))
        return {area: (sum(counted), len(counted)) for area, counted in found.items()}

    # Each measure of a week

    def _late(self, span: Span) -> ByArea:
        rows = self._rows.readings(*map(utc_text, span))
        return self._shares(rows, lambda row: from_utc_text(row.recorded_at) - from_utc_text(row.at) > LATE)

    def _unproven(self, span: Span) -> ByArea:
        return self._shares(self._rows.signatures(*map(utc_text, span)), lambda row: row.proof in _UNPROVEN)

    def _missing(self, span: Span) -> ByArea:
        """The shifts in which a press made strokes and nobody read it, of those in which it did."""
        found: dict[str, tuple[int, int | None]] = {}
        for press in self._presses:
            marks = self._marks(press)
            worked = missed = 0
            for shift in self._known.calendar.between(*span):
                read = [mark for mark in marks if utc_text(shift.start) < mark.at <= utc_text(shift.end + LATE)]
                if shift.end <= self._at and _rose(marks, utc_text(shift.start), utc_text(shift.end)):
                    worked, missed = worked + 1, missed + (not read)
            number, base = found.get(self._area(press.id), (0, 0))
            found[self._area(press.id)] = number + missed, (base or 0) + worked
        return found

    def _estimated(self, span: Span) -> ByArea:
        """The strokes between two readings that had to be shared or guessed, of all strokes."""
        found: dict[str, tuple[int, int | None]] = {}
        since, until = map(utc_text, span)
        for press in self._presses:
            guessed = done = 0
            for before, after in pairwise(self._marks(press)):
                if since <= after.at < until:
                    step = after.total - before.total
                    done += step
                    edges = self._edges.get(press.id, [])
                    is_guessed = after.doubt is not None or any(before.at < edge < after.at for edge in edges)
                    guessed += step if is_guessed else 0
            number, base = found.get(self._area(press.id), (0, 0))
            found[self._area(press.id)] = number + guessed, (base or 0) + done
        return found

    def _of_nobody(self, span: Span) -> ByArea:
        found: dict[str, tuple[int, int | None]] = {}
        for press in self._presses:
            start, end = (self._of_no_module(press.id, moment) for moment in span)
            number, base = found.get(self._area(press.id), (0, 0))
            counts = self._context.whereabouts.counts
            done = counts.total_at(press.id, span[1]).best - counts.total_at(press.id, span[0]).best
            found[self._area(press.id)] = number + max(0, end - start), (base or 0) + done
        return found

    def _invalid_gauges(self, span: Span) -> ByArea:
        """The gauges in use that did not count when the week ended."""
        found: dict[str, tuple[int, int | None]] = {}
        moment = min(span[1], self._at)
        for gauge in self._known.items.values():
            if gauge.kind is Kind.GAUGE and not gauge.scrapped and self._known.since[gauge.id] <= moment:
                number, base = found.get(self._area(gauge.id), (0, 0))
                invalid = not self._gauges.at(gauge.id, moment).valid
                found[self._area(gauge.id)] = number + invalid, (base or 0) + 1
        return found

    def _questions(self, span: Span) -> ByArea:
        """What was asked in the week and waits still; what is older waits in the first week."""
        found: dict[str, tuple[int, int | None]] = {}
        first = datetime.min.replace(tzinfo=span[0].tzinfo) if span == self._spans[0] else span[0]
        for question in self._waiting:
            if first <= question.since < (span[1] if span != self._spans[-1] else NEVER):
                area = self._area(question.about)
                found[area] = found.get(area, (0, None))[0] + 1, None
        return found

    # What several weeks ask for

    @cached_property
    def _presses(self) -> list[Item]:
        return [item for item in self._known.items.values() if item.kind is Kind.PRESS and not item.scrapped]

    @cached_property
    def _waiting(self) -> tuple[Question, ...]:
        return unseen(self._context)

    @cached_property
    def _edges(self) -> dict[str, list[str]]:
        """The moments by press at which something moved and the counter was not read."""
        edges: dict[str, list[str]] = {}
        for edge in self._context.rows.guessed_edges():
            edges.setdefault(edge.press, []).append(edge.moment)
        return edges

    def _marks(self, press: Item) -> list[MarkRow]:
        """The readings of a press from the last one before the first week on."""
        if press.id not in self._kept:
            since = utc_text(self._spans[0][0])
            before = self._context.rows.mark_before(press.id, since)
            self._kept[press.id] = self._context.rows.marks_since(press.id, before.at if before else since)
        return self._kept[press.id]

    def _of_no_module(self, press: str, moment: datetime) -> int:
        if (press, moment) not in self._none:
            self._none[press, moment] = unattributed(self._context, press, moment)
        return self._none[press, moment]


def _rose(marks: list[MarkRow], since: str, until: str) -> bool:
    """Whether a press did strokes between the readings around a span."""
    before = next((mark for mark in reversed(marks) if mark.at <= since), None)
    after = next((mark for mark in marks if mark.at >= until), None)
    return before is not None and after is not None and after.total > before.total


def _rows(measure: Measure, weeks: list[ByArea], only: str | None) -> Iterator[QualityRow]:
    areas = sorted({area for week in weeks for area in week})
    if only is None:
        yield _row(measure, None, [_sum(week.values()) for week in weeks])
    for area in areas if only is None else [only]:
        yield _row(measure, area, [_sum([week[area]] if area in week else []) for week in weeks])


def _row(measure: Measure, area: str | None, weeks: list[tuple[int, int | None]]) -> QualityRow:
    whole = weeks[-1] if measure is Measure.GAUGES else _sum(weeks)
    return QualityRow(measure, area, Counted(*whole), tuple(Counted(*week) for week in weeks))


def _sum(found: Iterable[tuple[int, int | None]]) -> tuple[int, int | None]:
    rows = list(found)
    bases = [base for _, base in rows if base is not None]
    return sum(number for number, _ in rows), sum(bases) if bases else None


_LOOKS: dict[Measure, Callable[[Qualities, Span], ByArea]] = {
    Measure.LATE_READINGS: Qualities._late,
    Measure.MISSING: Qualities._missing,
    Measure.ESTIMATED: Qualities._estimated,
    Measure.UNATTRIBUTED: Qualities._of_nobody,
    Measure.GAUGES: Qualities._invalid_gauges,
    Measure.QUESTIONS: Qualities._questions,
    Measure.UNPROVEN: Qualities._unproven,
}
"""How each measure of a week is taken."""
