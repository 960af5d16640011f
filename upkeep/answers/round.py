"""The round of one place: what it asks of its operator in the running shift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upkeep.answers.board import Boards
from upkeep.answers.cautions import cautions_of
from upkeep.answers.history import history_of
from upkeep.answers.under_way.jobs import WorkUnderWay
from upkeep.answers.under_way.shifts import not_accepted
from upkeep.counting.judgement import Counter, expected_range
from upkeep.due.holds import HoldReason, PressInDoubt
from upkeep.due.states import BOARD_ORDER, CALLING, State
from upkeep.entries.entry import Recorded
from upkeep.entries.faults import Fault
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.keeping.rows.counted import configuration_at, mark_from
from upkeep.keeping.rows.doubted_presses import open_doubt
from upkeep.plant.model import Item, Kind, Role
from upkeep.units.instants import utc_text
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import BoardLine
from upkeep.views.items import Hanging
from upkeep.views.round import FoundHere, Round, RoundRow


class Rounds:
    """Makes rounds of one book at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment

    def of(self, place: str) -> Round:
        """The round of a press or place; raises :class:`NotFound` with near misses."""
        items = self.hanging_on(place)
        press = next((item.item for item in items if item.kind == Kind.PRESS), None)
        shift = self._known.calendar.at(self._at)
        row = self._context.rows.last_mark(press) if press else None
        mark = mark_from(row) if row else None
        here = [item.item for item in items]
        written = self._written(items, shift)
        walked = self._walked([item.item for item in items if item.inside is None], shift)
        of_all = Boards(self._context).lines_of(list(dict.fromkeys((*here, *walked))))
        lines = tuple(
            sorted(
                (line for line in of_all if line.item in here and _is_wanted(line, shift)),
                key=lambda line: (BOARD_ORDER.index(line.state), line.line),
            )
        )
        return Round(
            at=self._at,
            place=place,
            press=press,
            shift=shift.key if shift else None,
            shift_ends=shift.end if shift else None,
            last_count=mark.reading.base if mark else None,
            last_count_at=mark.at if mark else None,
            expected=self._expected(press),
            hanging=tuple(items),
            lines=lines,
            done=history_of(self._context, written),
            cautions=cautions_of(self._known, ((line.item, line.task) for line in lines)),
            rows=tuple(_rows(of_all, walked, here, shift)),
            over=tuple(
                line
                for line in sorted(of_all, key=lambda line: (BOARD_ORDER.index(line.state), line.line))
                if line.item in here and Role.OPERATOR not in line.roles and line.state in (State.STOP, State.OVERDUE)
            ),
            found=tuple(self._found(written)),
            locks=tuple(lock for lock in WorkUnderWay(self._context).locks() if lock.press == press),
            not_accepted=not_accepted(self._context),
        )

    def _walked(self, roots: Sequence[str], shift: ShiftSpan | None) -> list[str]:
        """What hangs or hung here in this shift, in an order in which nothing that comes or goes moves anything else:
        first what was there when the shift began, then the rest as it came."""
        began = utc_text(shift.start if shift else self._at)
        walked, came = list(roots), dict.fromkeys(roots, "")
        for item in walked:  # grows while it is walked
            for fitting in self._context.rows.fittings_in(item, began):
                if fitting.item not in came:
                    came[fitting.item] = max(came[item], fitting.start if fitting.start > began else "")
                    walked.append(fitting.item)
        return sorted(walked, key=came.__getitem__)

    def _expected(self, press: str | None) -> tuple[int, int] | None:
        row = self._context.rows.last_mark(press) if press else None
        if press is None or row is None:
            return None
        reading, item = mark_from(row).reading, self._known.press(press)
        rows = self._context.rows.configurations_of(press)
        counter = Counter(press, configuration_at(item, rows)(reading.at), item.max_rate)
        return expected_range(counter, reading, self._known.running_hours(reading.at, self._at))

    def hanging_on(self, place: str) -> list[Hanging]:
        """What hangs on a press or stands at a place, each followed by what is in it."""
        self._known.press_or_place(place)
        items = self._known.items.values()
        presses = [
            item.id
            for item in items
            if item.kind is Kind.PRESS and not item.scrapped and place in (item.id, item.place)
        ]
        roots = presses or [item.id for item in items if not item.scrapped and self._stands_at(item, place)]
        return [content for root in roots for content in self._with_contents(root, None, 0, root)]

    def _stands_at(self, item: Item, place: str) -> bool:
        judge = self._context.judge
        return judge.sits_in(item.id) is None and judge.place_of(item) == place

    def _with_contents(self, key: str, inside: str | None, depth: int, root: str) -> Iterator[Hanging]:
        item = self._known.item(key)
        hold = hold_reason(self._context, key) or self._held_on(root, key)
        yield Hanging(key, item.kind.value, item.title, inside, depth, hold)
        for content in self._context.rows.inside_now(key):
            yield from self._with_contents(content.item, key, depth + 1, root)

    def _held_on(self, press: str, item: str) -> HoldReason | None:
        """What holds an item on this press alone."""
        if self._known.item(press).kind is not Kind.PRESS:
            return None
        doubt = open_doubt(self._context.rows, self._known, item, press)
        return None if doubt is None else PressInDoubt(press, doubt.entry)

    def _written(self, items: Sequence[Hanging], shift: ShiftSpan | None) -> list[Recorded]:
        """What was signed and found on items in this shift and is in effect."""
        if shift is None:
            return []
        since, entries = utc_text(shift.start), self._context.entries
        written = (
            recorded for item in items for recorded in entries.of_item(item.item, ("sign", "fault"), from_at=since)
        )
        return [recorded for recorded in written if recorded.entry.at <= self._at]

    def _found(self, written: Sequence[Recorded]) -> Iterator[FoundHere]:
        for recorded in sorted(written, key=lambda recorded: -recorded.id):
            entry = recorded.entry
            if isinstance(entry, Fault):
                name = self._context.names.of(entry.by, recorded.id)
                yield FoundHere(recorded.id, entry.at, name, entry.item, entry.symptom)


def _is_wanted(line: BoardLine, shift: ShiftSpan | None) -> bool:
    """Whether an operator does it there, now or before the shift ends."""
    if Role.OPERATOR not in line.roles:
        return False
    opens = line.state is State.LATER and shift is not None and line.opens_at is not None and line.opens_at < shift.end
    return line.state in CALLING or opens


def _rows(
    lines: Sequence[BoardLine], walked: Sequence[str], here: Sequence[str], shift: ShiftSpan | None
) -> Iterator[RoundRow]:
    """The lines of an operator in this shift under their numbers; a number stands for a line whether or not it is
    shown, so that one that opens later moves no other."""
    order = {item: place for place, item in enumerate(walked)}
    mine = sorted(
        (line for line in lines if Role.OPERATOR in line.roles and line.item in order),
        key=lambda line: (order[line.item], line.task),
    )
    for number, line in enumerate(mine, 1):
        done = shift is not None and line.last_done_at is not None and line.last_done_at >= shift.start
        if done or (line.item in here and _is_wanted(line, shift)):
            yield RoundRow(number, line, done)
