"""Faults as text: the list with its times and shares, one fault, likely causes - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.quality.repairs import PROOFS
from upkeep.quality.symptoms import Symptom, causes, symptom
from upkeep.said import Join, listed, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, span_text, strokes
from upkeep.views.faults import CauseList, FaultCase, FaultList, Pareto
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph

TIMES = (
    "Response: from the report until somebody took it. Repair: from taken to fixed. Restoration: from the report until "
    "the item was released, or, where nothing was stopped, until the fault was closed."
)
_SHARES_SHOWN = 8


def symptoms_text(listed: Iterable[Symptom]) -> str:
    """The symptoms with their numbers and ids."""
    rows = [f"{one.number:>3}  {one.title:<36}{one.id}{_danger(one)}" for one in listed]
    told = "STOP and LOCK: maintenance only. Describe what is not in the list in your own words."
    return "\n".join([*rows, "", *paragraph(told)]) + "\n"


def _danger(seen: Symptom) -> str:
    return "  STOP and LOCK" if seen.maintenance_only else ""


def cautions_text(cautions: Iterable[str]) -> str:
    """What comes before any work."""
    return "\n".join(paragraph(f"CAUTION. {' '.join(cautions)}", 0, 2)) + "\n"


def faults_text(found: FaultList, zone: Zone) -> str:
    """Faults, newest first, with the mean time to restore, and their shares where there are any."""
    lines: list[str] = []
    for one in found.faults:
        lines += _head(one, zone)
        lines += _rest(one, zone)
    if found.hidden:
        lines.append(f"... and {grouped(found.hidden)} older ones (--limit).")
    if not found.faults:
        lines.append("No faults.")
    if found.mean_restoration is not None:
        mean = span_text(found.mean_restoration * 60)
        lines += ["", *paragraph(f"Mean restoration {mean} over {grouped(found.restored)} ended faults. {TIMES}")]
    for pareto in found.pareto:
        lines += _shares(pareto)
    return "\n".join(lines) + "\n"


def fault_text(one: FaultCase, zone: Zone) -> str:
    """One fault as a page: its cautions, its steps, what is missing."""
    lines = [*_head(one, zone), "", *paragraph(f"CAUTION. {' '.join(one.cautions)}", 0, 2), ""]
    for answer in one.answers:
        said = "yes, all is well" if answer.yes else "NO, found something"
        told = f": {answer.text}" if answer.text else ""
        lines += paragraph(f"{zone.minute(answer.at)} {answer.by}: {answer.asks} {said}{told}", 6, 8)
    if one.verified_at is not None:
        lines += paragraph(f"{zone.minute(one.verified_at)} {one.verified_by}: verified", 6, 8)
    lines += _rest(one, zone)
    if one.open:
        lines += paragraph(f"still to try: {'; '.join(f'{key} ({PROOFS[key]})' for key in one.wanted)}", 6, 8)
    return "\n".join([*lines, "", *paragraph(TIMES)]) + "\n"


def _head(one: FaultCase, zone: Zone) -> Iterator[str]:
    stopped = " (stopped)" if one.stopped else ""
    yield from paragraph(f"#{one.number:<6} {one.state.upper():<9} {one.item:<8} {one.symptom}{stopped}", 0, 6)
    yield from paragraph(f"reported {zone.minute(one.at)} by {one.by}; {_times(one)}", 6, 8)


def _times(one: FaultCase) -> str:
    known = (("response", one.response), ("repair", one.repair), ("restoration", one.restoration))
    told = [f"{name} {span_text(minutes * 60)}" for name, minutes in known if minutes is not None]
    return ", ".join(told) or "not taken yet"


def _rest(one: FaultCase, zone: Zone) -> Iterator[str]:
    if one.cause is not None:
        found = f", found by the check '{one.found_by}'" if one.found_by else ""
        yield from paragraph(f"cause: {one.cause_title}{found}; done: {one.done}", 6, 8)
    for what, where in (("module", one.module), ("reel", one.reel)):
        if where is not None and where != one.item:
            yield from paragraph(f"{what}: {where}", 6, 8)
    if one.repeat is not None:
        numbers = ", ".join(f"#{number}" for number in one.repeat.faults)
        state = "analysed" if one.repeat.analysed else "cause analysis OPEN, 'adjusted' does not settle it"
        within = text(one.repeat.within, ENGLISH)
        yield from paragraph(f"COMES BACK: {len(one.repeat.faults)} times {within} ({numbers}); {state}", 6, 8)
    for call in one.calls:
        yield from paragraph(f"NEEDS {call.to} since {zone.minute(call.since)}: {text(call.why, ENGLISH)}", 6, 8)
    if one.missing:
        lacks = listed((said("not {what}", what=what) for what in one.missing), Join.SEMICOLON)
        yield from paragraph(text(said("{lacks}", lacks=lacks), ENGLISH), 6, 8)
    if one.watch is not None:
        again = f" with #{one.watch.again}" if one.watch.again is not None else ""
        yield from paragraph(f"{one.watch.state}{again}: {grouped(one.watch.strokes)} of {strokes(one.watch.of)}", 6, 8)


def _shares(pareto: Pareto) -> Iterator[str]:
    if not pareto.shares:
        return
    yield from ("", f"By {pareto.by}")
    for one in pareto.shares[:_SHARES_SHOWN]:
        minutes = "" if one.minutes is None else f": {span_text(one.minutes * 60)} to restore in total"
        yield from paragraph(f"{grouped(one.faults):>5}  {_said(pareto.by, one.name)}{minutes}", 2, 9)
    rest = sum(one.faults for one in pareto.shares[_SHARES_SHOWN:])
    for faults, name in ((rest, "all others"), (pareto.unknown, "not known")):
        if faults:
            yield f"  {grouped(faults):>5}  {name}"


def _said(by: str, name: str) -> str:
    """A share's name as people read it: a cause or symptom by its title."""
    if by == "cause":
        return causes().get(name, name)
    return symptom(name).title if by == "symptom" else name


