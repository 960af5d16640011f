"""Presses that are at fault by measured points: what asks for their shut height, and what must not run on them."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.keeping.definitions import Known
from upkeep.keeping.rows.asked import Rows
from upkeep.plant.model import Item, Kind, Task
from upkeep.store.rows.findings import DoubtedPressRow
from upkeep.store.rows.signatures import SignOffRow
from upkeep.units.instants import NEVER, utc_text
from upkeep.wear.shown import SHUT


def measures_shut_height(task: Task, item: Item) -> bool:
    """Whether a task measures the shut height of an item, which is a press then."""
    return item.kind is Kind.PRESS and any(point.id == SHUT for point in task.points)


def open_doubt(rows: Rows, known: Known, item: str, press: str) -> DoubtedPressRow | None:
    """What holds an item on one press: the last time that points measured on it said that this press is at fault.

    None: they never did, or the shut height of the press was signed with good values since; or nobody measures it any
    more, so that no work could end the hold.
    """
    doubt = next((row for row in rows.doubts_of(press)[::-1] if row.item == item), None)
    tasks = _measuring(known, press)
    if doubt is None or not tasks:
        return None
    good = (row for task in tasks for row in _good(rows, task, press))
    return None if any((row.at, row.entry) > (doubt.at, doubt.entry) for row in good) else doubt


def doubted(rows: Rows, known: Known, item: str, press: str) -> Iterator[tuple[DoubtedPressRow, str | None]]:
    """What ever held an item on one press, in order: the first doubt, and when the shut height was measured good since;
    None: it holds."""
    tasks = _measuring(known, press)
    if not tasks:
        return
    good = sorted((row.at, row.entry) for task in tasks for row in _good(rows, task, press))
    ended = ""
    for doubt in rows.doubts_of(press):
        if doubt.item == item and doubt.at >= ended:
            until = next((at for at, entry in good if (at, entry) > (doubt.at, doubt.entry)), None)
            yield doubt, until
            if until is None:
                return
            ended = until


def _measuring(known: Known, press: str) -> list[Task]:
    return [task for task in known.tasks_on(known.items[press]) if measures_shut_height(task, known.items[press])]


def _good(rows: Rows, task: Task, press: str) -> Iterator[SignOffRow]:
    """The sign-offs of a task on a press that count and found nothing out of limits, newest first."""
    for row in rows.done_before(press, task.id, utc_text(NEVER), 0):
        if (task.second_signature is None or row.verified_by is not None) and not row.out and row.grade != 4:
            yield row
