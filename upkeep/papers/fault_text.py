"""Faults as text: the list with its times and shares, one fault, likely causes - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.quality.repairs import PROOFS
from upkeep.quality.symptoms import Symptom, causes, symptom
from upkeep.said import Join, listed, said
from upkeep.units.figures import percent
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, span_text, strokes
from upkeep.views.faults import CauseList, FaultCase, FaultList, Pareto
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph

TIMES = (
    "Response: from the report until somebody took it. Repair: from taken to fixed. Restoration: from the report until "
    "the item was released, or, where nothing was stopped, until the fault was closed."
)
_SHARES_SHOWN = 8


def symptoms_text(listed: Iterable[Symptom]) -> str:
    """The symptoms with their numbers and ids."""
    rows = [f"{symptom.number:>3}  {symptom.title:<36}{symptom.id}{_danger(symptom)}" for symptom in listed]
    caution = "STOP and LOCK: maintenance only. Describe what is not in the list in your own words."
    return "\n".join([*rows, "", *paragraph(caution)]) + "\n"


def _danger(seen: Symptom) -> str:
    return "  STOP and LOCK" if seen.maintenance_only else ""


def cautions_text(cautions: Iterable[str]) -> str:
    """What comes before any work."""
    return "\n".join(paragraph(f"CAUTION. {' '.join(cautions)}", 0, 2)) + "\n"


def faults_text(listing: FaultList, zone: Zone, reader: Reader) -> str:
    """Faults, newest first, with the mean time to restore, and their shares where there are any."""
    lines: list[str] = []
    for fault in listing.faults:
        lines += _head(fault, zone)
        lines += _rest(fault, zone, reader)
    if listing.hidden:
        lines.append(f"... and {grouped(listing.hidden)} older ones (--limit).")
    if not listing.faults:
        lines.append("No faults.")
    if listing.mean_restoration is not None:
        mean = span_text(listing.mean_restoration * 60)
        lines += ["", *paragraph(f"Mean restoration {mean} over {grouped(listing.restored)} ended faults. {TIMES}")]
    for pareto in listing.pareto:
        lines += _shares(pareto)
    return "\n".join(lines) + "\n"


def fault_text(case: FaultCase, zone: Zone, reader: Reader) -> str:
    """One fault as a page: its cautions, its steps, what is missing."""
    lines = [*_head(case, zone), "", *paragraph(f"CAUTION. {' '.join(case.cautions)}", 0, 2), ""]
    for answer in case.answers:
        said = "yes, all is well" if answer.yes else "NO, found something"
        text = f": {answer.text}" if answer.text else ""
        lines += paragraph(f"{zone.minute(answer.at)} {answer.by}: {answer.asks} {said}{text}", 6, 8)
    if case.verified_at is not None:
        lines += paragraph(f"{zone.minute(case.verified_at)} {case.verified_by}: verified", 6, 8)
    lines += _rest(case, zone, reader)
    if case.open:
        lines += paragraph(f"still to try: {'; '.join(f'{key} ({PROOFS[key]})' for key in case.wanted)}", 6, 8)
    return "\n".join([*lines, "", *paragraph(TIMES)]) + "\n"


def _head(case: FaultCase, zone: Zone) -> Iterator[str]:
    stopped = " (stopped)" if case.stopped else ""
    yield from paragraph(f"#{case.number:<6} {case.state.upper():<9} {case.item:<8} {case.symptom}{stopped}", 0, 6)
    yield from paragraph(f"reported {zone.minute(case.at)} by {case.by}; {_times(case)}", 6, 8)


def _times(case: FaultCase) -> str:
    known = (("response", case.response), ("repair", case.repair), ("restoration", case.restoration))
    spans = [f"{name} {span_text(minutes * 60)}" for name, minutes in known if minutes is not None]
    return ", ".join(spans) or "not taken yet"


def _rest(case: FaultCase, zone: Zone, reader: Reader) -> Iterator[str]:
    if case.cause is not None:
        found_by = f", found by the check '{case.found_by}'" if case.found_by else ""
        yield from paragraph(f"cause: {case.cause_title}{found_by}; done: {case.done}", 6, 8)
    for what, where in (("module", case.module), ("reel", case.reel)):
        if where is not None and where != case.item:
            yield from paragraph(f"{what}: {where}", 6, 8)
    if case.repeat is not None:
        numbers = ", ".join(f"#{number}" for number in case.repeat.faults)
        state = "analysed" if case.repeat.analysed else "cause analysis OPEN, 'adjusted' does not settle it"
        within = text(case.repeat.within, reader)
        yield from paragraph(f"COMES BACK: {len(case.repeat.faults)} times {within} ({numbers}); {state}", 6, 8)
    for call in case.calls:
        yield from paragraph(f"NEEDS {call.to} since {zone.minute(call.since)}: {text(call.why, reader)}", 6, 8)
    if case.missing:
        lacks = listed((said("not {what}", what=what) for what in case.missing), Join.SEMICOLON)
        yield from paragraph(text(said("{lacks}", lacks=lacks), reader), 6, 8)
    if case.watch is not None:
        again = f" with #{case.watch.again}" if case.watch.again is not None else ""
        yield from paragraph(
            f"{case.watch.state}{again}: {grouped(case.watch.strokes)} of {strokes(case.watch.of)}", 6, 8
        )


def _shares(pareto: Pareto) -> Iterator[str]:
    if not pareto.shares:
        return
    yield from ("", f"By {pareto.by}")
    for share in pareto.shares[:_SHARES_SHOWN]:
        minutes = "" if share.minutes is None else f": {span_text(share.minutes * 60)} to restore in total"
        yield from paragraph(f"{grouped(share.faults):>5}  {_said(pareto.by, share.name)}{minutes}", 2, 9)
    rest = sum(share.faults for share in pareto.shares[_SHARES_SHOWN:])
    for faults, name in ((rest, "all others"), (pareto.unknown, "not known")):
        if faults:
            yield f"  {grouped(faults):>5}  {name}"


def _said(by: str, name: str) -> str:
    """A share's name as people read it: a cause or symptom by its title."""
    if by == "cause":
        return causes().get(name, name)
    return symptom(name).title if by == "symptom" else name


