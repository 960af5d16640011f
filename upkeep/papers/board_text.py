"""What the command line prints: the board, a line's reason, a life, a history, a round - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import EXTRA, event_of
from upkeep.said import (
    Capitals,
    Figure,
    Join,
    Numeral,
    Said,
    Value,
    Weekday,
    listed,
    minute,
    said,
    said_as,
    said_many,
    term,
)
from upkeep.units.figures import chance_text
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes, in_time
from upkeep.wording.cautions import caution_for
from upkeep.wording.doubts import why_guessed
from upkeep.wording.jobs import job_said, lock_said, not_accepted_said
from upkeep.wording.sentences import Reader, label, lines, of_plant, text
from upkeep.wording.text import padded, paragraph
from upkeep.wording.training import training_said

if TYPE_CHECKING:
    from upkeep.planning.forecast import Forecast
    from upkeep.plant.names import Names
    from upkeep.views.board import Board, BoardLine
    from upkeep.views.items import HistoryLine, LifeNumbers
    from upkeep.views.jobs import Lock
    from upkeep.views.questions import Question
    from upkeep.views.round import Round
    from upkeep.views.training import TrainingEnd
    from upkeep.views.week import WeekRow

_NAMES = 29
"""Columns for the names of the numbers of a life."""


def board_text(board: Board, reader: Reader) -> str:
    """The board as a page: header, then two lines of text for each line of the board."""
    zone = Zone(board.zone)
    page = [
        *lines(said("{plant} - {at}", plant=board.plant, at=minute(board.at, zone)), reader),
        *lines(_counts_as_of(board, zone), reader),
        *lines(_by_state(board), reader),
        *_locked(board.locks, zone, reader),
        "",
    ]
    for row in board.rows:
        page += _board_rows(row, board.at, zone, reader)
    if not board.rows:
        page += lines(said("Nothing is due."), reader)
    hidden = board.total - board.offset - len(board.rows)
    if hidden > 0:
        page += lines(
            said_many("... and {n} more line (--limit).", "... and {n} more lines (--limit).", n=hidden), reader
        )
    return "\n".join(page) + "\n"


def _locked(locks: Sequence[Lock], zone: Zone, reader: Reader) -> Iterator[str]:
    for lock in locks:
        row = said("LOCKED: {press}, {lock}", press=lock.press, lock=lock_said(lock, lambda at: minute(at, zone)))
        yield from lines(row, reader, 0, 2)


def _counts_as_of(board: Board, zone: Zone) -> Said:
    if not board.counts_as_of:
        return said("No press has been read yet.")
    at, press = minute(board.counts_as_of, zone), board.oldest_count_press or ""
    return said("Counts as of {at} ({press}, the oldest)", at=at, press=press)


def _by_state(board: Board) -> Said:
    counts = [
        said("{n} {state}", n=board.by_state[state], state=term(state, "state"))
        for state in State
        if board.by_state[state]
    ]
    return said("{counts}", counts=listed(counts)) if counts else said("No lines.")


def waiting_text(asked: Sequence[Question], reader: Reader) -> str:
    """What waits to be seen, under the lead's board; empty where nothing does."""
    if not asked:
        return ""
    page = lines(said("Waiting to be seen ('strokebook seen ITEM'): {n}", n=len(asked)), reader)
    for question in asked:
        page += lines(said("{item}: {asks}", item=question.about, asks=question.asks), reader, 2, 4)
    return "\n".join(["", *page]) + "\n"


def training_text(ends: Sequence[TrainingEnd], reader: Reader) -> str:
    """Whose training ends, under the board and the questions; empty where nobody's does."""
    if not ends:
        return ""
    page = [row for end in ends for row in lines(training_said(end), reader, 0, 4)]
    return "\n".join(["", *page]) + "\n"


def _board_rows(row: BoardLine, at: datetime, zone: Zone, reader: Reader) -> Iterator[str]:
    when = [due_said(row, zone)]
    if _is_late(row, at) and row.overdue_at:
        when.append(said("{age} late", age=in_time((at - row.overdue_at).total_seconds())))
    if row.missed:
        when.append(said("{n} more missed", n=row.missed))
    if row.owner is not None:
        when.append(said("belongs to {owner}", owner=row.owner))
    begins = f"{label(said('{state}', state=Capitals(term(row.state, 'state'))), 9, reader)}{row.place:<8}"
    if row.for_item:
        yield from _held_rows(row, begins, zone, reader)
        return
    yield f"{begins}{row.line}"
    yield from lines(said("{title}: {when}", title=row.title, when=listed(when)), reader, 9)
    if row.job is not None:
        under_way = said("under way: {job}", job=job_said(row.job, lambda at: minute(at, zone)))
        yield from lines(under_way, reader, 9, 11)


