"""What the command line prints: the board, a line's reason, a life, a history, a round - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.due.states import CALLING, State
from upkeep.entries.occurrences import event_of
from upkeep.units.figures import chance_text
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, span_text, strokes
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph, visible
from upkeep.wording.training import training_said

if TYPE_CHECKING:
    from upkeep.planning.forecast import Forecast
    from upkeep.plant.names import Names
    from upkeep.views.board import Board, BoardLine
    from upkeep.views.items import HistoryLine, LifeNumbers
    from upkeep.views.questions import Question
    from upkeep.views.round import Round
    from upkeep.views.training import TrainingEnd
    from upkeep.views.week import WeekRow


def board_text(board: Board) -> str:
    """The board as a page: header, then two lines of text for each line of the board."""
    zone = Zone(board.zone)
    counts = ", ".join(f"{board.by_state[state]} {state}" for state in State if board.by_state[state])
    lines = [
        visible(f"{board.plant} - {zone.minute(board.at)}"),
        f"Counts as of {zone.minute(board.counts_as_of)} ({board.oldest_count_press}, the oldest)"
        if board.counts_as_of
        else "No press has been read yet.",
        counts or "No lines.",
        "",
    ]
    for row in board.rows:
        lines += _board_rows(row, board.at, zone)
    if not board.rows:
        lines.append("Nothing is due.")
    hidden = board.total - board.offset - len(board.rows)
    if hidden > 0:
        lines.append(f"... and {grouped(hidden)} more lines (--limit).")
    return "\n".join(lines) + "\n"


def waiting_text(asked: Sequence[Question], reader: Reader) -> str:
    """What waits to be seen, under the lead's board; empty where nothing does."""
    if not asked:
        return ""
    lines = [f"Waiting to be seen ('strokebook seen ITEM'): {len(asked)}"]
    lines += [row for one in asked for row in paragraph(f"{one.about}: {text(one.asks, reader)}", 2, 4)]
    return "\n".join(["", *lines]) + "\n"


def training_text(ends: Sequence[TrainingEnd], reader: Reader) -> str:
    """Whose training ends, under the board and the questions; empty where nobody's does."""
    if not ends:
        return ""
    lines = [row for end in ends for row in paragraph(text(training_said(end), reader), 0, 4)]
    return "\n".join(["", *lines]) + "\n"


def _board_rows(row: BoardLine, at: datetime, zone: Zone) -> Iterator[str]:
    late = f", {span_text((at - row.overdue_at).total_seconds())} late" if _is_late(row, at) and row.overdue_at else ""
    missed = f", {row.missed} more missed" if row.missed else ""
    yield f"{row.state.upper():<9}{row.place:<8}{row.line}"
    yield from paragraph(f"{row.title}: {due_text(row, zone)}{late}{missed}", 9)


def _is_late(row: BoardLine, at: datetime) -> bool:
    return row.overdue_at is not None and row.overdue_at <= at and row.state in CALLING


def due_text(row: BoardLine, zone: Zone) -> str:
    """When a line is due, in a few words with their units."""
    parts = []
    if row.state is State.HELD:
        parts.append("held until released")
    event = event_of(row.occurrence)
    if event is not None and row.due_at is not None:
        parts.append(f"since the {event} of {zone.minute(row.due_at)}, before it runs again")
    elif row.each_shift and row.due_at is not None:
        parts.append(f"shift of {zone.minute(row.due_at)}")
    elif row.due_day is not None:
        parts.append(f"due {row.due_day:%a %Y-%m-%d}")
    if row.due_strokes is not None and row.strokes is not None:
        estimate = " (estimated)" if row.estimated else ""
        parts.append(f"{grouped(row.strokes)} of {strokes(row.due_strokes)}{estimate}")
    waits = stop_text(row, zone)
    return f"{waits}; {'; '.join(parts)} at the latest" if waits else "; ".join(parts) or "on request"


def stop_text(row: BoardLine | WeekRow, zone: Zone) -> str:
    """What work says that waits for a change of tools: that it does, or since when it need not; "" for other work."""
    if row.stopped_at is not None:
        return f"now, tools were changed {zone.minute(row.stopped_at)}"
    return "at the next stop" if row.at_next_stop and row.state is State.OPEN else ""


