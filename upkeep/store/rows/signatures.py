"""Rows of what was signed, deferred or stated of lines, and of what stands in an item's way."""

from __future__ import annotations

from typing import NamedTuple

from upkeep.entries.standing import Closing, Standing
from upkeep.store.rows.table import Table


class SignOffRow(NamedTuple):
    """A line was signed as done, or cancelled.

    Attributes:
        item: The item.
        task: The task.
        at: When it was done.
        entry: The entry that says so.
        by: Who signed.
        occurrence: What it answers: a day, a shift, a number of strokes, or "extra".
        grade: What the inspection found, 1 to 4; None: it was none.
        how: A :class:`Closing`: "done" or "cancelled".
        verified_by: Who gave the second signature; None: nobody did.
        verified_through: The entry that gave it; None: there is none.
        points: What was measured, as JSON: the values by characteristic.
        out: The points with a value out of their limits, joined by commas; "" for none, or graded work.
        holds: 1 where that holds the item, else 0.
        gauges: The gauges by which it was measured, of what was taken over from checks too, joined by commas.
    """

    item: str
    task: str
    at: str
    entry: int
    by: str
    occurrence: str
    grade: int | None
    how: str
    verified_by: str | None
    verified_through: int | None
    points: str
    out: str
    holds: int
    gauges: str


class DeferralRow(NamedTuple):
    """An occurrence of a line was deferred.

    Attributes:
        item: The item.
        task: The task.
        occurrence: What was deferred.
        later: What it was deferred to.
        by: Who did.
        at: When.
        entry: The entry that says so.
    """

    item: str
    task: str
    occurrence: str
    later: str
    by: str
    at: str
    entry: int


class StatedRow(NamedTuple):
    """A line was done before the book began, somebody says.

    Attributes:
        item: The item.
        task: The task.
        at: When it was said.
        done: The day it was done, as ISO text; empty: nobody knows.
        by: Who says so.
        entry: The entry that says so.
        first: The day planned for its first time in this book, as ISO text; empty: none.
    """

    item: str
    task: str
    at: str
    done: str
    by: str
    entry: int
    first: str = ""


class HappeningRow(NamedTuple):
    """Something happened to an item that tasks may wait for.

    Attributes:
        item: The item.
        what: What happened: a fault, a crash, a rework, a return from storage.
        at: When.
        entry: The entry that says so.
    """

    item: str
    what: str
    at: str
    entry: int


class StandingRow(NamedTuple):
    """An item is held, or in storage or out of use.

    Attributes:
        item: The item.
        what: A :class:`Standing`: "hold" or "pause".
        since: Since when.
        reason: Why: of a hold as JSON, an object with its kind; of a pause what the person wrote.
        entry: The entry it goes back to.
    """

    item: str
    what: str
    since: str
    reason: str
    entry: int


class Grounds(NamedTuple):
    """Which rows there are that can hold an item: 1 where there is any of them, else 0.

    Attributes:
        item: The item.
        stopped: Faults for which it stopped.
        failed: Values found bad on it.
        graded: Graded sign-offs.
        graded_out: Sign-offs graded 4.
        held_out: Sign-offs whose values out of limits hold it.
    """

    item: str
    stopped: int
    failed: int
    graded: int
    graded_out: int
    held_out: int


class Answer(NamedTuple):
    """The latest sign-off of a task on an item, with which it is answered."""

    task: str
    at: str
    entry: int


class Graded(NamedTuple):
    """A graded inspection: its moment, what it found (1 to 4), its entry."""

    at: str
    grade: int
    entry: int


SIGN_OFFS = Table(
    "sign_offs",
    SignOffRow,
    ("item", "task", "at", "entry"),
    entries=("entry", "verified_through"),
    items=("item",),
    allowed={"how": tuple(map(str, Closing))},
    indexes={
        "answers": "(item, task, how, at, entry) WHERE occurrence <> 'extra'",
        "answers_by_occurrence": "(item, task, occurrence, at)",
        "grades": "(item, at, entry) WHERE grade IS NOT NULL",
        "held_out": "(item, at, entry) WHERE holds = 1",
        "sign_offs_measured": "(at, entry) WHERE gauges <> ''",
    },
)
DEFERRALS = Table("deferrals", DeferralRow, ("item", "task", "occurrence", "entry"))
STATED = Table("stated", StatedRow, ("entry",), indexes={"stated_of_line": "(item, task, at)"})
HAPPENINGS = Table("happenings", HappeningRow, ("item", "what", "at", "entry"), without_rowid=True)
STANDINGS = Table("standings", StandingRow, ("item", "what"), allowed={"what": tuple(map(str, Standing))})
