"""Why an item is held, in words."""

from __future__ import annotations

from upkeep.due.holds import (
    ByHand,
    FailedCheck,
    Gone,
    GradedOut,
    HoldReason,
    LifeUnknown,
    ReadsWrong,
    Stopped,
    ToAdjust,
)


def hold_text(reason: HoldReason) -> str:
    """The reason of a hold in a few words, no sentence: ``stopped for a fault: feed finger bent``; "" for none."""
    match reason:
        case ByHand():
            return reason.because
        case Stopped():
            return f"stopped for a fault: {reason.symptom}"
        case LifeUnknown():
            return "unknown life: none left until it is inspected"
        case ReadsWrong():
            return f"reads wrong by {reason.off}: not used until it is calibrated and released"
        case Gone():
            return f"gone for ever: {reason.end}"
        case GradedOut():
            return "grade 4 (out) at the inspection"
        case FailedCheck():
            again = ", twice in a row" if reason.again else ""
            return f"failed check ({reason.occasion}{again}): {_listed(reason.points)}"
        case ToAdjust():
            return f"to adjust and measure again: {_listed(reason.points)}"


def _listed(points: tuple[str, ...]) -> str:
    return ", ".join(points)
