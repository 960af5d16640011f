"""Sentences about what is under way: who has a job, what it waits for, whose lock hangs where."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from upkeep.entries.occurrences import OfShift, occurrence_of
from upkeep.said import Join, Said, Value, Weekday, listed, said
from upkeep.views.jobs import Job, Lock

When = Callable[[datetime], Value]
"""How a page shows a moment."""


def job_said(job: Job, when: When) -> Said:
    """Who has a job and since when; where it waits, what for and how far it is."""
    if job.interrupted_at is None:
        return said("{name} since {at}", name=job.name, at=when(job.since))
    waits = said(
        "{name} since {at}, paused {since}: {why}",
        name=job.name, at=when(job.since), since=when(job.interrupted_at), why=job.why,
    )  # fmt: skip
    more = [*_how_far(job)]
    return said("{waits} ({more})", waits=waits, more=listed(more, Join.SEMICOLON)) if more else waits


def _how_far(job: Job) -> list[Said]:
    more: list[Said] = []
    if job.step is not None and job.steps:
        more.append(said("step {step} of {steps} is done", step=job.step, steps=job.steps))
    if job.left:
        more.append(said("left: {left}", left=job.left))
    return more


LOCKED, IN_WORK, PAUSED = said("[X] locked"), said("[>] in work"), said("[||] paused")
"""Signs and words for what goes on at a line; made of letters any printer has, as those of the states."""


def going_on(locks: Sequence[Lock], job: Job | None) -> tuple[Said, ...]:
    """The sign and word of each thing that goes on where a line is: its press is locked, somebody is at it."""
    at_it = () if job is None else (PAUSED if job.interrupted_at is not None else IN_WORK,)
    return (LOCKED, *at_it) if locks else at_it


def begins_anew_said(job: Job) -> Said:
    """That an item ran while its job waited, so that nothing done before counts."""
    return said(
        "{item} did at least {n} strokes while the job waited: what was done and measured before counts no more. Begin "
        "at step 1.",
        item=job.item,
        n=job.ran,
    )


def lock_said(lock: Lock, when: When) -> Said:
    """Whose lock hangs at which point, since when."""
    return said("{name} at {point}, since {at}", name=lock.name, point=lock.point, at=when(lock.at))


def shift_said(shift: str) -> Said:
    """A shift by its key, as people say it."""
    named = occurrence_of(shift)
    if isinstance(named, OfShift):
        return said("{shift} shift of {day}", shift=named.shift, day=Weekday(named.day))
    return said("{shift}", shift=shift)


def not_accepted_said(shift: str) -> Said:
    """That nobody has accepted what the shift before left."""
    return said("Nobody has accepted the {shift} yet; see its handover.", shift=shift_said(shift))


NOT_TO_RUN = said(
    "A press must not run until every lock on it has come off; each lock is taken off by its owner alone."
)
LOCK_CAUTION = said(
    "Your own lock, with your name on it; bleed the air and try to start the press before hands go in. Local law and "
    "your plant's own procedure decide."
)
"""The common caution where a lock is hung (United States: 29 CFR 1910.147; from memory)."""
