"""The page of one line in words: why, edges, life numbers and history."""

from __future__ import annotations

from collections.abc import Iterator

from tui.present.board import going_on_sentences, last_done_said
from tui.present.moments import Now, moment_said
from tui.present.state_words import MEANINGS, state_text
from tui.present.words import wrapped
from upkeep.plant.energy import caution_said
from upkeep.said import Figure, Numeral, Said, Value, Weekday, in_turn, listed, said, said_as, term
from upkeep.units.instants import NEVER
from upkeep.units.quantities import in_strokes
from upkeep.views.board import BoardLine, LineDetail
from upkeep.views.items import HistoryLine, LifeNumbers
from upkeep.wording.doubts import why_guessed
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import Reader, label, text
from upkeep.wording.text import visible

Section = tuple[str, tuple[str, ...]]
"""A heading and the rows under it."""

SHOWN_AT_MOST = 200
"""Entries a page shows; older ones stay in the book."""

_EDGES = (
    (said_as("moment", "opens"), "opens_at"),
    (said_as("moment", "due"), "due_at"),
    (said_as("moment", "overdue"), "overdue_at"),
    (said_as("moment", "stop"), "stop_at"),
)
_EDGE_CELLS, _LIFE_CELLS = 9, 18
"""Cells for the names of the edges, and of the numbers of a life."""


def title_text(line: BoardLine, reader: Reader) -> str:
    """The heading of the page: task, item, place."""
    what = said("{task}: {item} {title}", task=line.title, item=line.item, title=line.item_title)
    if line.inside:
        what = said("{what} in {inside}", what=what, inside=line.inside)
    return visible(text(said("{what}, at {place}", what=what, place=line.place), reader))


def sections(detail: LineDetail, now: Now, width: int) -> tuple[Section, ...]:
    """The page, section by section, each row at most ``width`` cells."""
    line, reader = detail.line, now.reader
    parts: list[tuple[str, list[str]]] = [
        (f"{state_text(line.state, reader)}: {text(MEANINGS[line.state], reader)}", _why(line, now)),
        (text(said("When it is due"), reader), _edges(line, now)),
        (text(said("Care"), reader), [text(row, reader) for row in _care(line, now)]),
        (text(said("Life of {item}", item=line.item), reader), _life(detail.life, now)),
        (text(said("History of this line, newest first"), reader), _history(detail.history, reader)),
    ]
    return tuple(
        (visible(head), tuple(row for shown in rows for row in wrapped(shown, width))) for head, rows in parts if rows
    )


def _why(line: BoardLine, now: Now) -> list[str]:
    why = sentence(line.reasons, now.zone, now.names, now.reader)
    return [why, *(text(row, now.reader) for row in _beside(line))]


def _beside(line: BoardLine) -> Iterator[Said]:
    if line.unverified is not None:
        yield said(
            "Sign-off #{entry} awaits its second signature ({role}): press v.",
            entry=Numeral(line.unverified),
            role=term(line.second_signature or "", "role"),
        )
    if line.owner is not None:
        yield said("{item} belongs to {owner}.", item=line.item, owner=line.owner)
    if line.missed:
        yield said("{n} earlier occurrences were missed.", n=line.missed)
    if line.estimated:
        yield said(
            "Strokes are estimated: best {best}, at most {high}. The hard stop goes by the highest.",
            best=in_strokes(line.strokes or 0),
            high=in_strokes(line.strokes_high or line.strokes or 0),
        )


def _edges(line: BoardLine, now: Now) -> list[str]:
    def row(name: Said, value: Said) -> str:
        return label(name, _EDGE_CELLS, now.reader) + text(value, now.reader)

    edges = ((name, getattr(line, field)) for name, field in _EDGES)
    rows = [row(name, moment_said(at, now.zone)) for name, at in edges if at is not None and at < NEVER]
    if line.due_day is not None:
        rows.append(row(said("due day"), said("{day}", day=Weekday(line.due_day))))
    if line.due_strokes is not None and line.strokes is not None:
        left = line.remaining if line.remaining is not None else line.due_strokes - line.strokes
        rest = said("{n} left", n=left) if left >= 0 else said("{n} over", n=-left)
        due = in_strokes(line.due_strokes)
        rows.append(row(said("strokes"), said("{strokes} of {due}, {rest}", strokes=line.strokes, due=due, rest=rest)))
    return rows


def _care(line: BoardLine, now: Now) -> Iterator[Said]:
    yield from going_on_sentences(line, now)
    yield caution_said(line.energy)
    roles: Value = listed(term(role, "role") for role in line.roles) if line.roles else said("anybody")
    signed = said("Signed by {roles}", roles=roles)
    if line.second_signature:
        signed = said("{signed}; second signature: {role}", signed=signed, role=term(line.second_signature, "role"))
    yield said(
        "{signed}. About {minutes} min. Last done {done}.",
        signed=signed,
        minutes=Figure(line.minutes, "g"),
        done=last_done_said(line, now),
    )
    law = said("It is required by law.") if line.statutory else None
    yield in_turn(said("Interval from: {source}.", source=line.source), law)


def _band(numbers: tuple[int, int, int]) -> Said:
    low, best, high = numbers
    if low == high:
        return in_strokes(best)
    return said("{strokes} (at least {low}, at most {high})", strokes=in_strokes(best), low=low, high=high)


def _life(life: LifeNumbers, now: Now) -> list[str]:
    return [
        (label(name, _LIFE_CELLS, now.reader) if name else "") + text(value, now.reader)
        for name, value in _life_rows(life, now)
    ]


def _life_rows(life: LifeNumbers, now: Now) -> Iterator[tuple[Said | None, Said]]:
    """The numbers, each with its name; None: a sentence of its own."""
    yield said("since new"), _band(life.since_new)
    if life.since_rework is not None:
        yield said("since rework {number}", number=life.reworks), _band(life.since_rework)
    if life.life_unknown:
        yield said("life left"), said("not known: none is left until it is inspected")
    elif life.life_left is not None:
        yield said("life left"), said("{strokes} at least", strokes=in_strokes(life.life_left))
    if life.since_inspection is not None:
        inspected = _band(life.since_inspection)
        if life.inspected_at:
            at = moment_said(life.inspected_at, now.zone)
            inspected = said("{strokes}, {at}", strokes=inspected, at=at)
        yield said("since inspection"), inspected
    if life.estimated:
        yield None, said("Estimated: {why}.", why=why_guessed(life.doubts))
    if life.unattributed:
        yield said("with no module on it"), in_strokes(life.unattributed)
    if life.counted_until is not None:
        yield said("counted until"), moment_said(life.counted_until, now.zone)


def _history(history: tuple[HistoryLine, ...], reader: Reader) -> list[str]:
    rows = [_entry_text(entry, reader) for entry in history[:SHOWN_AT_MOST]]
    older = len(history) - SHOWN_AT_MOST
    if older > 0:
        return [*rows, text(said("{n} older entries are in the book.", n=older), reader)]
    return rows or [text(said("No entry yet."), reader)]


def _entry_text(entry: HistoryLine, reader: Reader) -> str:
    mark = ""
    if entry.struck_by is not None:
        mark = " " + text(said("STRUCK by #{entry}", entry=Numeral(entry.struck_by)), reader)
    elif entry.corrected_by is not None:
        mark = " " + text(said("CORRECTED by #{entry}", entry=Numeral(entry.corrected_by)), reader)
    return f"#{entry.entry}{mark}  {entry.text} ({entry.by_name})"
