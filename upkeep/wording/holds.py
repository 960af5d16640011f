"""Why an item is held, in words."""

from __future__ import annotations

from upkeep.due.holds import (
    ByHand,
    FailedCheck,
    GaugeOutOfTolerance,
    Gone,
    GradedOut,
    HoldReason,
    LifeUnknown,
    Stopped,
    ToAdjust,
)
from upkeep.said import Said, Value, listed, said
from upkeep.wording.sentences import Reader, text


def hold_text(reason: HoldReason, reader: Reader) -> str:
    """The reason of a hold in a few words, no sentence: ``stopped for a fault: feed finger bent``; "" for none."""
    return text(hold_said(reason), reader)


def hold_said(reason: HoldReason) -> Said:
    """The same as a part of a sentence."""
    match reason:
        case ByHand():
            return said("{because}", because=reason.because)
        case Stopped():
            return said("stopped for a fault: {symptom}", symptom=reason.symptom)
        case LifeUnknown():
            return said("life unknown: none is left until it is inspected")
        case GaugeOutOfTolerance():
            return said("reads wrong by {off}: not to be used until it is calibrated and released", off=reason.off)
        case Gone():
            return said("gone for good: {end}", end=reason.end)
        case GradedOut():
            return said("grade 4 (out) at the inspection")
        case FailedCheck():
            occasion: Value = reason.occasion
            if reason.again:
                occasion = said("{occasion}, twice in a row", occasion=occasion)
            return said("failed check ({occasion}): {points}", occasion=occasion, points=listed(reason.points))
        case ToAdjust():
            return said("adjust and measure again: {points}", points=listed(reason.points))
