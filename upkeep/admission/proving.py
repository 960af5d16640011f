"""Admission of names: where a plant goes by codes, nothing goes into the book under a name that nothing proved.

The exceptions: what was signed by hand on paper, typed in by somebody who proved theirs; what a keeper enters again
that was lost with a file; a wait after wrong codes, which stands under the name they were given under; what a keeper
does when there is no code yet: giving the first one to themselves, restoring the book.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from upkeep.entries.bookkeeping import Note
from upkeep.entries.entry import Entry
from upkeep.entries.keys import Given, WrongCodes
from upkeep.entries.origin import Origin, Proof, Proven, WayIn
from upkeep.errors import NameNotProven
from upkeep.keeping.definitions import Known
from upkeep.plant.values.facts import SignedWith
from upkeep.said import said

_CLAIMED = (Proof.NOT_KNOWN, Proof.NONE)


def with_proof(origin: Origin, by: str, proven: Proven | None) -> Origin:
    """The head of an entry signed by somebody, written by one who proved their name: proven is their own name alone,
    and what others signed was typed by them."""
    if proven is None or origin.proof not in _CLAIMED:
        return origin
    if by == proven.person:
        return replace(origin, proof=proven.proof)
    return replace(origin, entered_by=origin.entered_by or proven.person)


def goes_by_codes(known: Known) -> bool:
    """Whether names are proven in this plant."""
    return known.facts.signed_with == SignedWith.CODES


def check_proven(known: Known, entry: Entry, proven: Proven | None) -> None:
    """Refuses an entry under a name that nothing proved; for plants that go by codes."""
    if isinstance(entry, WrongCodes) or entry.origin.proof in (Proof.CODE, Proof.PASSWORD, Proof.TOKEN):
        return
    typed_by = entry.origin.entered_by or entry.by
    keepers = known.keepers_on(known.zone.day(entry.at))
    has_proof = proven is not None and proven.person == typed_by and proven.proof not in _CLAIMED
    if has_proof and (entry.origin.proof is Proof.PAPER or _enters_again(entry, typed_by in keepers)):
        return
    if _is_beginning(entry, keepers):
        return
    name = known.person(entry.by).name
    if has_proof:
        raise NameNotProven(
            said(
                "Names are proven in this plant, and {person} has not proven theirs: nobody else may sign with it. "
                "What they signed on paper goes in as a returned sheet.",
                person=name,
            )
        )
    raise NameNotProven(
        said(
            "Names are proven in this plant: {person} signs with a code, a password or a token. Nothing was written.",
            person=name,
        )
    )


def _is_beginning(entry: Entry, keepers: Sequence[str]) -> bool:
    """Whether a keeper gives the first code to themselves, or says that they put the book in its place: whoever may do
    that to the files on the machine needs no code for it, and there may be none any more."""
    if isinstance(entry, Given):
        return entry.by == entry.person and (entry.by in keepers or not keepers)
    return isinstance(entry, Note) and entry.restored


def _enters_again(entry: Entry, by_keeper: bool) -> bool:
    """Whether a keeper enters what was lost, from a file; the names in it stay marked as not proven."""
    return by_keeper and entry.origin.way_in is WayIn.FILE
