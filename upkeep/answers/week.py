"""The weekly due list: what one ISO week asks for, in walking order."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from upkeep.answers.board import Boards
from upkeep.answers.people.training import training_ends
from upkeep.answers.printed.frame import printed
from upkeep.answers.unseen import unseen
from upkeep.due.states import CALLING, State
from upkeep.entries.origin import Proof
from upkeep.keeping.context import Context
from upkeep.keeping.holds import permit_left
from upkeep.progress import Progress, Stage, Watch, nobody
from upkeep.units.instants import utc_text
from upkeep.units.weeks import iso_week, week_days
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.week import Deferred, Permit, Stands, WeekList, WeekRow

_PAGE = 500


def week_list(
    context: Context,
    week: str | None,
    area: str | None,
    by: str,
    proof: Proof | None = None,
    known_at: datetime | None = None,
    watch: Watch = nobody,
) -> WeekList:
    """Everything that is due, overdue or open by the end of a week, as it looks at the moment.

    Work of every shift is left to the rounds at the presses and only counted in ``left_to_rounds``; overdue safety work
    is listed whatever it is.  ``watch`` is told how many lines of the board were gone through.

    Raises :class:`Unreadable` for a week that is none.
    """
    known, at, board = context.known, context.moment, Boards(context)
    zone = known.zone
    name = week or iso_week(zone.day(at))
    first, last = week_days(name)
    end = zone.start_of(last + timedelta(days=1))
    wanted, rounds = [], 0
    for line in calling(board, at, end, area, watch):
        if line.of_rounds:
            rounds += 1
        else:
            wanted.append(line)
    watch(Progress("gathered", len(wanted), len(wanted)))
    stands = {line.line: stands_of(line, end) for line in wanted}
    wanted.sort(
        key=lambda line: (
            stands[line.line] is not Stands.WALK, _route(context, line), line.place, line.item, line.task
        )
    )  # fmt: skip
    frame = printed(context, by, proof, known_at)
    return WeekList(
        plant=known.facts.name,
        zone=zone.name,
        area=area,
        week=name,
        first_day=first,
        last_day=last,
        printed_at=at,
        printed_by=frame.by,
        counts_as_of=frame.counts_as_of,
        oldest_count_press=frame.oldest_press,
        revision=frame.seal.entry,
        link=frame.seal.link,
        rows=tuple(row_of(number, line, stands[line.line], context) for number, line in enumerate(wanted, 1)),
        left_to_rounds=rounds,
        known_at=known_at,
        waiting=unseen(context),
        training=training_ends(context),
        signed_with=known.facts.signed_with,
        proof=frame.proof,
        never_read=frame.never_read,
    )


def stands_of(line: BoardLine, end: datetime) -> Stands:
    """Where a line stands on the list of a week that ends at a moment."""
    if line.state is State.HELD:
        return Stands.HELD
    if line.job is not None and line.job.interrupted_at is not None:
        return Stands.WAITS
    if line.state is State.OPEN and line.due_at is not None and line.due_at >= end and line.due_strokes is None:
        return Stands.FAR
    return Stands.WALK


def _route(context: Context, line: BoardLine) -> int:
    """The walking order of the place of a line."""
    return context.judge.area_and_route(line.place)[1]


def _by_occasion(line: BoardLine) -> bool:
    """Whether an open line may be due any day: with strokes, or with a change of tools."""
    return line.due_strokes is not None or line.at_next_stop


def calling(board: Boards, at: datetime, end: datetime, area: str | None, watch: Watch = nobody) -> Iterator[BoardLine]:
    """The lines that call somebody at ``at``, and those that come due before ``end``."""
    now = _pages(board, BoardQuery(states=frozenset(CALLING), area=area), "calling", watch)
    seen = set()
    for line in now:
        seen.add(line.line)
        if line.state is not State.OPEN or line.due_at is None or line.due_at < end or _by_occasion(line):
            yield line
    if end > at:
        for line in _pages(board, BoardQuery(states=frozenset({State.LATER}), area=area), "ahead", watch):
            if line.opens_at is None or line.opens_at >= end:
                return  # later lines come in the order in which they open, and none is due before it opens
            if line.line not in seen and line.due_at is not None and line.due_at < end:
                yield line


def _pages(board: Boards, query: BoardQuery, stage: Stage, watch: Watch) -> Iterator[BoardLine]:
    offset = 0
    while True:
        page = board.window(query, offset, _PAGE)
        yield from page.rows
        offset += len(page.rows)
        watch(Progress(stage, offset, page.total))
        if not page.rows or offset >= page.total:
            return


def _deferred(line: BoardLine, context: Context) -> Deferred | None:
    if line.deferred_to is None:
        return None
    rows = [row for row in context.rows.deferrals_of(line.item, line.task) if row.occurrence == line.occurrence]
    by = context.names.of(rows[-1].by, rows[-1].entry) if rows else "-"
    return Deferred(by, line.deferred_to, len(rows))


def _permit(line: BoardLine, context: Context) -> Permit | None:
    """The permit of an item that must not run."""
    if line.state not in (State.HELD, State.STOP):
        return None
    row = context.findings.last_permit(line.item, utc_text(context.moment))
    left = permit_left(context, line.item, context.moment)
    return Permit(row.entry, left) if row is not None and left else None


def row_of(number: int, line: BoardLine, stands: Stands, context: Context) -> WeekRow:
    """A line as a row of the list."""
    stated = None if line.last_done_at else context.rows.last_stated(line.item, line.task)
    return WeekRow(
        row=number,
        line=line.line,
        place=line.place,
        item=line.item,
        task=line.task,
        title=line.title,
        state=line.state,
        occurrence=line.occurrence,
        due_day=line.due_day,
        due_at=line.due_at,
        strokes=line.strokes,
        due_strokes=line.due_strokes,
        estimated=line.estimated,
        overdue_at=line.overdue_at,
        stop_at=line.stop_at,
        minutes=line.minutes,
        kit=bool(context.known.task(line.task).kit),
        energy=line.energy,
        statutory=line.statutory,
        last_done_at=line.last_done_at,
        last_stated=date.fromisoformat(stated.done) if stated and stated.done else None,
        at_next_stop=line.at_next_stop,
        stopped_at=line.stopped_at,
        owner=line.owner,
        area=line.area,
        stands=stands,
        waits_for=line.job.why if line.job is not None and stands is Stands.WAITS else "",
        deferred=_deferred(line, context),
        permit=_permit(line, context),
    )
