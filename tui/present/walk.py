"""The round of a place in words: shift, what hangs there, its count, its numbered lines and what was signed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from tui.present.board import due_text, last_done_text, late_text
from tui.present.moments import Now, clock_text, near_text, wall_text
from tui.present.state_words import state_text
from tui.present.words import between, wrapped
from upkeep.due.states import CALLING
from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.plant.energy import LOCAL_LAW, control_said
from upkeep.said import Said, in_turn
from upkeep.units.quantities import figure_of, grouped, span_text
from upkeep.views.board import BoardLine
from upkeep.views.items import Hanging, HistoryLine
from upkeep.views.round import Round
from upkeep.views.signing import Caution
from upkeep.wording.cautions import caution_for, caution_for_all
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit, width_of


def head_row(walk: Round, title: str, now: Now, width: int) -> str:
    """The first row: the place, the shift and its end, the local time."""
    named = f"{walk.place}  {title}" if title and title != walk.place else walk.place
    return between(f" {named}   {shift_text(walk, now)}", f"{wall_text(now.at, now.zone)} ", width)


def shift_text(walk: Round, now: Now) -> str:
    """The running shift and when it ends; says so where none runs."""
    if walk.shift is None:
        return "no shift runs now"
    shift = occurrence_of(walk.shift)
    name = shift.shift if isinstance(shift, OfShift) else walk.shift
    ends = f", ends {clock_text(walk.shift_ends, now.zone)}" if walk.shift_ends else ""
    return f"{name} shift{ends}"


def hanging_rows(walk: Round, width: int) -> tuple[str, ...]:
    """What hangs here, outermost first, in at most two rows."""
    names = " > ".join(f"{item.item} {item.kind}" for item in walk.hanging)
    verb = "Fitted here" if walk.press else "Stands here"
    return wrapped(f"{verb}: {names or 'nothing'}", width, 2)


def hold_rows(walk: Round, width: int, reader: Reader) -> tuple[str, ...]:
    """The holds here, each large enough to be seen across the aisle; none: no rows."""
    held = [item for item in walk.hanging if item.hold is not None]
    if not held:
        return ()
    rows = [row for item in held for row in wrapped(_hold_text(item, reader), width - 6, 2)]
    edge = "=" * width
    return (edge, *(f"== {fit(row, width - 6)} ==" for row in rows[:4]), edge)


def _hold_text(item: Hanging, reader: Reader) -> str:
    return f"HOLD {item.item} {item.kind} MUST NOT RUN: {hold_text(item.hold, reader) if item.hold else ''}"


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
    said = (caution_for_all(one) if 1 < len(one.lines) == len(walk.lines) else caution_for(one) for one in cautions)
    return tuple(row for sentence in said for row in wrapped(text(sentence, reader), width))


def count_rows(walk: Round, now: Now) -> tuple[str, ...]:
    """The last count of the press here and the range in which the next should lie."""
    if walk.press is None:
        return ("No press here; nothing to count.",)
    if walk.last_count is None or walk.last_count_at is None:
        return (f"{walk.press} has not been counted yet.",)
    last = f"last      {grouped(walk.last_count)}, {near_text(walk.last_count_at, now)}"
    if walk.expected is None:
        return (last,)
    return last, f"expected  {grouped(walk.expected[0])} to {grouped(walk.expected[1])}"


def read_count(text: str) -> int | None:
    """The count somebody typed, with or without grouped thousands; None if it is none."""
    return figure_of(text.strip())


def not_a_count_text(text: str) -> str:
    """Why a typed text is no count."""
    return f"{text.strip()!r} is not a count. Type the digits of the counter, like 1204300."


def number_cap(number: int) -> str:
    """The number as it stands on its key."""
    return f" {number} "


def numbered_row(line: BoardLine, walk_shift: str | None, now: Now, width: int) -> str:
    """What stands beside the number of a line: state, task, item and why; more where there is room."""
    cells = [fit(state_text(line.state), 11), fit(line.title, max(25, (width - 50) // 2)), fit(line.item, 8)]
    row = " ".join(cells)
    late = late_text(line, now)
    more = (
        "this shift" if line.occurrence == walk_shift else due_text(line, now.zone, 30),
        f"due for {late}" if late else "",
        f"takes {line.minutes:g} min",
        f"last done {last_done_text(line, now)}",
    )
    for index, part in enumerate(filter(None, more)):
        longer = f"{row}{' · ' if index else ' '}{part}"
        if width_of(longer) > width:
            break
        row = longer
    return fit(row, width)


def done_rows(walk: Round, now: Now, width: int, most: int) -> tuple[str, ...]:
    """What was signed this shift, latest first; what no longer counts says so."""
    latest = sorted(walk.done, key=lambda line: line.entry, reverse=True)
    rows = [fit(f"   {_done_text(line, now)}", width).rstrip() for line in latest[:most]]
    more = len(latest) - most
    return (*rows, f"   and {more} more") if more > 0 else tuple(rows)


def _done_text(line: HistoryLine, now: Now) -> str:
    struck = " STRUCK" if line.struck_by is not None else ""
    words = line.text.split(" ", 2)[-1].partition(" by ")[0]
    return f"{clock_text(line.at, now.zone)} {line.by_name}:{struck} {words}"


def to_sign_text(walk: Round) -> str:
    """How much is left to sign here, and how long it takes."""
    calling = [line for line in walk.lines if line.state in CALLING]
    if not calling:
        return "Everything here is done for now."
    minutes = span_text(60 * sum(line.minutes for line in calling))
    return f"{len(calling)} to sign here, about {minutes}"
