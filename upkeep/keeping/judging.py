"""Judging lines: gathers what a line stands on from rows, asks the rules, and gives the row the board keeps."""

from __future__ import annotations

from datetime import datetime

from upkeep.due.facts import LineFacts, Setting
from upkeep.due.lines import Line, line_from
from upkeep.due.reason_json import text_of
from upkeep.due.states import State, state_at
from upkeep.keeping.definitions import Known
from upkeep.keeping.gathering import Gatherer
from upkeep.keeping.lookups import LookedUp, Rows
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Kind, Task
from upkeep.store.rows.lines import LineRow
from upkeep.store.rows.places import FittingRow
from upkeep.units.instants import NEVER, from_utc_text, utc_text


class Judge:
    """Judges lines of one book at its present state, from the file or from a replay.

    Made for one question or one write: what it has looked up of fittings it keeps, since many lines ask the same.
    """

    def __init__(self, rows: Rows, known: Known) -> None:
        self.rows, self.known = rows, known
        self.counts = LookedUp(rows, known.calendar)
        self._gatherer = Gatherer(rows, known, self.counts)
        self.setting = Setting(self.counts, known.zone, known.calendar, known.workdays, known.names, known.standstills)
        self._last_fittings: dict[str, FittingRow | None] = {}

    def facts(self, item: Item, task: Task) -> LineFacts:
        """What a line stands on."""
        return self._gatherer.facts(item, task, self.press_of(item.id))

    def line(self, item: Item, task: Task) -> Line:
        """The line of a task on an item, as it stands."""
        return line_from(self.facts(item, task), self.setting)

    def sits_in(self, item: str) -> str | None:
        """What an item sits in now; None: in nothing."""
        row = self._last_fitting(item)
        return row.inside if row and row.until is None else None

    def _last_fitting(self, item: str) -> FittingRow | None:
        if item not in self._last_fittings:
            self._last_fittings[item] = self.rows.last_fitting(item)
        return self._last_fittings[item]

    def press_of(self, item: str) -> str | None:
        """The press an item hangs on now, through whatever it sits in; a press hangs on itself."""
        key: str | None = item
        while key is not None:
            holder = self.known.items.get(key)
            if holder is not None and holder.kind is Kind.PRESS:
                return key
            key = self.sits_in(key)
        return None

    def place_of(self, item: Item) -> str:
        """Where an item is now: its press, or the place it was put, or its home; "-" if nobody said."""
        root = item.id
        inside = self.sits_in(root)
        while inside is not None:
            root, inside = inside, self.sits_in(inside)
        top = self.known.items.get(root, item)
        if top.kind is Kind.PRESS:
            return top.id
        last = self._last_fitting(root)
        return (last.left_to if last else None) or top.place or "-"

    def area_and_route(self, place: str) -> tuple[str, int]:
        """The area and walking order of a place; a press stands where its definition says."""
        press = self.known.items.get(place)
        place_named = self.known.places.get(press.place or "" if press else place)
        return (place_named.area, place_named.route) if place_named else ("-", 0)

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
            statutory=int(task.statutory), each_shift=int(task.each_shift), fixed=int(task.rule is not None),
            source=task.source, searched=" ".join((name, task.title, item.title, place, area)).casefold(),
        )  # fmt: skip


def state_of(row: LineRow, at: datetime) -> State:
    """The state of a line at an instant."""
    if row.standing != "active":
        return State(row.standing)
    opens, due, overdue, stop = map(moment, (row.opens_at, row.due_at, row.overdue_at, row.stop_at))
    return state_at(at, opens or NEVER, due or NEVER, overdue or NEVER, stop or NEVER)


def moment(text: str | None) -> datetime | None:
    """The instant of a stored text; None for none and for "never"."""
    return None if text is None or text.startswith("9999") else from_utc_text(text)
