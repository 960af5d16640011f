"""Acts of the invented shop floor that sign, put off, report and hold; and those that correct what was told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from tests.shop_counters import START, STEP
from tests.shop_plant import COUNTED, COUNTERS, MOVED, PARTS, PRESSES, changed
from upkeep.book import BoardLine, BoardQuery
from upkeep.due.states import CALLING
from upkeep.entries.bookkeeping import Note, Strike
from upkeep.entries.counting import ConfigureCounter, Count, QuantityMade, Restart, UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault, Hold, Pause, Release, Resume
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.lives import Rework, UnknownLife
from upkeep.entries.planning import Define, Order
from upkeep.entries.signing import Cancel, Defer, LookedAgain, Sign, Stated, Verify
from upkeep.views.hints import HintKind

if TYPE_CHECKING:
    from tests.shop_floor import Floor

WORD_LINES = 400


def _line(floor: Floor, one: int) -> BoardLine | None:
    """Mostly a line that asks for somebody, now and then any."""
    query = BoardQuery(states=frozenset(CALLING)) if one % 4 else BoardQuery()
    lines = floor.book.board(floor.now, query, limit=WORD_LINES).rows
    return lines[one // 4 % len(lines)] if lines else None


def sign(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody signs a line, or work done besides it."""
    line = _line(floor, one)
    if line is None:
        return
    task = next(found for found in floor.book.tasks() if found.id == line.task)
    yield Sign(
        at=moment, by=("ana", "lea", "tom")[other % 3], task=line.task, item=line.item,
        occurrence="extra" if other % 7 == 0 else line.occurrence, grade=other // 8 % 5 if task.graded else None,
        points=tuple((point.id, (1.0 + other % 9 / 10,)) for point in task.points),
    )  # fmt: skip


