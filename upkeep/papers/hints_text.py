"""What stands out in how work was signed, as a page for the lead."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Moment, Numeral, Said, enumerated, said
from upkeep.units.instants import Zone
from upkeep.views.hints import Hint, HintKind, Hints
from upkeep.wording.sentences import Reader, lines, text
from upkeep.wording.text import paragraph

_OFF = said(
    "Nobody looks at how work is signed in this plant. It may be agreed with the works council and those who sign: "
    "hints_agreed in plant.toml names the agreement, and switches it on."
)
_NOTHING = said("Nothing stands out.")
_ACCUSES_NOBODY = said(
    "A hint accuses nobody: it says what was seen and asks. Talk to the person first; each of these has an innocent "
    "answer."
)
_HEADS: dict[HintKind, Said] = {
    HintKind.BURST: said("Signed fast"),
    HintKind.RUNNING: said("Signed while the press ran"),
    HintKind.SAME: said("Always the same value"),
    HintKind.AFAR: said("Signed far off"),
    HintKind.AGAIN: said("To look at again"),
    HintKind.LOOKED: said("Looked at again"),
}


def hints_text(hints: Hints, zone: Zone, reader: Reader) -> str:
    """What was seen, by kind, newest first, and by which agreement it is looked for."""
    if hints.agreed is None:
        return "\n".join(lines(_OFF, reader)) + "\n"
    agreed = said("Looked for under this agreement: {agreement}.", agreement=hints.agreed)
    page = [*lines(agreed, reader), *lines(_ACCUSES_NOBODY, reader)]
    for kind, head in _HEADS.items():
        of_kind = [hint for hint in hints.hints if hint.kind is kind]
        page += ["", text(head, reader)] if of_kind else []
        for hint in of_kind:
            page += _hint(hint, zone, reader)
    page += [] if hints.hints else ["", *lines(_NOTHING, reader)]
    return "\n".join(page) + "\n"


def _hint(hint: Hint, zone: Zone, reader: Reader) -> Iterator[str]:
    who = said(
        "{name}, {at} ({entries}): {seen}",
        name=hint.name,
        at=Moment(hint.at, zone),
        entries=enumerated(said("#{entry}", entry=Numeral(entry)) for entry in _some(hint.entries)),
        seen=hint.seen,
    )
    yield from paragraph(text(who, reader), 2, 4)


def _some(entries: tuple[int, ...]) -> tuple[int, ...]:
    """The first and the last of many."""
    return entries if len(entries) <= 4 else (entries[0], entries[-1])
