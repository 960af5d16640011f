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
    OutOfLimits,
    PressInDoubt,
    Stopped,
    ToAdjust,
)
from upkeep.due.reason_list import Reasons
from upkeep.due.reasons import Held
from upkeep.said import Numeral, Said, Value, listed, said, term
from upkeep.units.measures import measured
from upkeep.wording.sentences import ENGLISH, Reader, text


def hold_text(reason: HoldReason, reader: Reader) -> str:
    """The reason of a hold in a few words, no sentence: ``stopped for a fault: feed finger bent``; "" for none."""
    return text(hold_said(reason), reader)


_PLAIN: dict[type, Said] = {
    LifeUnknown: said("life unknown: none is left until it is inspected"),
    GradedOut: said("grade 4 (out) at the inspection"),
}


def hold_said(reason: HoldReason) -> Said:
    """The same as a part of a sentence."""
    match reason:
        case ByHand():
            return said("{because}", because=reason.because)
        case Stopped():
            return said("stopped for a fault: {symptom}", symptom=term(reason.symptom))
        case GaugeOutOfTolerance():
            off = measured(float(reason.off), reason.unit, "+g")
            return said("reads wrong by {off}: not to be used until it is calibrated and released", off=off)
        case Gone():
            return said("gone for good: {end}", end=term(reason.end, "end of a life"))
        case LifeUnknown() | GradedOut():
            return _PLAIN[type(reason)]
        case OutOfLimits() | PressInDoubt():
            return _until_measured(reason)
        case FailedCheck():
            occasion: Value = term(reason.occasion, "occasion")
            if reason.again:
                occasion = said("{occasion}, twice in a row", occasion=occasion)
            return said("failed check ({occasion}): {points}", occasion=occasion, points=listed(reason.points))
        case ToAdjust():
            return said("adjust and measure again: {points}", points=listed(reason.points))


def held_said(held: Held) -> Said:
    """That an item is held, and why."""
    why = hold_said(held.reason) if hold_text(held.reason, ENGLISH) else said("no reason given")
    return said("Held until released: {why}", why=why)


def hold_of(reasons: Reasons) -> Said:
    """The same of the item of a held line."""
    return said("{why}", why=listed(held_said(reason) for reason in reasons.all if isinstance(reason, Held)))


def _until_measured(reason: OutOfLimits | PressInDoubt) -> Said:
    if isinstance(reason, PressInDoubt):
        return said(
            "on {press} until the shut height of {press} is measured, for the measured points point to the press "
            "(#{entry})",
            press=reason.press,
            entry=Numeral(reason.entry),
        )
    return said(
        "{points} out of limits ({task}): to be put right and measured again",
        points=listed(reason.points),
        task=reason.task,
    )
