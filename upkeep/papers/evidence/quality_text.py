"""How good the data are, and which tasks find something, as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.quality.pruning import Advice
from upkeep.said import Figure, Said, listed, minute, said, said_many, term
from upkeep.units.figures import chance_text, percent
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_time
from upkeep.views.evidence.quality import Counted, DataQuality, Measure, Pruning, QualityRow, TaskFindings
from upkeep.wording.sentences import Reader, lines, text

_HOW = {
    Measure.LATE_READINGS: said("of all readings, those written more than an hour after they were taken"),
    Measure.MISSING: said("of all shifts in which a press made strokes, those in which nobody read its counter"),
    Measure.ESTIMATED: said("of all strokes, those between two readings that had to be shared or guessed"),
    Measure.UNATTRIBUTED: said("of all strokes, those a press did with no module on it"),
    Measure.GAUGES: said("of all gauges in use, those that did not count at the end of the week"),
    Measure.QUESTIONS: said("asked in that week (the first: or before) and not answered yet"),
    Measure.UNPROVEN: said("of all sign-offs, checks and decisions, those under a name that nothing proved"),
}


def quality_text(found: DataQuality, zone: Zone, reader: Reader) -> str:
    """Each measure with what it means, the whole plant, each area, and week by week."""
    page = [text(said("DATA QUALITY  {first} to {last}", first=found.weeks[0], last=found.weeks[-1]), reader)]
    page += lines(said("As of {at}; the figures of each row run week by week.", at=minute(found.at, zone)), reader)
    for measure in Measure:
        rows = [row for row in found.rows if row.measure is measure]
        page += ["", *lines(term(measure, "measure"), reader), *lines(_HOW[measure], reader, 2, 4)]
        for row in rows:
            page += lines(_row(row), reader, 4, 6)
    return "\n".join(page) + "\n"


def _row(row: QualityRow) -> Said:
    where = row.area if row.area is not None else said("whole plant")
    return said("{area}: {whole}; by week {weeks}", area=where, whole=_counted(row.whole),
                weeks=listed(_short(week) for week in row.weeks))  # fmt: skip


def _counted(counted: Counted) -> Said:
    if counted.base is None:
        return said("{n}", n=counted.number)
    if not counted.base:
        return said("nothing to count")
    return said("{share}, {n} of {of}", share=percent(counted.number / counted.base), n=counted.number, of=counted.base)


def _short(counted: Counted) -> Said:
    if counted.base is None:
        return said("{n}", n=counted.number)
    return said("{share}", share=percent(counted.number / counted.base)) if counted.base else said("-")


_ADVICE = {
    Advice.NEVER_FINDS: said("drop it, or do it less often, after a look at what it guards against"),
    Advice.FINDS_TOO_MUCH: said("too late, or it mends what should not break: shorten the interval, find the cause"),
    Advice.NOTHING_TO_SAY: said("too few times to say anything; leave it"),
    Advice.FINDS: said("it finds something now and then; leave it"),
}


def pruning_text(found: Pruning, zone: Zone, reader: Reader) -> str:
    """Each task with how often it found something and what that allows to say."""
    span = said("WHICH TASKS TO DROP  {first} to {last}", first=minute(found.first, zone),
                last=minute(found.last, zone))  # fmt: skip
    page = [text(span, reader)]
    page += lines(
        said(
            "A finding: a value out of limits, a grade of 2 or more, or a fault its signer reported on the item within "
            "an hour. What the law or the safety officer asks for stays, whatever it finds."
        ),
        reader,
    )
    for task in found.tasks:
        page += ["", *_task(task, reader)]
    if not found.tasks:
        page += ["", *lines(said("Nothing was signed."), reader)]
    return "\n".join(page) + "\n"


def _task(task: TaskFindings, reader: Reader) -> Iterator[str]:
    kind = term(task.kind, "kind")
    yield from lines(said("{task}, {title} ({kind})", task=task.task, title=task.title, kind=kind), reader, 0, 4)
    times = said_many("{found} findings in {n} time", "{found} findings in {n} times", n=task.times,
                      found=task.findings)  # fmt: skip
    band = said("95 % interval {low} to {high} %", low=Figure(task.low, ".1f"), high=Figure(task.high, ".1f"))
    spent = said("{time} planned for it", time=in_time(task.minutes * 60))
    yield from lines(said("{times} ({band}); {spent}", times=times, band=band, spent=spent), reader, 4, 6)
    if task.others is not None:
        yield from lines(_others(task), reader, 4, 6)
    advice = said("required by law: it stays") if task.statutory else _ADVICE[task.advice]
    yield from lines(advice, reader, 4, 6)


def _others(task: TaskFindings) -> Said:
    others = said("other work: {share} %", share=Figure(task.others or 0.0, ".1f"))
    if task.chance is None:
        return others
    return said(
        "{others}; if it were like that, nothing in so many times had a chance of {chance}",
        others=others,
        chance=chance_text(task.chance / 100),
    )
