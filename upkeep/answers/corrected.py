"""What a correction shows of work already done: early, late or not needed after all; and what was never asked for.

Each line that the correction moved is judged twice, by the book as it stood before and as it stands now.  What was done
stays done; nothing here changes anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from enum import StrEnum

from upkeep.answers.figures.occurrences import AsPlanned, Days, JudgedOccurrence, Occurrences
from upkeep.due.compliance import Verdict
from upkeep.due.states import State
from upkeep.keeping.context import Context
from upkeep.keeping.holds import Rests
from upkeep.keeping.in_force import DefinedThen
from upkeep.keeping.judging import Judge
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Item, Task
from upkeep.said import Moment, Numeral, Said, said
from upkeep.store.rows.signatures import SignOffRow
from upkeep.units.instants import from_utc_text, utc_text


class When(StrEnum):
    """How work came, beside the window it was for."""

    EARLY = "early"
    IN_TIME = "in time"
    LATE = "late"
    NOT_NEEDED = "not needed"


_NOT_ASKED = (Verdict.NOT_USED, Verdict.NOT_FITTED)
_MISSED = (Verdict.NOT_DONE, Verdict.STILL_OPEN)


class _Seen:
    """The work on lines since a moment, as one state of the book shows it."""

    def __init__(self, context: Context, items: Iterable[str], since: datetime, now: datetime) -> None:
        self._context, self._since, self._rests = context, since, Rests(context)
        zone = context.known.zone
        first, last = zone.day(since), zone.day(now)
        days = Days(first, last, zone.start_of(first), zone.start_of(last + timedelta(days=1)), now)
        self._definitions = _definitions_from(context, items, days.start)
        self._occurrences = Occurrences(context, self._definitions, days)

    def work(self, item: Item, task: Task) -> dict[int, tuple[SignOffRow, When]]:
        """Each sign-off of a line by its entry, with how it came."""
        rows = self._context.rows.sign_offs_from(item.id, task.id, utc_text(self._since))
        return {row.entry: (row, self._when(row, item, task)) for row in rows if row.how == "done"}

    def _when(self, row: SignOffRow, item: Item, task: Task) -> When:
        moment = from_utc_text(row.at)
        known, unknown = self._definitions.at(moment), self._definitions.unknown_at(moment)
        rows = AsPlanned(self._context.file, moment, row.entry, unknown, self._rests)
        state = Judge(rows, known).line(item, task).state(moment)
        if state is State.NOT_REQUIRED:
            return When.NOT_NEEDED
        if state is State.LATER:
            return When.EARLY
        return When.LATE if state in (State.OVERDUE, State.STOP) else When.IN_TIME

    def shifts(self, item: Item, task: Task) -> dict[str, JudgedOccurrence]:
        """Each shift of a line of every shift, by its name."""
        return {judged.occurrence: judged for judged in self._occurrences.of(item.id, task.id)}


def _definitions_from(context: Context, items: Iterable[str], start: datetime) -> DefinedThen:
    """What was in force from a moment on; all that was ever defined is read only where it matters to some items."""
    if context.entries.defined_from(utc_text(start), items):
        return DefinedThen(context.entries.definitions())
    return DefinedThen.unchanged(context.known)


def shown_by_correction(
    before: Context, after: Context, lines: Iterable[tuple[Item, Task]], since: datetime, now: datetime
) -> Iterator[Said]:
    """What lines that a correction moved say of the work and the shifts since the moment it is about."""
    moved = list(lines)
    items = {item.id for item, _ in moved}
    then, today = _Seen(before, items, since, now), _Seen(after, items, since, now)
    for item, task in moved:
        name = str(LineName(item.id, task.id))
        if task.each_shift:
            old = then.shifts(item, task)
            for key, judged in today.shifts(item, task).items():
                if key in old and old[key].verdict is not judged.verdict:
                    yield from _of_shift(after, name, old[key], judged)
            continue
        known = then.work(item, task)
        for entry, (row, when) in today.work(item, task).items():
            if entry in known and known[entry][1] is not when:
                yield _of_work(after, name, row, when)


def _of_work(context: Context, line: str, row: SignOffRow, when: When) -> Said:
    how = {
        When.EARLY: said("it was done early, before its window opened"),
        When.LATE: said("it was done late"),
        When.NOT_NEEDED: said("it was not needed"),
        When.IN_TIME: said("it was done in time"),
    }[when]
    return said(
        "{line}, signed {moment} by {name} (#{entry}): by what is known now {how}. It stays done.",
        line=line,
        moment=Moment(from_utc_text(row.at), context.known.zone),
        name=context.names.of(row.by, row.entry),
        entry=Numeral(row.entry),
        how=how,
    )


def _of_shift(context: Context, line: str, old: JudgedOccurrence, new: JudgedOccurrence) -> Iterator[Said]:
    """A shift in which the count moved after all, or did not; with work that was signed for it, or none."""
    asked, was_asked = new.verdict not in _NOT_ASKED, old.verdict not in _NOT_ASKED
    if asked == was_asked:
        return
    if new.answer is not None:
        needed = said("it was needed") if asked else said("it was not needed, since the count did not move")
        yield said(
            "{line} for {occurrence}, signed by {name} (#{entry}): by what is known now {needed}. It stays done.",
            line=line,
            occurrence=new.occurrence,
            name=context.names.of(new.answer.by, new.answer.entry),
            entry=Numeral(new.answer.entry),
            needed=needed,
        )
    elif asked and new.verdict in _MISSED:
        yield said(
            "{line} for {occurrence} was never asked for, and by what is known now it should have been.",
            line=line,
            occurrence=new.occurrence,
        )
    elif was_asked and old.verdict in _MISSED:
        yield said(
            "{line} for {occurrence} was asked for and not done; by what is known now it was not needed.",
            line=line,
            occurrence=new.occurrence,
        )
