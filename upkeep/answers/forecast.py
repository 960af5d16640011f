"""Forecasts of stroke lines: the days behind an item, the orders before it, and what planning makes of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from upkeep.counting.strokes import strokes_between
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.whereabouts import Whereabouts
from upkeep.planning.forecast import Ahead, Forecast, Left, forecast_from
from upkeep.planning.rate import LOOKED_BACK, daily_rate
from upkeep.plant.model import Item, Kind
from upkeep.said import said

if TYPE_CHECKING:
    from upkeep.store.rows.counts import OrderRow
    from upkeep.views.board import BoardLine


def forecast_of(context: Context, line: BoardLine) -> Forecast:
    """When a line will be due by strokes, how sure that is, and the last day on which it is still safe.

    Raises :class:`Refused` for a line without a stroke trigger.
    """
    if line.due_strokes is None or line.strokes is None or line.strokes_high is None:
        raise Refused(said("{line} does not go by strokes; its due date is on the board.", line=line.line))
    doubt = line.strokes_high - line.strokes
    left = line.due_strokes - line.strokes
    return Forecasts(context).of_left(context.known.item(line.item), Left(left - doubt, left, left + doubt))


class Forecasts:
    """Forecasts at the moment of a context; the days behind an item and its orders are gone through once."""

    def __init__(self, context: Context) -> None:
        self._context, self._today = context, context.known.zone.day(context.moment)
        self._behind: dict[str, tuple[dict[date, int], Mapping[date, int]]] = {}

    def of_left(self, item: Item, left: Left) -> Forecast:
        """When so many strokes of an item are used up."""
        done, planned = self._days_of(item)
        return forecast_from(left, done, self._context.known.workdays, self._today, planned)

    def ahead_of(self, item: Item) -> Ahead | None:
        """What the days from today on bring an item; None where too few days behind it have a count."""
        done, planned = self._days_of(item)
        rate = daily_rate(done, self._context.known.workdays, self._today)
        return None if rate is None else Ahead(rate, self._today, self._context.known.workdays, planned)

    def _days_of(self, item: Item) -> tuple[dict[date, int], Mapping[date, int]]:
        if item.id not in self._behind:
            counted = _done_by_day(self._context.whereabouts, item, self._today)
            self._behind[item.id] = counted, _planned(self._context, item, self._today)
        return self._behind[item.id]


def _done_by_day(whereabouts: Whereabouts, item: Item, today: date) -> dict[date, int]:
    """The strokes of each day that is fully counted, as far back as a rate looks."""
    zone, since = whereabouts.known.zone, whereabouts.known.zone.day(whereabouts.known.since[item.id])
    press = whereabouts.press_of(item.id)
    counted = whereabouts.counts.last_read(press) if press else None
    first = max(since, whereabouts.known.workdays.add(today, -LOOKED_BACK))
    done = {}
    for passed in range((today - first).days):
        day = first + timedelta(days=passed)
        start, end = zone.start_of(day), zone.start_of(day + timedelta(days=1))
        if press is None or (counted is not None and counted >= _last_shift_end(whereabouts, start, end)):
            done[day] = strokes_between(whereabouts.counts, item.id, start, end).best
    return done


def _last_shift_end(whereabouts: Whereabouts, start: datetime, end: datetime) -> datetime:
    """Until when a day has to be counted: the end of its last shift that ends within it, or its own end."""
    ends = [shift.end for shift in whereabouts.known.calendar.between(start, end) if shift.end <= end]
    return max(ends, default=end)


def _planned(context: Context, item: Item, today: date) -> Mapping[date, int]:
    """The pieces still to be made with an item by day: an order runs from its day on, as fast as its press can."""
    rows, whereabouts = context.rows, context.whereabouts
    planned: dict[date, int] = {}
    for order in rows.orders():
        if item.id not in _concerned(whereabouts, order.item, order.press):
            continue
        for worked, share in _shares(context, order, today):
            planned[worked] = planned.get(worked, 0) + share
    return planned


def _shares(context: Context, order: OrderRow, today: date) -> Iterator[tuple[date, int]]:
    """The pieces of an order still to be made, by working day."""
    left = order.pieces - context.rows.pieces_of(order.ordered)
    for worked in context.known.workdays.starting(max(today, date.fromisoformat(order.day))):
        if left <= 0:
            break
        share = min(left, _most_in_a_day(context.whereabouts, order.press, worked))
        yield worked, share
        left -= share


def days_of_order(context: Context, order: OrderRow, today: date) -> list[date]:
    """The working days from one on that an order still takes, run as fast as its press can."""
    return [day for day, _ in _shares(context, order, today)]


def _concerned(whereabouts: Whereabouts, die_set: str, press: str) -> set[str]:
    """The items an order runs: its die set and what is in it, what holds it now, and its press."""
    concerned = {die_set, press}
    for item in whereabouts.known.items.values():
        inside = whereabouts.sits_in(item.id)
        if inside == die_set or (item.kind is Kind.MODULE and whereabouts.sits_in(die_set) == item.id):
            concerned.add(item.id)
    return concerned


def _most_in_a_day(whereabouts: Whereabouts, press: str, day: date) -> int:
    """The most strokes a press can do on a day: its fastest rate over the hours of the shifts that begin then."""
    zone = whereabouts.known.zone
    shifts = whereabouts.known.calendar.between(zone.start_of(day), zone.start_of(day + timedelta(days=1)))
    seconds = sum((shift.end - shift.start).total_seconds() for shift in shifts if shift.day == day)
    rate = whereabouts.known.press(press).max_rate or 0
    return max(1, round(rate * (seconds or 86_400) / 3600))
