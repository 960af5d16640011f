"""The round of one place as a page: what is held, what is over, and the rows under their numbers."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.frozen import frozen
from upkeep.plant.energy import LOCAL_LAW, control_said
from upkeep.plant.names import Names
from upkeep.said import Numeral, Said, Weekday, all_of, either, in_turn, listed, said, said_many, term
from upkeep.station.pages.count import count_is_missing
from upkeep.station.pages.labels import state_said
from upkeep.station.pages.moments import ClockTime, near
from upkeep.station.pages.page import Band
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes, in_time
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import BoardLine
from upkeep.views.items import Hanging
from upkeep.views.round import Round, RoundRow
from upkeep.wording.holds import hold_said
from upkeep.wording.jobs import NOT_TO_RUN, job_said, lock_said, not_accepted_said
from upkeep.wording.states import SIGNS


@frozen
class Row:
    """A row: its number, the work and the item, its sign with the words for it, and where a touch leads.

    ``done`` says who did it and when (None: it is not done); ``line`` is where its form is, "" where it cannot be
    signed now.
    """

    number: int
    work: str
    item: str
    sign: str
    state: Said
    state_name: str
    done: Said | None
    line: str


@frozen
class RoundPage:
    """The rows, how much is left, and what stands about the count of the press (None: there is no press)."""

    place: str
    hangs: Said
    left: Said
    count: Said | None
    rows: tuple[Row, ...]
    cautions: tuple[Said, ...]
    title: Said


def round_page(walk: Round, zone: Zone, names: Names) -> RoundPage:
    """The page of a round."""
    return RoundPage(
        place=walk.place,
        hangs=_hangs(walk),
        left=_left(walk),
        count=_count(walk, zone),
        rows=tuple(_row(row, walk, zone, names) for row in walk.rows),
        cautions=_cautions(walk),
        title=said("Round of {place}", place=walk.place),
    )


def shift_said(walk: Round, zone: Zone) -> Said:
    """The running shift and when it ends."""
    if walk.shift is None or walk.shift_ends is None:
        return said("no shift is running now")
    shift = occurrence_of(walk.shift)
    name = shift.shift if isinstance(shift, OfShift) else walk.shift
    return said("{shift} shift, ends {clock}", shift=name, clock=ClockTime(walk.shift_ends, zone))


def bands(walk: Round, release: tuple[str, ...], zone: Zone) -> tuple[Band, ...]:
    """What everybody has to see first: locks, each hold with who may release it, what is over its limit here, and that
    nobody has accepted what the shift before left."""
    held = [_held(item, release) for item in walk.hanging if item.hold is not None]
    over = [Band("over", _over(line)) for line in walk.over if line.state is not State.HELD]
    left = [Band("note", not_accepted_said(walk.not_accepted))] if walk.not_accepted else []
    return (*_locked(walk, zone), *held, *over, *left)


def _locked(walk: Round, zone: Zone) -> Iterator[Band]:
    if walk.locks:
        rows = (lock_said(lock, lambda at: near(at, walk.at, zone)) for lock in walk.locks)
        yield Band("hold", said("LOCKED: {press} MUST NOT RUN.", press=walk.press or walk.place), (*rows, NOT_TO_RUN))


def _held(item: Hanging, release: tuple[str, ...]) -> Band:
    assert item.hold is not None
    kind = term(item.kind, "kind")
    sentence = said("HOLD: {item} ({kind}) MUST NOT RUN: {why}.", item=item.item, kind=kind, why=hold_said(item.hold))
    who = said("May release it: {names}.", names=either(release)) if release else said("Tell the lead.")
    return Band("hold", sentence, (who,))


def _over(line: BoardLine) -> Said:
    over = (
        said("PAST ITS STOP: {work}, {item}", work=line.title, item=line.item)
        if line.state is State.STOP
        else said("OVERDUE: {work}, {item}", work=line.title, item=line.item)
    )
    if line.remaining is not None and line.remaining < 0:
        over = said("{over}, {strokes} over", over=over, strokes=in_strokes(-line.remaining))
    return in_turn(said("{over}.", over=over), said("Tell the toolroom."))


def _hangs(walk: Round) -> Said:
    near = [item for item in walk.hanging if item.depth < 3]
    names = [said("{item} {kind}", item=item.item, kind=term(item.kind, "kind")) for item in near]
    if not names:
        return said("Nothing is fitted or stored here.")
    return said("Here: {items}", items=listed(names))


def _left(walk: Round) -> Said:
    calling = [row.line for row in walk.rows if not row.done and row.line.state in CALLING]
    if not calling:
        return said("Everything here is done for now.")
    return said_many(
        "{n} job to do here, about {time}",
        "{n} jobs to do here, about {time}",
        n=len(calling),
        time=in_time(60 * sum(line.minutes for line in calling)),
    )


def _count(walk: Round, zone: Zone) -> Said | None:
    if walk.press is None:
        return None
    if walk.last_count is None or walk.last_count_at is None:
        return said("{press} has not been counted yet.", press=walk.press)
    return said(
        "Counter of {press}: {count}, {at}",
        press=walk.press, count=walk.last_count, at=near(walk.last_count_at, walk.at, zone),
    )  # fmt: skip


def _row(row: RoundRow, walk: Round, zone: Zone, names: Names) -> Row:
    line = row.line
    done = None
    if row.done and line.last_done_at is not None:
        by = names.now(line.last_done_by) if line.last_done_by else ""
        done = said("done {at} {name}", at=ClockTime(line.last_done_at, zone), name=by)
    held = line.state is State.HELD
    return Row(
        number=row.number, work=line.title, item=line.item, sign=SIGNS[line.state], state=_why(line, walk, zone),
        state_name=line.state.name.lower().replace("_", "-"), done=done, line="" if held or row.done else line.line,
    )  # fmt: skip


def _why(line: BoardLine, walk: Round, zone: Zone) -> Said:
    if line.job is None:
        return _stands(line, walk, zone)
    job = job_said(line.job, lambda at: near(at, walk.at, zone))
    return said("{state}; {job}", state=_stands(line, walk, zone), job=job)


def _stands(line: BoardLine, walk: Round, zone: Zone) -> Said:
    state = state_said(line.state)
    if line.unverified is not None:
        return said("signed, waits for its second signature")
    if line.occurrence == walk.shift:
        return said("{state} this shift", state=state)
    if line.due_day is not None:
        return said("{state}, planned for {day}", state=state, day=Weekday(line.due_day))
    if line.due_at is not None:
        return said("{state} since {at}", state=state, at=near(line.due_at, walk.at, zone))
    return state


def _cautions(walk: Round) -> tuple[Said, ...]:
    """The energy control of the rows that are left, each kind with its numbers; the whole caution opens each form."""
    rows: dict[str, list[int]] = {}
    for row in walk.rows:
        if not row.done:
            rows.setdefault(row.line.energy, []).append(row.number)
    kinds = [
        said("For {rows}: {control}", rows=all_of(map(Numeral, numbers)), control=control_said(energy))
        for energy, numbers in rows.items()
    ]
    return (*kinds, LOCAL_LAW) if kinds else ()


def asks_for_count(walk: Round, shift: ShiftSpan | None) -> bool:
    """Whether the round begins with the count of its press."""
    return count_is_missing(walk, shift.start if shift else None)
