"""The days ahead: how much falls due on each, and which lines strokes bring due next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from upkeep.answers.forecast import Forecasts
from upkeep.keeping.context import Context
from upkeep.planning.forecast import Left
from upkeep.views.board import BoardLine
from upkeep.views.overview.home import DayAhead, Expected

_DAYS = 7
_LOOKED_AT, _SHOWN = 24, 8
"""Lines nearest to their limit for which a forecast is made, and how many of them are shown."""


class Days:
    """The seven days from the day of a context on."""

    def __init__(self, context: Context) -> None:
        self._zone, self._today = context.known.zone, context.known.zone.day(context.moment)
        self.start = self._zone.start_of(self._today)
        self.ends_today = self._zone.start_of(self._today + timedelta(days=1))

    def week(self, lines: Iterable[BoardLine]) -> tuple[DayAhead, ...]:
        """How much falls due on each; what is due already stands under today."""
        due: dict[date, list[BoardLine]] = {self._today + timedelta(days=ahead): [] for ahead in range(_DAYS)}
        for line in lines:
            day = self._today if line.due_at is None else max(self._today, self._zone.day(line.due_at))
            if day in due:
                due[day].append(line)
        return tuple(DayAhead(day, len(on), sum(line.minutes for line in on)) for day, on in due.items())


def soonest(context: Context, lines: Sequence[BoardLine]) -> tuple[Expected, ...]:
    """Of the lines nearest to their limit those that are expected first, with the day."""
    forecasts, expected = Forecasts(context), []
    for line in lines[:_LOOKED_AT]:
        if line.due_strokes is None or line.strokes is None or line.strokes_high is None:
            continue
        doubt, left = line.strokes_high - line.strokes, line.due_strokes - line.strokes
        outlook = forecasts.of_left(context.known.item(line.item), Left(left - doubt, left, left + doubt))
        if outlook.expected is not None:
            expected.append(Expected(line, outlook.expected, outlook.latest_safe))
    expected.sort(key=lambda one: (one.expected or date.max, one.line.line))
    return tuple(expected[:_SHOWN])