def causes_text(listing: CauseList, zone: Zone) -> str:
    """Likely causes of a symptom, the checks in order, the last times on the item, and how the shares are made."""
    about = f" of #{listing.fault}" if listing.fault is not None else ""
    lines = [*paragraph(f"{listing.title}{about}{f' on {listing.item}' if listing.item else ''}"), ""]
    lines += paragraph(f"CAUTION. {' '.join(listing.cautions)}", 0, 2)
    if listing.maintenance_only:
        lines += ["", "STOP, LOCK, MAINTENANCE ONLY. There is nothing for anybody else to check."]
    lines += ["", "Likely causes"]
    for place, cause in enumerate(listing.likely, 1):
        record = f"confirmed {grouped(cause.confirmed)} of {grouped(cause.of)}" if cause.of else "nothing confirmed yet"
        by = ", ".join(f"{check} {grouped(times)} x" for check, times in cause.found_by)
        parts = [percent(cause.share), record, *([f"found by {by}"] if by else [])]
        parts += [] if cause.minutes is None else [f"median {span_text(cause.minutes * 60)}"]
        lines += paragraph(
            f"{place:>3}  {cause.cause.title} ({cause.cause.id}): {', '.join(parts)}; {cause.cause.source}", 0, 5
        )
    if not listing.likely:
        lines.append("  None known.")
    if listing.checks:
        lines += ["", "Check in this order (yes: all is well, no: it found something)"]
    for place, check in enumerate(listing.checks, 1):
        lines += paragraph(f"{place:>3}  {check.asks} ({check.id})", 0, 5)
    lines += _last_times(listing, zone)
    left_out = f" {grouped(listing.adjusted)} were only adjusted and are left out." if listing.adjusted else ""
    return "\n".join([*lines, "", *paragraph(f"{listing.estimator}{left_out}")]) + "\n"


def _last_times(listing: CauseList, zone: Zone) -> Iterator[str]:
    if not listing.before:
        return
    yield from ("", f"Last time{f' on {listing.item}' if listing.item else ''}")
    for earlier in listing.before:
        took = "" if earlier.minutes is None else f" ({span_text(earlier.minutes * 60)})"
        yield from paragraph(
            f"#{earlier.number} {zone.minute(earlier.at)} {earlier.item}: {earlier.cause_title}; {earlier.done}{took}",
            2,
            4,
        )
