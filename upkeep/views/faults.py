"""Frozen views of faults: one fault with its times, the list with its shares, the causes of a symptom."""

from __future__ import annotations

from datetime import datetime

from upkeep.frozen import frozen
from upkeep.quality.causes import Likely
from upkeep.quality.repairs import Call, Repeat, Watch
from upkeep.quality.symptoms import Question
from upkeep.said import Said


@frozen
class Answer:
    """A check that was answered: yes where all is well, no where it found something."""

    check: str
    asks: str
    yes: bool
    at: datetime
    by: str
    text: str


@frozen
class FaultCase:
    """A fault at a moment; ``number`` is that of its report.

    ``state`` is reported, taken, fixed, verified, released or closed.  ``listed`` is the symptom's id (None: told in
    words), ``cautions`` come before any work on it.  ``cause`` is the confirmed cause, or the root where it was
    analysed (None: none yet), ``found_by`` the check that found it.  ``missing`` is what stands between it and its end,
    ``wanted`` what has to be tried.  ``response``, ``repair`` and ``restoration`` are minutes (None: not known, or not
    over).  ``repeat`` is set where its cause has to be analysed, ``watch`` once it has ended.  ``calls`` are those who
    have to know (nobody, once the item is gone for ever).  ``module`` and ``reel`` were in use (None: not known).
    """

    number: int
    item: str
    at: datetime
    by: str
    symptom: str
    listed: str | None
    stopped: bool
    crash: bool
    state: str
    cautions: tuple[Said, ...]
    taken_at: datetime | None
    taken_by: str | None
    answers: tuple[Answer, ...]
    fixed_at: datetime | None
    done: str
    cause: str | None
    cause_title: str
    found_by: str | None
    verified_at: datetime | None
    verified_by: str | None
    ended_at: datetime | None
    wanted: tuple[str, ...]
    missing: tuple[Said, ...]
    response: float | None
    repair: float | None
    restoration: float | None
    repeat: Repeat | None
    watch: Watch | None
    calls: tuple[Call, ...]
    module: str | None
    reel: str | None

    @property
    def open(self) -> bool:
        """Whether it has not ended yet."""
        return self.ended_at is None


@frozen
class Share:
    """How many faults fell to one item, module, cause or reel, and how many minutes until they ended (None: none of
    them has)."""

    name: str
    faults: int
    minutes: float | None


@frozen
class Pareto:
    """Faults by one thing, the most frequent first; ``unknown`` are those where it is not known."""

    by: str
    shares: tuple[Share, ...]
    unknown: int


@frozen
class FaultList:
    """Faults, the newest first, and how many older ones are ``hidden``; ``pareto`` are the shares of all of them, where
    they were asked for.

    ``restored`` is how many of all have ended, ``mean_restoration`` their mean minutes from report to end (None: none
    has).
    """

    faults: tuple[FaultCase, ...]
    hidden: int
    pareto: tuple[Pareto, ...]
    restored: int
    mean_restoration: float | None


@frozen
class Before:
    """A fault of the same symptom that was fixed before: when, on what, the confirmed cause, what was done, how long
    it took (minutes from taken to fixed; None: not known)."""

    number: int
    item: str
    at: datetime
    cause: str
    cause_title: str
    done: str
    minutes: float | None


@frozen
class CauseList:
    """The likely causes of a symptom by this plant's own records, and how to look for them.

    ``item`` is the one asked about (None: the whole plant), ``before`` the last times on it, newest first.
    ``adjusted`` records named no cause and are left out; ``estimator`` says how the shares are made.
    """

    symptom: str
    title: str
    item: str | None
    fault: int | None
    cautions: tuple[Said, ...]
    maintenance_only: bool
    likely: tuple[Likely, ...]
    checks: tuple[Question, ...]
    before: tuple[Before, ...]
    adjusted: int
    estimator: Said
