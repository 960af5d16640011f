"""Kits for a week: what each job on a list takes, what lies there, what is short; and the jobs that wait for parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from upkeep.answers.board import Boards
from upkeep.answers.shelf.stock import Shelf
from upkeep.due.reasons import Life
from upkeep.keeping.context import Context
from upkeep.planning.shelf.kits import Shared, Wanted, shared_out
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item
from upkeep.plant.values.spare import Spare
from upkeep.views.board import BoardLine, day_due
from upkeep.views.overview.shelf import Kit, KitList, KitPart
from upkeep.views.planned.week_plan import Mark
from upkeep.views.week import WeekList, WeekRow


class Job(NamedTuple):
    """A job on a list: its row there, and what it is."""

    row: int
    item: str
    task: str
    place: str
    title: str
    due: date | None

    @property
    def line(self) -> str:
        """The line it is done on."""
        return str(LineName(self.item, self.task))


def jobs_of(week: WeekList, context: Context) -> list[Job]:
    """The jobs of a weekly list that are still to be done, in its order: what was taken off a frozen list, and what was
    done since, takes nothing any more."""
    rows = [row for row in week.rows if row.mark != Mark.REMOVED]
    if week.frozen is not None:
        board = Boards(context)
        lines = {row.line: board.line_if_any(row.line) for row in rows}
        rows = [row for row in rows if (line := lines[row.line]) and line.occurrence == row.occurrence]
    return [_job(row.row, row, context) for row in rows]


def jobs_of_lines(lines: Iterable[BoardLine], context: Context) -> list[Job]:
    """The same of lines of the board, numbered as they come."""
    return [_job(number, line, context) for number, line in enumerate(lines, 1)]


def _job(number: int, line: WeekRow | BoardLine, context: Context) -> Job:
    return Job(number, line.item, line.task, line.place, line.title, day_due(line, context.known.zone))


def kits_of(week: WeekList, context: Context) -> KitList:
    """The kits of a weekly list as the shelf stands."""
    return KitList(week.plant, week.week, context.moment, kits(jobs_of(week, context), context))


def kits(jobs: Sequence[Job], context: Context) -> tuple[Kit, ...]:
    """The kit of each job that takes spares or has something to bring; those higher on the list get theirs first."""
    shelf, known = Shelf(context), context.known
    wanted = [(job, _parts(job, context)) for job in jobs]
    taking = [(job, parts) for job, parts in wanted if parts or known.task(job.task).kit]
    spares = {spare for _, parts in taking for spare in parts}
    stock = {spare: shelf.stock(spare).number for spare in spares}
    asked = [
        Wanted(job.line, parts, {spare: shelf.stock(spare).bag(job.line) for spare in parts}) for job, parts in taking
    ]
    rows = zip(taking, shared_out(asked, stock), strict=True)
    return tuple(_kit(job, shared, shelf, context) for (job, _), shared in rows)


def short_for(jobs: Sequence[Job], context: Context) -> tuple[Kit, ...]:
    """The jobs that wait for parts."""
    if not context.known.spares:
        return ()
    return tuple(kit for kit in kits(jobs, context) if kit.missing)


def with_what_is_short(week: WeekList, context: Context) -> WeekList:
    """A weekly list whose rows say which parts they wait for, as the shelf stands."""
    if not context.known.spares:
        return week
    short = {kit.line: kit.missing for kit in short_for(jobs_of(week, context), context)}
    return replace(week, rows=tuple(replace(row, short=short.get(row.line, ())) for row in week.rows))


def _parts(job: Job, context: Context) -> Mapping[str, int]:
    """The spares a job takes: those its task names, and of a life that is used up the part itself."""
    known, task = context.known, context.known.task(job.task)
    parts = {spare: number for spare, number in task.parts.items() if spare in known.spares}
    if task.life:
        part = _worn_part(job, context)
        spare = _spare_for(part, context) if part is not None else None
        if spare is not None:
            parts[spare.id] = parts.get(spare.id, 0) + 1
    return parts


def _worn_part(job: Job, context: Context) -> Item | None:
    """The part whose life a line asks for."""
    known = context.known
    line = context.judge.line(known.item(job.item), known.task(job.task))
    worn = next((reason.part for reason in line.reasons.all if isinstance(reason, Life)), None)
    return known.items.get(worn) if worn is not None else None


def _spare_for(part: Item, context: Context) -> Spare | None:
    """What replaces a part: the spare it came as, else the first of its kind for its family."""
    known, came = context.known, Shelf(context).spare_of(part.id)
    if came is not None:
        return known.spares[came[0]]
    inside = context.whereabouts.sits_in(part.id)
    holder = known.items.get(inside) if inside is not None else None
    family = part.family or (holder.family if holder is not None else None)
    fitting = (spare for key, spare in sorted(known.spares.items()) if spare.part is part.kind)
    return next((spare for spare in fitting if spare.is_for(family)), None)


def _kit(job: Job, shared: Sequence[Shared], shelf: Shelf, context: Context) -> Kit:
    parts = tuple(_kit_part(one, shelf, context.known.spares[one.spare]) for one in shared)
    bring = context.known.task(job.task).kit
    return Kit(job.row, job.line, job.place, job.item, job.title, job.due, parts, tuple(bring))


def _kit_part(one: Shared, shelf: Shelf, spare: Spare) -> KitPart:
    coming = shelf.coming(spare) if one.short else ()
    return KitPart(
        spare.id, spare.title, spare.unit, one.number, one.bagged, one.there, one.short, spare.place,
        coming[0].expected if coming else None,
    )  # fmt: skip
