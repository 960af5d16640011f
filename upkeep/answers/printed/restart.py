"""What has to be seen to on the first morning after the plant stood still, press by press."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import OfShutdown, event_of, occurrence_of
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Kind
from upkeep.store.rows.counts import MarkRow
from upkeep.units.instants import from_utc_text
from upkeep.views.board import BoardLine, BoardQuery
from upkeep.views.overview.restart import Restart, RestartPress

_PAGE = 500


def restart(context: Context, since: datetime | None = None) -> Restart:
    """The list of the moment of the context; ``since``: when the plant stood still from (None: its latest count)."""
    marks = {row.press: row for row in context.tallies.last_marks()}
    latest = max((from_utc_text(row.at) for row in marks.values()), default=None)
    since = since or latest
    boards, lines = Boards(context), defaultdict(list)
    locked = {lock.press for lock in boards.window(BoardQuery(), 0, 1).locks}
    for line in _calling(boards):
        lines[line.place].append(line)
    presses = [item for item in context.known.items.values() if item.kind is Kind.PRESS and not item.scrapped]
    presses.sort(key=lambda press: (context.whereabouts.area_and_route(press.id)[1], press.id))
    return Restart(
        context.moment,
        since,
        tuple(
            _press(press, marks.get(press.id), lines[press.id], since, press.id in locked, context) for press in presses
        ),
    )


def _calling(boards: Boards) -> Iterator[BoardLine]:
    offset, total = 0, 1
    while offset < total:
        page = boards.window(BoardQuery(states=frozenset(CALLING)), offset, _PAGE)
        yield from page.rows
        offset, total = offset + _PAGE, page.total


def _press(
    press: Item, mark: MarkRow | None, lines: list[BoardLine], since: datetime | None, locked: bool, context: Context
) -> RestartPress:
    parts: dict[str, list[BoardLine]] = {"guards": [], "before": [], "meanwhile": [], "earlier": []}
    for line in sorted(lines, key=lambda line: (line.item, line.task)):
        part = _part(line, since)
        if part is not None:
            parts[part].append(line)
    return RestartPress(
        press=press.id,
        title=press.title,
        place=press.place or "-",
        area=context.whereabouts.area_and_route(press.id)[0],
        last_count=None if mark is None else mark.value if mark.restart is None else mark.restart,
        last_count_at=from_utc_text(mark.at) if mark else None,
        locked=locked,
        **{name: tuple(found) for name, found in parts.items()},
    )


def _part(line: BoardLine, since: datetime | None) -> str | None:
    """In which part of its press a line stands; None: it is not due yet, and nothing waits for it."""
    if isinstance(occurrence_of(line.occurrence), OfShutdown):
        return "guards"
    if event_of(line.occurrence):
        return "before"
    if line.state is State.OPEN:
        return None
    if line.statutory:
        return "guards"
    return "meanwhile" if since is None or line.due_at is None or line.due_at >= since else "earlier"
