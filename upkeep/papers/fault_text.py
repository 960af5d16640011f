"""Faults as text: the list with its times and shares, one fault, likely causes - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.quality.causes import Likely
from upkeep.quality.repairs import PROOFS, Repeat, Watch
from upkeep.quality.symptoms import Symptom, causes, symptom
from upkeep.said import Capitals, Join, Numeral, Said, in_turn, listed, minute, said, term
from upkeep.units.figures import percent
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes, in_time
from upkeep.views.faults import Answer, Before, CauseList, FaultCase, FaultList, Pareto, Share
from upkeep.wording.cautions import caution
from upkeep.wording.sentences import Reader, count_text, lines, text
from upkeep.wording.text import padded, paragraph

TIMES = said(
    "Response: from the report until somebody took it. Repair: from taken to fixed. Restoration: from the report until "
    "the item was released, or, where nothing was stopped, until the fault was closed."
)
_BY = {
    "item": said("By item"),
    "module": said("By module"),
    "symptom": said("By symptom"),
    "cause": said("By cause"),
    "reel": said("By reel"),
}
_SHARES_SHOWN = 8


def symptoms_text(symptoms: Iterable[Symptom], reader: Reader) -> str:
    """The symptoms with their numbers and ids."""
    rows = [
        f"{seen.number:>3}  {padded(text(term(seen.title), reader), 36)}{seen.id}{_danger(seen, reader)}"
        for seen in symptoms
    ]
    danger = said("STOP and LOCK: maintenance only. Describe what is not in the list in your own words.")
    return "\n".join([*rows, "", *lines(danger, reader)]) + "\n"


def _danger(seen: Symptom, reader: Reader) -> str:
    return "  " + text(said("STOP and LOCK"), reader) if seen.maintenance_only else ""


def cautions_text(cautions: Iterable[Said], reader: Reader) -> str:
    """What comes before any work."""
    return "\n".join(lines(caution(cautions), reader, 0, 2)) + "\n"


def faults_text(listing: FaultList, zone: Zone, reader: Reader) -> str:
    """Faults, newest first, with the mean time to restore, and their shares where there are any."""
    page: list[str] = []
    for fault in listing.faults:
        page += _head(fault, zone, reader)
        page += _rest(fault, zone, reader)
    if listing.hidden:
        page += lines(said("... and {n} older ones (--limit).", n=listing.hidden), reader)
    if not listing.faults:
        page += lines(said("No faults."), reader)
    if listing.mean_restoration is not None:
        mean = said(
            "Mean restoration {time} over {n} ended faults.",
            time=in_time(listing.mean_restoration * 60),
            n=listing.restored,
        )
        page += ["", *lines(in_turn(mean, TIMES), reader)]
    for pareto in listing.pareto:
        page += _shares(pareto, reader)
    return "\n".join(page) + "\n"


def fault_text(case: FaultCase, zone: Zone, reader: Reader) -> str:
    """One fault as a page: its cautions, its steps, what is missing."""
    page = [*_head(case, zone, reader), "", *lines(caution(case.cautions), reader, 0, 2), ""]
    page += _course(case, zone, reader)
    if case.open:
        wanted = (said("{proof} ({what})", proof=key, what=PROOFS[key]) for key in case.wanted)
        page += lines(said("still to try: {proofs}", proofs=listed(wanted, Join.SEMICOLON)), reader, 6, 8)
    return "\n".join([*page, "", *lines(TIMES, reader)]) + "\n"


def fault_rows(case: FaultCase, zone: Zone, reader: Reader) -> list[str]:
    """One fault as it came and was mended."""
    return [*_head(case, zone, reader), *_course(case, zone, reader)]


def _course(case: FaultCase, zone: Zone, reader: Reader) -> Iterator[str]:
    for answer in case.answers:
        yield from lines(_answered(answer, zone), reader, 6, 8)
    if case.verified_at is not None:
        verified = said("{at} {by}: verified", at=minute(case.verified_at, zone), by=case.verified_by or "")
        yield from lines(verified, reader, 6, 8)
    yield from _rest(case, zone, reader)


def _answered(answer: Answer, zone: Zone) -> Said:
    answered = said(
        "{at} {by}: {asks} {answer}",
        at=minute(answer.at, zone),
        by=answer.by,
        asks=term(answer.asks),
        answer=said("yes, all is well") if answer.yes else said("NO, found something"),
    )
    return said("{answered}: {text}", answered=answered, text=answer.text) if answer.text else answered


def _head(case: FaultCase, zone: Zone, reader: Reader) -> Iterator[str]:
    state = padded(text(said("{state}", state=Capitals(term(case.state, "state of a fault"))), reader), 9)
    symptom = term(case.symptom)
    seen = text(said("{symptom} (stopped)", symptom=symptom) if case.stopped else symptom, reader)
    yield from paragraph(f"#{case.number:<6} {state} {case.item:<8} {seen}", 0, 6)
    reported = said("reported {at} by {by}; {times}", at=minute(case.at, zone), by=case.by, times=listed(_times(case)))
    yield from lines(reported, reader, 6, 8)


def _times(case: FaultCase) -> list[Said]:
    times = []
    if case.response is not None:
        times.append(said("response {time}", time=in_time(case.response * 60)))
    if case.repair is not None:
        times.append(said("repair {time}", time=in_time(case.repair * 60)))
    if case.restoration is not None:
        times.append(said("restoration {time}", time=in_time(case.restoration * 60)))
    return times or [said("not taken yet")]


def _rest(case: FaultCase, zone: Zone, reader: Reader) -> Iterator[str]:
    for sentence in _rest_said(case, zone):
        yield from lines(sentence, reader, 6, 8)


def _rest_said(case: FaultCase, zone: Zone) -> Iterator[Said]:
    if case.cause is not None:
        yield _cause(case)
    if case.module is not None and case.module != case.item:
        yield said("module: {module}", module=case.module)
    if case.reel is not None and case.reel != case.item:
        yield said("reel: {reel}", reel=case.reel)
    if case.repeat is not None:
        yield _repeat(case.repeat)
    for call in case.calls:
        yield said(
            "NEEDS {who} since {at}: {why}", who=term(call.to, "role"), at=minute(call.since, zone), why=call.why
        )
    if case.missing:
        lacks = listed((said("not {what}", what=what) for what in case.missing), Join.SEMICOLON)
        yield said("{lacks}", lacks=lacks)
    if case.watch is not None:
        yield _watch(case.watch)


def _cause(case: FaultCase) -> Said:
    cause = said("cause: {cause}", cause=term(case.cause_title))
    if case.found_by:
        cause = said("{cause}, found by the check '{check}'", cause=cause, check=case.found_by)
    return said("{cause}; done: {done}", cause=cause, done=case.done)


def _repeat(repeat: Repeat) -> Said:
    return said(
        "COMES BACK: {n} times {within} ({faults}); {state}",
        n=len(repeat.faults),
        within=repeat.within,
        faults=listed(said("#{number}", number=Numeral(number)) for number in repeat.faults),
        state=said("analysed") if repeat.analysed else said("cause analysis OPEN, 'adjusted' does not settle it"),
    )


def _watch(watch: Watch) -> Said:
    state = term(watch.state, "watch")
    if watch.again is not None:
        state = said("{state} with #{again}", state=state, again=Numeral(watch.again))
    return said("{state}: {strokes} of {of}", state=state, strokes=watch.strokes, of=in_strokes(watch.of))


def _shares(pareto: Pareto, reader: Reader) -> Iterator[str]:
    if not pareto.shares:
        return
    yield from ("", *lines(_BY[pareto.by], reader))
    for share in pareto.shares[:_SHARES_SHOWN]:
        yield from paragraph(f"{count_text(share.faults, reader):>5}  {text(_share(pareto.by, share), reader)}", 2, 9)
    rest = sum(share.faults for share in pareto.shares[_SHARES_SHOWN:])
    for faults, name in ((rest, said("all others")), (pareto.unknown, said("not known"))):
        if faults:
            yield f"  {count_text(faults, reader):>5}  {text(name, reader)}"


def _share(by: str, share: Share) -> Said:
    name = _name(by, share.name)
    if share.minutes is None:
        return name
    return said("{name}: {time} to restore in total", name=name, time=in_time(share.minutes * 60))


def _name(by: str, name: str) -> Said:
    """A share's name as people read it: a cause or symptom by its title."""
    if by == "cause":
        return term(causes().get(name, name))
    return term(symptom(name).title) if by == "symptom" else said("{name}", name=name)


