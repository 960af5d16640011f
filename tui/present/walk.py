"""The round of a place in words: shift, what hangs there, its count, its numbered lines and what was signed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from tui.present.board import due_text, last_done_said, late_said
from tui.present.moments import Now, clock_text, near_said, wall_said
from tui.present.state_words import state_text
from tui.present.words import between, first_that_fits, wrapped
from upkeep.due.states import CALLING
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.plant.energy import LOCAL_LAW, control_said
from upkeep.said import Figure, Quoted, Said, Value, in_turn, listed, said, said_as, term
from upkeep.units.quantities import figure_of, in_time
from upkeep.views.board import BoardLine
from upkeep.views.items import Hanging
from upkeep.views.round import FoundHere, Round, RoundRow
from upkeep.views.signing import Caution
from upkeep.wording.cautions import caution_for, caution_for_all
from upkeep.wording.holds import hold_said
from upkeep.wording.jobs import going_on, not_accepted_said
from upkeep.wording.sentences import Reader, label, of_plant, text
from upkeep.wording.text import fit, width_of


def head_row(walk: Round, title: str, now: Now, width: int) -> str:
    """The first row: the place, the shift and its end, the local time."""
    named = f"{walk.place}  {title}" if title and title != walk.place else walk.place
    shift, clock = text(shift_said(walk, now), now.reader), text(wall_said(now.at, now.zone), now.reader)
    return between(f" {named}   {shift}", f"{clock} ", width)


def shift_said(walk: Round, now: Now) -> Said:
    """The running shift and when it ends; says so where none runs."""
    if walk.shift is None:
        return said("no shift is running now")
    shift = occurrence_of(walk.shift)
    name = shift.shift if isinstance(shift, OfShift) else walk.shift
    if not walk.shift_ends:
        return said("{shift} shift", shift=name)
    return said("{shift} shift, ends {clock}", shift=name, clock=clock_text(walk.shift_ends, now.zone))


def hanging_rows(walk: Round, width: int, reader: Reader) -> tuple[str, ...]:
    """What hangs here, outermost first, in at most two rows: ``>`` stands before what is in something, and what sits
    side by side in it stands in brackets; under them that nobody has accepted what the shift before left."""
    roots = [item for item in walk.hanging if item.depth == 0]
    names = ", ".join(_with_contents(item, walk.hanging, reader) for item in roots)
    items: Value = names or said("nothing")
    here = said("Fitted here: {items}", items=items) if walk.press else said("Stands here: {items}", items=items)
    left = (text(not_accepted_said(walk.not_accepted), reader),) if walk.not_accepted else ()
    return (*wrapped(text(here, reader), width, 2), *(fit(row, width) for row in left))


def _with_contents(item: Hanging, hanging: tuple[Hanging, ...], reader: Reader) -> str:
    contents = [_with_contents(one, hanging, reader) for one in hanging if one.inside == item.item]
    beside = ", ".join(contents) if len(contents) < 2 else f"({', '.join(contents)})"
    kind = text(term(item.kind, "kind"), reader)
    return f"{item.item} {kind}{' > ' if contents else ''}{beside}"


def hold_rows(walk: Round, width: int, reader: Reader) -> tuple[str, ...]:
    """The locks and holds here, each large enough to be seen across the aisle; none: no rows."""
    barred = [*_locked(walk), *(_hold_said(item) for item in walk.hanging if item.hold is not None)]
    if not barred:
        return ()
    rows = [row for told in barred for row in wrapped(text(told, reader), width - 6, 2)]
    edge = "=" * width
    return (edge, *(f"== {fit(row, width - 6)} ==" for row in rows[:4]), edge)


def _locked(walk: Round) -> Iterator[Said]:
    """Whose locks hang on the press, and where."""
    if walk.locks:
        locks = listed(said("{name} at {point}", name=lock.name, point=lock.point) for lock in walk.locks)
        yield said("LOCKED {press} MUST NOT RUN: {locks}", press=walk.press or walk.place, locks=locks)


def _hold_said(item: Hanging) -> Said:
    why: Value = hold_said(item.hold) if item.hold else ""
    return said("HOLD {item} {kind} MUST NOT RUN: {why}", item=item.item, kind=term(item.kind, "kind"), why=why)


def caution_rows(walk: Round, width: int, most: int, reader: Reader) -> tuple[str, ...]:
    """What to mind before hands go in, each caution once with the lines it is for; where they take more than ``most``
    rows, the energy controls alone: what else a task cautions of stands beside its signature."""
    whole = _rows_of(walk, walk.cautions, width, reader)
    if len(whole) <= most:
        return whole
    controls: dict[Said, list[str]] = {}
    for one in walk.cautions:
        controls.setdefault(control_said(one.energy), []).extend(one.lines)
    short = [Caution(control, tuple(names), "") for control, names in controls.items()]
    short[-1] = replace(short[-1], text=in_turn(short[-1].text, LOCAL_LAW))
    return _rows_of(walk, short, width, reader)


def _rows_of(walk: Round, cautions: Iterable[Caution], width: int, reader: Reader) -> tuple[str, ...]:
    cautioned = (
        caution_for_all(one) if 1 < len(one.lines) == len(walk.lines) else caution_for(one) for one in cautions
    )
    return tuple(row for sentence in cautioned for row in wrapped(text(sentence, reader), width))


def count_rows(walk: Round, now: Now) -> tuple[str, ...]:
    """The last count of the press here and the range in which the next should lie."""
    if walk.press is None:
        return (text(said("No press here; nothing to count."), now.reader),)
    if walk.last_count is None or walk.last_count_at is None:
        return (text(said("{press} has not been counted yet.", press=walk.press), now.reader),)
    counted = said("{count}, {at}", count=walk.last_count, at=near_said(walk.last_count_at, now))
    last = label(said_as("count", "last"), 10, now.reader) + text(counted, now.reader)
    if walk.expected is None:
        return (last,)
    low, high = walk.expected
    expected = said("{low} to {high}", low=low, high=high)
    return last, label(said_as("count", "expected"), 10, now.reader) + text(expected, now.reader)


def read_count(typed: str) -> int | None:
    """The count somebody typed, with or without grouped thousands; None if it is none."""
    return figure_of(typed.strip())


def not_a_count_said(typed: str) -> Said:
    """Why a typed text is no count."""
    return said("{typed} is not a count. Type the digits of the counter, like 1204300.", typed=Quoted(typed.strip()))


def number_cap(number: int) -> str:
    """The number as it stands on its key."""
    return f"{number:>2} "


_STATE_CELLS, _ITEM_CELLS, _LEAST_TITLE, _MOST_TITLE, _WORDS_CELLS = 11, 8, 20, 60, 12


def title_cells(rows: Sequence[RoundRow], now: Now, width: int) -> int:
    """How wide the column of the tasks is in rows of a width: as its longest title, as far as a few words and the names
    of those who have done something have room."""
    longest = max((width_of(of_plant(row.line.title, now.reader)) for row in rows), default=0)
    names = (width_of(_done_text(row.line, now, width)) for row in rows if row.done)
    room = width - _STATE_CELLS - _ITEM_CELLS - max(_WORDS_CELLS, *names, 0) - 3
    return max(_LEAST_TITLE, min(longest, room, _MOST_TITLE))


def numbered_row(row: RoundRow, title: int, walk_shift: str | None, now: Now, width: int) -> str:
    """What stands beside the number of a line: state, task in so many cells, item and why, or who did it and when; more
    where there is room."""
    line = row.line
    done = said_as("state", "done")
    state = f"ok {text(done, now.reader)}" if row.done else state_text(line.state, now.reader)
    told = " ".join(
        [fit(state, _STATE_CELLS), fit(of_plant(line.title, now.reader), title), fit(line.item, _ITEM_CELLS)]
    )
    room = width - width_of(told) - 1
    parts = (_done_text(line, now, room),) if row.done else _more(line, walk_shift, now)
    for index, part in enumerate(filter(None, parts)):
        longer = f"{told}{' · ' if index else ' '}{part}"
        if width_of(longer) > width:
            break
        told = longer
    return fit(told, width)


def _done_text(line: BoardLine, now: Now, room: int) -> str:
    """When it was done, and by whom where the name has room."""
    if line.last_done_at is None:
        return ""
    clock = clock_text(line.last_done_at, now.zone)
    by = now.names.now(line.last_done_by) if line.last_done_by else ""
    return first_that_fits((f"{clock} {by}".rstrip(), clock), room)


def _more(line: BoardLine, walk_shift: str | None, now: Now) -> Iterator[str]:
    """What stands behind task and item where there is room."""
    if line.job is not None:
        (sign,) = going_on((), line.job)
        yield text(said("{sign}: {name}", sign=sign, name=line.job.name), now.reader)
    this_shift = line.occurrence == walk_shift
    yield text(said("this shift"), now.reader) if this_shift else due_text(line, now.zone, now.reader, 30)
    late = late_said(line, now)
    if late:
        yield text(said("due {age} ago", age=late), now.reader)
    yield text(said("takes {minutes} min", minutes=Figure(line.minutes, "g")), now.reader)
    yield text(said("last done {done}", done=last_done_said(line, now)), now.reader)


def found_rows(walk: Round, now: Now, width: int, most: int) -> tuple[str, ...]:
    """What was found here this shift, the latest first."""
    rows = [fit(f"   {text(_found_said(one, now), now.reader)}", width).rstrip() for one in walk.found[:most]]
    more = len(walk.found) - most
    return (*rows, "   " + text(said("and {n} more", n=more), now.reader)) if more > 0 else tuple(rows)


def _found_said(one: FoundHere, now: Now) -> Said:
    return said(
        "{clock} {name}: {symptom}, {item}",
        clock=clock_text(one.at, now.zone), name=one.by_name, symptom=term(one.symptom), item=one.item,
    )  # fmt: skip


def done_said(line: BoardLine, now: Now) -> Said:
    """That a line was done in this shift, by whom and when."""
    by = now.names.now(line.last_done_by) if line.last_done_by else ""
    at = clock_text(line.last_done_at, now.zone) if line.last_done_at else ""
    done = said("{task} on {item} is done: {name}, {clock}.", task=line.title, item=line.item, name=by, clock=at)
    return in_turn(done, said("Work done beyond that is signed on the page of the line: press i."))


def to_sign_said(walk: Round) -> Said:
    """How much is left to sign here, and how long it takes."""
    calling = [line for line in walk.lines if line.state in CALLING]
    if not calling:
        return said("Everything here is done for now.")
    time = in_time(60 * sum(line.minutes for line in calling))
    return said("{n} to sign here, about {time}", n=len(calling), time=time)
