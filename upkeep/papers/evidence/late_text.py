"""Late work as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.figures.indicator_rows import share_said
from upkeep.papers.frame.frame_rows import proof_said
from upkeep.said import Numeral, Said, minute, said, said_many, term
from upkeep.units.instants import Zone
from upkeep.views.evidence.late import LateLine, LateWork
from upkeep.wording.occurrences import occurrence_said
from upkeep.wording.sentences import Reader, lines, text


def late_text(late: LateWork, zone: Zone, reader: Reader) -> str:
    """Work that was not done in time, each with what became of it and why."""
    page = [text(said("LATE WORK  {first} to {last}", first=late.first_day, last=late.last_day), reader)]
    page += lines(_about(late), reader)
    page += lines(said("Work of shifts is missed, never late, and is not in this list."), reader)
    for line in late.lines:
        page += ["", *_rows(line, zone, reader)]
    if not late.lines:
        page += ["", *lines(said("Nothing was late."), reader)]
    if late.without_reason:
        lacking = said_many("{n} of them says no reason.", "{n} of them say no reason.", n=late.without_reason)
        page += ["", *lines(lacking, reader)]
    return "\n".join(page) + "\n"


def _about(late: LateWork) -> Said:
    on_time = said("All work of these days: on time {share}.", share=share_said(late.on_time))
    if late.area is not None:
        on_time = said("Area {area}. {on_time}", area=late.area, on_time=on_time)
    return said("Item {item}. {on_time}", item=late.item, on_time=on_time) if late.item is not None else on_time


def _rows(line: LateLine, zone: Zone, reader: Reader) -> Iterator[str]:
    head = said("{line} ({area}), {title}, for {occurrence}, due {at}", line=line.line, area=line.area,
                title=line.title, occurrence=occurrence_said(line.occurrence),
                at=minute(line.due_at, zone))  # fmt: skip
    yield from lines(head, reader, 0, 4)
    yield from lines(_became(line, zone), reader, 4, 6)
    if line.entry is not None:
        yield from lines(said("reason: {because}", because=line.because or said("no reason given")), reader, 4, 6)
    if line.deferred:
        yield from lines(said("it was deferred"), reader, 4)
    if line.statutory:
        yield from lines(said("required by law"), reader, 4)


def _became(line: LateLine, zone: Zone) -> Said:
    verdict = term(line.verdict, "verdict")
    if line.done_at is None or line.days is None:
        return verdict
    return said_many(
        "{verdict}: done {at} by {by} ({proof}), {n} day after it was due (#{entry})",
        "{verdict}: done {at} by {by} ({proof}), {n} days after it was due (#{entry})",
        n=line.days, verdict=verdict, at=minute(line.done_at, zone), by=line.by or "", proof=proof_said(line.proof),
        entry=Numeral(line.entry or 0),
    )  # fmt: skip
