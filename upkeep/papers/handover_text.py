"""What is under way and what a shift hands over, as text: jobs, locks, the handover."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.said import Numeral, minute, said
from upkeep.units.instants import Zone
from upkeep.views.handover import Handover
from upkeep.views.jobs import Job, Lock
from upkeep.wording.handover import EYES, NOTHING, parts, standing_said, title_said
from upkeep.wording.jobs import NOT_TO_RUN, begins_anew_said, job_said, lock_said
from upkeep.wording.sentences import Reader, lines


def jobs_text(jobs: Sequence[Job], zone: Zone, reader: Reader) -> str:
    """Every job under way: its number, its line, who has it and what it waits for."""
    page: list[str] = []
    for job in jobs:
        who = job_said(job, lambda at: minute(at, zone))
        head = said(
            "#{number} {line}: {title}, at {place}",
            number=Numeral(job.number), line=job.line, title=job.title, place=job.place,
        )  # fmt: skip
        page += [*lines(head, reader, 0, 6), *lines(who, reader, 6, 8)]
        page += lines(begins_anew_said(job), reader, 6, 8) if job.ran else []
    return "\n".join(page or lines(said("No job is under way."), reader)) + "\n"


def locks_text(locks: Sequence[Lock], zone: Zone, reader: Reader) -> str:
    """Every lock that hangs on a press, with its number."""
    page: list[str] = []
    for lock in locks:
        row = said(
            "#{number} {press}: {lock}",
            number=Numeral(lock.number), press=lock.press, lock=lock_said(lock, lambda at: minute(at, zone)),
        )  # fmt: skip
        page += lines(row, reader, 0, 6)
    page += ["", *lines(NOT_TO_RUN, reader)] if locks else lines(said("No lock hangs on any press."), reader)
    return "\n".join(page) + "\n"


def handover_text(handover: Handover, zone: Zone, reader: Reader) -> str:
    """What a shift hands over: its first line says which shift, then who handed it over, then everything open."""
    page = [*lines(title_said(handover), reader)]
    page += [line for sentence in standing_said(handover, zone) for line in lines(sentence, reader, 0, 2)]
    page += lines(said("As it stands {at}.", at=minute(handover.at, zone)), reader)
    for part in parts(handover, zone):
        page += ["", *lines(part.heading, reader)]
        page += [line for row in part.rows for line in lines(row, reader, 2, 4)]
        page += lines(part.more, reader, 2, 4) if part.more else []
    page += [] if parts(handover, zone) else ["", *lines(NOTHING, reader)]
    return "\n".join([*page, "", *lines(EYES, reader)]) + "\n"