def causes_text(listing: CauseList, zone: Zone, reader: Reader) -> str:
    """Likely causes of a symptom, the checks in order, the last times on the item, and how the shares are made."""
    page = [*lines(_causes_head(listing), reader), ""]
    page += lines(caution(listing.cautions), reader, 0, 2)
    if listing.maintenance_only:
        only = said("STOP, LOCK, MAINTENANCE ONLY. There is nothing for anybody else to check.")
        page += ["", *lines(only, reader)]
    page += ["", *lines(said("Likely causes"), reader)]
    for place, cause in enumerate(listing.likely, 1):
        page += paragraph(f"{place:>3}  {text(_likely(cause), reader)}", 0, 5)
    if not listing.likely:
        page += lines(said("None known."), reader, 2)
    if listing.checks:
        page += ["", *lines(said("Check in this order (yes: all is well, no: it found something)"), reader)]
    for place, check in enumerate(listing.checks, 1):
        page += paragraph(f"{place:>3}  {text(term(check.asks), reader)} ({check.id})", 0, 5)
    page += _last_times(listing, zone, reader)
    adjusted = said("{n} were only adjusted and are left out.", n=listing.adjusted) if listing.adjusted else None
    return "\n".join([*page, "", *lines(in_turn(listing.estimator, adjusted), reader)]) + "\n"


