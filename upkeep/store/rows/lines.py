"""Rows of the board."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.store.rows.table import Table


class LineRow(NamedTuple):
    """One line of the board: a task on an item, with the edges at which it changes state.

    Attributes:
        line: Its name, item/task.
        item: The item.
        item_kind: What kind of item.
        item_title: What the item is called.
        task: The task.
        title: What the task is called.
        place: Where the item is; "-" where nobody said.
        area: The area of that place; "-" where it has none.
        route: Where the place comes on the way through the plant.
        inside: What the item sits in; None: in nothing.
        standing: A :class:`upkeep.entries.standing.LineStanding`.
        opens_at: When its window opens.  Of all edges: what never comes is the year 9999.
        due_at: When it falls due.
        overdue_at: When it is overdue.
        stop_at: When its hard stop passes.
        due_day: The day it is due, as ISO text; None where it is due by strokes alone or not at all.
        strokes: Strokes done since the last time, best guess; None where it does not go by strokes.
        strokes_low: At least.
        strokes_high: At most.
        due_strokes: Strokes at which it is due; None where it does not go by strokes.
        occurrence: What the next sign-off answers.
        deferred_to: Where that was deferred to; None: it was not.
        reasons: Why it stands as it does, as JSON: a list of objects, each with its kind.
        last_done_at: When it was last done; None: never in this book.
        last_done_by: By whom.
        last_entry: The sign-off that says so.
        unverified: The last sign-off that waits for its second signature; None: none does.
        minutes: How long it takes.
        energy: What is to be done about energy before hands go in.
        roles: Who may sign, between semicolons: ";operator;setter;".
        second_signature: The role that signs second; None: none does.
        statutory: 1 where the law asks for it, else 0.
        each_shift: 1 where every shift has its own, else 0.
        at_next_stop: 1 where it waits for a change of tools on its press, else 0.
        stopped_at: When tools were changed there after its window had opened; None: they were not.
        fixed: 1 where its days are fixed by a calendar rule, else 0.
        source: Where its interval comes from.
        owner: Whose the item is, where it belongs to a customer; None: the plant's own.
        searched: What it is found by, letters folded: its name, titles, place, area and owner.
    """

    line: str
    item: str
    item_kind: str
    item_title: str
    task: str
    title: str
    place: str
    area: str
    route: int
    inside: str | None
    standing: str
    opens_at: str
    due_at: str
    overdue_at: str
    stop_at: str
    due_day: str | None
    strokes: int | None
    strokes_low: int | None
    strokes_high: int | None
    due_strokes: int | None
    occurrence: str
    deferred_to: str | None
    reasons: str
    last_done_at: str | None
    last_done_by: str | None
    last_entry: int | None
    unverified: int | None
    minutes: float
    energy: str
    roles: str
    second_signature: str | None
    statutory: int
    each_shift: int
    at_next_stop: int
    stopped_at: str | None
    fixed: int
    source: str
    owner: str | None
    searched: str


class TallyRow(NamedTuple):
    """How many lines there are of a standing; kept by triggers."""

    standing: str
    lines: int


class Stopped(NamedTuple):
    """A line past its hard stop, and since when."""

    line: str
    since: str


LINES = Table(
    "lines",
    LineRow,
    ("line",),
    entry="last_entry",
    entries=("last_entry", "unverified"),
    items=("item",),
    numbered=True,
    indexes={
        "lines_by_stop": "(standing, stop_at, line)",
        "lines_by_overdue": "(standing, overdue_at, line, stop_at)",
        "lines_by_due": "(standing, due_at, line, overdue_at)",
        "lines_by_opening": "(standing, opens_at, due_at, line)",
        "lines_of_item": "(item, task)",
        "lines_of_place": "(place, standing)",
    },
)
TALLIES = Table("tallies", TallyRow, ("standing",), entry=None, entries=())
