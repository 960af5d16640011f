"""Judging lines: gathers what a line stands on from rows, asks the rules, and gives the row the board keeps."""

from __future__ import annotations

from datetime import datetime

from upkeep.due.facts import LineFacts, Setting
from upkeep.due.lines import Line, line_from
from upkeep.due.reason_json import text_of
from upkeep.keeping.definitions import Known
from upkeep.keeping.gathering import Gatherer
from upkeep.keeping.rows.asked import Rows
from upkeep.keeping.whereabouts import Whereabouts
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Task
from upkeep.store.rows.lines import LineRow
from upkeep.units.instants import NEVER, utc_text


class Judge(Whereabouts):
    """Judges lines of one book at its present state, from the file or from a replay.

    ``until``: later counts do not end a pause.
    """

    def __init__(self, rows: Rows, known: Known, until: datetime = NEVER) -> None:
        super().__init__(rows, known)
        self._gatherer = Gatherer(rows, known, self.counts, until)
        self.setting = Setting(self.counts, known.zone, known.calendar, known.workdays, known.names, known.standstills)

    def facts(self, item: Item, task: Task) -> LineFacts:
        """All that the rules of a line ask for: its definition, answers, strokes, events and what stands in its way."""
        return self._gatherer.facts(item, task, self.press_of(item.id))

    def line(self, item: Item, task: Task) -> Line:
        """The line of a task on an item, as it stands."""
        return line_from(self.facts(item, task), self.setting)

    def row(self, item: Item, task: Task) -> LineRow:
        """The row of a line for the board."""
        line = self.line(item, task)
        name, place = str(LineName(item.id, task.id)), self.place_of(item)
        area, route = self.area_and_route(place)
        edges, strokes, last = line.edges, line.strokes, line.last
        return LineRow(
            line=name, item=item.id, item_kind=item.kind.value, item_title=item.title,
            task=task.id, title=task.title, place=place, area=area, route=route, inside=self.sits_in(item.id),
            standing=str(line.standing), opens_at=utc_text(edges.opens), due_at=utc_text(edges.due),
            overdue_at=utc_text(edges.overdue), stop_at=utc_text(edges.stop),
            due_day=line.due_day.isoformat() if line.due_day else None,
            strokes=strokes.best if strokes else None, strokes_low=strokes.low if strokes else None,
            strokes_high=strokes.high if strokes else None, due_strokes=line.due_strokes,
            occurrence=line.occurrence, deferred_to=line.deferred_to, reasons=text_of(line.reasons),
            last_done_at=utc_text(last.at) if last else None, last_done_by=last.by if last else None,
            last_entry=last.entry if last else None, unverified=line.unverified, minutes=float(task.minutes),
            energy=task.energy.value, roles=f";{';'.join(task.by)};", second_signature=task.second_signature,
            statutory=int(task.statutory), each_shift=int(task.each_shift),
            at_next_stop=int(task.at_next_stop), stopped_at=utc_text(line.stopped_at) if line.stopped_at else None,
            fixed=int(task.rule is not None),
            source=task.source, owner=item.owner,
            searched=" ".join((name, task.title, item.title, place, area, item.owner or "")).strip().casefold(),
        )  # fmt: skip