def defer(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The lead puts an open line off."""
    line = _line(floor, one)
    if line is not None:
        yield Defer(
            at=moment, by="lea", task=line.task, item=line.item, occurrence=line.occurrence,
            to=_later(line.occurrence, other), risk="wear", because="no time",
        )  # fmt: skip


def _later(occurrence: str, other: int) -> str:
    if occurrence.isdigit():
        return str(int(occurrence) + 1 + other % 400)
    try:
        return str(date.fromisoformat(occurrence) + timedelta(days=1 + other % 4))
    except ValueError:
        return occurrence


def cancel(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The lead decides that an open line will not be done."""
    line = _line(floor, one)
    if line is not None:
        yield Cancel(
            at=moment, by="lea", task=line.task, item=line.item, occurrence=line.occurrence, because="not needed",
        )  # fmt: skip


def stated(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The lead says when something was last done before the book began."""
    lines = floor.book.board(floor.now, limit=WORD_LINES).rows
    line = lines[one % len(lines)]
    done = date(2026, 3, 1) - timedelta(days=other % 20)
    yield Stated(at=moment, by="lea", task=line.task, item=line.item, done=str(done))


def note(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody notes something about the book."""
    yield Note(at=moment, by="lea", text=f"page {one}")


def verify(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The lead verifies a sign-off that waits for it."""
    lines = floor.book.board(floor.now, limit=WORD_LINES).rows
    waiting = [line.unverified for line in lines if line.unverified]
    if waiting:
        yield Verify(at=moment, by="lea", entry=waiting[one % len(waiting)])


def looked_again(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody looks at work that was drawn for it, mostly another one than who did it."""
    hints = floor.book.signing_hints("lea", floor.now).hints
    drawn = [hint.entries[0] for hint in hints if hint.kind is HintKind.AGAIN]
    if drawn:
        by, entry = ("lea", "tom", "ana")[other % 3], drawn[one % len(drawn)]
        yield LookedAgain(at=moment, by=by, entry=entry, agrees=other % 2 == 0, text="dry" if other % 2 else "clean")


def fault(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A fault is found."""
    yield Fault(at=moment, by="ben", item=MOVED[one % 8], symptom="burr", stopped=other % 3 == 0)


def crash(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The dies met what they must not meet; mostly on a press."""
    item = (*PRESSES, *PRESSES, *MOVED)[one % 16]
    yield Fault(at=moment, by="ben", item=item, symptom="crash", stopped=other % 5 == 0, crash=True)


def hold(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """An item must not run."""
    yield Hold(at=moment, by="ben", item=MOVED[one % 8], because="a crack")


def release(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A held item may run again."""
    held = floor.book.holds()
    if held:
        yield Release(at=moment, by="lea", item=held[one % len(held)][0], because="looked at")


def pause(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """An item goes into storage."""
    yield Pause(at=moment, by="lea", item=(*MOVED, "P-05")[one % 9], because="in the store")


def resume(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """An item comes back."""
    paused = [line.item for line in floor.book.board(floor.now, limit=WORD_LINES).rows if line.state == "paused"]
    if paused:
        yield Resume(at=moment, by="lea", item=paused[one % len(paused)])


# Corrections


def _some_entry(floor: Floor, one: int) -> int:
    """Often one of the last few, so that chains of strikes and corrections come about."""
    told = [number for number, entry in floor.told.items() if not isinstance(entry, Define)] or [1]
    return told[-1 - one // 2 % min(len(told), 6 if one % 2 else 60)]


def strike(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Something never was."""
    yield Strike(at=moment, by="lea", entry=_some_entry(floor, one), because="never was")


def correct(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Something was otherwise, or at another moment."""
    number = _some_entry(floor, one)
    old = floor.told.get(number)
    if old is None or isinstance(old, Verify | Strike | Define):
        return
    told = replace(old, recorded_at=None, corrects=number, because="told wrongly", by="lea")
    if other % 3 == 0:
        told = replace(told, at=max(START, old.at + STEP * (other % 60 - 30)))
    yield _told_anew(floor, told, other // 3)


def _told_anew(floor: Floor, told: Entry, other: int) -> Entry:
    match told:
        case Count() if other % 2:
            counter = COUNTERS[other % 4]
            return replace(told, press=counter, value=floor.counters.shown(counter, told.at))
        case Count():
            value, rolled = max(0, told.value + other % 9 - 4), told.rolled_over ^ (other % 5 == 0)
            return replace(told, value=value, rolled_over=rolled, after_reset=told.after_reset ^ (other % 7 == 0))
        case Fit() if other % 2:
            key = MOVED[other % 8]
            return replace(told, item=key, inside=floor.holders(key)[other % len(floor.holders(key))])
        case Fit() | Unfit() if told.count is not None and told.press is not None:
            return replace(told, count=None if other % 3 else floor.counters.shown(told.press, told.at))
        case Sign() if told.grade is not None:
            return replace(told, grade=other % 5)
        case Sign() if told.points:
            return replace(told, points=(("gap", (1.0 + other % 9 / 10,)),))
        case Fault() | Hold() | Pause() | UnknownLife():
            return replace(told, item=MOVED[other % 8])
    return _counted_anew(told, other)


def _counted_anew(told: Entry, other: int) -> Entry:
    match told:
        case Restart():
            shown = None if told.shown is None else max(0, told.shown - other % 20)
            return replace(told, shown=shown, now=max(0, told.now - other // 20 % 9))
        case ConfigureCounter():
            return replace(told, times=(1.0, 10.0)[other % 2], press=told.press if other % 3 else COUNTED[other % 3])
        case QuantityMade():
            press = told.press if other % 3 else PRESSES[other % 4]
            return replace(told, press=press, pieces=told.minutes * (other % 12))
        case UncountedStrokes():
            return replace(told, strokes=1 + other % 200, item=told.item if other % 3 else MOVED[other % 8], on=())
        case Rework():
            return replace(told, granted=200 + other % 900, item=told.item if other % 3 else PARTS[other % 4])
        case Order():
            return replace(told, pieces=1 + other)
        case Stated():
            return replace(told, done=str(date(2026, 3, 1) - timedelta(days=other % 20)))
        case Defer():
            return replace(told, to=_later(told.occurrence, other))
    return told


def define(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The plant is defined otherwise."""
    for found in floor.book.changed([changed(one, other)]):
        key = "plant" if found.what == "plant" else found.key
        yield Define(at=floor.now, by="lea", what=found.what, key=key, content=found.text, because="as it is now")


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "sign": sign, "stated": stated, "note": note, "defer": defer, "cancel": cancel, "verify": verify, "fault": fault,
    "looked-again": looked_again,
    "crash": crash, "hold": hold, "release": release, "pause": pause, "resume": resume, "strike": strike,
    "correct": correct, "define": define,
}  # fmt: skip
"""Each act takes the floor, the moment it tells of and two numbers that choose what it is about."""
