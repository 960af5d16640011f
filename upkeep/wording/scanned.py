"""What was scanned, in words: what it is and where it stands, or why nothing takes it here."""

from __future__ import annotations

from upkeep.said import Numeral, Said, in_turn, said, term
from upkeep.seals.judging import SealFound
from upkeep.views.scanned import Scanned, ScannedItem, ScannedRow
from upkeep.wording.holds import hold_said
from upkeep.wording.seals import seal_said


def scanned_said(scanned: Scanned) -> Said:
    """What was scanned: an item with where it is and whether it may run, a gauge with whether it counts."""
    match scanned:
        case ScannedItem():
            return _item_said(scanned)
        case ScannedRow(row=row, revision=revision):
            return said(
                "Row {row} of the week printed as revision {revision}: scan it where a returned sheet is typed in.",
                row=Numeral(row), revision=Numeral(revision),
            )  # fmt: skip
        case SealFound():
            return seal_said(scanned)


def _item_said(scanned: ScannedItem) -> Said:
    if scanned.gauge is not None:
        return said("{id} {title}: {note}.", id=scanned.item, title=scanned.title, note=scanned.gauge.note)
    kind = term(scanned.kind, "kind")
    stands = said("{item} ({kind}) is at {place}.", item=scanned.item, kind=kind, place=scanned.place)
    if scanned.inside is not None:
        stands = said("{item} ({kind}) is in {inside}, at {place}.", item=scanned.item, kind=kind,
                      inside=scanned.inside, place=scanned.place)  # fmt: skip
    held = said("It is HELD and must not run: {why}.", why=hold_said(scanned.hold)) if scanned.hold else None
    return in_turn(stands, held)


def not_wanted_said(scanned: Scanned, wanted: Said | None = None) -> Said:
    """That nothing here takes what was scanned; ``wanted`` says what this form is about."""
    what = scanned_said(scanned)
    if wanted is None:
        return said("{what} Nothing here asks for it: finish this first, or go back, then scan it again.", what=what)
    return said("{what} This is about {wanted}.", what=what, wanted=wanted)


def gauge_not_valid(scanned: ScannedItem) -> Said:
    """Why a gauge that was scanned is not taken."""
    note = scanned.gauge.note if scanned.gauge else said("it is no gauge")
    return said("{gauge} is not taken: {note}. Measure with another one.", gauge=scanned.item, note=note)
