"""What changed in the definitions, as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.papers.frame.frame_rows import proof_said
from upkeep.said import Numeral, Said, minute, said, said_as, term
from upkeep.units.instants import Zone
from upkeep.views.evidence.changes import Change, Changes, FieldChange, Stood
from upkeep.wording.sentences import Reader, lines, text


def changes_text(changes: Changes, zone: Zone, reader: Reader) -> str:
    """The changes, newest first, each with who, when, why, and each field before and after."""
    page = [text(said("CHANGES OF DEFINITIONS"), reader), *lines(_span(changes, zone), reader)]
    for change in changes.changes:
        page += ["", *_rows(change, zone, reader)]
    if not changes.changes:
        page += ["", *lines(said("Nothing changed."), reader)]
    if changes.hidden:
        page += ["", *lines(said("... and {n} older ones (--limit).", n=changes.hidden), reader)]
    for stood in changes.stood:
        page += ["", *_stood(stood, changes, zone, reader)]
    return "\n".join(page) + "\n"


def _span(changes: Changes, zone: Zone) -> Said:
    last = minute(changes.last, zone)
    if changes.first is None:
        return said("All by {at}.", at=last)
    return said("{since} to {until}", since=minute(changes.first, zone), until=last)


def _rows(change: Change, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(_head(change, zone), reader, 0, 4)
    yield from lines(said("because: {because}", because=change.because or said("no reason given")), reader, 4, 6)
    for field in change.fields:
        yield from lines(_field(field), reader, 4, 6)


def _head(change: Change, zone: Zone) -> Said:
    what = said("{thing} {key}", thing=term(change.what, "thing"), key=change.key)
    how = said("{what} defined", what=what) if change.first else said("{what} changed", what=what)
    return said(
        "#{entry} {at} {how} by {by} ({proof})",
        entry=Numeral(change.entry),
        at=minute(change.at, zone),
        how=how,
        by=change.by_name,
        proof=proof_said(change.proof),
    )


def _field(field: FieldChange) -> Said:
    return said("{field}: {before}, then {after}", field=field.field, before=field.before, after=field.after)


def _stood(stood: Stood, changes: Changes, zone: Zone, reader: Reader) -> Iterator[str]:
    head = said(
        "AS IT STOOD {at}: {thing} {key}, by #{entry} of {since}",
        at=minute(changes.last, zone),
        thing=term(stood.what, "thing"),
        key=stood.key,
        entry=Numeral(stood.entry),
        since=minute(stood.since, zone),
    )
    yield from lines(head, reader)
    for _, field, value in stood.fields:
        yield from lines(said("{field}: {value}", field=field, value=value), reader, 4, 6)
    if not stood.fields:
        yield from lines(said_as("lines", "none"), reader, 4)