def why_text(row: BoardLine, zone: Zone, names: Names, reader: Reader) -> str:
    """The reasons of one line, with its edges; ``names`` are those of people by id."""
    from upkeep.wording.reasons import sentence  # with every kind of reason, which a board does without

    why = sentence(row.reasons, zone, names, reader)
    lines = [f"{row.line}: {row.state.upper()}", *paragraph(row.title, 2), "", *paragraph(why, 2), ""]
    for name, edge in (
        ("opens", row.opens_at),
        ("due", row.due_at),
        ("overdue", row.overdue_at),
        ("stop", row.stop_at),
    ):
        lines.append(f"  {name:<8}{zone.minute(edge) if edge else 'not known yet'}")
    lines.append(f"  occurrence {row.occurrence}")
    return "\n".join(lines) + "\n"


def life_text(life: LifeNumbers, zone: Zone) -> str:
    """The strokes of an item."""
    lines = [f"{life.item}", f"  since new (in this book)   {_band(life.since_new)}"]
    if life.since_rework is not None:
        lines.append(f"  since rework {life.reworks}             {_band(life.since_rework)}")
    if life.life_unknown:
        lines.append("  life left                  not known: none is left until it is inspected")
    elif life.life_left is not None:
        over = strokes(life.life_left) if life.life_left >= 0 else f"none; {strokes(-life.life_left)} over"
        lines.append(f"  life left, at least        {over}")
    if life.since_inspection is not None and life.inspected_at is not None:
        lines.append(f"  since last inspection      {_band(life.since_inspection)} ({zone.minute(life.inspected_at)})")
    if life.unattributed is not None:
        lines.append(f"  with no module on it       {strokes(life.unattributed)}")
    counted = zone.minute(life.counted_until) if life.counted_until else "not on a press now"
    lines.append(f"  counted until              {counted}")
    return "\n".join(row for line in lines for row in paragraph(line, 0, 29)) + "\n"


def _band(band: tuple[int, int, int]) -> str:
    low, best, high = band
    if low == high:
        return strokes(best)
    return f"{strokes(best)}, estimated: between {grouped(low)} and {grouped(high)}"


def history_text(lines: Iterable[HistoryLine]) -> str:
    """Entries, newest first, each with its number and what became of it."""
    pages = []
    for line in lines:
        note = ""
        if line.struck_by is not None:
            note = f"  [struck by #{line.struck_by}]"
        elif line.corrected_by is not None:
            note = f"  [corrected by #{line.corrected_by}]"
        if line.clock_went_back:
            note += "  [written by a clock set back]"
        pages += paragraph(f"#{line.entry} {line.text}{note}", 0, 4)
    return "\n".join(pages or ["Nothing is written yet."]) + "\n"


def forecast_text(line: str, forecast: Forecast, reader: Reader) -> str:
    """When a line will be due by strokes."""
    lines = [line, *paragraph(text(forecast.why, reader), 2)]
    if forecast.expected is not None and forecast.working_days is not None:
        safe = f"{forecast.latest_safe:%a %Y-%m-%d}" if forecast.latest_safe else "none; do it now"
        lines += [
            f"  expected         {forecast.expected:%a %Y-%m-%d}, in {forecast.working_days:.1f} working days",
            f"  last safe day    {safe} (95 %)",
            "  chance of being due within this many working days",
            *(
                f"    {n:>2} {'day ' if n == 1 else 'days'} {text(chance_text(due), reader):>13}"
                for n, due in enumerate(forecast.chances, 1)
            ),
        ]
    return "\n".join(lines) + "\n"


def questions_text(questions: Iterable[Question], reader: Reader) -> str:
    """What the counts leave open, one paragraph each."""
    lines = [
        line
        for number, question in enumerate(questions, 1)
        for line in paragraph(f"{number:>3} {text(question.asks, reader)}", 0, 4)
    ]
    return "\n".join(lines or ["There are no open questions about the counts."]) + "\n"


def round_text(view: Round, zone: Zone, reader: Reader) -> str:
    """What one place asks for this shift."""
    from upkeep.wording.holds import hold_text

    lines = [f"{view.place} - {zone.minute(view.at)} - " + (f"shift {view.shift}" if view.shift else "no shift now")]
    if view.last_count is not None and view.last_count_at is not None and view.expected is not None:
        low, high = view.expected
        lines.append(f"Last count {grouped(view.last_count)} at {zone.minute(view.last_count_at)}; "
                     f"now between {grouped(low)} and {grouped(high)} strokes")  # fmt: skip
    for content in view.hanging:
        hold = f"  HELD: {hold_text(content.hold, reader)}" if content.hold else ""
        lines += paragraph(f"{content.item} {content.kind}{hold}", 2 + 2 * content.depth)
    lines.append("")
    for row in view.lines:
        lines += _board_rows(row, view.at, zone)
    if not view.lines:
        lines.append("Nothing to sign here now.")
    return "\n".join(lines) + "\n"
