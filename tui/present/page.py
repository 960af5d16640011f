"""The page of one line in words: why, edges, life numbers and history."""

from __future__ import annotations

from tui.present.board import last_done_text
from tui.present.moments import Now, day_text, moment_text
from tui.present.state_words import MEANINGS, state_text
from tui.present.words import wrapped
from upkeep.plant.energy import caution_said
from upkeep.units.instants import NEVER
from upkeep.units.quantities import grouped, strokes
from upkeep.views.board import BoardLine, LineDetail
from upkeep.views.items import HistoryLine, LifeNumbers
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import text
from upkeep.wording.text import visible

Section = tuple[str, tuple[str, ...]]
"""A heading and the rows under it."""

SHOWN_AT_MOST = 200
"""Entries a page shows; older ones stay in the book."""

_EDGES = (
    ("opens", "opens_at"),
    ("due", "due_at"),
    ("overdue", "overdue_at"),
    ("stop", "stop_at"),
)


def title_text(line: BoardLine) -> str:
    """The heading of the page: task, item, place."""
    where = f" in {line.inside}" if line.inside else ""
    return visible(f"{line.title}: {line.item} {line.item_title}{where}, at {line.place}")


def sections(detail: LineDetail, now: Now, width: int) -> tuple[Section, ...]:
    """The page, section by section, each row at most ``width`` cells."""
    line = detail.line
    parts: list[tuple[str, list[str]]] = [
        (f"{state_text(line.state)}: {MEANINGS[line.state]}", _why(line, now)),
        ("Edges", _edges(line, now)),
        ("Care", _care(line, now)),
        (f"Life of {line.item}", _life(detail.life, now)),
        ("History of this line, newest first", _history(detail.history)),
    ]
    return tuple(
        (visible(head), tuple(row for shown in rows for row in wrapped(shown, width))) for head, rows in parts if rows
    )


def _why(line: BoardLine, now: Now) -> list[str]:
    rows = [sentence(line.reasons, now.zone, now.names, now.reader)]
    if line.unverified is not None:
        rows.append(f"Sign-off #{line.unverified} awaits its second signature ({line.second_signature}): press v.")
    if line.missed:
        rows.append(f"{line.missed} earlier occurrences were missed.")
    if line.estimated:
        best, high = strokes(line.strokes or 0), strokes(line.strokes_high or line.strokes or 0)
        rows.append(f"Strokes are estimated: best {best}, at most {high}. The hard stop goes by the highest.")
    return rows


def _edges(line: BoardLine, now: Now) -> list[str]:
    edges = ((name, getattr(line, field)) for name, field in _EDGES)
    rows = [f"{name:<8} {moment_text(at, now.zone)}" for name, at in edges if at is not None and at < NEVER]
    if line.due_day is not None:
        rows.append(f"{'due day':<8} {day_text(line.due_day)}")
    if line.due_strokes is not None and line.strokes is not None:
        left = line.remaining if line.remaining is not None else line.due_strokes - line.strokes
        rest = f"{grouped(left)} left" if left >= 0 else f"{grouped(-left)} over"
        rows.append(f"{'strokes':<8} {grouped(line.strokes)} of {strokes(line.due_strokes)}, {rest}")
    return rows


def _care(line: BoardLine, now: Now) -> list[str]:
    signs = ", ".join(line.roles) or "anybody"
    second = f"; second signature: {line.second_signature}" if line.second_signature else ""
    law = " It is required by law." if line.statutory else ""
    return [
        text(caution_said(line.energy), now.reader),
        f"Signed by {signs}{second}. About {line.minutes:g} min. Last done {last_done_text(line, now)}.",
        f"Interval from: {line.source}.{law}",
    ]


def _band(numbers: tuple[int, int, int]) -> str:
    low, best, high = numbers
    return strokes(best) if low == high else f"{strokes(best)} (at least {grouped(low)}, at most {grouped(high)})"


def _life(life: LifeNumbers, now: Now) -> list[str]:
    rows = [f"since new         {_band(life.since_new)}"]
    if life.since_rework is not None:
        rows.append(f"{f'since rework {life.reworks}':<18}{_band(life.since_rework)}")
    if life.life_unknown:
        rows.append("life left         not known: none is left until it is inspected")
    elif life.life_left is not None:
        rows.append(f"life left         {strokes(life.life_left)} at least")
    if life.since_inspection is not None:
        inspected = f", {moment_text(life.inspected_at, now.zone)}" if life.inspected_at else ""
        rows.append(f"since inspection  {_band(life.since_inspection)}{inspected}")
    if life.estimated:
        rows.append("Estimated: the strokes between two counts had to be split.")
    if life.unattributed:
        rows.append(f"with no module on it {strokes(life.unattributed)}")
    if life.counted_until is not None:
        rows.append(f"counted until     {moment_text(life.counted_until, now.zone)}")
    return rows


def _history(history: tuple[HistoryLine, ...]) -> list[str]:
    rows = [_entry_text(entry) for entry in history[:SHOWN_AT_MOST]]
    older = len(history) - SHOWN_AT_MOST
    return [*rows, f"{grouped(older)} older entries are in the book."] if older > 0 else rows or ["No entry yet."]


def _entry_text(entry: HistoryLine) -> str:
    mark = ""
    if entry.struck_by is not None:
        mark = f" STRUCK by #{entry.struck_by}"
    elif entry.corrected_by is not None:
        mark = f" CORRECTED by #{entry.corrected_by}"
    return f"#{entry.entry}{mark}  {entry.text} ({entry.by_name})"
