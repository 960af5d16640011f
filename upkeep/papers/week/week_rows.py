"""The weekly due list as words, before any paper: what stands in the header, in each row and at the end.

Text and PDF are both made from here, so they always say the same.
"""

from __future__ import annotations

from upkeep.due.states import State
from upkeep.frozen import frozen
from upkeep.papers.frame.frame_rows import frame_cells
from upkeep.papers.week.week_facts import Near, facts_said
from upkeep.papers.week.week_notes import SIGNATURE, hands_legend, notes_said, work_said
from upkeep.progress import Watch, nobody, watched
from upkeep.said import Capitals, Join, Said, Weekday, in_turn, listed, said, said_as, term
from upkeep.scan_codes import row_code
from upkeep.units.instants import Zone
from upkeep.views.week import Stands, WeekList, WeekRow
from upkeep.wording.planned.weeks import frozen_said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import visible

_HEADING = said("place item, task; why due; until when; hands; time; last done")
_BOXES = (
    said_as("box", "count"),
    said_as("box", "time"),
    said_as("box", "initials"),
    said_as("box", "remark"),
)
_NOTHING_DUE = said("Nothing is due this week.")
_APART = said("Not now: held, waiting or not yet due. Do one only after you have asked the lead.")
_CLOSING = said("Tick what is done. Write down the time you did the work, not the time you write.")
_URGENT = (State.STOP, State.HELD, State.OVERDUE)


@frozen
class RowCells:
    """One row: its number, its scan code, what is to be done where, its state in capitals where it is urgent ("": it
    is not), and the facts behind it."""

    number: str
    code: str
    where: str
    task: str
    state: str
    facts: str

    @property
    def parts(self) -> tuple[tuple[str, bool], ...]:
        """What stands in the row one after the other, and whether it is set bold."""
        state = [(f"{self.state};", True)] if self.state else []
        return (f"{self.where}:", True), (f"{self.task};", False), *state, (self.facts, False)


@frozen
class WeekCells:
    """The whole list in the words of a reader.

    ``heading`` stands on every page above the rows, beside the code of the ``seal``; ``legend`` and ``closing`` below
    them, ``nothing_due`` in place of them where there are none.  ``columns`` is what a row says, ``boxes`` what is left
    to be written in by hand.  ``rows`` can be done in one walk; those ``apart`` stand in a box at the end, under its
    title ``apart_title``; then come the ``notes`` and the ``signature``.
    """

    title: str
    days: str
    heading: tuple[str, ...]
    seal: str
    columns: str
    boxes: tuple[str, ...]
    rows: tuple[RowCells, ...]
    nothing_due: str
    apart_title: str
    apart: tuple[RowCells, ...]
    notes: tuple[str, ...]
    signature: str
    legend: str
    closing: str


def week_cells(week: WeekList, reader: Reader, watch: Watch = nobody) -> WeekCells:
    """What the weekly due list says, in words ready for any paper; ``watch`` is told how many rows are worded."""
    near, frame = Near.around(week.first_day, week.last_day), frame_cells(week.printed, reader, _about(week))
    worded = [(row, _row(row, week, near, reader)) for row in watched(week.rows, "worded", len(week.rows), watch)]
    return WeekCells(
        title=visible(text(said("Weekly due list {week}", week=week.week), reader)),
        days=text(said("{first} to {last}", first=Weekday(week.first_day), last=Weekday(week.last_day)), reader),
        heading=frame.lines,
        seal=frame.seal,
        columns=text(_HEADING, reader),
        boxes=tuple(text(box, reader) for box in _BOXES),
        rows=tuple(cells for row, cells in worded if row.stands is Stands.WALK),
        nothing_due=text(_NOTHING_DUE, reader),
        apart_title=text(_APART, reader),
        apart=tuple(cells for row, cells in worded if row.stands is not Stands.WALK),
        notes=tuple(visible(text(note, reader)) for note in notes_said(week, near)),
        signature=text(SIGNATURE, reader),
        legend=visible(text(hands_legend(reader), reader)),
        closing=text(_CLOSING, reader),
    )


def _about(week: WeekList) -> Said:
    area = said("Area: {area}", area=week.area) if week.area else said("Whole plant")
    about = said("{area}. {work}. Rows: {letters}.", area=area, work=work_said(week), letters=week.letters)
    return about if week.frozen is None else in_turn(about, frozen_said(week.frozen, week.week, Zone(week.zone)))


def _row(row: WeekRow, week: WeekList, near: Near, reader: Reader) -> RowCells:
    zone = Zone(week.zone)
    state = [Capitals(term(row.state, "state"))] if row.state in _URGENT else []
    facts = said("{facts}", facts=listed(facts_said(row, zone, near), Join.SEMICOLON))
    return RowCells(
        number=str(row.row),
        code=str(row_code(week.revision, row.row, row.line)),
        where=visible(row.item if row.place == row.item else f"{row.place} {row.item}"),
        task=visible(text(said("{title}", title=row.title or row.task), reader)),
        state=text(said("{state}", state=listed(state)), reader),
        facts=visible(text(facts, reader)),
    )