def _held_rows(row: BoardLine, begins: str, zone: Zone, reader: Reader) -> Iterator[str]:
    from upkeep.wording.holds import hold_of  # with every kind of hold, which a board without one does without

    shown = said("{item} ({n} lines, see --item {item})", item=row.item, n=row.lines_held)
    yield f"{begins}{text(shown, reader)}"
    yield from lines(hold_of(row.reasons), reader, 9)


def _is_late(row: BoardLine, at: datetime) -> bool:
    return row.overdue_at is not None and row.overdue_at <= at and row.state in CALLING


def due_said(row: BoardLine, zone: Zone) -> Said:
    """When a line is due, in a few words with their units."""
    parts = []
    if row.state is State.HELD:
        parts.append(said("held until released"))
    event = event_of(row.occurrence)
    if event is not None and row.due_at is not None:
        since = minute(row.due_at, zone)
        parts.append(said("since the {event} of {at}, before it runs again", event=term(event, "event"), at=since))
    elif row.each_shift and row.due_at is not None:
        parts.append(said("shift of {at}", at=minute(row.due_at, zone)))
    elif row.due_day is not None:
        parts.append(said("due {day}", day=Weekday(row.due_day)))
    if row.due_strokes is not None and row.strokes is not None:
        done = said("{strokes} of {due}", strokes=row.strokes, due=in_strokes(row.due_strokes))
        parts.append(said("{strokes} (estimated)", strokes=done) if row.estimated else done)
    waits, when = stop_said(row, zone), listed(parts, Join.SEMICOLON)
    if waits:
        return said("{waits}; {when} at the latest", waits=waits, when=when)
    return said("{when}", when=when) if parts else said("on request")


def stop_said(row: BoardLine | WeekRow, zone: Zone) -> Said | None:
    """What work says that waits for a change of tools: that it does, or since when it need not; None for other work."""
    if row.stopped_at is not None:
        return said("now, tools were changed {at}", at=minute(row.stopped_at, zone))
    return said("at the next stop") if row.at_next_stop and row.state is State.OPEN else None


def why_text(row: BoardLine, zone: Zone, names: Names, reader: Reader) -> str:
    """The reasons of one line, with its edges; ``names`` are those of people by id."""
    from upkeep.wording.reasons import sentence  # with every kind of reason, which a board does without

    why = sentence(row.reasons, zone, names, reader)
    head = lines(said("{line}: {state}", line=row.line, state=Capitals(term(row.state, "state"))), reader)
    page = [*head, *paragraph(of_plant(row.title, reader), 2), "", *paragraph(why, 2), ""]
    for name, edge in (
        (said_as("moment", "opens"), row.opens_at),
        (said_as("moment", "due"), row.due_at),
        (said_as("moment", "overdue"), row.overdue_at),
        (said_as("moment", "stop"), row.stop_at),
    ):
        when = said("{at}", at=minute(edge, zone)) if edge else said("not known yet")
        page.append(label(name, 10, reader, 2) + text(when, reader))
    if row.owner is not None:
        page += lines(said("belongs to {owner}", owner=row.owner), reader, 2)
    page += lines(_signed_for(row), reader, 2)
    return "\n".join(page) + "\n"


def _signed_for(row: BoardLine) -> Said:
    """What a sign-off would answer, by the word that a command takes for it."""
    if row.occurrence == EXTRA:
        return said("signed now, it is an extra")
    return said("a sign-off is for {occurrence}", occurrence=row.occurrence)


def life_text(life: LifeNumbers, zone: Zone, reader: Reader) -> str:
    """The strokes of an item."""
    rows = (row for name, value in _life(life, zone) for row in _named(name, value, reader))
    return "\n".join([*paragraph(life.item), *rows]) + "\n"


def _named(name: Said, value: Said, reader: Reader) -> list[str]:
    return paragraph(label(name, _NAMES, reader, 2) + text(value, reader), 0, _NAMES)


def _life(life: LifeNumbers, zone: Zone) -> Iterator[tuple[Said, Said]]:
    yield said("since new (in this book)"), _band(life.since_new)
    if life.before_book:
        yield said("of these before this book"), in_strokes(life.before_book)
    if life.since_rework is not None:
        yield said("since rework {number}", number=life.reworks), _band(life.since_rework)
    if life.last_rework is not None:
        from upkeep.wording.reworks import rework_said  # a board needs none

        yield said("granted by that rework"), rework_said(life.last_rework, zone)
    if life.life_unknown:
        yield said("life left"), said("not known: none is left until it is inspected")
    elif life.life_left is not None:
        left = in_strokes(life.life_left)
        yield (
            said("life left, at least"),
            left if life.life_left >= 0 else said("none; {strokes} over", strokes=in_strokes(-life.life_left)),
        )
    if life.since_inspection is not None and life.inspected_at is not None:
        inspected = said("{strokes} ({at})", strokes=_band(life.since_inspection), at=minute(life.inspected_at, zone))
        yield said("since last inspection"), inspected
    if life.estimated:
        yield said("estimated, because"), why_guessed(life.doubts)
    if life.unattributed is not None:
        yield said("with no module on it"), in_strokes(life.unattributed)
    until = life.counted_until
    yield said("counted until"), said("{at}", at=minute(until, zone)) if until else said("not on a press now")


