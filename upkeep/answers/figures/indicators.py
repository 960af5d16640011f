"""The figures page: of what was planned in some days, how much was done on time - and all that is not on time."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta

from upkeep.answers.figures.occurrences import Days, Occurrences, Told
from upkeep.due.compliance import BASE, DEFINITION, Share, Verdict
from upkeep.due.facts import names_strokes
from upkeep.entries.planning import Define
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.keeping.rows_then import RowsThen
from upkeep.keeping.whereabouts import Whereabouts
from upkeep.plant.line_names import LineName
from upkeep.said import said
from upkeep.store.projections import Projections
from upkeep.store.remaking import Watch, nobody, watched
from upkeep.units.instants import Zone, utc_text
from upkeep.views.figures import Answered, ChangedTask, Figures

_WORDING = frozenset(
    ("title", "steps", "caution", "kit", "points", "minutes", "source", "energy", "by", "gauge_class", "graded")
)
"""Fields of a task that do not say when it falls due."""


def figures(
    context: Context, at: datetime, first: date | None, last: date | None, area: str | None, watch: Watch = nobody
) -> Figures:
    """The figures of the days from ``first`` to ``last`` (of the month up to the day of ``at`` where none are named).

    Raises :class:`Refused` for days before the book began, and for an area the plant does not have.
    """
    zone = context.known.zone
    then = DefinedThen(context.entries.definitions())
    began = zone.day(then.began)
    last = last or zone.day(at)
    first = max(first or last.replace(day=1), began)
    if last < first:
        raise Refused(
            said(
                "There are no figures from {first} to {last}. The book began on {began}.",
                first=first,
                last=last,
                began=began,
            )
        )
    if area is not None:
        context.known.area(area)
    days = Days(first, last, zone.start_of(first), zone.start_of(last + timedelta(days=1)), at)
    found = list(_told(context, then, days, area, watch))
    counts = Counter(told.verdict for told, _ in found)
    base = [(told, where) for told, where in found if told.verdict in BASE]
    late = [(told, where) for told, where in base if told.verdict is not Verdict.ON_TIME]
    return Figures(
        plant=context.known.facts.name,
        zone=zone.name,
        at=at,
        area=area,
        first_day=first,
        last_day=last,
        began=began,
        definition=DEFINITION,
        on_time=_share(told for told, _ in base),
        statutory=_share(told for told, _ in base if told.task.statutory),
        by_area={one: _share(told for told, where in base if where == one) for one in sorted({w for _, w in base})},
        counts={verdict: counts[verdict] for verdict in Verdict},
        signed_besides=sum(1 for told, _ in found if told.verdict in _NOT_ASKED and told.answer is not None),
        deferrals=context.entries.number_of("defer", utc_text(days.start), utc_text(days.end)),
        late=tuple(_answered(told, where, context.rows, zone) for told, where in late),
        changes=tuple(_changes(then, days)),
    )


_NOT_ASKED = (Verdict.NOT_USED, Verdict.NOT_READ, Verdict.NOT_FITTED, Verdict.RESTING)


def _told(
    context: Context, then: DefinedThen, days: Days, area: str | None, watch: Watch
) -> Iterator[tuple[Told, str]]:
    """Every occurrence with the area it hung in then, by the moment it was due."""
    occurrences, areas = Occurrences(context, then, days), _Areas(context, then)
    lines = _lines(then, days)
    told = [one for line in watched(lines, "figures", len(lines), watch) for one in occurrences.of(*line)]
    for one in sorted(told, key=lambda one: (one.due, one.item, one.task.id)):
        where = areas.of(one.item, one.due) if one.verdict in BASE or area is not None else "-"
        if area is None or where == area:
            yield one, where


def _lines(then: DefinedThen, days: Days) -> list[tuple[str, str]]:
    """Every line there was in the days looked at."""
    lines: dict[tuple[str, str], None] = {}
    for known in then.all_between(days.start, days.end):
        for item in known.items.values():
            lines |= dict.fromkeys((item.id, task.id) for task in known.tasks_on(item))
    return list(lines)


class _Areas:
    """Where items hung then, by the places and presses as they were defined then."""

    def __init__(self, context: Context, then: DefinedThen) -> None:
        self._context, self._then = context, then
        self._found: dict[tuple[str, datetime], str] = {}

    def of(self, item: str, moment: datetime) -> str:
        """The area of an item at a moment; "-" where nobody said."""
        if (item, moment) not in self._found:
            known = self._then.at(moment)
            rows = RowsThen(self._context.file, moment, unknown=self._then.unknown_at(moment))
            then = Whereabouts(rows, known)
            self._found[item, moment], _ = then.area_and_route(then.place_of(known.items[item]))
        return self._found[item, moment]


def _share(base: Iterable[Told]) -> Share:
    verdicts = [one.verdict for one in base]
    return Share(verdicts.count(Verdict.ON_TIME), len(verdicts))


def _answered(told: Told, area: str, rows: Projections, zone: Zone) -> Answered:
    answer = told.answer
    done = answer if told.verdict is Verdict.LATE else None
    gap = (zone.day(done.at) - zone.day(told.before.at)).days if done and told.before else None
    since = utc_text(told.before.at) if told.before else ""
    until = utc_text(answer.at) if answer else None
    return Answered(
        line=str(LineName(told.item, told.task.id)),
        title=told.task.title,
        area=area,
        occurrence=told.occurrence,
        due_at=told.due,
        verdict=told.verdict,
        done_at=done.at if done else None,
        done_by=done.by if done else None,
        entry=answer.entry if answer else None,
        gap_days=gap,
        deferred=_was_deferred(told, rows, since, until),
        statutory=told.task.statutory,
    )


def _was_deferred(told: Told, rows: Projections, since: str, until: str | None) -> bool:
    """Whether an occurrence was deferred; planned strokes may have shifted since with a late count, so by time too."""
    return any(
        row.occurrence == told.occurrence or (names_strokes(row.occurrence) and names_strokes(told.occurrence))
        for row in rows.deferrals_of(told.item, told.task.id)
        if since <= row.at and (until is None or row.at <= until)
    )


def _changes(then: DefinedThen, days: Days) -> Iterator[ChangedTask]:
    for number, entry, before in then.changes_of_tasks(days.start, days.end):
        fields = tuple(_moved(entry, json.loads(before)))
        if fields:
            yield ChangedTask(entry.key, entry.at, entry.by, entry.because, number, fields)


def _moved(entry: Define, before: dict[str, object]) -> Iterator[str]:
    after = json.loads(entry.content)
    for field in sorted({*before, *after} - _WORDING):
        if before.get(field) != after.get(field):
            yield f"{field} {_said(before.get(field))} -> {_said(after.get(field))}"


def _said(value: object) -> str:
    return "none" if value is None else json.dumps(value, ensure_ascii=False).strip('"')
