"""What every paper says of itself, in words: plant, when and by whom it was printed, its counts, its seal.

Text and PDF are both made from here, so they always say the same.
"""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.said import Said, in_turn, listed, minute, said, term
from upkeep.scan_codes import seal_code, seal_text
from upkeep.units.instants import Zone
from upkeep.views.printed import Printed
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import visible


@frozen
class FrameCells:
    """The head of every page in the words of a reader; ``seal`` is the text of the code beside it, ``code`` that of
    what the paper is about ("": of nothing that has one)."""

    lines: tuple[str, ...]
    seal: str
    code: str = ""


def frame_cells(printed: Printed, reader: Reader, about: Said | None = None, code: str = "") -> FrameCells:
    """The head of a paper; ``about`` says beside the plant what the paper is about, ``code`` is scanned to mean it."""
    coded = [text(said("Code: {code}", code=code), reader)] if code else []
    return FrameCells(
        (*(visible(text(line, reader)) for line in _lines(printed, about)), *coded),
        str(seal_code(printed.seal.entry, printed.seal.link)),
        code,
    )


def _lines(printed: Printed, about: Said | None) -> Iterator[Said]:
    zone = Zone(printed.zone)
    yield in_turn(said("Plant: {plant}.", plant=printed.plant), about)
    yield in_turn(
        said(
            "{made} by {name}, revision {revision}.",
            made=_made(printed, zone),
            name=_printer(printed),
            revision=printed.seal.entry,
        ),
        said("Counts as of (oldest): {counts}.", counts=_counts(printed, zone)),
        said("Never read: {presses}.", presses=listed(printed.never_read)) if printed.never_read else None,
    )
    yield said("Seal: {seal}", seal=seal_text(printed.seal.entry, printed.seal.link))


def proof_said(proof: Proof) -> Said:
    """How a name was proven, in a few words to stand in brackets behind it."""
    return _PROVEN[proof]


_PROVEN = {
    Proof.NOT_KNOWN: said("not known how the name was proven"),
    Proof.NONE: said("name given, not proven"),
    Proof.CODE: said("name proven by code"),
    Proof.PASSWORD: said("name proven by password"),
    Proof.TOKEN: said("name proven by token"),
    Proof.PAPER: said("signed on paper"),
}


def _printer(printed: Printed) -> Said:
    name = term(printed.by or "-")
    if printed.proof is None:
        return name
    return said("{name} ({proof})", name=name, proof=proof_said(printed.proof))


def _made(printed: Printed, zone: Zone) -> Said:
    """When it was printed, or of which moment it tells; no entry written after that is in it then."""
    at = minute(printed.at, zone)
    if printed.known_at is None:
        return said("Printed {at}", at=at)
    if printed.known_at == printed.at:
        return said("As it stood {at}, with what was known then; printed", at=at)
    return said(
        "As it stood {at}, with what was known by {known}; printed", at=at, known=minute(printed.known_at, zone)
    )


def _counts(printed: Printed, zone: Zone) -> Said:
    if printed.counts_as_of is None:
        return said("no press has been read")
    return said("{press}, {at}", press=printed.oldest_press or "", at=minute(printed.counts_as_of, zone))
