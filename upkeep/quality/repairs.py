"""The way of a fault: reported, taken, fixed, verified, ended; what is missing, how long it took, whether it came back.

The times are named as in EN 13306 and EN 15341 (names from memory): response until somebody takes it, repair from taken
to fixed, restoration until the item runs again (for a fault that stopped nothing: until it is closed).  The limits are
plant defaults.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from operator import add

from upkeep.entries.faults import Stage
from upkeep.frozen import frozen
from upkeep.plant.model import Kind
from upkeep.plant.values.facts import PlantFacts
from upkeep.quality.symptoms import ADJUSTED, Symptom
from upkeep.said import Numeral, Quoted, Said, listed, said
from upkeep.units.quantities import in_time

PROOFS = {
    "hand-cycle": said("hand cycled, power off"),
    "first-piece": said("first piece good"),
    "guard": said("guard in place and working"),
    "pull": said("pull test good"),
    "block": said("measured against its check block"),
}
"""What can be tried to prove a repair."""

_LEAD_AFTER = timedelta(minutes=30)
_MANAGER_AFTER = timedelta(hours=2)
"""How long something stands still before the lead and the manager are called.  Plant defaults, no source."""


@frozen
class Step:
    """One step on a fault, as an entry told it (see :class:`upkeep.entries.faults.Repair`)."""

    entry: int
    at: datetime
    by: str
    stage: str
    what: tuple[str, ...] = ()
    yes: bool | None = None
    cause: str | None = None
    text: str = ""


@frozen
class Course:
    """How far a fault has come: the steps that count, and the moment it ended.

    ``taken`` is the first, ``fixed`` and ``analysed`` are the last of their kind; ``verified`` is the last after the
    last fix.  ``ended`` is the release of the item that it ``stopped``, or its closing; None: it is still open.
    """

    reported: datetime
    stopped: bool
    taken: Step | None
    checks: tuple[Step, ...]
    fixed: Step | None
    verified: Step | None
    analysed: Step | None
    ended: datetime | None

    @property
    def state(self) -> str:
        """The word a person reads: reported, taken, fixed, verified, released or closed."""
        if self.ended is not None:
            return "released" if self.stopped else "closed"
        reached = (("verified", self.verified), ("fixed", self.fixed), ("taken", self.taken or self.checks))
        return next((word for word, step in reached if step), "reported")

    @property
    def cause(self) -> str | None:
        """The cause that counts: the root of an analysis, or what the last fix confirmed; None: none yet."""
        step = self.analysed or self.fixed
        return step.cause if step else None

    @property
    def found_by(self) -> str | None:
        """The check that found it: the last one answered no before the last fix; None: none did."""
        until = (self.fixed.at, self.fixed.entry) if self.fixed else None
        bad_checks = [
            check.what[0]
            for check in self.checks
            if check.yes is False and (not until or (check.at, check.entry) < until)
        ]
        return bad_checks[-1] if bad_checks else None

    @property
    def response(self) -> float | None:
        """Minutes from the report until somebody took it; None: nobody wrote that."""
        return None if self.taken is None else _minutes(self.reported, self.taken.at)

    @property
    def repair(self) -> float | None:
        """Minutes from taken to fixed; None where one of them is missing."""
        return None if self.taken is None or self.fixed is None else _minutes(self.taken.at, self.fixed.at)

    @property
    def restoration(self) -> float | None:
        """Minutes from the report until it ended; None while it is open."""
        return None if self.ended is None else _minutes(self.reported, self.ended)


def _minutes(start: datetime, end: datetime) -> float:
    return (end - start).total_seconds() / 60


def course(reported: datetime, stopped: bool, steps: Sequence[Step], released: datetime | None) -> Course:
    """The course of a fault from its steps in order and the first release of its item after it."""
    by_stage = {
        stage: [step for step in steps if step.stage == stage] for stage in (Stage.TAKEN, Stage.FIXED, Stage.VERIFIED)
    }
    fixed, closed = by_stage[Stage.FIXED], [step for step in steps if step.stage == Stage.CLOSED]
    verified = [
        step for step in by_stage[Stage.VERIFIED] if fixed and (step.at, step.entry) > (fixed[-1].at, fixed[-1].entry)
    ]
    analysed = [step for step in steps if step.stage == Stage.ANALYSED]
    return Course(
        reported=reported,
        stopped=stopped,
        taken=by_stage[Stage.TAKEN][0] if by_stage[Stage.TAKEN] else None,
        checks=tuple(step for step in steps if step.stage == Stage.CHECKED),
        fixed=fixed[-1] if fixed else None,
        verified=verified[-1] if verified else None,
        analysed=analysed[-1] if analysed else None,
        ended=released if stopped else (closed[0].at if closed else None),
    )


def proofs_wanted(symptom: Symptom, kind: Kind) -> tuple[str, ...]:
    """What has to be tried before an item runs again; a gauge is measured against its block instead."""
    if kind is Kind.GAUGE:
        return ("block",)
    return ("hand-cycle", "first-piece", "guard", *(("pull",) if symptom.crimp else ()))


def missing(way: Course, wanted: Sequence[str], repeat: Repeat | None) -> tuple[Said, ...]:
    """What stands between a fault and its end; empty: nothing does."""
    lacking: list[Said] = []
    if repeat is not None and not repeat.analysed:
        lacking.append(
            said(
                "analysed (it came {n} times {within}: find the root cause)", n=len(repeat.faults), within=repeat.within
            )
        )
    if way.fixed is None:
        lacking.append(said("fixed"))
    elif repeat is not None and way.fixed.cause == ADJUSTED:
        lacking.append(
            said("fixed at its cause ({adjusted} does not settle a fault that comes back)", adjusted=Quoted(ADJUSTED))
        )
    if way.verified is None:
        lacking.append(said("verified ({proofs})", proofs=listed(wanted)))
    return tuple(lacking)


# Repeats


@frozen
class Earlier:
    """A fault with the same symptom on the same item: its number, its moment, and the strokes of the item from it to
    the fault asked about (None: the item does none)."""

    number: int
    at: datetime
    strokes: int | None


@frozen
class Repeat:
    """The same symptom came too often: the faults it came with, within what, and whether its cause was analysed since
    the one asked about."""

    faults: tuple[int, ...]
    within: Said
    analysed: bool


def repeat_of(faults: Sequence[Earlier], at: datetime, facts: PlantFacts, analysed: bool) -> Repeat | None:
    """Whether a fault of moment ``at`` asks for a cause analysis.

    ``faults`` are those of the same symptom on the same item since the last analysis before it, itself the last, in
    order.  They ask where ``repeat_times`` of them lie within ``repeat_days`` or within ``repeat_strokes`` of it.

    How sure that is with three in 14 days, by simulation (tests/quality/test_repeats.py): of items on which a symptom
    comes by chance once in 90 days, 4 in 100 are asked about within a year, of those with once in 60 days, 11 in 100; a
    symptom that comes every four days is asked about at its third in 87 of 100 cases.
    """
    days = timedelta(days=facts.repeat_days)
    by_days = [fault for fault in faults if at - fault.at <= days]
    by_strokes = [fault for fault in faults if fault.strokes is not None and fault.strokes <= facts.repeat_strokes]
    for near, within in (
        (by_days, said("within {days} days", days=Numeral(facts.repeat_days))),
        (by_strokes, said("within {strokes} strokes", strokes=facts.repeat_strokes)),
    ):
        if len(near) >= facts.repeat_times:
            return Repeat(tuple(fault.number for fault in near), within, analysed)
    return None


@frozen
class Watch:
    """The time after a fault: watched, passed, or came back; how many of the strokes are done, and the fault with which
    it came back (None: it has not)."""

    state: str
    strokes: int
    of: int
    again: int | None


def watch_of(strokes_now: int, again: tuple[int, int] | None, of: int) -> Watch:
    """The watch over an ended fault: strokes of the item since its end, and the next fault of the same symptom with the
    strokes until then (None: there is none)."""
    if again is not None and again[1] < of:
        return Watch("came back", again[1], of, again[0])
    return Watch("passed" if strokes_now >= of else "watched", min(strokes_now, of), of, None)


# Who has to know


@frozen
class Call:
    """Somebody who has to know of an open fault: who, since when, and why."""

    to: str
    since: datetime
    why: Said


def calls(
    way: Course,
    symptom: Symptom,
    at: datetime,
    *,
    lead_after: timedelta = _LEAD_AFTER,
    manager_after: timedelta = _MANAGER_AFTER,
    worked_by: Callable[[datetime, timedelta], datetime] = add,
) -> tuple[Call, ...]:
    """Who has to know of a fault at a moment, by its risk and by the time it stands; nobody once it has ended.

    ``worked_by`` gives the moment by which a plant has worked so long since another: nobody is called over a weekend.
    """
    if way.ended is not None and way.ended <= at:
        return ()
    due_calls = []
    if symptom.safety:
        due_calls.append(Call("safety officer", way.reported, said("somebody may get hurt")))
    if symptom.suspect:
        due_calls.append(Call("quality", way.reported, said("product may be affected")))
    if way.stopped:
        for to, after in (("lead", lead_after), ("manager", manager_after)):
            since = worked_by(way.reported, after)
            if at > since:
                due_calls.append(
                    Call(
                        to,
                        since,
                        said("stopped for more than {time}", time=in_time(after.total_seconds())),
                    )
                )
    return tuple(due_calls)
