"""Sign-offs as evidence: who, with which right and proof, by which instruction, what was measured."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.frame.frame_rows import proof_said
from upkeep.said import Numeral, Said, Value, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, InUnits, UnitName
from upkeep.views.evidence.dossier import Authority, Signed, SignedValue
from upkeep.wording.occurrences import occurrence_said
from upkeep.wording.sentences import Reader, lines


def signed_rows(row: Signed, zone: Zone, reader: Reader) -> Iterator[str]:
    """A sign-off with its meaning, its right, its instruction, its values."""
    yield from lines(_head(row, zone), reader, 2, 4)
    for sentence in _below(row, zone):
        yield from lines(sentence, reader, 4, 6)


def _head(row: Signed, zone: Zone) -> Said:
    return said(
        "#{entry} {at} {item}/{task}, {title}, for {occurrence}",
        entry=Numeral(row.entry),
        at=minute(row.at, zone),
        item=row.item,
        task=row.task,
        title=row.title,
        occurrence=occurrence_said(row.occurrence),
    )


def _below(row: Signed, zone: Zone) -> Iterator[Said]:
    signed = said("done by {by} ({proof})", by=row.by, proof=proof_said(row.proof))
    yield said("{signed}; {right}", signed=signed, right=authority_said(row.authority))
    if row.second_by is not None and row.second_at is not None and row.second_proof is not None:
        yield said("second signature by {by} ({proof}) {at}", by=row.second_by, proof=proof_said(row.second_proof),
                   at=minute(row.second_at, zone))  # fmt: skip
    elif row.second_asked is not None:
        yield said("second signature missing ({role})", role=term(row.second_asked, "role"))
    if row.instruction is not None and row.instruction_at is not None:
        yield said("by the instruction of #{entry}, {at}", entry=Numeral(row.instruction),
                   at=minute(row.instruction_at, zone))  # fmt: skip
    if row.grade is not None:
        yield said("grade {grade}", grade=row.grade)
    for value in row.values:
        yield value_said(value)
    if row.certificate is not None:
        yield said("certificate {certificate}", certificate=row.certificate)
    if row.because:
        yield said("reason: {because}", because=row.because)
    if row.remark:
        yield said('"{remark}"', remark=row.remark)


def authority_said(authority: Authority) -> Said:
    """Whether somebody had the right, by their roles and training of then."""
    has: Value = listed(term(role, "role") for role in authority.roles) if authority.roles else said("no role")
    asked: Value = listed(term(role, "role") for role in authority.asked)
    right = (
        said("{has} then, as the work asks", has=has)
        if authority.given
        else said("{has} then, the work asks for {asked}", has=has, asked=asked)
    )
    for work, last, held in authority.trained:
        until = said("until {day}", day=last) if last is not None else said("without end")
        right = (
            said("{right}; trained for {work} {until}", right=right, work=work, until=until)
            if held
            else said("{right}; NOT trained for {work} that day", right=right, work=work)
        )
    return right


def value_said(value: SignedValue) -> Said:
    """A measured point with its limits and gauge of then."""
    unit = value.unit
    readings = said("{values} {unit}", values=listed(Amount(one, unit) for one in value.values), unit=UnitName(unit))
    told = said("{point}  {readings}", point=value.title, readings=InUnits(readings, unit))
    if value.lower is not None or value.upper is not None:
        low, high = ("" if limit is None else Amount(limit, unit) for limit in (value.lower, value.upper))
        within = said("{low} to {high}", low=low, high=high)
        verdict = said("within") if value.good else said("OUT of")
        told = said("{told}, {verdict} {limits}", told=told, verdict=verdict, limits=within)
    if value.gauge is not None:
        told = said("{told}, gauge {gauge}: {note}", told=told, gauge=value.gauge, note=value.gauge_note or "-")
    if value.from_check is not None:
        told = said("{told}, taken over from check #{entry}", told=told, entry=Numeral(value.from_check))
    return told
