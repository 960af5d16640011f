"""The figures page: of what was planned in some days, how much was done on time - and all that is not on time."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta

from upkeep.answers.figures.areas import Areas
from upkeep.answers.figures.occurrences import Days, JudgedOccurrence, Occurrences
from upkeep.due.compliance import BASE, DEFINITION, Share, Verdict
from upkeep.due.facts import names_strokes
from upkeep.entries.planning import Define
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.plant.line_names import LineName
from upkeep.progress import Watch, nobody, watched
from upkeep.said import Said, Value, said, said_as
from upkeep.store.projections import Projections
from upkeep.units.instants import Zone, utc_text
from upkeep.units.weeks import iso_week
from upkeep.views.figures import Answered, ChangedTask, Figures

_WORDING = frozenset(
    ("title", "steps", "caution", "kit", "points", "minutes", "source", "energy", "by", "gauge_class", "graded")
)
"""Fields of a task that do not say when it falls due."""


def figures(
    context: Context,
    at: datetime,
    first: date | None,
    last: date | None,
    area: str | None,
    watch: Watch = nobody,
    *,
    item: str | None = None,
) -> Figures:
    """The figures of the days from ``first`` to ``last`` (of the month up to the day of ``at`` where none are named).

    Raises :class:`Refused` for days before the book began, :class:`NotFound` for an area or item the plant does not
    have.
    """
    zone = context.known.zone
    definitions = DefinedThen(context.entries.definitions())
    began = zone.day(definitions.began)
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
    if item is not None:
        context.known.item(item)
    days = Days(first, last, zone.start_of(first), zone.start_of(last + timedelta(days=1)), at)
    occurrences = list(_judged(context, definitions, days, area, item, watch))
    counts = Counter(judged.verdict for judged, _ in occurrences)
    base = [(judged, where) for judged, where in occurrences if judged.verdict in BASE]
    late = [(judged, where) for judged, where in base if judged.verdict is not Verdict.ON_TIME]
    return Figures(
        plant=context.known.facts.name,
        zone=zone.name,
        at=at,
        area=area,
        item=item,
        first_day=first,
        last_day=last,
        began=began,
        definition=DEFINITION,
        on_time=_share(judged for judged, _ in base),
        statutory=_share(judged for judged, _ in base if judged.task.statutory),
        by_area={
            name: _share(judged for judged, where in base if where == name) for name in sorted({w for _, w in base})
        },
        by_week={
            name: _share(judged for judged, _ in base if iso_week(zone.day(judged.due)) == name)
            for name in sorted({iso_week(zone.day(judged.due)) for judged, _ in base})
        },
        counts={verdict: counts[verdict] for verdict in Verdict},
        signed_besides=sum(
            1 for judged, _ in occurrences if judged.verdict in _NOT_ASKED and judged.answer is not None
        ),
        deferrals=context.entries.number_of("defer", utc_text(days.start), utc_text(days.end)),
        late=tuple(_answered(judged, where, context.rows, zone) for judged, where in late),
        changes=tuple(_changes(definitions, days)),
    )


_NOT_ASKED = (Verdict.NOT_USED, Verdict.NOT_READ, Verdict.NOT_FITTED, Verdict.RESTING)


def _judged(
    context: Context, definitions: DefinedThen, days: Days, area: str | None, item: str | None, watch: Watch
) -> Iterator[tuple[JudgedOccurrence, str]]:
    """Every occurrence with the area it hung in then, by the moment it was due."""
    occurrences, areas = Occurrences(context, definitions, days), Areas(context, definitions)
    lines = [line for line in _lines(definitions, days) if item in (None, line[0])]
    all_judged = [
        judged for line in watched(lines, "figures", len(lines), watch, each=1) for judged in occurrences.of(*line)
    ]
    for judged in sorted(all_judged, key=lambda judged: (judged.due, judged.item, judged.task.id)):
        where = areas.of(judged.item, judged.hung or judged.due) if judged.verdict in BASE or area is not None else "-"
        if area is None or where == area:
            yield judged, where


def _lines(definitions: DefinedThen, days: Days) -> list[tuple[str, str]]:
    """Every line there was in the days looked at."""
    lines: dict[tuple[str, str], None] = {}
    for known in definitions.all_between(days.start, days.end):
        for item in known.items.values():
            lines |= dict.fromkeys((item.id, task.id) for task in known.tasks_on(item))
    return list(lines)


def _share(base: Iterable[JudgedOccurrence]) -> Share:
    verdicts = [judged.verdict for judged in base]
    return Share(verdicts.count(Verdict.ON_TIME), len(verdicts))


def _answered(judged: JudgedOccurrence, area: str, rows: Projections, zone: Zone) -> Answered:
    answer = judged.answer
    done = answer if judged.verdict is Verdict.LATE else None
    gap = (zone.day(done.at) - zone.day(judged.before.at)).days if done and judged.before else None
    since = utc_text(judged.before.at) if judged.before else ""
    until = utc_text(answer.at) if answer else None
    return Answered(
        line=str(LineName(judged.item, judged.task.id)),
        title=judged.task.title,
        area=area,
        occurrence=judged.occurrence,
        due_at=judged.due,
        verdict=judged.verdict,
        done_at=done.at if done else None,
        done_by=done.by if done else None,
        entry=answer.entry if answer else None,
        gap_days=gap,
        deferred=_was_deferred(judged, rows, since, until),
        statutory=judged.task.statutory,
    )


def _was_deferred(judged: JudgedOccurrence, rows: Projections, since: str, until: str | None) -> bool:
    """Whether an occurrence was deferred; planned strokes may have shifted since with a late count, so by time too."""
    return any(
        row.occurrence == judged.occurrence or (names_strokes(row.occurrence) and names_strokes(judged.occurrence))
        for row in rows.deferrals_of(judged.item, judged.task.id)
        if since <= row.at and (until is None or row.at <= until)
    )


def _changes(definitions: DefinedThen, days: Days) -> Iterator[ChangedTask]:
    for number, entry, before in definitions.changes_of_tasks(days.start, days.end):
        fields = tuple(_moved(entry, json.loads(before)))
        if fields:
            yield ChangedTask(entry.key, entry.at, entry.by, entry.because, number, fields)


def _moved(entry: Define, before: dict[str, object]) -> Iterator[Said]:
    after = json.loads(entry.content)
    for field in sorted({*before, *after} - _WORDING):
        if before.get(field) != after.get(field):
            yield said(
                "{field} {before} -> {after}",
                field=field,
                before=_content(before.get(field)),
                after=_content(after.get(field)),
            )


def _content(value: object) -> Value:
    return said_as("value", "none") if value is None else json.dumps(value, ensure_ascii=False).strip('"')