def _causes_head(listing: CauseList) -> Said:
    head = term(listing.title)
    if listing.fault is not None:
        head = said("{symptom} of #{fault}", symptom=head, fault=Numeral(listing.fault))
    return said("{symptom} on {item}", symptom=head, item=listing.item) if listing.item else head


def _likely(cause: Likely) -> Said:
    confirmed = said("confirmed {n} of {of}", n=cause.confirmed, of=cause.of)
    parts: list[Said | str] = [percent(cause.share), confirmed if cause.of else said("nothing confirmed yet")]
    if cause.found_by:
        checks = listed(said("{check} {n} x", check=check, n=times) for check, times in cause.found_by)
        parts.append(said("found by {checks}", checks=checks))
    if cause.minutes is not None:
        parts.append(said("median {time}", time=in_time(cause.minutes * 60)))
    return said(
        "{cause} ({id}): {parts}; {source}",
        cause=term(cause.cause.title),
        id=cause.cause.id,
        parts=listed(parts),
        source=term(cause.cause.source),
    )


def _last_times(listing: CauseList, zone: Zone, reader: Reader) -> Iterator[str]:
    if not listing.before:
        return
    head = said("Last time on {item}", item=listing.item) if listing.item else said("Last time")
    yield from ("", *lines(head, reader))
    for earlier in listing.before:
        yield from lines(_earlier(earlier, zone), reader, 2, 4)


def _earlier(earlier: Before, zone: Zone) -> Said:
    known = said(
        "#{number} {at} {item}: {cause}; {done}",
        number=Numeral(earlier.number),
        at=minute(earlier.at, zone),
        item=earlier.item,
        cause=term(earlier.cause_title),
        done=earlier.done,
    )
    if earlier.minutes is None:
        return known
    return said("{known} ({time})", known=known, time=in_time(earlier.minutes * 60))
