"""When work is due, worked out by hand: one day after another on the calendar, one stroke after another on the counter.

The slow, plain way to keep one line: a sheet of paper that knows the task, what was done, cancelled and put off, and is
asked on a day in which state the line is.  Nothing of the engine's rules is used.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

DAY = timedelta(days=1)
SEVERITY = ("later", "open", "due", "overdue", "stop")


@dataclass
class Sheet:
    """One line kept by hand.  ``task`` is its definition; ``since`` the day the item came into the book."""

    task: Mapping[str, Any]
    since: date
    total: int = 0
    """Strokes of the item so far."""
    worked_on: date | None = None
    """The day the work was last done."""
    counted_from: date | None = None
    """The day the interval counts from, if it was ever answered."""
    answered: set[date] = field(default_factory=set)
    """Planned days that are answered, of a fixed rule."""
    base: int = 0
    """The strokes the interval counts from."""
    done_at: int = 0
    """The strokes at which the work was last done for them."""
    happened: str | None = None
    ran: int = 0
    """Strokes since it happened."""
    put_off: dict[str, str] = field(default_factory=dict)
    """Occurrences that were deferred, and the last point each was deferred to."""
    times: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.fixed_until = self.since - DAY

    # What happens

    def count(self, strokes: int) -> None:
        """The item runs, stroke after stroke."""
        for _ in range(strokes):
            self.total += 1
            self.ran += 1

    def happen(self, occurrence: str) -> None:
        """Something happens that asks for the work before the item runs again."""
        self.happened, self.ran = occurrence, 0

    def work(self, day: date, occurrence: str, reach: int = 0) -> None:
        """The work is done for an occurrence, or by bigger work that reaches some days ahead (occurrence "")."""
        self.worked_on = self.counted_from = day
        self.happened = None
        for ahead in range(max(self.task.get("early_days", 0), reach) + 1):
            self._answer_until(day + ahead * DAY)
        if "-" in occurrence:
            self._answer_until(date.fromisoformat(occurrence))
        if self.task.get("own_usage_clock") and not occurrence.isdigit():
            return
        self.done_at = self.base = self.total
        if self.task.get("deduct_overrun") and occurrence.isdigit():
            while self.base > int(occurrence) and self.base + self._interval() > self.total + 1:
                self.base -= 1
        self._forget_strokes()

    def cover(self, day: date, reach: int) -> None:
        """Bigger work is done; it covers this one where that falls due by the days it reaches."""
        if self.task.get("every") is None or self._floating_from(self.worked_on) <= day + reach * DAY:
            self.work(day, "", reach)

    def cancel(self, occurrence: str) -> None:
        """An occurrence will not be done."""
        if occurrence == self.happened:
            self.happened = None
        elif occurrence.isdigit():
            self.base = int(occurrence)
            self._forget_strokes()
        else:
            self.counted_from = date.fromisoformat(occurrence)
            self._answer_until(self.counted_from)

    def defer(self, occurrence: str, to: str) -> bool:
        """An occurrence is put off, if it may be; says whether it was."""
        if self.times.get(occurrence, 0) >= self.task.get("max_deferrals", 2) or occurrence == self.happened:
            return False
        self.times[occurrence] = self.times.get(occurrence, 0) + 1
        self.put_off[occurrence] = to
        return True

    def _forget_strokes(self) -> None:
        self.put_off = {key: to for key, to in self.put_off.items() if not key.isdigit()}

    def _answer_until(self, day: date) -> None:
        self.fixed_until = max(self.fixed_until, day)

    # What is planned

    def planned(self) -> set[str]:
        """What a sign-off may answer now."""
        found = {self.happened} if self.happened else set()
        day = self.planned_day()
        if day is not None:
            found.add(str(day))
        if "strokes" in self.task:
            found.add(str(self._planned_strokes()))
        return found

    def planned_day(self) -> date | None:
        """The planned day that is open, whether by interval or by rule."""
        if "every" in self.task:
            return self._floating_from(self.counted_from)
        if "rule" in self.task:
            return next(self._fixed_after(self.fixed_until))
        return None

    def _floating_from(self, day: date | None) -> date:
        start = day or self.since
        number, unit = self.task["every"].split()
        if unit.startswith("day"):
            return start + int(number) * DAY
        return months_after(start, int(number))

    def _fixed_after(self, day: date) -> Iterator[date]:
        while True:
            day += DAY
            if is_planned(self.task["rule"], day, self.since):
                yield day

    def _interval(self) -> int:
        return int(self.task["strokes"])

    def _planned_strokes(self) -> int:
        return max(self.base + self._interval(), self.done_at + 1)

    # Where it stands

    def state(self, today: date) -> str:
        """The state of the line on a day, by whichever of its triggers comes first or last."""
        states = [state for state in (self._day_state(today), self._stroke_state()) if state]
        pick = max if self.task.get("combine", "first") == "last" else min
        found = []
        if states:
            ranks = [SEVERITY.index(state) for state in states]
            found.append(min(ranks) if pick is max else max(ranks))
        if self.happened:
            ran = self.ran >= self.task.get("used_from", 1)
            found.append(SEVERITY.index(("stop" if "stop_days" in self.task else "overdue") if ran else "due"))
        return SEVERITY[max(found)] if found else "not required"

    def _day_state(self, today: date) -> str | None:
        planned = self.planned_day()
        if planned is None:
            return None
        early, late = self._window(planned)
        day, state = min(today, planned - 60 * DAY) - DAY, "later"
        while day < today:
            day += DAY
            state = self._on(day, planned, early, late)
        return state

    def _on(self, day: date, planned: date, early: int, late: int) -> str:
        if day < planned - early * DAY:
            return "later"
        if day < planned:
            return "open"
        last = planned + late * DAY
        last_before_stop = max(last, planned + self.task.get("stop_days", 0) * DAY)
        deferred = self.put_off.get(str(planned))
        if deferred is not None:
            last, last_before_stop = (max(one, date.fromisoformat(deferred)) for one in (last, last_before_stop))
        if "stop_days" in self.task and day > last_before_stop:
            return "stop"
        return "overdue" if day > last else "due"

    def _window(self, planned: date) -> tuple[int, int]:
        """Days before and after the planned one, by days or by percent of the interval, whichever is more."""
        length = 0
        if "every" in self.task:
            while planned - (length + 1) * DAY >= (self.counted_from or self.since):
                length += 1
        else:
            day = planned - DAY
            while day >= self.since and not is_planned(self.task["rule"], day, self.since):
                day -= DAY
            length = (planned - day).days if day >= self.since else 0
        return self._wider(length, "early"), self._wider(length, "late")

    def _wider(self, length: int, side: str) -> int:
        by_percent = int(length * self.task.get(f"{side}_percent", 0) / 100)
        by_days, cap = int(self.task.get(f"{side}_days", 0)), int(self.task.get("window_cap_days", by_percent))
        return max(by_days, min(by_percent, cap))

    def _stroke_state(self) -> str | None:
        if "strokes" not in self.task:
            return None
        interval, task = self._interval(), self.task
        plan_from = min(task.get("plan_from", 80), 100 - task.get("early_percent", 0))
        grace = max(task.get("late_strokes", 0), int(interval * task.get("late_percent", 0) / 100))
        waits = int(next((to for key, to in self.put_off.items() if key.isdigit()), "0"))
        state = "later"
        for done in range(self.done_at + 1, self.total + 1):
            counted = done - self.base
            if "stop_at" in task and counted * 100 >= interval * task["stop_at"] and done > waits:
                state = "stop"
            elif counted > interval + grace and done > waits:
                state = self._worse(state, "overdue")
            elif counted >= interval:
                state = self._worse(state, "due")
            elif counted * 100 >= interval * plan_from:
                state = self._worse(state, "open")
        return state

    @staticmethod
    def _worse(one: str, other: str) -> str:
        return max(one, other, key=SEVERITY.index)


def months_after(day: date, months: int) -> date:
    """So many months later on the same day of the month, or on the last one where the month is shorter."""
    year, month = day.year, day.month
    for _ in range(months):
        year, month = (year, month + 1) if month < 12 else (year + 1, 1)
    for number in range(day.day, 0, -1):
        try:
            return date(year, month, number)
        except ValueError:
            continue
    raise AssertionError("a month without days")


def is_planned(rule: str, day: date, start: date) -> bool:
    """Whether a rule plans a day: every so many days, some days of the week, or a day of the month."""
    parts = dict(part.split("=") for part in rule.split(";"))
    if day < start:
        return False
    if parts["FREQ"] == "DAILY":
        return (day - start).days % int(parts.get("INTERVAL", 1)) == 0
    if parts["FREQ"] == "WEEKLY":
        return ("MO", "TU", "WE", "TH", "FR", "SA", "SU")[day.weekday()] in parts["BYDAY"].split(",")
    return day.day == int(parts["BYMONTHDAY"])
