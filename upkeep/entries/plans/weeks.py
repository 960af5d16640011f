"""Entries about the plan of a week: absences, the proposal, its changes, that it was agreed and frozen, decisions."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, Filed, under_nothing
from upkeep.entries.reader import Reader
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.plant.rights import Act
from upkeep.said import said


class Decision(StrEnum):
    """What is decided about a line that was carried over too often."""

    DEFER = "defer"
    CANCEL = "cancel"
    INTERVAL = "interval"
    HOURS = "hours"


@frozen
class Planned:
    """One row of a planned week.

    ``shift`` is the shift in which the line is to be done and ``person`` who does it; both None: it is not placed, and
    ``why`` says why.  ``carried`` is how many frozen weeks in a row had it before.
    """

    line: str
    occurrence: str
    shift: str | None = None
    person: str | None = None
    minutes: int = 0
    carried: int = 0
    why: str | None = None


def rows_text(rows: Sequence[Planned]) -> str:
    """Rows as one JSON array, each without what it does not say."""
    return json.dumps([_content(row) for row in rows], ensure_ascii=True, separators=(",", ":"))


def _content(row: Planned) -> dict[str, Any]:
    named = {name: getattr(row, name) for name in Planned.__dataclass_fields__}
    return {name: value for name, value in named.items() if value not in (None, 0)}


def rows_from(text: str) -> tuple[Planned, ...]:
    """Rows from their JSON; what a later program adds to them is left out."""
    return tuple(Planned(**_known(row)) for row in json.loads(text))


def _known(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name in Planned.__dataclass_fields__}


@frozen(kw_only=True)
class Absent(Entry):
    """Somebody does not work from a day to a day, both included (ISO dates)."""

    person: str
    first: str
    last: str


@frozen(kw_only=True)
class Propose(Entry):
    """The levelled week as it was proposed: its rows as JSON (:func:`rows_text`), which way they were found ("exact" or
    "greedy"), and the most by which a better plan could be cheaper, in hundredths of a percent."""

    week: str
    made: str
    gap: int
    rows: str


@frozen(kw_only=True)
class PlanJob(Entry):
    """The lead puts a line of a week on a shift with somebody, or takes it off the week (both None)."""

    week: str
    line: str
    shift: str | None = None
    person: str | None = None


@frozen(kw_only=True)
class AgreeWeek(Entry):
    """The plan of a week was agreed with production as it stood."""

    week: str


@frozen(kw_only=True)
class FreezeWeek(Entry):
    """The list of a week is settled: its rows in the order in which they are numbered, as JSON.  The week and the
    number of this entry name it on paper."""

    week: str
    rows: str


@frozen(kw_only=True)
class Carried(Entry):
    """What the lead decided about a line that was carried over too often; the sentence is in ``because``."""

    week: str
    line: str
    decision: str


def _read_absent(r: Reader) -> dict[str, Any]:
    read = {"person": r.id(said("a person")), "first": r.day()}
    r.expect("to")
    return {**read, "last": r.day()}


def _week(r: Reader) -> str:
    return r.word(said("a week like 2026-W49"))


def _rows(r: Reader) -> str:
    start = r.next_place()
    r.json(list, said("the rows in square brackets"))
    text = r.line[start : r.position]
    try:
        rows_from(text)
    except (TypeError, AttributeError, ValueError):
        r.position = start
        raise r.fail(said("a list of rows with line and occurrence")) from None
    return text


def _read_propose(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"week": _week(r), "made": r.one_of(("exact", "greedy"))}
    r.expect("gap")
    return {**read, "gap": r.figure(said("hundredths of a percent")), "rows": _rows(r)}


def _line(r: Reader) -> str:
    return str(LineName(**r.line_name()))


def _plan_job(e: PlanJob) -> str:
    return f"{e.week} {e.line} out" if e.shift is None else f"{e.week} {e.line} to {e.shift} with {e.person}"


def _read_plan_job(r: Reader) -> dict[str, Any]:
    read = {"week": _week(r), "line": _line(r)}
    if r.keyword("out"):
        return read
    r.expect("to")
    read["shift"] = r.word(said("a shift like 2026-03-02/early"))
    r.expect("with")
    return {**read, "person": r.id(said("a person"))}


def _read_carried(r: Reader) -> dict[str, Any]:
    return {"week": _week(r), "line": _line(r), "decision": r.one_of(tuple(Decision))}


def _under_line(entry: PlanJob | Carried) -> Filed:
    return Filed(*LineName.read(entry.line))


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Absent,
        "absent",
        'person day "to" day',
        lambda e: f"{e.person} {e.first} to {e.last}",
        _read_absent,
        under_nothing,
        act=Act.WEEK,
    ),
    EntryKind(
        Propose,
        "propose",
        'week ("exact" | "greedy") "gap" figure json-array',
        lambda e: f"{e.week} {e.made} gap {e.gap} {e.rows}",
        _read_propose,
        under_nothing,
        act=Act.WEEK,
    ),
    EntryKind(
        PlanJob,
        "plan-job",
        'week item "/" task ("out" | "to" day"/"shift "with" person)',
        _plan_job,
        _read_plan_job,
        _under_line,
        act=Act.WEEK,
    ),
    EntryKind(
        AgreeWeek,
        "agree-week",
        "week",
        lambda e: e.week,
        lambda r: {"week": _week(r)},
        under_nothing,
        act=Act.WEEK,
    ),
    EntryKind(
        FreezeWeek,
        "freeze-week",
        "week json-array",
        lambda e: f"{e.week} {e.rows}",
        lambda r: {"week": _week(r), "rows": _rows(r)},
        under_nothing,
        act=Act.WEEK,
    ),
    EntryKind(
        Carried,
        "carried",
        'week item "/" task ("defer" | "cancel" | "interval" | "hours")',
        lambda e: f"{e.week} {e.line} {e.decision}",
        _read_carried,
        _under_line,
        act=Act.WEEK,
    ),
)