def _band(band: tuple[int, int, int]) -> Said:
    low, best, high = band
    if low == high:
        return in_strokes(best)
    return said("{strokes}, estimated: between {low} and {high}", strokes=in_strokes(best), low=low, high=high)


def history_text(entries: Iterable[HistoryLine], reader: Reader) -> str:
    """Entries, newest first, each with its number and what became of it."""
    page = []
    for entry in entries:
        notes = "".join(f"  [{text(note, reader)}]" for note in _notes(entry))
        page += paragraph(f"#{entry.entry} {entry.text}{notes}", 0, 4)
    return "\n".join(page or lines(said("Nothing is written yet."), reader)) + "\n"


def _notes(entry: HistoryLine) -> Iterator[Said]:
    if entry.struck_by is not None:
        yield said("struck by #{entry}", entry=Numeral(entry.struck_by))
    elif entry.corrected_by is not None:
        yield said("corrected by #{entry}", entry=Numeral(entry.corrected_by))
    if entry.clock_went_back:
        yield said("written while the clock was set back")


def forecast_text(line: str, forecast: Forecast, reader: Reader) -> str:
    """When a line will be due by strokes."""
    page = [line, *lines(forecast.why, reader, 2)]
    if forecast.expected is not None and forecast.working_days is not None:
        expected = said(
            "{day}, in {days} working days", day=Weekday(forecast.expected), days=Figure(forecast.working_days, ".1f")
        )
        safe: Value = Weekday(forecast.latest_safe) if forecast.latest_safe else said("none; do it now")
        page += [
            label(said_as("count", "expected"), 19, reader, 2) + text(expected, reader),
            label(said("last safe day"), 19, reader, 2) + text(said("{day} (95 %)", day=safe), reader),
            *lines(said("chance of being due within this many working days"), reader, 2),
            *(_chance(n, due, reader) for n, due in enumerate(forecast.chances, 1)),
        ]
    return "\n".join(page) + "\n"


def _chance(days: int, due: float, reader: Reader) -> str:
    unit = padded(text(said_many("day", "days", n=days), reader), 4)
    return f"    {days:>2} {unit} {text(chance_text(due), reader):>13}"


def questions_text(questions: Iterable[Question], reader: Reader) -> str:
    """What the counts leave open, one paragraph each."""
    page = [
        row
        for number, question in enumerate(questions, 1)
        for row in paragraph(f"{number:>3} {text(question.asks, reader)}", 0, 4)
    ]
    return "\n".join(page or lines(said("There are no open questions about the counts."), reader)) + "\n"


def round_text(view: Round, zone: Zone, reader: Reader) -> str:
    """What one place asks for this shift."""
    page = [text(_round_head(view, zone), reader)]
    if view.last_count is not None and view.last_count_at is not None and view.expected is not None:
        low, high = view.expected
        counted = said(
            "Last count {count} at {at}; now between {low} and {high} strokes",
            count=view.last_count,
            at=minute(view.last_count_at, zone),
            low=low,
            high=high,
        )
        page += lines(counted, reader, 0, 2)
    page += _hanging(view, reader)
    page += _locked(view.locks, zone, reader)
    page += lines(not_accepted_said(view.not_accepted), reader) if view.not_accepted else []
    for caution in view.cautions:
        page += ["", *lines(caution_for(caution), reader, 0, 2)]
    page.append("")
    for row in view.lines:
        page += _board_rows(row, view.at, zone, reader)
    if not view.lines:
        page += lines(said("Nothing to sign here now."), reader)
    return "\n".join(page) + "\n"


def _round_head(view: Round, zone: Zone) -> Said:
    at = minute(view.at, zone)
    if not view.shift:
        return said("{place} - {at} - no shift now", place=view.place, at=at)
    return said("{place} - {at} - shift {shift}", place=view.place, at=at, shift=view.shift)


def _hanging(view: Round, reader: Reader) -> Iterator[str]:
    from upkeep.wording.holds import hold_said

    for content in view.hanging:
        what = said("{item} {kind}", item=content.item, kind=term(content.kind, "kind"))
        if content.hold:
            what = said("{what}  HELD: {why}", what=what, why=hold_said(content.hold))
        yield from lines(what, reader, 2 + 2 * content.depth)