def causes_text(found: CauseList, zone: Zone) -> str:
    """Likely causes of a symptom, the checks in order, the last times on the item, and how the shares are made."""
    about = f" of #{found.fault}" if found.fault is not None else ""
    lines = [*paragraph(f"{found.title}{about}{f' on {found.item}' if found.item else ''}"), ""]
    lines += paragraph(f"CAUTION. {' '.join(found.cautions)}", 0, 2)
    if found.maintenance_only:
        lines += ["", "STOP, LOCK, MAINTENANCE ONLY. There is nothing for anybody else to check."]
    lines += ["", "Likely causes"]
    for place, one in enumerate(found.likely, 1):
        record = f"confirmed {grouped(one.confirmed)} of {grouped(one.of)}" if one.of else "nothing confirmed yet"
        by = ", ".join(f"{check} {grouped(times)} x" for check, times in one.found_by)
        told = [f"{one.share:.0%}", record, *([f"found by {by}"] if by else [])]
        told += [] if one.minutes is None else [f"median {span_text(one.minutes * 60)}"]
        lines += paragraph(
            f"{place:>3}  {one.cause.title} ({one.cause.id}): {', '.join(told)}; {one.cause.source}", 0, 5
        )
    if not found.likely:
        lines.append("  None known.")
    if found.checks:
        lines += ["", "Check in this order (yes: all is well, no: it found something)"]
    for place, check in enumerate(found.checks, 1):
        lines += paragraph(f"{place:>3}  {check.asks} ({check.id})", 0, 5)
    lines += _last_times(found, zone)
    left_out = f" {grouped(found.adjusted)} were only adjusted and are left out." if found.adjusted else ""
    return "\n".join([*lines, "", *paragraph(f"{found.estimator}{left_out}")]) + "\n"


def _last_times(found: CauseList, zone: Zone) -> Iterator[str]:
    if not found.before:
        return
    yield from ("", f"Last time{f' on {found.item}' if found.item else ''}")
    for one in found.before:
        took = "" if one.minutes is None else f" ({span_text(one.minutes * 60)})"
        yield from paragraph(
            f"#{one.number} {zone.minute(one.at)} {one.item}: {one.cause_title}; {one.done}{took}", 2, 4
        )
